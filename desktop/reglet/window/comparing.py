"""Two states of a scene on one page, marked as on a proof: what was cut is struck through, what was
added underlined behind a caret, and a mark stands in the margin at each place. Nothing rests on
colour alone.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby

from PySide6.QtCore import QPointF, QRectF, Qt, QTimer, Signal
from PySide6.QtGui import (
    QColor,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
    QTextCharFormat,
    QTextCursor,
)
from PySide6.QtWidgets import QFrame, QTextEdit, QWidget

from reglet.manuscript.difference import Difference, Kind, Piece
from reglet.manuscript.paragraph import SpanKind, Style
from reglet.manuscript.token import Token
from reglet.overlays.query import ProofMark
from reglet.window import dressing, proof_marks
from reglet.window.page import formats
from reglet.window.theme import GRID, LIGHT, Theme

_PARAGRAPH_SIGN = "¶"
_THIN_SPACE = "\u2009"
"""Parts what was cut from what was added, on this page only."""
_MARGIN = 10 * GRID
_COLUMNS = 4
_HALF_CARET = 4


@dataclass(frozen=True, slots=True)
class _Place:
    """A changed place in the document: where it starts and ends, and where its added text does."""

    start: int
    added: int
    end: int
    mark: ProofMark


class ComparisonPage(QTextEdit):
    """Shows a difference to read, and lets one of its changed places be chosen."""

    place_chosen = Signal(int)
    """The index of a changed place in `Difference.changed`."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme, self._pencil = LIGHT, LIGHT.graphite
        self._difference: Difference | None = None
        self._places: list[_Place] = []
        self._chosen = -1
        # Where a place stands is known only when Qt has laid the new lines out.
        self._settled = QTimer(self, singleShot=True, interval=0)
        self._settled.timeout.connect(self._bring_chosen_into_view)
        self.setReadOnly(True)
        self.setTextInteractionFlags(Qt.TextInteractionFlag.NoTextInteraction)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName("The two states compared")
        self.document().setDocumentMargin(0)
        self.document().setUndoRedoEnabled(False)

    def dress(self, theme: Theme) -> None:
        """Put on the theme's faces and colours."""
        pencils = (self._theme.graphite, self._theme.blue, self._theme.red)
        index = pencils.index(self._pencil) if self._pencil in pencils else 0
        self._theme, self._pencil = theme, (theme.graphite, theme.blue, theme.red)[index]
        dressing.dress_text(self, theme, dressing.font(theme.page))
        if self._difference is not None:
            self.show_difference(self._difference, self._pencil)

    def show_difference(self, difference: Difference, pencil: str) -> None:
        """Show what leads from the old state to the new; `pencil` is the colour of the marks."""
        same = difference is self._difference
        scrolled = self.verticalScrollBar().value() if same else 0
        self._chosen = self._chosen if same else -1
        self._difference, self._pencil, self._places = difference, pencil, []
        self.document().clear()
        cursor = QTextCursor(self.document())
        cursor.beginEditBlock()
        setter = _Setter(cursor, self._theme, pencil)
        for kept, group in groupby(difference.pieces, key=lambda piece: piece.kind is Kind.KEPT):
            if kept:
                for piece in group:
                    setter.set_piece(piece)
            else:
                self._places.append(setter.set_place(tuple(group)))
        cursor.endEditBlock()
        self._frame()
        self.verticalScrollBar().setValue(scrolled)
        self._settled.start()

    def clear(self) -> None:
        """Show nothing."""
        self._difference, self._places, self._chosen = None, [], -1
        super().clear()

    def step(self, by: int) -> None:
        """Choose the next changed place (or, with -1, the one before), round from end to start."""
        if self._places:
            start = self._chosen if self._chosen >= 0 else -1 if by > 0 else 0
            self.choose((start + by) % len(self._places))

    def choose(self, index: int) -> None:
        """Choose a changed place and bring it into view."""
        self._chosen = index
        self._bring_chosen_into_view()
        self.viewport().update()
        self.place_chosen.emit(index)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._settled.start()

    def _bring_chosen_into_view(self) -> None:
        if self._chosen >= 0:
            cursor = QTextCursor(self.document())
            cursor.setPosition(self._places[self._chosen].start)
            self.setTextCursor(cursor)
            self.ensureCursorVisible()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_J, Qt.Key.Key_K, Qt.Key.Key_Escape):
            event.ignore()  # the view that holds the page knows what they mean
            return
        super().keyPressEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        at = event.position()
        position = self.cursorForPosition(at.toPoint()).position()
        for index, place, box in self._in_view():
            over_words = at.x() >= _MARGIN and place.start <= position <= place.end
            if over_words or box.contains(at):
                self.choose(index)
                return

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        painter = QPainter(self.viewport())
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for index, place, box in self._in_view():
            self._paint_place(painter, place, box, chosen=index == self._chosen)

    def _in_view(self) -> Iterator[tuple[int, _Place, QRectF]]:
        """The places in view and where their marks stand: side by side where they share a line."""
        corner = QPointF(self.viewport().width(), self.viewport().height()).toPoint()
        first = self.cursorForPosition(QPointF(_MARGIN, 0).toPoint()).position()
        last = self.cursorForPosition(corner).position()
        on_line: dict[int, int] = {}
        for index, place in enumerate(self._places):
            if place.end < first or place.start > last:
                continue
            rect = self._rect_at(place.start)
            column = min(on_line.get(round(rect.top()), 0), _COLUMNS - 1)
            on_line[round(rect.top())] = column + 1
            x = _MARGIN - 2 * GRID - (column + 1) * proof_marks.SIZE
            yield index, place, QRectF(x, rect.top(), proof_marks.SIZE, rect.height())

    def _paint_place(self, painter: QPainter, place: _Place, box: QRectF, *, chosen: bool) -> None:
        size = proof_marks.SIZE
        if chosen:
            foot = self._rect_at(place.end).bottom()
            painter.fillRect(
                QRectF(_MARGIN - GRID - 1, box.top(), 2, max(box.height(), foot - box.top())),
                QColor(self._pencil),
            )
        proof_marks.draw(painter, place.mark, box.left(), box.center().y() - size / 2, self._pencil)
        if place.end > place.added:
            rect = self._rect_at(place.added)
            x, y = rect.left(), rect.bottom() - 1
            painter.setPen(QPen(QColor(self._pencil), 1.3))
            painter.drawPolyline(
                [
                    QPointF(x - _HALF_CARET, y + 4),
                    QPointF(x, y - 2),
                    QPointF(x + _HALF_CARET, y + 4),
                ]
            )

    def _rect_at(self, position: int) -> QRectF:
        cursor = QTextCursor(self.document())
        cursor.setPosition(position)
        return QRectF(self.cursorRect(cursor))

    def _frame(self) -> None:
        formats.set_margins(self.document(), _MARGIN, GRID, 2 * GRID, 6 * GRID)


