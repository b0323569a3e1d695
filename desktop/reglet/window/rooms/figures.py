"""Figures of the scene beside the book's: to compare, not to grade."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QRect, QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from reglet.language.readability import Readability
from reglet.window import dressing
from reglet.window.controls import Tick
from reglet.window.lettering import Caption, Label, dress_all
from reglet.window.theme import GRID, LIGHT, Theme

_ROW = 22
_COLUMN = 56


def _plain(value: float | None) -> str:
    return "–" if value is None else f"{value:.1f}"


_LINES: tuple[tuple[str, str, Callable[[Readability], str]], ...] = (
    (
        "Reading ease",
        "Flesch Reading Ease (Kincaid and others 1975): higher reads more easily. Fiction lies "
        "anywhere; what tells is how a scene stands beside its book.",
        lambda figures: _plain(figures.ease),
    ),
    (
        "School grade",
        "Flesch–Kincaid grade (Kincaid and others 1975): years of school that the words and "
        "sentences would ask for.",
        lambda figures: _plain(figures.grade),
    ),
    (
        "Words a sentence",
        "The average length of a sentence.",
        lambda figures: _plain(figures.sentence_length),
    ),
    (
        "Spread of lengths",
        "How far sentences lie from their average length (the standard deviation): small where "
        "all are of one length.",
        lambda figures: _plain(figures.sentence_spread),
    ),
    (
        "Dialogue",
        "The share of the words that is spoken.",
        lambda figures: f"{figures.dialogue:.0%}",
    ),
)


class FiguresRoom(QWidget):
    """Shows them, and whether the rhythm is drawn beside the text."""

    rhythm_wanted = Signal(bool)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._rows = [_Row(name, told) for name, told, _ in _LINES]
        self._rhythm = Tick("Rhythm beside the text")
        self._rhythm.setToolTip("A hairline for each sentence, as long as it is")
        self._rhythm.toggled.connect(self.rhythm_wanted)
        head = QHBoxLayout()
        head.setSpacing(0)
        head.addWidget(Caption("Figures"))
        head.addStretch(1)
        for name in ("scene", "book"):
            label = Label(name, quiet=True, scale=0.86)
            label.setFixedWidth(_COLUMN)
            label.setAlignment(Qt.AlignmentFlag.AlignRight)
            head.addWidget(label)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addLayout(head)
        for row in self._rows:
            layout.addWidget(row)
        layout.addSpacing(GRID)
        layout.addWidget(self._rhythm)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        dress_all(self, theme)

    def show_figures(self, scene: Readability | None, book: Readability | None) -> None:
        """Show the scene's figures beside the book's; None for those not measured yet."""
        for row, (_, _, figure) in zip(self._rows, _LINES, strict=True):
            row.show_values(*("…" if each is None else figure(each) for each in (scene, book)))

    def show_rhythm(self, shown: bool) -> None:
        """Whether the rhythm is drawn."""
        self._rhythm.setChecked(shown)


class _Row(QWidget):
    """A figure: what it is, the scene's, the book's."""

    def __init__(self, name: str, told: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = LIGHT
        self._name, self._values = name, ("…", "…")
        self.setToolTip(told)
        self.setAccessibleDescription(told)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        self.update()

    def show_values(self, scene: str, book: str) -> None:
        """The scene's value and the book's."""
        if (scene, book) != self._values:
            self._values = (scene, book)
            self.setAccessibleName(f"{self._name}: {scene} in the scene, {book} in the book")
            self.update()

    def sizeHint(self) -> QSize:
        return QSize(200, _ROW)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter, theme = QPainter(self), self._theme
        painter.setFont(dressing.font(theme.control, 0.93))
        line = QRect(0, 0, self.width(), _ROW)
        painter.setPen(QColor(theme.ink))
        painter.drawText(line, Qt.AlignmentFlag.AlignVCenter, self._name)
        right = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight
        painter.drawText(line.adjusted(0, 0, -_COLUMN, 0), right, self._values[0])
        painter.setPen(QColor(theme.quiet))
        painter.drawText(line, right, self._values[1])
        painter.setPen(QColor(theme.line))
        painter.drawLine(0, _ROW - 1, self.width(), _ROW - 1)
