"""What may lie on the paper in place of the page, or above it, and the way back."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QWidget

from reglet.bookfile.file import BookFile
from reglet.bookfile.snapshot import Reason
from reglet.errors import RegletError
from reglet.manuscript.search import Place
from reglet.window.background import Background
from reglet.window.book_facts import BookFacts
from reglet.window.book_history import BookHistoryView
from reglet.window.desk import Desk
from reglet.window.finding import FindBar
from reglet.window.help_sheet import HelpSheet, Section
from reglet.window.history import HistoryView, Keep
from reglet.window.offcuts_view import OffcutsView
from reglet.window.page.page import Page
from reglet.window.paper import Paper
from reglet.window.settle_bar import SettleBar
from reglet.window.snapshot_bar import SnapshotBar
from reglet.window.theme import Theme


class Views(QObject):
    """Lays views on the paper. `keep` takes a snapshot, `file` gives the book's file, if any."""

    def __init__(
        self,
        desk: Desk,
        paper: Paper,
        page: Page,
        keep: Keep,
        file: Callable[[], BookFile | None],
        background: Background,
        parent: QObject,
    ) -> None:
        super().__init__(parent)
        self._desk, self._paper, self._page = desk, paper, page
        self._keep, self._file = keep, file
        self.find_bar = FindBar(desk, lambda label: keep(label, "", Reason.BEFORE_REPLACE_ALL))
        self.snapshot_bar = SnapshotBar()
        self.settle_bar = SettleBar(lambda label: keep(label, "", Reason.BEFORE_REPLACE_ALL))
        self.history = HistoryView(desk, keep)
        self.book_history = BookHistoryView(desk, keep, background)
        self.offcuts = OffcutsView(desk, page)
        self.facts = BookFacts(desk, background)
        self.help = HelpSheet()
        for view in self._all():
            paper.lay(view)
            view.closed.connect(self.show_page)
        paper.lay(page)
        paper.set_bar(self.find_bar)
        self.find_bar.place_shown.connect(self._show_place)
        self.find_bar.closed.connect(self.close_bars)
        self.snapshot_bar.wanted.connect(self._take_snapshot)
        self.snapshot_bar.closed.connect(self.close_bars)
        self.settle_bar.place_shown.connect(self._show_place)
        self.settle_bar.closed.connect(self.close_bars)
        self.history.book_wanted.connect(self.show_book_history)
        self.book_history.scene_wanted.connect(self._show_scene_history)
        desk.scene_wanted.connect(self._follow)

    def _all(self) -> tuple[HistoryView, BookHistoryView, OffcutsView, BookFacts, HelpSheet]:
        return self.history, self.book_history, self.offcuts, self.facts, self.help

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        for view in (self.find_bar, self.snapshot_bar, self.settle_bar, *self._all()):
            view.dress(theme)

    def add(self, view: QWidget) -> None:
        """Have a view at hand that belongs to a stage; it has a signal `closed`, and whoever adds
        it lays it down. It is dressed with the window.
        """
        self._paper.views.addWidget(view)
        view.closed.connect(self.show_page)  # type: ignore[attr-defined]

    @property
    def shown(self) -> QWidget | None:
        """What lies on the paper."""
        return self._paper.views.currentWidget()

    def show_page(self) -> None:
        """Back to the page."""
        self._paper.lay(self._page)
        self._page.setFocus()

    def show_history(self, earlier: str = "") -> None:
        """The history of the scene that lies open, from the snapshot `earlier` if that is given;
        the page again, if it is shown already.
        """
        file, scene = self._file(), self._desk.scene
        if file is not None and scene is not None and self.lay(self.history):
            self.history.show_history(file, scene.id, earlier)

    def show_book_history(self) -> None:
        """The history of the whole book; the page again, if it is shown already."""
        file = self._file()
        if file is not None and self.lay(self.book_history):
            self.book_history.show_history(file)

    def show_offcuts(self) -> None:
        """What was taken out of the book; the page again, if it is shown already."""
        if self.lay(self.offcuts):
            self.offcuts.show_offcuts()

    def show_facts(self) -> None:
        """The facts of the book; the page again, if they are shown already."""
        if self.lay(self.facts):
            self.facts.show_book()

    def show_help(self, sections: Sequence[Section]) -> None:
        """Every key; the page again, if they are shown already."""
        if self.lay(self.help):
            self.help.show_keys(sections)

    def find(self, *, replacing: bool = False) -> None:
        """Look for words, those selected if any."""
        self.show_page()
        start, end = self._page.editor.span_selected()
        words = self._page.editor.passage.text[start:end]
        self.close_bars()
        self._paper.set_bar(self.find_bar)
        self.find_bar.start("" if "\n" in words else words, start, replacing=replacing)

    def settle(self) -> None:
        """Have the bar at hand in which one way is put through the book."""
        self.show_page()
        self._page.close_card(focus=False)
        self.close_bars()
        self._paper.set_bar(self.settle_bar)

    def ask_for_snapshot(self) -> None:
        """Ask for the label of a snapshot to take."""
        if self._file() is not None:
            self.close_bars()
            self._paper.set_bar(self.snapshot_bar)
            self.snapshot_bar.start()

    def lay(self, view: QWidget) -> bool:
        """Lay a view on the paper, or, if it lies there already, the page; whether it is shown."""
        if self.shown is view:
            self.show_page()
            return False
        self._page.close_card(focus=False)
        self.close_bars()
        self._paper.lay(view)
        return True

    def _follow(self) -> None:
        """A scene was asked for: it is to be seen, unless its history is."""
        if self.shown not in (self.history, self._page):
            self._paper.lay(self._page)

    def _show_scene_history(self, scene_id: str) -> None:
        self._desk.show_scene(scene_id)
        self.show_history()

    def _take_snapshot(self, label: str, scene_only: bool) -> None:
        scene = self._desk.scene
        try:
            self._keep(label, scene.id if scene_only and scene else "", Reason.BY_HAND)
        except RegletError as error:
            self._desk.refused.emit(str(error))
            return
        self.close_bars()

    def show_words(self, scene_id: str, start: int, end: int) -> None:
        """A span of a scene on the page, selected."""
        self.show_page()
        self._desk.show_scene(scene_id)
        self._page.editor.select(start, end)

    def _show_place(self, place: Place) -> None:
        self._desk.show_scene(place.scene)
        self._page.editor.select(place.start, place.end)

    def close_bars(self) -> None:
        """Put away whatever bar stands above the page."""
        self.find_bar.hide()
        self.snapshot_bar.hide()
        self.settle_bar.hide()
        self._page.setFocus()
