"""Between a `Passage` and the QTextDocument that shows it, both ways.

A paragraph is a block, and the two have the same number: the first paragraph is block 0.
"""

from __future__ import annotations

import re

from PySide6.QtGui import QTextBlock, QTextCursor, QTextDocument

from reglet.manuscript.change import Change, Replacement
from reglet.manuscript.paragraph import SCENE_BREAK, Paragraph, Span, SpanKind, Style
from reglet.manuscript.passage import Passage
from reglet.window.page import formats
from reglet.window.page.positions import to_code_points, to_units
from reglet.window.theme import Lettering

_QT_S_OWN = re.compile("[\ufdd0\ufdd1]")
"""Two noncharacters of Unicode that Qt takes for the edges of a frame; no text holds them."""

_Seen = dict[int, dict[SpanKind, str]]
"""What a document's formats show, each asked once, by its number."""


def passage_of(document: QTextDocument) -> Passage:
    """The passage that a document shows."""
    return Passage.of(_paragraphs(document.begin(), document.lastBlock()))


def after_edit(
    document: QTextDocument, old: Passage, at: int, added: int
) -> tuple[Passage, Change]:
    """The passage after an edit that Qt reports at UTF-16 position `at`, with `added` new units,
    and what it did to positions. Only the blocks that were touched are read.
    """
    first = document.findBlock(at)
    last = document.findBlock(at + added)
    if not last.isValid():
        last = document.lastBlock()
    first_number = min(first.blockNumber(), len(old.paragraphs) - 1)
    behind = document.blockCount() - 1 - last.blockNumber()
    old_end = max(len(old.paragraphs) - behind, first_number)
    paragraphs = _paragraphs(document.findBlockByNumber(first_number), last)
    new = Passage.of((*old.paragraphs[:first_number], *paragraphs, *old.paragraphs[old_end:]))
    # The change is looked for in the touched paragraphs alone, so that a key stroke in a long scene
    # costs no more than one in a short scene.
    before, after = old.paragraphs[first_number:old_end], paragraphs
    change = Change.between("\n".join(p.text for p in before), "\n".join(p.text for p in after))
    offset = old.starts[first_number]
    return new, Change(
        tuple(
            Replacement(found.start + offset, found.end + offset, found.length)
            for found in change.replacements
        )
    )


def show(document: QTextDocument, passage: Passage, lettering: Lettering) -> None:
    """Fill a document with a passage."""
    document.clear()
    cursor = QTextCursor(document)
    cursor.beginEditBlock()
    _insert(cursor, passage.paragraphs, lettering, after=None)
    cursor.endEditBlock()


def show_difference(
    document: QTextDocument, old: Passage, new: Passage, lettering: Lettering
) -> int:
    """Turn a document that shows `old` into one that shows `new`, leaving the paragraphs that they
    share at either end as they are. Gives the UTF-16 position where the new text ends.
    """
    before, behind = _shared(old.paragraphs, new.paragraphs)
    cursor = QTextCursor(document)
    cursor.beginEditBlock()
    first = min(before, len(old.paragraphs) - 1)
    last = max(first, len(old.paragraphs) - 1 - behind)
    new_end = len(new.paragraphs) - (len(old.paragraphs) - 1 - last)
    if first == new_end:
        # Whole paragraphs are to go and nothing comes in their place: a block cannot be left
        # without text, so the paragraph on the edge is written anew with them.
        if first:
            first -= 1
        else:
            last, new_end = last + 1, new_end + 1
    new_paragraphs = new.paragraphs[first:new_end]
    end_block = document.findBlockByNumber(last)
    cursor.setPosition(document.findBlockByNumber(first).position())
    cursor.setPosition(
        end_block.position() + end_block.length() - 1, QTextCursor.MoveMode.KeepAnchor
    )
    cursor.removeSelectedText()
    after = new.paragraphs[first - 1].style if first else None
    _insert(cursor, new_paragraphs, lettering, after=after)
    end = cursor.position()
    cursor.endEditBlock()
    return end


