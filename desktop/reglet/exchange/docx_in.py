"""A draft read from a .docx.

The document is read as a stream, a paragraph at a time, so that a long book takes little memory.
What a manuscript cannot hold (a picture, a table's ruling, a header) is named in a finding with
its place; what has words keeps them, as text or in a note. ECMA-376 part 1 is the source of the
element names.
"""

from __future__ import annotations

from pathlib import Path

from lxml import etree

from reglet.exchange.docx_paragraph import ParagraphReader
from reglet.exchange.docx_parts import Parts
from reglet.exchange.docx_styles import NS
from reglet.exchange.draft import Draft, Progress
from reglet.exchange.indents import (
    first_paragraphs,
    plain_where_all_is_indented,
    without_typed_indents,
)
from reglet.exchange.safety import DocxFile, damaged, open_docx
from reglet.exchange.usual_language import without_usual_language

_P, _TBL, _SDT, _SECT = NS + "p", NS + "tbl", NS + "sdt", NS + "sectPr"
_ALT, _CUSTOM, _BODY = NS + "altChunk", NS + "customXml", NS + "body"
_TR, _TC = NS + "tr", NS + "tc"
_CONTENTS = "Table of Contents"
_PROGRESS_EVERY = 400


def read_docx(path: Path, progress: Progress | None = None) -> Draft:
    """The draft in a .docx. Raises DraftError for a file that is not sound, OSError."""
    with open_docx(path) as file:
        parts = Parts.read(file)
        reader = BodyReader(parts)
        try:
            _walk(file, reader, progress)
        except etree.XMLSyntaxError:
            raise damaged(path.name) from None
        return reader.draft()


def _walk(file: DocxFile, reader: BodyReader, progress: Progress | None) -> None:
    size = max(file.size(file.document), 1)
    tags = (_P, _TBL, _SDT, _ALT, _CUSTOM)
    with file.stream(file.document) as stream:
        events = etree.iterparse(
            stream,
            tag=tags,
            resolve_entities=False,
            load_dtd=False,
            no_network=True,
            huge_tree=True,
            remove_pis=True,
        )
        for count, (_, element) in enumerate(events):
            parent = element.getparent()
            if parent is None or parent.tag != _BODY:
                continue
            reader.block(element)
            element.clear()
            while (before := element.getprevious()) is not None and before.tag != _SECT:
                parent.remove(before)
            if progress and not count % _PROGRESS_EVERY:
                progress(min(1.0, stream.tell() / size))
    if progress:
        progress(1.0)


class BodyReader:
    """Takes the blocks of a document's body one after another and gives the draft."""

    def __init__(self, parts: Parts) -> None:
        self._parts = parts
        self._paragraphs = ParagraphReader(parts)

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
            with self._paragraphs.listing_contents(listing):
                for child in content if content is not None else ():
                    self.block(child)
        elif tag == _CUSTOM:
            for child in element:
                self.block(child)
        elif tag == _ALT:
            self._paragraphs.tell(
                "Another document is inserted here as a whole. Its text could not be read: open "
                "the draft in your word processor, save it anew, and bring that in."
            )

    def draft(self) -> Draft:
        """All that was read."""
        read = self._paragraphs.finished()
        paragraphs, remarks = read.paragraphs, self._paragraphs.remarks
        notes = remarks.notes(paragraphs)
        findings = [*remarks.findings(), *self._parts.findings()]
        signed = any(each.sign for each in paragraphs)
        if not signed:
            paragraphs = without_usual_language(paragraphs, self._parts.language)
            paragraphs = plain_where_all_is_indented(paragraphs)
            paragraphs, notes, told = without_typed_indents(paragraphs, notes)
            findings += told
            paragraphs = first_paragraphs(paragraphs, read.indents)
        return Draft(
            tuple(paragraphs),
            tuple(notes),
            tuple(findings),
            self._parts.title,
            self._parts.author,
            self._parts.language,
            signed,
        )

    def _table(self, table: etree._Element) -> None:
        if _nearest(table, _TBL) is None:
            self._paragraphs.tell(
                "A table stands here. The words of its cells are kept as paragraphs, row by row; "
                "its columns and lines are not."
            )
        for row in table.iter(_TR):
            if _nearest(row, _TBL) is not table:
                continue
            for cell in row.iter(_TC):
                if _nearest(cell, _TBL) is table:
                    with self._paragraphs.cell():
                        for child in cell:
                            self.block(child)


def _nearest(element: etree._Element, tag: str) -> etree._Element | None:
    return next(element.iterancestors(tag), None)
