"""The page with its rhythm: beside each paragraph a hairline for each sentence, as long as it is.

A sentence with a mark is drawn in the pencil, and heavier; the others are quiet.
"""

from __future__ import annotations

from bisect import bisect_left
from functools import lru_cache

from PySide6.QtCore import QPointF, QRect, QRectF, QTimer
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from reglet.language.prose import Prose
from reglet.manuscript.paragraph import Style
from reglet.window import proof_marks
from reglet.window.page.noted import NotedEditor
from reglet.window.theme import GRID

_FULL = 50
"""Words of a sentence whose hairline fills the margin; a longer one is drawn no longer."""
_APART, _LEAST_APART = 7.0, 3.0
_FROM_TEXT = 2 * GRID
_LEAST_ROOM = 2 * GRID
_AGAIN_MS = 200
_NO_SENTENCES = (Style.HEADING, Style.SCENE_BREAK, Style.CENTRED)


Beats = tuple[tuple[int, int, int], ...]
"""The sentences of a paragraph: where each starts and ends, and its words."""


class RhythmEditor(NotedEditor):
    """A page that shows, when asked to, how long its sentences are."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._rhythm = False
        self._latest: dict[int, tuple[str, Beats]] = {}
        self._again = QTimer(self, singleShot=True, interval=_AGAIN_MS)
        self._again.timeout.connect(self._paint_margin)
        self.edited.connect(self._again.start)

    def show_rhythm(self, shown: bool) -> None:
        """Whether the lengths are drawn."""
        if shown != self._rhythm:
            self._rhythm = shown
            self._paint_margin()

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if self._rhythm and event.rect().left() < self._left - _FROM_TEXT:
            self._paint_rhythm(QPainter(self.viewport()), QRectF(event.rect()))

    def _paint_margin(self) -> None:
        self.viewport().update(QRect(0, 0, self._left, self.viewport().height()))

    def _paint_rhythm(self, painter: QPainter, within: QRectF) -> None:
        layout = self.document().documentLayout()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        # A paragraph that begins above the part to be painted may have its strip reach into it.
        for block, origin in self._blocks_in(within.adjusted(0, -1, 0, 0)):
            number = block.blockNumber()
            if number >= len(self.passage.paragraphs):
                return
            paragraph = self.passage.paragraphs[number]
            if paragraph.style in _NO_SENTENCES:
                continue
            start = self.passage.starts[number]
            noted = any(start <= note.start <= start + len(paragraph.text) for note in self._notes)
            right = self._left - _FROM_TEXT - ((proof_marks.SIZE + 4) if noted else 0)
            room = right - GRID
            if room < _LEAST_ROOM:
                continue
            beats = self._beats_of(number, paragraph.text)
            height = layout.blockBoundingRect(block).height()
            apart = max(_LEAST_APART, min(_APART, (height - GRID) / max(1, len(beats))))
            y = origin.y() + GRID + 1
            for first, last, words in beats:
                marked = self._is_marked(start + first, start + last)
                colour = QColor(self._pencil if marked else self.theme.bar)
                painter.setPen(QPen(colour, 2.0 if marked else 1.6))
                long = max(3.0, min(1.0, words / _FULL) * room)
                painter.drawLine(QPointF(right - long, y), QPointF(right, y))
                y += apart

    def _beats_of(self, number: int, text: str) -> Beats:
        """The sentences of a paragraph; while it is typed in, as they were a moment ago."""
        then, beats = self._latest.get(number, ("", ()))
        if then != text and not (self._again.isActive() and beats):
            beats = _beats(text)
            self._latest[number] = (text, beats)
        return beats

    def _is_marked(self, start: int, end: int) -> bool:
        """Whether a query that is not about the whole paragraph touches a sentence."""
        at = bisect_left(self._starts, start - self._reach)
        for query in self._queries[at:]:
            if query.start >= end:
                return False
            if query.end > start and "\n" not in query.text and len(query.text) <= end - start + 1:
                return True
        return False


@lru_cache(maxsize=4096)
def _beats(text: str) -> Beats:
    prose = Prose(text)
    return tuple(
        (sentence.start, sentence.end, words)
        for sentence, words in zip(prose.sentences, prose.sentence_lengths, strict=True)
        if words
    )
