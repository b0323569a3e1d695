"""The bar above the page in which one way is put through the book, where it goes two."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from reglet.errors import RegletError
from reglet.manuscript.search import Place
from reglet.numbers import counted
from reglet.window.controls import Act, Chip
from reglet.window.flow import FlowLayout, empty
from reglet.window.lettering import Caption, Hairline, Label, Lines, dress_all
from reglet.window.places import PlaceList, line_of
from reglet.window.settlement import Prepared
from reglet.window.theme import GRID, LIGHT, Theme

_LINE, _MOST_LINES = 28, 8
"""So high is a place, and so many are seen at once."""


class SettleBar(QWidget):
    """Shows the ways that the book goes and what putting one through would change, place by place;
    nothing is done before the writer says so. `snapshot` keeps the book under a label; what it
    raises of RegletError is told, and nothing is done.
    """

    way_wanted = Signal(str)
    """Another way than the one shown."""
    agreed = Signal()
    """A snapshot is taken: put it through."""
    refused = Signal(str)
    place_shown = Signal(object)
    """A `Place` to be looked at on the page."""
    closed = Signal()

    def __init__(self, snapshot: Callable[[str], None], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._snapshot = snapshot
        self._theme = LIGHT
        self._prepared: Prepared | None = None
        self._question = Label()
        self._question.setWordWrap(True)
        self._ways = FlowLayout(GRID)
        self._list = PlaceList()
        self._agree = Act(chief=True)
        self._leave = Act("Leave as it is")
        head = QHBoxLayout()
        head.setSpacing(2 * GRID)
        head.addWidget(Caption("One way through the book"))
        head.addWidget(self._question, 1)
        foot = QHBoxLayout()
        foot.setSpacing(2 * GRID)
        foot.addWidget(
            Lines("The choice goes to the style sheet. A snapshot is taken first.", quiet=True), 1
        )
        foot.addWidget(self._leave)
        foot.addWidget(self._agree)
        inner = QVBoxLayout()
        inner.setContentsMargins(4 * GRID, 2 * GRID, 4 * GRID, 2 * GRID)
        inner.setSpacing(GRID)
        inner.addLayout(head)
        inner.addLayout(self._ways)
        inner.addWidget(self._list)
        inner.addLayout(foot)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(inner)
        column.addWidget(Hairline())
        self._leave.clicked.connect(self.closed)
        self._agree.clicked.connect(self._done)
        self._list.place_chosen.connect(self._show_place)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.hide()

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        dress_all(self, theme)

    def show_prepared(self, prepared: Prepared) -> None:
        """Show what one way would change, and the other ways there are."""
        self._prepared = prepared
        choice, queries = prepared.choice, prepared.settlement.queries
        self._question.setText(prepared.label)
        empty(self._ways)
        for way, count in prepared.ways.items():
            chip = Chip(f"{way} {count:,}", self)
            chip.setCheckable(True)
            chip.setChecked(way == choice.way)
            chip.setAccessibleDescription("Put this way through the book")
            chip.clicked.connect(partial(self.way_wanted.emit, way))
            chip.dress(self._theme)
            self._ways.addWidget(chip)
            chip.show()
        self._list.show_things([line_of(prepared.book, each) for each in queries])
        self._list.setVisible(bool(queries))
        self._list.setFixedHeight(_LINE * min(len(queries), _MOST_LINES) + 2)
        scenes = len({each.scene for each in queries})
        where = "one scene" if scenes == 1 else f"{scenes:,} scenes"
        places = counted(len(queries), "place")
        self._agree.setText(f"Change {places} in {where}" if queries else "Keep it in the sheet")
        self.show()
        self._agree.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._done()
        else:
            super().keyPressEvent(event)

    def _show_place(self, row: int) -> None:
        if self._prepared is not None:
            query = self._prepared.settlement.queries[row]
            self.place_shown.emit(Place(query.scene, query.start, query.end))

    def _done(self) -> None:
        if self._prepared is None:
            return
        try:
            self._snapshot(f"Before {self._prepared.said}")
        except RegletError as error:
            self.refused.emit(str(error))
            return
        self.agreed.emit()
