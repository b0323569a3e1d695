"""A draft read from a .docx.

The document is read as a stream, a paragraph at a time, so that a long book takes little memory.
What a manuscript cannot hold (a picture, a table's ruling, a header) is named in a finding with
its place; what has words keeps them, as text or in a note. ECMA-376 part 1 is the source of the
element names.
"""

from __future__ import annotations

from pathlib import Path

from lxml import etree

from reglet.exchange.docx_file import open_docx
from reglet.exchange.docx_paragraph import ParagraphReader
from reglet.exchange.docx_parts import Parts
from reglet.exchange.docx_styles import NS
from reglet.exchange.draft import Draft, Progress

_P, _TBL, _SDT = NS + "p", NS + "tbl", NS + "sdt"
_ALT, _CUSTOM, _BODY = NS + "altChunk", NS + "customXml", NS + "body"
_TR, _TC = NS + "tr", NS + "tc"
_CONTENTS = "Table of Contents"
_BLOCKS = (_P, _TBL, _SDT, _ALT, _CUSTOM)


def read_docx(path: Path, progress: Progress | None = None) -> Draft:
    """The draft in a .docx. Raises DraftError for a file that is not sound, OSError."""
    with open_docx(path) as file:
        reader = BodyReader(Parts.read(file))
        for block in file.children(file.document, (_BODY,), progress, _BLOCKS):
            reader.block(block)
        return reader.draft()


class BodyReader:
    """Takes the blocks of a document's body one after another and gives the draft."""

    def __init__(self, parts: Parts) -> None:
        self._parts = parts
        self._paragraphs = ParagraphReader(parts)
        self._text = self._paragraphs.text

    def block(self, element: etree._Element) -> None:
        """One block: a paragraph, a table, or a wrapper around more blocks."""
        tag = element.tag
        if tag == _P:
            self._paragraphs.read(element)
        elif tag == _TBL:
            self._table(element)
        elif tag == _SDT:
            content = element.find(NS + "sdtContent")
            gallery = element.find(f"{NS}sdtPr/{NS}docPartObj/{NS}docPartGallery")
            listing = gallery is not None and gallery.get(NS + "val") == _CONTENTS
            with self._text.listing_contents(listing):
                for child in content if content is not None else ():
                    self.block(child)
        elif tag == _CUSTOM:
            for child in element:
                self.block(child)
        elif tag == _ALT:
            self._text.tell(
                "Another document is inserted here as a whole. Its text could not be read: open "
                "the draft in your word processor, save it anew, and bring that in."
            )

    def draft(self) -> Draft:
        """All that was read."""
        return self._text.draft(self._parts.beside)

    def _table(self, table: etree._Element) -> None:
        if _nearest(table, _TBL) is None:
            self._text.tell_table()
        for row in table.iter(_TR):
            if _nearest(row, _TBL) is not table:
                continue
            for cell in row.iter(_TC):
                if _nearest(cell, _TBL) is table:
                    with self._text.cell():
                        for child in cell:
                            self.block(child)


def _nearest(element: etree._Element, tag: str) -> etree._Element | None:
    return next(element.iterancestors(tag), None)
