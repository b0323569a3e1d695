"""What is on the desk before any book is: three ways to begin, and the books opened lately."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFontMetrics, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QVBoxLayout, QWidget

from reglet.window import dressing
from reglet.window.flow import empty
from reglet.window.lettering import Caption, Hairline, Label, dress_all
from reglet.window.paper import Paper
from reglet.window.theme import GRID, LIGHT, Theme

_SHEET = 84 * GRID
_MARGIN = 9 * GRID
_MOST_RECENT = 5
_WAY_HEIGHT = 60
_RECENT_HEIGHT = 30


class FirstStart(QWidget):
    """The first screen."""

    demo_wanted = Signal()
    """Open a copy of the demo book."""
    draft_wanted = Signal()
    """Bring in a draft from a file."""
    book_wanted = Signal()
    """Open a book from a file."""
    recent_wanted = Signal(object)
    """Open the book at this `Path`."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        lead = Label(
            "From a finished first draft to a book fit to sell: read it through, set its structure "
            "right, go over it line by line, proof it by eye and ear, send it out. Every earlier "
            "state is kept.",
            scale=1.14,
        )
        lead.setWordWrap(True)
        self._said = Label(quiet=True)
        self._said.setWordWrap(True)
        self._said.hide()
        self._ways = QVBoxLayout()
        self._ways.setSpacing(0)
        for title, told, wanted in (
            (
                "Bring in a draft",
                "A .docx, .odt, .txt or .md file. It is read and left as it is; the book is a new "
                "file.",
                self.draft_wanted,
            ),
            ("Open a book", "A .reglet file that you made before.", self.book_wanted),
            (
                "Look around in the demo book",
                "A short novel in its first draft, in a copy that you may spoil.",
                self.demo_wanted,
            ),
        ):
            way = Way(title, told)
            way.clicked.connect(wanted)
            self._ways.addWidget(way)
        self._recent_caption = Caption("Lately on the desk")
        self._recent = QVBoxLayout()
        self._recent.setSpacing(0)
        sheet = QWidget()
        column = QVBoxLayout(sheet)
        column.setContentsMargins(_MARGIN, 3 * GRID, _MARGIN, 3 * GRID)
        column.setSpacing(2 * GRID)
        column.addStretch(2)
        column.addWidget(Label("Reglet", scale=1.5, page_face=True))
        column.addWidget(lead)
        column.addWidget(self._said)
        column.addSpacing(GRID)
        column.addWidget(Hairline())
        column.addLayout(self._ways)
        column.addSpacing(2 * GRID)
        column.addWidget(self._recent_caption)
        column.addLayout(self._recent)
        column.addStretch(3)
        self._paper = Paper()
        self._paper.set_wanted_width(_SHEET)
        self._paper.lay(sheet)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 4 * GRID, 0, 0)
        outer.addWidget(self._paper)
        self._theme = LIGHT
        self.show_recent(())

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        dress_all(self, theme)

    def say(self, sentence: str) -> None:
        """Say something to the writer; "" for nothing."""
        self._said.setText(sentence)
        self._said.setVisible(bool(sentence))

    def show_recent(self, paths: Sequence[Path]) -> None:
        """Name the books opened lately, the latest first."""
        empty(self._recent)
        for path in paths[:_MOST_RECENT]:
            way = Way(path.stem, str(path.parent), small=True)
            way.setAccessibleDescription(f"Opens {path}")
            way.clicked.connect(lambda _=False, path=path: self.recent_wanted.emit(path))
            way.dress(self._theme)
            self._recent.addWidget(way)
        self._recent_caption.setVisible(bool(paths))


class Way(QAbstractButton):
    """One way to begin, a line across the sheet: what it is called, and what it does."""

    def __init__(self, title: str, told: str, *, small: bool = False) -> None:
        super().__init__()
        self._told, self._small = told, small
        self._theme = LIGHT
        self.setText(title)
        self.setAccessibleDescription(told)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(40 * GRID, _RECENT_HEIGHT if self._small else _WAY_HEIGHT)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter, theme = QPainter(self), self._theme
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        marked = self.hasFocus() or self.underMouse()
        if marked:
            painter.fillRect(self.rect().adjusted(0, 0, 0, -1), QColor(theme.card))
            painter.fillRect(QRectF(0, 0, 3, self.height() - 1), QColor(theme.ink))
        inner = self.rect().adjusted(12, 0, -12, 0)
        told = dressing.font(theme.control, 0.93)
        title = dressing.font(theme.control if self._small else theme.title, 1.0)
        if not self._small:
            title = dressing.font(theme.title, 0.74, dressing.MEDIUM)
        painter.setFont(title)
        painter.setPen(QColor(theme.ink))
        elide = Qt.TextElideMode.ElideRight
        middle = Qt.AlignmentFlag.AlignVCenter
        if self._small:
            painter.drawText(inner, middle, self.text())
            left = QFontMetrics(title).horizontalAdvance(self.text()) + 2 * GRID
            inner = inner.adjusted(left, 0, 0, 0)
            elide = Qt.TextElideMode.ElideMiddle
        else:
            upper = inner.adjusted(0, 6, 0, 2 - self.height() // 2)
            painter.drawText(upper, middle, self.text())
            inner = inner.adjusted(0, self.height() // 2, 0, -10)
        painter.setFont(told)
        painter.setPen(QColor(theme.quiet))
        shown = QFontMetrics(told).elidedText(self._told, elide, max(0, inner.width()))
        painter.drawText(inner, middle, shown)
        painter.setPen(QPen(QColor(theme.line), 1))
        edge = self.height() - 0.5
        painter.drawLine(QPointF(0, edge), QPointF(self.width(), edge))
