"""A layout that sets widgets in lines, as text is set; layouts emptied to be filled anew."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QWidget

from reglet.window.theme import GRID


class FlowLayout(QLayout):
    """Sets widgets one beside another, `gap` apart, and starts a new line, no farther below, where
    one has no more room.
    """

    def __init__(self, gap: int, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._items: list[QLayoutItem] = []
        self._gap = gap
        self.setContentsMargins(0, 0, 0, 0)

    def addItem(self, item: QLayoutItem) -> None:
        self._items.append(item)

    def count(self) -> int:
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        return self._set(QRect(0, 0, width, 0), place=False)

    def setGeometry(self, rect: QRect) -> None:
        super().setGeometry(rect)
        self._set(rect, place=True)

    def sizeHint(self) -> QSize:
        return self.minimumSize()

    def minimumSize(self) -> QSize:
        size = QSize()
        for item in self._items:
            size = size.expandedTo(item.minimumSize())
        return size

    def _set(self, rect: QRect, *, place: bool) -> int:
        """Place the items if asked, and give the height they take."""
        x, y, line_height = rect.x(), rect.y(), 0
        for item in self._items:
            if item.isEmpty():
                continue  # a hidden widget
            size = item.sizeHint()
            if x + size.width() > rect.x() + rect.width() and line_height:
                x, y, line_height = rect.x(), y + line_height + min(self._gap, GRID), 0
            if place:
                item.setGeometry(QRect(QPoint(x, y), size))
            x += size.width() + self._gap
            line_height = max(line_height, size.height())
        return y + line_height - rect.y()


def empty(layout: QLayout) -> None:
    """Take every widget out of a layout, for good."""
    while (item := layout.takeAt(0)) is not None:
        if widget := item.widget():
            widget.hide()  # it goes when the event loop comes round, and is not seen until then
            widget.deleteLater()
