"""The bar above the page in which a snapshot is given its label and taken."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from reglet.window.controls import Act, Entry, Tick
from reglet.window.lettering import Caption, Hairline, dress_all
from reglet.window.theme import GRID, Theme


class SnapshotBar(QWidget):
    """Asks for a label, which may stay empty."""

    wanted = Signal(str, bool)
    """A snapshot with this label, of the open scene alone if True, else of the whole book."""
    closed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._label = Entry("Label of the snapshot", "a label, if you like")
        self._scene = Tick("This scene only")
        self._take = Act("Take a snapshot", chief=True)
        self._close = Act("Close")
        row = QHBoxLayout()
        row.setContentsMargins(4 * GRID, 2 * GRID, 4 * GRID, 2 * GRID)
        row.setSpacing(2 * GRID)
        row.addWidget(Caption("Snapshot"))
        row.addWidget(self._label, 1)
        for widget in (self._scene, self._take, self._close):
            row.addWidget(widget)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(row)
        column.addWidget(Hairline())
        self._label.returnPressed.connect(self._done)
        self._take.clicked.connect(self._done)
        self._close.clicked.connect(self.closed)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.hide()

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        dress_all(self, theme)

    def start(self) -> None:
        """Ask."""
        self._label.clear()
        self.show()
        self._label.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
            return
        super().keyPressEvent(event)

    def _done(self) -> None:
        self.wanted.emit(self._label.text().strip(), self._scene.isChecked())
