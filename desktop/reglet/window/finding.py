"""The bar above the page that finds words and replaces them, in the scene or the whole book."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from reglet.errors import RegletError
from reglet.manuscript.search import Place, Sought, find, replace_at
from reglet.window.controls import Act, Entry, Tick
from reglet.window.desk import Desk
from reglet.window.lettering import Caption, Hairline, Label, dress_all
from reglet.window.places import PlaceList
from reglet.window.theme import GRID, Theme

_SOON_MS = 200
_PREVIEW_HEIGHT = 28 * GRID


class FindBar(QWidget):
    """Looks for words while they are typed, and steps from place to place.

    `snapshot` is called with a label before anything is replaced in more than one place; what it
    raises is told to the writer, and nothing is replaced.
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

        self._sought = Entry("Words to find")
        self._new = Entry("Words to replace them with")
        self._new_caption = Caption("Replace with")
        self._count = Label(quiet=True)
        self._case, self._whole = Tick("Match case"), Tick("Whole words")
        self._in_book = Tick("Whole book")
        self._previous, self._next = Act("Previous"), Act("Next")
        self._replace, self._all = Act("Replace"), Act("Replace all …")
        self._undo = Act("Undo")
        self._undo.hide()
        self._close = Act("Close")
        self._preview = Preview(self)
        self._lay_out()
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.hide()

        self._sought.textChanged.connect(self._seek)
        self._new.textChanged.connect(self._preview.hide)
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
        self._undo.clicked.connect(self._take_back)
        self._preview.place_chosen.connect(self._show)
        # Looking through a whole book at each key stroke on the page would be felt.
        self._soon = QTimer(self, singleShot=True, interval=_SOON_MS)
        self._soon.timeout.connect(self._seek)
        desk.book_changed.connect(self._follow)
        desk.scene_shown.connect(self._follow)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        dress_all(self, theme)

    def start(self, words: str = "", at: int = 0, *, replacing: bool = False) -> None:
        """Begin to look, for `words` if there are any, from code point `at` of the open scene."""
        scene = self._desk.scene
        # Words that are selected are the first place; without them, one at the cursor comes next.
        self._at = (scene.id if scene else "", at if words else at - 1)
        for widget in (self._new_caption, self._new, self._replace, self._all):
            widget.setVisible(replacing)
        self.show()
        if words:
            self._sought.setText(words)
        self._sought.selectAll()
        self._sought.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self._seek()

    def step(self, by: int = 1) -> None:
        """Go to the next place (or, with -1, the one before), round from the end to the start."""
        if not self._places:
            return
        order = {scene.id: number for number, scene in enumerate(self._desk.book.texts)}
        keys = [(order[place.scene], place.start) for place in self._places]
        here = (order.get(self._at[0], -1), self._at[1])
        index = bisect_right(keys, here) if by > 0 else bisect_left(keys, here) - 1
        self._show(index % len(self._places))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            if self._preview.isVisible():
                self._preview.hide()
            else:
                self.closed.emit()
            return
        super().keyPressEvent(event)

    def _lay_out(self) -> None:
        grid = QGridLayout()
        grid.setHorizontalSpacing(2 * GRID)
        grid.setVerticalSpacing(GRID)
        grid.addWidget(Caption("Find"), 0, 0)
        grid.addWidget(self._sought, 0, 1)
        grid.addLayout(_row(self._count, self._undo, self._previous, self._next, self._close), 0, 2)
        grid.addWidget(self._new_caption, 1, 0)
        grid.addWidget(self._new, 1, 1)
        grid.addLayout(_row(self._replace, self._all), 1, 2)
        choices = _row(self._case, self._whole, self._in_book)
        grid.addLayout(choices, 2, 1, 1, 2)
        grid.setColumnStretch(1, 1)
        inner = QVBoxLayout()
        inner.setContentsMargins(4 * GRID, 2 * GRID, 4 * GRID, 2 * GRID)
        inner.setSpacing(2 * GRID)
        inner.addLayout(grid)
        inner.addWidget(self._preview)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(inner)
        column.addWidget(Hairline(self))

    def _wanted(self) -> Sought:
        return Sought(self._sought.text(), self._case.isChecked(), self._whole.isChecked())

    def _follow(self) -> None:
        if self.isVisible():
            self._soon.start()

    def _seek(self) -> None:
        self._undo.hide()
        scene = self._desk.scene
        scenes = None if self._in_book.isChecked() or scene is None else [scene.id]
        places = find(self._desk.book, self._wanted(), scenes)
        if places != self._places:
            self._places = places
            self._preview.hide()
        for button in (self._previous, self._next, self._replace, self._all):
            button.setEnabled(bool(places))
        self._tell()

    def _tell(self) -> None:
        count = len(self._places)
        if not self._sought.text():
            self._count.setText("")
        elif not count:
            whole = self._in_book.isChecked()
            self._count.setText("not found" if whole else "not in this scene")
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

    def _show(self, index: int) -> None:
        place = self._places[index]
        self._at = (place.scene, place.start)
        self.place_shown.emit(place)
        self._tell()

    def _replace_one(self) -> None:
        self._seek()
        index = self._index()
        if index is None:
            self.step()
            return
        place, new = self._places[index], self._new.text()
        book = replace_at(self._desk.book, [place], new)
        self._at = (place.scene, place.start + len(new) - 1)
        self._desk.rewrite(place.scene, book.scene(place.scene).passage)
        self._seek()
        self.step()

    def _show_preview(self) -> None:
        self._preview.show_places(self._desk, self._places, self._new.text())

    def _replace_all(self) -> None:
        places, old, new = self._places, self._sought.text(), self._new.text()
        self._seek()
        if self._places != places:  # the text was written in since: these are not what was shown
            self._show_preview()
            return
        try:
            self._snapshot(f"Before “{old}” was replaced by “{new}”")
        except RegletError as error:
            self._desk.refused.emit(str(error))
            return
        if self._desk.perform(f"Replace “{old}”", lambda book: replace_at(book, places, new)):
            self._seek()
            self._count.setText(f"{len(places):,} replaced")
            self._undo.show()

    def _take_back(self) -> None:
        self._desk.undo_arrangement()
        self._seek()


