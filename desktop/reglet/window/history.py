"""The history of a scene: its snapshots on a line through the stages, the difference between two
of them, and the way back.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from reglet.bookfile import NOW, BookFile, Snapshot
from reglet.bookfile.rolling_back import rolled_back
from reglet.errors import WriterError
from reglet.manuscript.book import Book
from reglet.manuscript.difference import Difference, difference
from reglet.manuscript.passage import Passage
from reglet.window.comparing import ComparisonPage
from reglet.window.desk import Desk
from reglet.window.lettering import Hairline, Label
from reglet.window.snapshot_line import SnapshotLine
from reglet.window.theme import GRID, LIGHT, Theme

_PAGE_WIDTH = 720


class HistoryView(QWidget):
    """Takes the place of the page: what the scene was, what it is, and how to go back.

    `keep` takes a snapshot of the open scene with a label; what it raises is told to the writer.
    """

    closed = Signal()
    """Back to the page."""

    def __init__(
        self, desk: Desk, keep: Callable[[str, str], None], parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._desk, self._keep = desk, keep
        self._file: BookFile | None = None
        self._theme, self._scene_id = LIGHT, ""
        self._snapshots: tuple[Snapshot, ...] = ()
        self._difference: Difference | None = None
        self._chosen = -1

        self._title = Label(page_face=True)
        self._told = Label(quiet=True)
        self._told.setWordWrap(True)
        self._line = SnapshotLine()
        self._page = ComparisonPage()
        self._take = QPushButton("Take a snapshot")
        self._whole = QPushButton("Roll back the scene")
        self._one = QPushButton("Roll back this passage")
        self._back = QPushButton("Back to the page")
        self._lay_out()

        self._line.chosen.connect(self._compare)
        self._page.place_chosen.connect(self._choose)
        self._take.clicked.connect(self._take_snapshot)
        self._whole.clicked.connect(lambda: self._roll_back(None))
        self._one.clicked.connect(lambda: self._roll_back(self._chosen))
        self._back.clicked.connect(self.closed)
        desk.book_changed.connect(self._follow)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme

    def show_history(self, file: BookFile, scene_id: str) -> None:
        """Show the snapshots of a scene; the latest is compared with the scene as it is now."""
        self._file, self._scene_id = file, scene_id
        scene = self._desk.book.scene(scene_id)
        self._title.setText(scene.title or "This scene")
        self._snapshots = file.snapshots(scene_id)
        self._line.show_snapshots(self._snapshots, self._theme)
        for button in (self._take, self._whole, self._one):
            button.setEnabled(not file.read_only)
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
        head = QHBoxLayout()
        head.addWidget(self._title)
        head.addStretch(1)
        for button in (self._take, self._back):
            button.setAutoDefault(False)
            head.addWidget(button)
        foot = QHBoxLayout()
        foot.addWidget(self._told, 1)
        for button in (self._one, self._whole):
            button.setAutoDefault(False)
            foot.addWidget(button)
        sheet = QHBoxLayout()
        sheet.addStretch(1)
        self._page.setMaximumWidth(_PAGE_WIDTH)
        sheet.addWidget(self._page, 100)
        sheet.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(5 * GRID, 4 * GRID, 5 * GRID, 2 * GRID)
        column.setSpacing(2 * GRID)
        column.addLayout(head)
        column.addWidget(self._line)
        column.addWidget(Hairline())
        column.addLayout(sheet, 1)
        column.addWidget(Hairline())
        column.addLayout(foot)

    def _follow(self) -> None:
        if self.isVisible() and self._desk.book.has_scene(self._scene_id):
            self._compare()

    def _compare(self) -> None:
        """Show what lies between the two states chosen on the line."""
        if self._file is None or not self._snapshots:
            self._difference = None
            self._told.setText("No snapshot of this scene has been taken yet.")
            self._page.clear()
            self._offer()
            return
        earlier, later = self._line.states()
        old, new = self._passage(earlier), self._passage(later)
        self._difference = difference(old, new)
        self._page.show_difference(self._difference, self._theme.pencil(self._desk.stage))
        self._choose(-1)

    def _passage(self, state: str) -> Passage:
        if state == NOW:
            return self._desk.book.scene(self._scene_id).passage
        assert self._file is not None
        return self._file.scene_state(state, self._scene_id).passage

    def _choose(self, index: int) -> None:
        self._chosen = index
        self._offer()

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
            self._told.setText("The two states are the same.")
            return
        count = "one place" if places == 1 else f"{places:,} places"
        words = f"{found.words_added:,} words added, {found.words_cut:,} cut, in {count}"
        chosen = f" · place {self._chosen + 1}" if self._chosen >= 0 else ""
        self._told.setText(f"{words}{chosen} · J and K step from place to place")

    def _take_snapshot(self) -> None:
        if self._file is None:
            return
        self._keep("", self._scene_id)
        self.show_history(self._file, self._scene_id)

    def _roll_back(self, place: int | None) -> None:
        """Put back the scene, or one place of it, as the earlier state has it."""
        if self._file is None:
            return
        earlier, _ = self._line.states()
        scene_id = self._scene_id
        try:
            then = self._file.scene_state(earlier, scene_id)
            self._keep("Before a roll back", scene_id)
        except WriterError as error:
            self._desk.refused.emit(str(error))
            return

        def roll(book: Book) -> Book:
            return book.with_scene(rolled_back(book.scene(scene_id), then, place))

        self._desk.perform(f"Roll back “{self._title.text()}”", roll)
        self.show_history(self._file, scene_id)
