"""What a whole book's text to read is set from: a line a paragraph, with how it is set."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QTextBlockFormat, QTextCharFormat, QTextCursor

from reglet.manuscript.book import Book
from reglet.manuscript.paragraph import Paragraph, Style
from reglet.manuscript.words import count_words
from reglet.window import dressing
from reglet.window.page import formats
from reglet.window.theme import GRID, Theme


@dataclass(frozen=True, slots=True)
class Line:
    """A paragraph as it is set: its scene ("" for a heading), where it starts there in code points,
    and the words of the book before it.
    """

    scene: str
    start: int
    text: str
    words_before: int


@dataclass(frozen=True, slots=True)
class SetLine:
    """A line with the formats of its paragraph and its letters."""

    line: Line
    block: QTextBlockFormat
    look: QTextCharFormat
    paragraph: Paragraph

    def insert(self, cursor: QTextCursor, *, first: bool) -> None:
        """Set it as a paragraph of its own behind the last; the first of a document is there."""
        if first:
            cursor.setBlockFormat(self.block)
        else:
            cursor.insertBlock(self.block, self.look)
        for text, spans in self.paragraph.stretches():
            made = QTextCharFormat(self.look)
            if spans:
                kinds = {span.kind: "" for span in spans}
                made.merge(formats.span_format(kinds, self.paragraph.style))
            cursor.insertText(text, made)


def set_lines(book: Book, theme: Theme) -> Iterator[SetLine]:
    """A whole book in order, each chapter under its title, scenes parted by a mark."""
    plain, heading = QTextCharFormat(), QTextCharFormat()
    heading.setFont(dressing.font(theme.title, 0.92 * theme.zoom))
    quiet = QTextCharFormat()
    quiet.setForeground(QColor(theme.quiet))
    words, chapter_before = 0, ""
    for _, chapter, scene in book.walk():
        after: Style | None = None
        if chapter is not None and chapter.id != chapter_before:
            chapter_before = chapter.id
            made = QTextBlockFormat()
            made.setAlignment(Qt.AlignmentFlag.AlignHCenter)
            made.setTopMargin(10 * GRID)
            made.setBottomMargin(5 * GRID)
            title = chapter.title or f"{book.chapters.index(chapter) + 1}"
            yield SetLine(Line("", 0, "", words), made, heading, Paragraph(title))
        elif chapter is not None:
            made = QTextBlockFormat()
            made.setAlignment(Qt.AlignmentFlag.AlignHCenter)
            made.setTopMargin(2 * GRID)
            made.setBottomMargin(2 * GRID)
            yield SetLine(Line("", 0, "", words), made, quiet, Paragraph("·  ·  ·"))
        for paragraph, start in zip(scene.passage.paragraphs, scene.passage.starts, strict=True):
            style = formats.block_format(paragraph.style, theme.page, after=after)
            after = paragraph.style
            line = Line(scene.id, start, paragraph.text, words)
            yield SetLine(line, style, plain, paragraph)
            words += count_words(paragraph.text)
