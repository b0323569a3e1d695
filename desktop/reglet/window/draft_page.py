"""The text of a draft on paper, to read and to point into; nothing is written on it."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QTextCharFormat, QTextCursor
from PySide6.QtWidgets import QFrame, QTextEdit, QWidget

from reglet.exchange.proposal import Proposal, Use
from reglet.manuscript.paragraph import Style
from reglet.window import dressing
from reglet.window.page import formats
from reglet.window.theme import GRID, LIGHT, Theme

_MARGIN = 8 * GRID


class DraftPage(QTextEdit):
    """One block for each paragraph, whatever becomes of it: titles and break marks are set in the
    middle, what is left out is struck through.
    """

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = LIGHT
        self._proposal = Proposal((), ())
        self._span = range(0)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setReadOnly(True)
        self.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByKeyboard
            | Qt.TextInteractionFlag.TextSelectableByMouse
        )
        self.setCursorWidth(2)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setTabChangesFocus(True)
        self.setAccessibleName("Text of what is chosen")
        self.document().setUndoRedoEnabled(False)
        self.document().setDocumentMargin(0)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        dressing.dress_text(self, theme, dressing.font(theme.page, 0.94))
        self.show_paragraphs(self._proposal, self._span)

    def show_paragraphs(self, proposal: Proposal, span: range) -> None:
        """Show these paragraphs of a draft."""
        self._proposal, self._span = proposal, span
        self.document().clear()
        cursor = QTextCursor(self.document())
        cursor.beginEditBlock()
        before: Style | None = None
        for number, at in enumerate(span):
            use, paragraph = proposal.roles[at].use, proposal.paragraphs[at].paragraph
            style = paragraph.style if use is Use.TEXT else Style.CENTRED
            block = formats.block_format(style, self._theme.page, after=before)
            look = QTextCharFormat()
            if use is not Use.TEXT:
                look.setForeground(QColor(self._theme.quiet))
                block.setTopMargin(GRID)
                block.setBottomMargin(GRID)
            look.setFontStrikeOut(use is Use.LEFT_OUT)
            if number:
                cursor.insertBlock(block, look)
            else:
                cursor.setBlockFormat(block)
            cursor.insertText(paragraph.text, look)
            before = style if use is Use.TEXT else Style.SCENE_BREAK
        cursor.endEditBlock()
        formats.set_margins(self.document(), _MARGIN, 5 * GRID, _MARGIN, 10 * GRID)
        self.moveCursor(QTextCursor.MoveOperation.Start)

    def paragraph_at_cursor(self) -> int | None:
        """The number in the draft of the paragraph that the cursor stands in."""
        number = self.textCursor().blockNumber()
        return self._span[number] if number < len(self._span) else None

    def go_to(self, at: int) -> None:
        """Bring a paragraph of the draft into view, with the cursor at its start."""
        if at in self._span:
            block = self.document().findBlockByNumber(self._span.index(at))
            self.setTextCursor(QTextCursor(block))
            self.ensureCursorVisible()
