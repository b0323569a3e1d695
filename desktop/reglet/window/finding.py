"""The bar above the page that finds words and replaces them, in the scene or the whole book."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QGridLayout,
    QHBoxLayout,
    QLineEdit,
    QPlainTextEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from reglet.manuscript.search import Place, Sought, find, replace_at
from reglet.window.desk import Desk
from reglet.window.lettering import Hairline, Label
from reglet.window.theme import GRID

_CONTEXT = 32
_LINES_SHOWN = 400


class FindBar(QWidget):
    """Looks for words while they are typed, and steps from place to place.

    `snapshot` is called with a label before anything is replaced in more than one place; what it
    raises stops the replacing.
    """

    place_shown = Signal(object)
    """The `Place` that is stepped to."""
    closed = Signal()
    """The writer is done with it."""

    def __init__(
        self, desk: Desk, snapshot: Callable[[str], None], parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._desk, self._snapshot = desk, snapshot
        self._places: tuple[Place, ...] = ()
        self._at: tuple[str, int] = ("", 0)

        self._sought = QLineEdit(placeholderText="Find")
        self._sought.setAccessibleName("Words to find")
        self._new = QLineEdit(placeholderText="Replace with")
        self._new.setAccessibleName("Words to replace them with")
        self._count = Label(quiet=True)
        self._case = QCheckBox("Match case")
        self._whole = QCheckBox("Whole words")
        self._in_book = QCheckBox("Whole book")
        self._previous = QPushButton("Previous")
        self._next = QPushButton("Next")
        self._replace = QPushButton("Replace")
        self._all = QPushButton("Replace all…")
        self._close = QPushButton("Close")
        self._preview = Preview(self)
        self._preview.hide()
        self._lay_out()

        self._sought.textChanged.connect(self._seek)
        for box in (self._case, self._whole, self._in_book):
            box.toggled.connect(self._seek)
        self._sought.returnPressed.connect(self.step)
        self._next.clicked.connect(lambda: self.step())
        self._previous.clicked.connect(lambda: self.step(-1))
        self._replace.clicked.connect(self._replace_one)
        self._new.returnPressed.connect(self._replace_one)
        self._all.clicked.connect(self._show_preview)
        self._close.clicked.connect(self.closed)
        self._preview.agreed.connect(self._replace_all)
        desk.book_changed.connect(self._follow)
        desk.scene_shown.connect(self._follow)

    def start(self, words: str = "", at: int = 0) -> None:
        """Begin to look, for `words` if there are any, from code point `at` of the open scene."""
        scene = self._desk.scene
        self._at = (scene.id if scene else "", at)
        if words:
            self._sought.setText(words)
        self._sought.selectAll()
        self._sought.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self._seek()

    def step(self, by: int = 1) -> None:
        """Go to the next place (or, with -1, the one before), round from the end to the start."""
        if not self._places:
            return
        keys = [self._key(place.scene, place.start) for place in self._places]
        here = self._key(*self._at)
        index = bisect_right(keys, here) if by > 0 else bisect_left(keys, here) - 1
        self._show(index % len(self._places))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
            return
        super().keyPressEvent(event)

    def _lay_out(self) -> None:
        grid = QGridLayout()
        grid.setHorizontalSpacing(GRID)
        grid.setVerticalSpacing(GRID)
        grid.addWidget(self._sought, 0, 0)
        grid.addWidget(self._new, 1, 0)
        choices = QHBoxLayout()
        choices.setSpacing(2 * GRID)
        for box in (self._case, self._whole, self._in_book):
            choices.addWidget(box)
        choices.addStretch(1)
        choices.addWidget(self._count)
        grid.addLayout(choices, 0, 1)
        acts = QHBoxLayout()
        acts.setSpacing(GRID)
        for button in (self._previous, self._next, self._replace, self._all, self._close):
            button.setAutoDefault(False)
            acts.addWidget(button)
        acts.addStretch(1)
        grid.addLayout(acts, 1, 1)
        grid.setColumnStretch(0, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(3 * GRID, GRID, 3 * GRID, GRID)
        column.addLayout(grid)
        column.addWidget(self._preview)
        column.addWidget(Hairline(self))

    def _wanted(self) -> Sought:
        return Sought(self._sought.text(), self._case.isChecked(), self._whole.isChecked())

    def _follow(self) -> None:
        if self.isVisible():
            self._seek()

    def _seek(self) -> None:
        scene = self._desk.scene
        scenes = None if self._in_book.isChecked() or scene is None else [scene.id]
        self._places = find(self._desk.book, self._wanted(), scenes)
        self._preview.hide()
        for button in (self._previous, self._next, self._replace, self._all):
            button.setEnabled(bool(self._places))
        self._tell()

    def _tell(self) -> None:
        count = len(self._places)
        if not self._sought.text():
            self._count.setText("")
        elif not count:
            self._count.setText("Not found")
        else:
            index = self._index()
            self._count.setText(
                f"{index + 1:,} of {count:,}" if index is not None else f"{count:,} found"
            )

    def _index(self) -> int | None:
        """Which place is the one that was stepped to."""
        return next(
            (i for i, place in enumerate(self._places) if (place.scene, place.start) == self._at),
            None,
        )

    def _key(self, scene_id: str, start: int) -> tuple[int, int]:
        order = {scene.id: index for index, scene in enumerate(self._desk.book.texts)}
        return order.get(scene_id, -1), start

    def _show(self, index: int) -> None:
        place = self._places[index]
        self._at = (place.scene, place.start)
        self.place_shown.emit(place)
        self._tell()

    def _replace_one(self) -> None:
        index = self._index()
        if index is None:
            self.step()
            return
        place, new = self._places[index], self._new.text()
        book = replace_at(self._desk.book, [place], new)
        self._desk.rewrite(place.scene, book.scene(place.scene).passage)
        self._at = (place.scene, place.start + len(new) - 1)
        self.step()

    def _show_preview(self) -> None:
        self._preview.show_places(self._desk, self._places, self._new.text())

    def _replace_all(self) -> None:
        places, new = self._places, self._new.text()
        label = f"Before “{self._sought.text()}” was replaced by “{new}”"
        self._snapshot(label)
        self._desk.perform(
            f"Replace “{self._sought.text()}”", lambda book: replace_at(book, places, new)
        )
        self._count.setText(f"{len(places):,} replaced")


class Preview(QWidget):
    """What replacing would do, line by line, and the writer's word to do it."""

    agreed = Signal()
    """Do it."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._lines = QPlainTextEdit(readOnly=True)
        self._lines.setAccessibleName("What would be replaced")
        self._lines.setLineWrapMode(QPlainTextEdit.LineWrapMode.NoWrap)
        self._lines.setFixedHeight(20 * GRID)
        self._agree = QPushButton()
        self._leave = QPushButton("Leave as it is")
        for button in (self._agree, self._leave):
            button.setAutoDefault(False)
        row = QHBoxLayout()
        row.addWidget(Label("A snapshot of the book is taken first.", quiet=True))
        row.addStretch(1)
        row.addWidget(self._leave)
        row.addWidget(self._agree)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._lines)
        column.addLayout(row)
        self._leave.clicked.connect(self.hide)
        self._agree.clicked.connect(self.hide)
        self._agree.clicked.connect(self.agreed)

    def show_places(self, desk: Desk, places: tuple[Place, ...], new: str) -> None:
        """Show what would become of these places."""
        lines = [self._line(desk, place, new) for place in places[:_LINES_SHOWN]]
        if len(places) > _LINES_SHOWN:
            lines.append(f"… and {len(places) - _LINES_SHOWN:,} more.")
        self._lines.setPlainText("\n".join(lines))
        scenes = len({place.scene for place in places})
        where = "one scene" if scenes == 1 else f"{scenes:,} scenes"
        self._agree.setText(f"Replace {len(places):,} in {where}")
        self.show()
        self._agree.setFocus()

    @staticmethod
    def _line(desk: Desk, place: Place, new: str) -> str:
        text = desk.book.scene(place.scene).passage.text
        before = text[max(0, place.start - _CONTEXT) : place.start].rpartition("\n")[2]
        after = text[place.end : place.end + _CONTEXT].partition("\n")[0]
        return f"{before:>{_CONTEXT}}[{text[place.start : place.end]} → {new}]{after}"
