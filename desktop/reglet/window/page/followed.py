"""The page while the book is read aloud: the word that is heard is marked, its line is kept at
reading height, and the rest of the page is quiet.
"""

from __future__ import annotations

from PySide6.QtCore import QEasingCurve, QPointF, QPropertyAnimation, QRectF
from PySide6.QtGui import (
    QColor,
    QPainter,
    QPaintEvent,
    QPalette,
    QPen,
    QResizeEvent,
    QTextCharFormat,
    QTextCursor,
)
from PySide6.QtWidgets import QTextEdit, QWidget

from reglet.manuscript.passage import Passage
from reglet.voice.flags import Spot
from reglet.window.page.marked import TEXT_FOOT
from reglet.window.page.rhythm import RhythmEditor
from reglet.window.theme import GRID, Theme

_HEIGHT = 0.38
"""Where the line that is read stands in the view: a little above its middle, where eyes rest."""
_MOVE_MS = 320
"""How long the page takes to move on by a line; further takes longer, up to twice as long."""
_CARET = 2


class FollowedEditor(RhythmEditor):
    """A page on which a voice can be followed."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._said: Spot | None = None
        self._said_rects: list[QRectF] = []
        self._line: QRectF | None = None
        self._paragraph = -1
        self._following = False
        self._with_ruler = False
        self._moving = QPropertyAnimation(self.verticalScrollBar(), b"value", self)
        self._moving.setEasingCurve(QEasingCurve.Type.InOutSine)

    @property
    def said(self) -> Spot | None:
        """The word that is marked."""
        return self._said

    @property
    def following(self) -> bool:
        """Whether the page keeps to the voice."""
        return self._following

    # What is heard

    def follow_voice(self, following: bool, *, ruler: bool = False) -> None:
        """Keep to the voice, with a reading ruler under its line or without; or no longer."""
        if (following, ruler) == (self._following, self._with_ruler):
            return
        self._following, self._with_ruler = following, ruler
        self.setCursorWidth(0 if following else _CARET)
        if following:
            self._frame()
        else:
            self._moving.stop()
            self._line = None
        self._hush_page()
        self._keep_height()
        self.viewport().update()

    def set_said(self, said: Spot | None, near: int = -1) -> None:
        """Mark the word that is heard; None between words. `near` is a code point of the paragraph
        that is read, -1 for none.
        """
        before = self._said_rects
        self._said = said
        # What was marked may have moved since with the text, or have been scrolled.
        self._said_rects = self._rects(said) if said is not None else []
        paragraph = self.passage.locate(min(near, len(self.passage)))[0] if near >= 0 else -1
        if paragraph != self._paragraph:
            self._paragraph = paragraph
            self._hush_page()
        line = self._said_rects[0] if self._said_rects else None
        moved = line is not None and (self._line is None or abs(line.top() - self._line.top()) >= 1)
        self._line = line or self._line  # between two words the line is still read
        if moved and self._has_ruler:
            self.viewport().update()
        for rect in (*before, *self._said_rects):
            self.viewport().update(rect.adjusted(-4, -3, 4, 4).translated(0, -self._top).toRect())
        if moved:
            self._keep_height()

    def _rects(self, said: Spot) -> list[QRectF]:
        """The places of a word, line by line, as they lie in the document."""
        if said.end > len(self.passage):
            return []
        number, _ = self.passage.locate(said.start)
        block = self.document().findBlockByNumber(number)
        self.document().documentLayout().blockBoundingRect(block)  # lays out all that is above
        text, start = self.passage.paragraphs[number].text, self.passage.starts[number]
        return list(self._hairlines(block, block.layout().position(), text, start, said))

    def line_top(self) -> float | None:
        """Where in the view the line stands that is read, in pixels; None where none is."""
        return self._line.top() - self._top if self._line is not None else None

    @property
    def _top(self) -> int:
        return self.verticalScrollBar().value()

    # Reading height

    def _keep_height(self) -> None:
        """Move the page, without a jump, so that the line that is read stands where it should."""
        if not self._following or self._line is None:
            return
        bar = self.verticalScrollBar()
        wanted = round(self._line.top() - _HEIGHT * self.viewport().height())
        wanted = max(bar.minimum(), min(bar.maximum(), wanted))
        way = abs(wanted - bar.value())
        if not way:
            self._moving.stop()
            return
        self._moving.stop()
        share = min(1.0, way / self.viewport().height())
        self._moving.setDuration(round(_MOVE_MS * (1 + share)))
        self._moving.setStartValue(bar.value())
        self._moving.setEndValue(wanted)
        self._moving.start()

    def _foot(self) -> int:
        """Room below the text, so that its last line too can stand at reading height."""
        if not self._following:
            return TEXT_FOOT
        return max(TEXT_FOOT, round((1 - _HEIGHT) * self.viewport().height()))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self._following:
            self._frame()
        if self._said is not None:
            self.set_said(self._said, self._said.start)

    # The quiet page

    def dress(self, theme: Theme) -> None:
        super().dress(theme)
        self._hush_page()
        if self._said is not None:
            self.set_said(self._said, self._said.start)

    def show_passage(self, passage: Passage) -> None:
        self._moving.stop()
        self._said, self._said_rects, self._line, self._paragraph = None, [], None, -1
        super().show_passage(passage)
        self._hush_page()

    def _hush_page(self) -> None:
        """Let all but the paragraph that is read stand back."""
        colours = self.palette()
        ink = self.theme.quiet if self._following else self.theme.ink
        if colours.color(QPalette.ColorRole.Text) != QColor(ink):
            colours.setColor(QPalette.ColorRole.Text, QColor(ink))
            self.setPalette(colours)
        chosen = []
        block = self.document().findBlockByNumber(self._paragraph)
        if self._following and self._paragraph >= 0 and block.isValid():
            read = QTextEdit.ExtraSelection()
            read.cursor = QTextCursor(block)
            read.cursor.movePosition(
                QTextCursor.MoveOperation.EndOfBlock, QTextCursor.MoveMode.KeepAnchor
            )
            made = QTextCharFormat()
            made.setForeground(QColor(self.theme.ink))
            read.format = made
            chosen.append(read)
        if chosen or self.extraSelections():
            self.setExtraSelections(chosen)

    # Painting

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if not self._said_rects:
            return
        painter = QPainter(self.viewport())
        painter.translate(0, -self._top)
        painter.setPen(QPen(QColor(self.theme.red), 2))
        for rect in self._said_rects:
            y = round(rect.bottom()) + 1
            painter.drawLine(QPointF(rect.left() - 1, y), QPointF(rect.right() + 1, y))

    def _paint_ground(self) -> None:
        super()._paint_ground()
        painter = QPainter(self.viewport())
        painter.translate(0, -self._top)
        for rect in self._said_rects:
            painter.fillRect(rect.adjusted(-2, -1, 2, 2), QColor(self.theme.selection))

    @property
    def _has_ruler(self) -> bool:
        return (self._with_ruler and self._following) or self.theme.ruler

    def _ruler_line(self) -> QRectF:
        if not self._following or self._line is None:
            return super()._ruler_line()
        first = self._line.translated(0, -self._top)
        return first.adjusted(0, -GRID / 2, 0, GRID / 2)
