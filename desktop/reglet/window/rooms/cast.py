"""The cast on the Slip: the people named in the book; dropping one on another makes them one."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPoint, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from reglet.story.cast import CastMember
from reglet.window.controls import Chip
from reglet.window.flow import FlowLayout, empty
from reglet.window.lettering import Caption, Lines, dress_all
from reglet.window.theme import GRID, LIGHT, Theme

_SHOWN = 18
_HINT = "Drag one name onto another, or press both, and they are one person."
_OTHER = "Now press the other name of the same person; “{}” again leaves it."


class CastRoom(QWidget):
    """Shows people and tells which are one."""

    joined = Signal(str, str)
    """The name that stays, and the one that becomes a form of it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = LIGHT
        self._shown: list[tuple[str, tuple[str, ...], int]] = []
        self._picked = ""
        self._caption, self._told = Caption("Cast"), Lines(_HINT, quiet=True, scale=0.86)
        self._names = QWidget()
        self._flow = FlowLayout(GRID - 2, self._names)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        for widget in (self._caption, self._names, self._told):
            column.addWidget(widget)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        dress_all(self, theme)

    def show_cast(self, cast: Sequence[CastMember]) -> None:
        """Show these people, those named most."""
        shown = [(each.name, each.forms, each.count) for each in cast[:_SHOWN]]
        if shown == self._shown:
            return
        self._shown, self._picked = shown, ""
        empty(self._flow)
        for name, forms, count in shown:
            chip = NameChip(name, len(forms) - 1)
            chip.setToolTip(f"{', '.join(forms)} · named {count:,} times")
            chip.setAccessibleDescription(_HINT)
            chip.dress(self._theme)
            chip.picked.connect(lambda name=name: self._pick(name))
            chip.let_go.connect(lambda at, name=name: self._let_go(name, at))
            self._flow.addWidget(chip)
            chip.show()
        self._caption.setText(f"Cast · {len(cast)}" if cast else "Cast")

    def _pick(self, name: str) -> None:
        if not self._picked:
            self._picked = name
            self._told.setText(_OTHER.format(name))
        else:
            other, self._picked = self._picked, ""
            self._told.setText(_HINT)
            if other != name:
                self.joined.emit(name, other)
        for chip in self.findChildren(NameChip):
            chip.setChecked(chip.name == self._picked)

    def _let_go(self, name: str, at: QPoint) -> None:
        target = self._names.childAt(self._names.mapFromGlobal(at))
        if isinstance(target, NameChip) and target.name != name:
            self.joined.emit(target.name, name)


class NameChip(Chip):
    """A name to press, or to drag onto another."""

    picked = Signal()
    let_go = Signal(QPoint)

    def __init__(self, name: str, others: int) -> None:
        super().__init__(f"{name} +{others}" if others else name)
        self.name = name

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        self.setDown(False)
        if self.rect().contains(event.position().toPoint()):
            self.picked.emit()
        else:
            self.let_go.emit(event.globalPosition().toPoint())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.picked.emit()
        else:
            super().keyPressEvent(event)