def insert(cursor: QTextCursor, passage: Passage, lettering: Lettering) -> None:
    """Set a passage in where a cursor stands, in place of what it has selected. The paragraph it
    falls into keeps its own style where the passage is a single paragraph.
    """
    cursor.beginEditBlock()
    cursor.removeSelectedText()
    for number, paragraph in enumerate(passage.paragraphs):
        if number:
            style = paragraph.style
            block = formats.block_format(style, lettering, after=Style.BODY)
            cursor.insertBlock(block, formats.span_format({}, style))
        _insert_text(cursor, paragraph, formats.style_of(cursor.block()))
    cursor.endEditBlock()


def restyle(document: QTextDocument, lettering: Lettering, first: int = 0, last: int = -1) -> None:
    """Give the blocks from `first` to `last` (-1: all) the look of their style and place."""
    block = document.findBlockByNumber(first)
    before = block.previous()
    after = formats.style_of(before) if before.isValid() else None
    cursor = QTextCursor(document)
    cursor.beginEditBlock()
    while block.isValid() and (last < 0 or block.blockNumber() <= last):
        style = formats.style_of(block)
        if style is Style.SCENE_BREAK and block.text() != SCENE_BREAK:
            style = Style.BODY
        wanted = formats.block_format(style, lettering, after=after)
        if block.blockFormat() != wanted:
            cursor.setPosition(block.position())
            cursor.setBlockFormat(wanted)
        after = style
        block = block.next()
    cursor.endEditBlock()


def position_in(document: QTextDocument, passage: Passage, position: int) -> int:
    """The document's UTF-16 position of a code point of the passage it shows."""
    index, offset = passage.locate(max(0, min(position, len(passage))))
    block = document.findBlockByNumber(index)
    return block.position() + to_units(passage.paragraphs[index].text, offset)


def code_point_at(document: QTextDocument, passage: Passage, position: int) -> int:
    """The code point of the passage at a UTF-16 position of the document that shows it."""
    block = document.findBlock(position)
    number = block.blockNumber()
    text = passage.paragraphs[number].text
    return passage.starts[number] + to_code_points(text, position - block.position())


def _paragraphs(first: QTextBlock, last: QTextBlock) -> list[Paragraph]:
    """The paragraphs that the blocks from `first` to `last` show."""
    found, seen = [], _Seen()
    block = first
    while block.isValid() and block.blockNumber() <= last.blockNumber():
        found.append(_paragraph_of(block, seen))
        block = block.next()
    return found


def _paragraph_of(block: QTextBlock, seen: _Seen) -> Paragraph:
    text = block.text()
    style = formats.style_of(block)
    if style is Style.SCENE_BREAK and text != SCENE_BREAK:
        style = Style.BODY
    spans: list[Span] = []
    at = 0
    iterator = block.begin()
    while not iterator.atEnd():
        fragment = iterator.fragment()
        end = at + len(fragment.text())
        look = fragment.charFormatIndex()
        if look not in seen:
            seen[look] = formats.kinds_of(fragment.charFormat())
        spans += [Span(at, end, kind, value) for kind, value in seen[look].items()]
        at = end
        iterator += 1
    return Paragraph(text, style, tuple(spans))


def _insert(
    cursor: QTextCursor,
    paragraphs: tuple[Paragraph, ...],
    lettering: Lettering,
    after: Style | None,
) -> None:
    for number, paragraph in enumerate(paragraphs):
        block = formats.block_format(paragraph.style, lettering, after=after)
        if number:
            cursor.insertBlock(block, formats.span_format({}, paragraph.style))
        else:
            cursor.setBlockFormat(block)
            cursor.setBlockCharFormat(formats.span_format({}, paragraph.style))
        _insert_text(cursor, paragraph, paragraph.style)
        after = paragraph.style


def _insert_text(cursor: QTextCursor, paragraph: Paragraph, style: Style) -> None:
    for text, spans in paragraph.stretches():
        kinds = {span.kind: span.value for span in spans}
        cursor.insertText(_QT_S_OWN.sub("\ufffd", text), formats.span_format(kinds, style))


def _shared(old: tuple[Paragraph, ...], new: tuple[Paragraph, ...]) -> tuple[int, int]:
    """How many paragraphs two passages share at the front, and at the back of the rest."""
    shorter = min(len(old), len(new))
    front = 0
    while front < shorter and old[front] == new[front]:
        front += 1
    back = 0
    while back < shorter - front and old[-1 - back] == new[-1 - back]:
        back += 1
    return front, back
