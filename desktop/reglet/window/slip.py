"""The Slip: what belongs to the stage, beside the page.

It is made of rooms. A room is a widget with a `dress(theme)`; `add_room` says in which stages it
is shown, one under another in the order they were added. That is all there is to adding one.
"""

from __future__ import annotations

from collections.abc import Collection

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QScrollArea, QVBoxLayout, QWidget

from reglet.manuscript.stage import Stage
from reglet.window.theme import GRID, Theme


class Slip(QScrollArea):
    """Shows the rooms of the stage."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFrameStyle(0)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setAccessibleName("Slip")
        self._rooms: list[tuple[QWidget, frozenset[Stage]]] = []
        inside = QWidget()
        self._column = QVBoxLayout(inside)
        self._column.setContentsMargins(2 * GRID, GRID, 20, 3 * GRID)
        self._column.setSpacing(3 * GRID)
        self._column.addStretch()
        self.setWidget(inside)

    def add_room(self, room: QWidget, stages: Collection[Stage]) -> None:
        """Show a room in these stages, under those added before."""
        self._rooms.append((room, frozenset(stages)))
        self._column.insertWidget(self._column.count() - 1, room)
        room.hide()

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        for room, _ in self._rooms:
            room.dress(theme)  # type: ignore[attr-defined]

    def bring_into_sight(self, widget: QWidget) -> None:
        """Scroll to a widget of a room, once the rooms have made place for it."""
        QTimer.singleShot(0, widget, lambda: self.ensureWidgetVisible(widget))

    def set_stage(self, stage: Stage) -> None:
        """Show the rooms of a stage."""
        for room, stages in self._rooms:
            room.setVisible(stage in stages)
        self.verticalScrollBar().setValue(0)
        self.setAccessibleName(f"Slip, {stage.label}")