class Preview(QWidget):
    """What replacing would do, place by place, and the writer's word to do it."""

    agreed = Signal()
    """Do it."""
    place_chosen = Signal(int)
    """The index of a place to be looked at on the page."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._list = PlaceList()
        self._list.setFixedHeight(_PREVIEW_HEIGHT)
        self._agree = Act(chief=True)
        self._leave = Act("Leave as it is")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addWidget(Hairline())
        column.addWidget(self._list)
        foot = QHBoxLayout()
        foot.setSpacing(2 * GRID)
        foot.addWidget(Label("A snapshot of the book is taken first.", quiet=True), 1)
        foot.addWidget(self._leave)
        foot.addWidget(self._agree)
        column.addLayout(foot)
        self._list.place_chosen.connect(self.place_chosen)
        self._leave.clicked.connect(self.hide)
        self._agree.clicked.connect(self.hide)
        self._agree.clicked.connect(self.agreed)
        self.hide()

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        dress_all(self, theme)

    def show_places(self, desk: Desk, places: tuple[Place, ...], new: str) -> None:
        """Show what would become of these places."""
        self._list.show_places(desk.book, places, new)
        scenes = len({place.scene for place in places})
        where = "one scene" if scenes == 1 else f"{scenes:,} scenes"
        self._agree.setText(f"Replace {len(places):,} in {where}")
        self.show()
        self._agree.setFocus()


def _row(*widgets: QWidget) -> QHBoxLayout:
    row = QHBoxLayout()
    row.setSpacing(2 * GRID)
    for widget in widgets:
        row.addWidget(widget)
    row.addStretch(1)
    return row
