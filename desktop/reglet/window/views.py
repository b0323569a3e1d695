"""What may lie on the paper in place of the page, or above it, and the way back."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject

from reglet.bookfile.file import BookFile
from reglet.bookfile.snapshot import Reason
from reglet.manuscript.search import Place
from reglet.window.desk import Desk
from reglet.window.finding import FindBar
from reglet.window.history import HistoryView
from reglet.window.page.page import Page
from reglet.window.paper import Paper
from reglet.window.theme import Theme

Keep = Callable[[str, str, Reason], None]


class Views(QObject):
    """Lays views on the paper. `keep` takes a snapshot, `file` gives the book's file, if any."""

    def __init__(
        self,
        desk: Desk,
        paper: Paper,
        page: Page,
        keep: Keep,
        file: Callable[[], BookFile | None],
        parent: QObject,
    ) -> None:
        super().__init__(parent)
        self._desk, self._paper, self._page, self._file = desk, paper, page, file
        self.find_bar = FindBar(desk, lambda label: keep(label, "", Reason.BEFORE_REPLACE_ALL))
        self.history = HistoryView(desk, keep)
        paper.lay(self.history)
        paper.lay(page)
        paper.set_bar(self.find_bar)
        self.find_bar.place_shown.connect(self._show_place)
        self.find_bar.closed.connect(self._close_find)
        self.history.closed.connect(self.show_page)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self.find_bar.dress(theme)
        self.history.dress(theme)

    def show_page(self) -> None:
        """Back to the page."""
        self._paper.lay(self._page)
        self._page.setFocus()

    def show_history(self) -> None:
        """The history of the scene that lies open; the page again, if it is shown already."""
        file, scene = self._file(), self._desk.scene
        if self._paper.views.currentWidget() is self.history:
            self.show_page()
        elif file is not None and scene is not None:
            self._page.close_card(focus=False)
            self._close_find()
            self._paper.lay(self.history)
            self.history.show_history(file, scene.id)

    def find(self, *, replacing: bool = False) -> None:
        """Look for words, those selected if any."""
        self.show_page()
        start, end = self._page.editor.span_selected()
        words = self._page.editor.passage.text[start:end]
        self.find_bar.start("" if "\n" in words else words, start, replacing=replacing)

    def _show_place(self, place: Place) -> None:
        self._desk.show_scene(place.scene)
        self._page.editor.select(place.start, place.end)

    def _close_find(self) -> None:
        self.find_bar.hide()
        self._page.setFocus()
