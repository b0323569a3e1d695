"""Text that comes in from the clipboard or a drop: its words and emphasis, nothing else."""

from __future__ import annotations

import re

from PySide6.QtCore import QMimeData
from PySide6.QtGui import QFont, QTextBlock, QTextCharFormat, QTextDocument

from reglet.manuscript.paragraph import LINE_BREAK, Paragraph, Span, SpanKind
from reglet.manuscript.passage import Passage

_UNSEEN = re.compile("[\0\ufdd0\ufdd1\ufffc]")
"""Characters that Qt uses for its own ends inside a document; none of them is text."""

_Seen = dict[int, tuple[SpanKind, ...]]
"""What a document's formats show, each asked once, by its number."""


def passage_in(data: QMimeData) -> Passage | None:
    """The passage that a clipboard holds; None where it holds no text.

    Nothing is fetched for it: images and other objects are left out.
    """
    if data.hasHtml():
        document = _Unfetched()
        document.setHtml(data.html())
        paragraphs, seen = [], _Seen()
        block = document.begin()
        while block.isValid():
            paragraphs.append(_paragraph_of(block, seen))
            block = block.next()
        # An application that offers HTML with no text in it, as for a picture, offers no passage.
        return Passage.of(paragraphs) if any(each.text for each in paragraphs) else None
    if data.hasText():
        return Passage.plain(plain_text(data.text()))
    return None


def plain_text(text: str) -> str:
    """Text from elsewhere with one paragraph a line, and nothing in it that is not text."""
    text = text.replace("\r\n", "\n").replace("\r", "\n").replace("\u2029", "\n")
    return _UNSEEN.sub("", text)


class _Unfetched(QTextDocument):
    """A document that loads nothing it refers to."""

    def loadResource(self, kind: int, name: object) -> object:
        return None


def _paragraph_of(block: QTextBlock, seen: _Seen) -> Paragraph:
    spans: list[Span] = []
    text = ""
    heading = block.blockFormat().headingLevel() > 0
    iterator = block.begin()
    while not iterator.atEnd():
        fragment = iterator.fragment()
        piece = plain_text(fragment.text()).replace("\n", LINE_BREAK).replace("\xa0", " ")
        start, end = len(text), len(text) + len(piece)
        text += piece
        look = fragment.charFormatIndex()
        if look not in seen:
            seen[look] = _kinds_of(fragment.charFormat())
        spans += [
            Span(start, end, kind)
            for kind in seen[look]
            if not (heading and kind is SpanKind.STRONG)
        ]
        iterator += 1
    return Paragraph(text, spans=tuple(spans))


def _kinds_of(made: QTextCharFormat) -> tuple[SpanKind, ...]:
    shown = {
        SpanKind.EMPHASIS: made.fontItalic(),
        SpanKind.STRONG: made.fontWeight() >= QFont.Weight.DemiBold,
        SpanKind.SMALL_CAPITALS: made.fontCapitalization() == QFont.Capitalization.SmallCaps,
        SpanKind.UNDERLINE: made.fontUnderline() and not made.isAnchor(),
        SpanKind.STRIKE: made.fontStrikeOut(),
    }
    return tuple(kind for kind, on in shown.items() if on)