class _Setter:
    """Sets the tokens of a difference into a document."""

    def __init__(self, cursor: QTextCursor, theme: Theme, pencil: str) -> None:
        self._cursor, self._theme, self._pencil = cursor, theme, pencil
        self._style = Style.BODY
        self._before: Style | None = None
        self._in_old = self._in_new = False

    def set_place(self, pieces: tuple[Piece, ...]) -> _Place:
        """Set all of a changed place, what was cut before what was added."""
        start = self._cursor.position()
        for piece in pieces:
            if piece.kind is Kind.CUT:
                self.set_piece(piece)
        if self._cursor.position() > start:
            self._cursor.insertText(_THIN_SPACE, QTextCharFormat())
        added = self._cursor.position()
        for piece in pieces:
            if piece.kind is Kind.ADDED:
                self.set_piece(piece)
        end = self._cursor.position()
        mark = (
            ProofMark.INSERT
            if pieces[0].kind is Kind.ADDED and len(pieces) == 1
            else ProofMark.DELETE
            if added == end
            else ProofMark.REPLACE
        )
        return _Place(start, added, end, mark)

    def set_piece(self, piece: Piece) -> None:
        """Set one piece. Neighbours that look alike are set at once, which Qt does much faster."""
        for (style, kinds), run in groupby(piece.tokens, key=_look):
            if style is not None:
                for _ in run:
                    self._begin(style, piece.kind)
            else:
                text = "".join(token.text for token in run)
                self._cursor.insertText(text, self._format(dict(kinds), piece.kind))

    def _begin(self, style: Style, kind: Kind) -> None:
        """Begin a paragraph. The first one of a state parts nothing there, so that a break between
        two blocks may belong to one state only, even where the paragraph belongs to both.
        """
        in_old, in_new = kind is not Kind.ADDED, kind is not Kind.CUT
        parts_old, parts_new = in_old and self._in_old, in_new and self._in_new
        self._in_old, self._in_new = self._in_old or in_old, self._in_new or in_new
        block = formats.block_format(style, self._theme.page, after=self._before)
        if parts_old or parts_new:
            if parts_old != parts_new:
                only = Kind.CUT if parts_old else Kind.ADDED
                self._cursor.insertText(_PARAGRAPH_SIGN, self._format({}, only))
            self._cursor.insertBlock(block, QTextCharFormat())
        else:
            self._cursor.setBlockFormat(block)
        self._before, self._style = style, style

    def _format(self, kinds: dict[SpanKind, str], kind: Kind) -> QTextCharFormat:
        made = formats.span_format(kinds, self._style)
        made.setForeground(QColor(self._theme.ink))
        if kind is Kind.CUT:
            made.setFontStrikeOut(True)
            made.setForeground(QColor(self._theme.quiet))
        elif kind is Kind.ADDED:
            made.setFontUnderline(True)
            made.setForeground(QColor(self._pencil))
        return made


def _look(token: Token) -> tuple[Style | None, tuple[tuple[SpanKind, str], ...]]:
    """What a token looks like: the paragraph it begins, or the kinds of span on it."""
    return token.style, tuple((kind, value) for _, _, kind, value in token.format)
