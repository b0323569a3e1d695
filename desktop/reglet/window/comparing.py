"""Two states of a scene on one page: what was cut struck out, what was added underlined, each with
a proof mark's plainness, so that nothing rests on colour alone.
"""

from __future__ import annotations

from itertools import groupby

from PySide6.QtCore import Qt, QUrl, Signal
from PySide6.QtGui import QColor, QTextBlockFormat, QTextCharFormat, QTextCursor
from PySide6.QtWidgets import QFrame, QTextBrowser, QWidget

from reglet.manuscript.difference import Difference, Kind, Piece
from reglet.manuscript.paragraph import Style
from reglet.manuscript.token import Token
from reglet.window import dressing
from reglet.window.page import formats
from reglet.window.theme import LIGHT, Theme

_PARAGRAPH_SIGN = "¶"


class ComparisonPage(QTextBrowser):
    """Shows a difference to read, and lets one of its changed places be chosen."""

    place_chosen = Signal(int)
    """The index of a changed place in `Difference.changed`."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme, self._pencil = LIGHT, LIGHT.graphite
        self._difference: Difference | None = None
        self._places: list[int] = []
        self._chosen = -1
        self.setOpenLinks(False)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName("The two states compared")
        self.document().setDocumentMargin(0)
        self.anchorClicked.connect(self._clicked)

    def dress(self, theme: Theme) -> None:
        """Put on the theme's faces and colours."""
        self._theme = theme
        self.document().setDefaultFont(dressing.font(theme.page))
        if self._difference is not None:
            self.show_difference(self._difference, self._pencil)

    def show_difference(self, difference: Difference, pencil: str) -> None:
        """Show what leads from the old state to the new; `pencil` is the colour of the marks."""
        self._difference, self._pencil = difference, pencil
        self._places, self._chosen = [], -1
        self.document().clear()
        cursor = QTextCursor(self.document())
        cursor.beginEditBlock()
        setter = _Setter(cursor, self._theme, pencil)
        for kept, group in groupby(difference.pieces, key=lambda piece: piece.kind is Kind.KEPT):
            if not kept:
                self._places.append(cursor.position())
            for piece in group:
                setter.set_piece(piece, None if kept else len(self._places) - 1)
        cursor.endEditBlock()
        self.moveCursor(QTextCursor.MoveOperation.Start)

    def step(self, by: int) -> None:
        """Choose the next changed place (or, with -1, the one before), round from end to start."""
        if self._places:
            start = self._chosen if self._chosen >= 0 else -1 if by > 0 else 0
            self.choose((start + by) % len(self._places))

    def choose(self, index: int) -> None:
        """Choose a changed place and bring it into view."""
        self._chosen = index
        cursor = QTextCursor(self.document())
        cursor.setPosition(self._places[index])
        cursor.movePosition(QTextCursor.MoveOperation.Right)
        self.setTextCursor(cursor)
        self.ensureCursorVisible()
        self.viewport().update()
        self.place_chosen.emit(index)

    def _clicked(self, link: QUrl) -> None:
        self.choose(int(link.toString()))


class _Setter:
    """Sets the tokens of a difference into a document."""

    def __init__(self, cursor: QTextCursor, theme: Theme, pencil: str) -> None:
        self._cursor, self._theme, self._pencil = cursor, theme, pencil
        self._style = Style.BODY
        self._before: Style | None = None
        self._started = False

    def set_piece(self, piece: Piece, place: int | None) -> None:
        """Set one piece, which belongs to a changed place or (None) to none."""
        for token in piece.tokens:
            if token.style is not None:
                self._begin(token.style, piece.kind, place)
            else:
                self._cursor.insertText(token.text, self._format(token, piece.kind, place))

    def _begin(self, style: Style, kind: Kind, place: int | None) -> None:
        block = formats.block_format(style, self._theme.page, after=self._before)
        if kind is not Kind.KEPT:
            block.setTextIndent(0)
        if self._started:
            self._cursor.insertBlock(block, QTextCharFormat())
        else:
            self._cursor.setBlockFormat(QTextBlockFormat(block))
        if kind is not Kind.KEPT and self._started:
            sign = Token(_PARAGRAPH_SIGN + " ")
            self._cursor.insertText(sign.text, self._format(sign, kind, place))
        self._started, self._before, self._style = True, style, style

    def _format(self, token: Token, kind: Kind, place: int | None) -> QTextCharFormat:
        kinds = {span_kind: value for _, _, span_kind, value in token.format}
        made = formats.span_format(kinds, self._style)
        made.setForeground(QColor(self._theme.ink))
        if kind is Kind.CUT:
            made.setFontStrikeOut(True)
            made.setForeground(QColor(self._theme.quiet))
        elif kind is Kind.ADDED:
            made.setForeground(QColor(self._pencil))
            made.setFontUnderline(True)
        if place is not None:
            made.setAnchor(True)
            made.setAnchorHref(str(place))
        return made
