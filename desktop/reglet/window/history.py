"""The history of a scene: its snapshots on a line through the stages, the difference between two
of them, and the way back.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from reglet.bookfile import NOW, BookFile, Reason, Snapshot
from reglet.bookfile.rolling_back import rolled_back
from reglet.errors import RegletError
from reglet.manuscript.book import Book
from reglet.manuscript.difference import Difference, difference
from reglet.manuscript.passage import Passage
from reglet.numbers import counted
from reglet.window.comparing import ComparisonPage
from reglet.window.contents_model import name_of
from reglet.window.controls import Act
from reglet.window.desk import Desk
from reglet.window.laid_sheet import foot, set_out
from reglet.window.lettering import Caption, Label, dress_all
from reglet.window.snapshot_line import SnapshotLine
from reglet.window.theme import GRID, LIGHT, Theme

_PAGE_WIDTH = 760

Keep = Callable[[str, str, Reason], None]
"""Takes a snapshot with a label of a scene ("" for the whole book). Raises RegletError."""


class HistoryView(QWidget):
    """Takes the place of the page: what the scene was, what it is, and how to go back."""

    closed = Signal()
    """Back to the page."""
    book_wanted = Signal()
    """The history of the whole book instead."""

    def __init__(self, desk: Desk, keep: Keep, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk, self._keep = desk, keep
        self._file: BookFile | None = None
        self._theme, self._scene_id = LIGHT, ""
        self._snapshots: tuple[Snapshot, ...] = ()
        self._difference: Difference | None = None
        self._chosen = -1

        self._caption = Caption("History of the scene")
        self._title = Label(page_face=True, scale=0.87)
        self._told = Label()
        self._hint = Label(quiet=True, scale=0.93)
        self._line = SnapshotLine()
        self._page = ComparisonPage()
        self._book = Act("The whole book")
        self._take = Act("Take a snapshot")
        self._back = Act("Back to the page")
        self._one = Act("Roll back this place")
        self._whole = Act("Roll back the scene", chief=True)
        self._lay_out()

        self._line.chosen.connect(self._compare)
        self._page.place_chosen.connect(self._choose)
        self._book.clicked.connect(self.book_wanted)
        self._take.clicked.connect(self._take_snapshot)
        self._whole.clicked.connect(lambda: self._roll_back(None))
        self._one.clicked.connect(lambda: self._roll_back(self._chosen))
        self._back.clicked.connect(self.closed)
        desk.book_changed.connect(self._follow)
        desk.scene_shown.connect(self._show_other)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        dress_all(self, theme)

    def show_history(self, file: BookFile, scene_id: str, earlier: str = "") -> None:
        """Show the snapshots of a scene. The scene as it is now is compared with the latest of them
        that has another text, or with the latest where all have the same; or with the snapshot
        `earlier`, if that is given.
        """
        self._file, self._scene_id = file, scene_id
        scene = self._desk.book.scene(scene_id)
        self._title.setText(name_of(scene))
        self._snapshots = file.snapshots(scene_id)
        self._line.show_snapshots(self._snapshots, earlier or self._latest_other())
        self._take.setEnabled(not file.read_only)
        self._compare()
        self._line.setFocus(Qt.FocusReason.OtherFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        match event.key():
            case Qt.Key.Key_Escape:
                self.closed.emit()
            case Qt.Key.Key_J:
                self._page.step(1)
            case Qt.Key.Key_K:
                self._page.step(-1)
            case _:
                super().keyPressEvent(event)

    def _lay_out(self) -> None:
        acts = QHBoxLayout()
        acts.setSpacing(3 * GRID)
        acts.addWidget(self._caption, 1)
        for act in (self._take, self._book, self._back):
            acts.addWidget(act)
        head = QVBoxLayout()
        head.setSpacing(GRID // 2)
        head.addLayout(acts)
        head.addWidget(self._title)
        sheet = QHBoxLayout()
        sheet.addStretch(1)
        self._page.setMaximumWidth(_PAGE_WIDTH)
        sheet.addWidget(self._page, 1000)
        sheet.addStretch(1)
        below = foot((self._told, self._hint), self._one, self._whole)
        set_out(self, (head, self._line), sheet, below)

    def _follow(self) -> None:
        if self.isVisible() and self._desk.book.has_scene(self._scene_id):
            self._compare()

    def _show_other(self, scene_id: str) -> None:
        if self.isVisible() and self._file is not None and scene_id:
            self.show_history(self._file, scene_id)

    def _compare(self) -> None:
        """Show what lies between the two states chosen on the line."""
        if self._file is None or not self._snapshots:
            self._difference = None
            self._page.clear()
            self._tell("No snapshot of this scene has been taken yet.")
            self._offer()
            return
        earlier, later = self._line.states()
        self._difference = difference(self._passage(earlier), self._passage(later))
        self._page.show_difference(self._difference, self._theme.pencil(self._desk.stage))
        self._choose(-1)

    def _latest_other(self) -> str:
        """The latest snapshot in which the scene reads otherwise than now; "" for none."""
        now = self._passage(NOW)
        others = (each.id for each in reversed(self._snapshots) if self._passage(each.id) != now)
        return next(others, "")

    def _passage(self, state: str) -> Passage:
        if state == NOW:
            return self._desk.book.scene(self._scene_id).passage
        assert self._file is not None
        return self._file.scene_state(state, self._scene_id).passage

    def _choose(self, index: int) -> None:
        self._chosen = index
        self._offer()

    def _tell(self, sentence: str, hint: str = "") -> None:
        self._told.setText(sentence)
        self._hint.setText(hint)
        self._hint.setVisible(bool(hint))

    def _offer(self) -> None:
        found = self._difference
        to_now = found is not None and self._line.states()[1] == NOW
        may = to_now and self._file is not None and not self._file.read_only
        self._whole.setEnabled(bool(may and found and not found.empty))
        self._one.setEnabled(bool(may and self._chosen >= 0))
        if found is None:
            return
        places = len(found.changed)
        if not places:
            self._tell("The two states are the same.")
            return
        count = "one place" if places == 1 else f"{places:,} places"
        said = f"Place {self._chosen + 1} of {places:,}." if self._chosen >= 0 else f"In {count}."
        self._tell(
            f"{counted(found.words_added, 'word')} added, {found.words_cut:,} cut",
            f"{said} J and K step from place to place.",
        )

    def _take_snapshot(self) -> None:
        if self._file is not None and self._kept("", Reason.BY_HAND):
            self.show_history(self._file, self._scene_id)

    def _kept(self, label: str, reason: Reason) -> bool:
        try:
            self._keep(label, self._scene_id, reason)
        except RegletError as error:
            self._desk.refused.emit(str(error))
            return False
        return True

    def _roll_back(self, place: int | None) -> None:
        """Put back the scene, or one place of it, as the earlier state has it."""
        if self._file is None:
            return
        earlier, _ = self._line.states()
        scene_id = self._scene_id
        label = f"Before rolling back to {self._line.name_of(earlier)}"
        if not self._kept(label, Reason.BEFORE_ROLL_BACK):
            return
        then = self._file.scene_state(earlier, scene_id)

        def roll(book: Book) -> Book:
            return book.with_scene(rolled_back(book.scene(scene_id), then, place))

        self._desk.perform(f"Roll back “{self._title.text()}”", roll)
        self._snapshots = self._file.snapshots(scene_id)
        self._line.show_snapshots(self._snapshots, earlier)
        self._compare()
