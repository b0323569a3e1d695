"""The small pieces of text that the window is made of: labels, rules, keys."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPalette
from PySide6.QtWidgets import QAbstractScrollArea, QLabel, QSizePolicy, QWidget

from reglet.window import dressing
from reglet.window.theme import LIGHT, Theme


class Label(QLabel):
    """A line of text in the controls' face; `quiet` text stands back."""

    def __init__(
        self,
        text: str = "",
        *,
        quiet: bool = False,
        scale: float = 1.0,
        weight: int = dressing.REGULAR,
        page_face: bool = False,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(text, parent)
        self._quiet, self._scale, self._weight, self._page_face = quiet, scale, weight, page_face
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.dress(LIGHT)

    def dress(self, theme: Theme) -> None:
        """Put on the theme's face and colour."""
        face = theme.title if self._page_face else theme.control
        self.setFont(dressing.font(face, self._scale, self._weight))
        colours = self.palette()
        colours.setColor(
            QPalette.ColorRole.WindowText, QColor(theme.quiet if self._quiet else theme.ink)
        )
        self.setPalette(colours)


class Lines(Label):
    """Text in as many lines as the width that is given to it makes of it."""

    def __init__(
        self, text: str = "", *, quiet: bool = False, scale: float = 1.0, page_face: bool = False
    ) -> None:
        super().__init__(text, quiet=quiet, scale=scale, page_face=page_face)
        self.setWordWrap(True)
        policy = QSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)


class Caption(QLabel):
    """A quiet heading in letterspaced capitals."""

    def __init__(self, text: str = "", parent: QWidget | None = None) -> None:
        super().__init__(text, parent)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.dress(LIGHT)

    def dress(self, theme: Theme) -> None:
        """Put on the theme's face and colour."""
        self.setFont(dressing.capitals(theme.control))
        colours = self.palette()
        colours.setColor(QPalette.ColorRole.WindowText, QColor(theme.quiet))
        self.setPalette(colours)


class Hairline(QWidget):
    """A rule one pixel high, across the width given to it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = LIGHT
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def dress(self, theme: Theme) -> None:
        """Put on the theme's colour."""
        self._theme = theme
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(8, 1)

    def paintEvent(self, event: object) -> None:
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(self._theme.line))


def dress_all(widget: QWidget, theme: Theme) -> None:
    """Dress every widget inside `widget` that has a `dress` of its own."""
    for child in widget.findChildren(QWidget):
        # Under a stylesheet Qt polishes a widget when it is first shown, and takes off what it was
        # dressed in before; polished first, it keeps it.
        child.ensurePolished()
        dress = getattr(child, "dress", None)
        if dress is not None:
            dress(theme)
        if isinstance(child, QAbstractScrollArea):
            # Under a stylesheet Qt gives a viewport a palette of its own, once and for all.
            child.viewport().setPalette(child.palette())
