"""The text of a scene, to be written in: a column of paper that tells what was typed on it."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QMimeData, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QTextCursor, QTextDocument
from PySide6.QtWidgets import QTextEdit, QWidget

from reglet.manuscript.change import Change
from reglet.manuscript.paragraph import LINE_BREAK, SCENE_BREAK, SpanKind, Style
from reglet.manuscript.passage import EMPTY, Passage
from reglet.window import dressing
from reglet.window.page import conversion, formats
from reglet.window.page.pasting import passage_in
from reglet.window.theme import LIGHT, Lettering, Theme

_GOES_ON_AS_BODY = (Style.FIRST, Style.HEADING, Style.SCENE_BREAK)


class Editor(QTextEdit):
    """Shows one passage and reports each edit of it. It keeps no undo: the desk does."""

    edited = Signal(object, object)
    """The new `Passage`, and the `Change` that led to it."""
    undo_wanted = Signal()
    redo_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = LIGHT
        self.passage = EMPTY
        self._pending: tuple[int, int] | None = None
        self._showing = False
        self.setFrameStyle(0)
        self.setCursorWidth(2)
        self.setTabChangesFocus(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName("Page")
        document = QTextDocument(self)
        document.setUndoRedoEnabled(False)
        document.setDocumentMargin(0)
        self.setDocument(document)
        document.contentsChange.connect(self._note_edit)
        document.contentsChanged.connect(self._report_edit)

    @property
    def lettering(self) -> Lettering:
        """How the page is set."""
        return self.theme.page

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self.theme = theme
        self._showing = True
        dressing.dress_text(self, theme, dressing.font(self.lettering))
        conversion.restyle(self.document(), self.lettering)
        self._showing = False

    # Showing

    def show_passage(self, passage: Passage) -> None:
        """Show another text, from its start."""
        self._showing = True
        conversion.show(self.document(), passage, self.lettering)
        self._showing = False
        self.passage = passage
        self.moveCursor(QTextCursor.MoveOperation.Start)

    def follow(self, passage: Passage) -> None:
        """Show what the same text has become by an act elsewhere, the cursor where it changed."""
        if passage != self.passage:
            self._showing = True
            end = conversion.show_difference(self.document(), self.passage, passage, self.lettering)
            conversion.restyle(self.document(), self.lettering)
            self._showing = False
            cursor = self.textCursor()
            cursor.setPosition(end)
            self.setTextCursor(cursor)
        self.passage = passage

    def span_selected(self) -> tuple[int, int]:
        """The code points selected, or twice the cursor's."""
        cursor = self.textCursor()
        return self._code_point(cursor.selectionStart()), self._code_point(cursor.selectionEnd())

    def select(self, start: int, end: int) -> None:
        """Select code points `start` up to `end`; where they are out of view or on its edge, bring
        them to a third of its height.
        """
        bar = self.verticalScrollBar()
        scrolled = bar.value()
        cursor = self.textCursor()
        cursor.setPosition(self._position(start))
        cursor.setPosition(self._position(end), QTextCursor.MoveMode.KeepAnchor)
        self.setTextCursor(cursor)
        height = self.viewport().height()
        top = self.cursorRect().top() + bar.value()
        if height / 8 < top - scrolled < height * 2 / 3:
            bar.setValue(scrolled)
        else:
            bar.setValue(round(top - height / 3))

    def _position(self, code_point: int) -> int:
        return conversion.position_in(self.document(), self.passage, code_point)

    def _code_point(self, position: int) -> int:
        return conversion.code_point_at(self.document(), self.passage, position)

    # Writing

    def _note_edit(self, at: int, removed: int, added: int) -> None:
        if self._showing:
            return
        end = at + added
        if self._pending:
            first, reached = self._pending
            at, end = min(at, first), max(end, reached + added - removed)
        self._pending = (at, end)

    def _report_edit(self) -> None:
        if self._pending is None or self._showing:
            return
        (at, end), self._pending = self._pending, None
        passage, change = conversion.after_edit(self.document(), self.passage, at, end - at)
        if passage == self.passage:
            return
        self.passage = passage
        self._showing = True
        first = self.document().findBlock(at).blockNumber()
        last = self.document().findBlock(min(end, self.document().characterCount() - 1))
        conversion.restyle(self.document(), self.lettering, first, last.blockNumber() + 1)
        self._showing = False
        self.edited.emit(passage, change)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.matches(QKeySequence.StandardKey.Undo):
            self.undo_wanted.emit()
        elif event.matches(QKeySequence.StandardKey.Redo):
            self.redo_wanted.emit()
        elif event.matches(QKeySequence.StandardKey.InsertLineSeparator):
            self.textCursor().insertText(LINE_BREAK)
        elif event.matches(QKeySequence.StandardKey.InsertParagraphSeparator):
            self._new_paragraph()
        else:
            super().keyPressEvent(event)

    def _new_paragraph(self) -> None:
        cursor = self.textCursor()
        cursor.beginEditBlock()
        style = formats.style_of(cursor.block())
        at_end = cursor.atBlockEnd()
        cursor.insertBlock()
        if style in _GOES_ON_AS_BODY and at_end:
            wanted = formats.block_format(Style.BODY, self.lettering, after=style)
            cursor.setBlockFormat(wanted)
            cursor.setBlockCharFormat(formats.span_format({}, Style.BODY))
        cursor.endEditBlock()
        self.setTextCursor(cursor)
        self.ensureCursorVisible()

    def set_style(self, style: Style) -> None:
        """Set the paragraphs that the selection touches in a style."""
        if style is Style.SCENE_BREAK:
            self._break_here()
            return
        cursor = self.textCursor()
        document = self.document()
        first = document.findBlock(cursor.selectionStart()).blockNumber()
        last = document.findBlock(cursor.selectionEnd()).blockNumber()
        passage = self.passage
        paragraphs = tuple(
            replace(paragraph, style=style)
            if first <= number <= last and paragraph.style is not Style.SCENE_BREAK
            else paragraph
            for number, paragraph in enumerate(passage.paragraphs)
        )
        self._become(Passage(paragraphs))

    def _break_here(self) -> None:
        """Set a scene-break paragraph where the cursor stands, between what is on either side."""
        start, end = self.span_selected()
        head, tail = self.passage.slice(0, start), self.passage.slice(end, len(self.passage))
        pieces = [*head.paragraphs] if head.text else []
        pieces += Passage.plain(SCENE_BREAK, Style.SCENE_BREAK).paragraphs
        self._become(Passage((*pieces, *tail.paragraphs)))

    def switch(self, kind: SpanKind) -> None:
        """Set the selection, or what is typed next, in a kind of span, or no longer in it."""
        cursor = self.textCursor()
        probe = QTextCursor(cursor)
        if cursor.hasSelection():
            probe.setPosition(cursor.selectionStart() + 1)
        on = kind not in formats.kinds_of(probe.charFormat())
        self.mergeCurrentCharFormat(formats.switched(kind, on))

    def _become(self, passage: Passage) -> None:
        """Show a text that an act on this page has made, and report it as an edit."""
        old, at = self.passage, self.textCursor().position()
        self.follow(passage)
        cursor = self.textCursor()
        cursor.setPosition(min(at, self.document().characterCount() - 1))
        self.setTextCursor(cursor)
        self.edited.emit(passage, Change.between(old.text, passage.text))

    # Clipboard

    def canInsertFromMimeData(self, source: QMimeData) -> bool:
        return source.hasText() or source.hasHtml()

    def insertFromMimeData(self, source: QMimeData) -> None:
        passage = passage_in(source)
        if passage is not None:
            cursor = self.textCursor()
            conversion.insert(cursor, passage, self.lettering)
            self.setTextCursor(cursor)
            self.ensureCursorVisible()
