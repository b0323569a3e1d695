"""Room for what is longer than its place."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QScrollArea, QWidget


class Scrolled(QScrollArea):
    """Scrolls what is inside up and down; has no frame or ground of its own, and takes no keys."""

    def __init__(self, inside: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFrameStyle(0)
        self.setWidgetResizable(True)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setWidget(inside)
        for each in (self.viewport(), inside):
            each.setAutoFillBackground(False)
