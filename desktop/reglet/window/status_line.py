"""The line at the foot: saved or saving, and how many words."""

from __future__ import annotations

from html import escape

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QWidget

from reglet.window import dressing
from reglet.window.lettering import Label
from reglet.window.theme import GRID, LIGHT, Theme

HEIGHT = 4 * GRID
_SENTENCE_MS = 9000
_LETTER_MS = 70
"""How long a sentence stands for each of its letters, where that is longer."""
_SIDE = 20


class StatusLine(QWidget):
    """Figures in a row; a sentence to the writer takes their place for a while, in as many lines
    as it needs.
    """

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFixedHeight(HEIGHT)
        self._saved = Label(scale=0.9, weight=dressing.SEMIBOLD)
        self._figures = Label(quiet=True, scale=0.9)
        self._figures.setTextFormat(Qt.TextFormat.RichText)
        self._ink = LIGHT.ink
        self._shown: tuple[tuple[str, str], ...] = ()
        self._lasting = ""
        self._sentence = Label(scale=0.9)
        self._sentence.setWordWrap(True)
        # A long sentence must not make the window wider than the screen.
        self._sentence.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self._sentence.hide()
        for label, name in (
            (self._saved, "Whether the book is saved"),
            (self._figures, "Words and pages"),
            (self._sentence, "Message"),
        ):
            label.setAccessibleName(name)
        layout = QHBoxLayout(self)
        layout.setContentsMargins(_SIDE, 0, _SIDE, 0)
        layout.setSpacing(3 * GRID)
        layout.addWidget(self._saved)
        layout.addWidget(self._figures)
        layout.addWidget(self._sentence, 1)
        layout.addStretch()
        self._quiet_again = QTimer(self, singleShot=True, interval=_SENTENCE_MS)
        self._quiet_again.timeout.connect(self._sentence_over)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        for label in (self._saved, self._figures, self._sentence):
            label.dress(theme)
        self._ink = theme.ink
        self.set_figures(*self._shown)

    def set_saved(self, state: str) -> None:
        """Whether what was typed is on disk, in a word."""
        self._saved.setText(state)

    def set_figures(self, *figures: tuple[str, str]) -> None:
        """What there is to count: numbers, and of what."""
        self._shown = figures
        self._figures.setText(
            "&nbsp;&nbsp;&nbsp;&nbsp;&nbsp; ".join(
                f'<span style="color:{self._ink}">{number}</span> {escape(said)}'
                for number, said in figures
            )
        )

    def say(self, sentence: str) -> None:
        """Say something to the writer for some seconds."""
        self._show(sentence)
        self._quiet_again.start(max(_SENTENCE_MS, _LETTER_MS * len(sentence)))

    def keep_saying(self, sentence: str) -> None:
        """Say something that stands until `say_no_more`, whatever else is said meanwhile."""
        self._lasting = sentence
        self._quiet_again.stop()
        self._show(sentence)

    def say_no_more(self) -> None:
        """What was to be said until now is so no longer."""
        if self._lasting:
            self._lasting = ""
            self._sentence_over()

    def _sentence_over(self) -> None:
        if self._lasting:
            self._show(self._lasting)
            return
        self._sentence.hide()
        self._figures.show()
        self._fit()

    def _show(self, sentence: str) -> None:
        self._figures.hide()
        self._sentence.setText(sentence)
        self._sentence.setToolTip(sentence)
        self._sentence.show()
        self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        room = self.width() - 2 * _SIDE - self._saved.sizeHint().width() - 3 * GRID
        needed = 0 if self._sentence.isHidden() else self._sentence.heightForWidth(max(1, room))
        self.setFixedHeight(max(HEIGHT, needed + 2 * GRID))
