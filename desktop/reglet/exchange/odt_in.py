"""A draft read from an .odt.

What a manuscript cannot hold is named in a finding with its place; what has words keeps them, as
text or in a note. OASIS OpenDocument 1.3 part 3 is the source of the element names: text content
in chapters 4 to 6, tables in 9, drawings in 10, annotations in 14.
"""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from lxml import etree

from reglet.exchange.draft import Draft, Progress
from reglet.exchange.draft_text import DraftText
from reglet.exchange.looks import ParagraphLook, RunLook
from reglet.exchange.odt_file import (
    ANNOTATION,
    CONTENT,
    LINE,
    NOTE,
    SPACES,
    TAB,
    UNSAID,
    H,
    P,
    S,
    beside,
    open_odt,
    plain_text,
    said,
)
from reglet.exchange.odt_styles import DC, DRAW, OFFICE, SVG, TABLE, TEXT, Styles
from reglet.exchange.remarks import Comment, moment
from reglet.manuscript.paragraph import LINE_BREAK

_AUTOMATIC = OFFICE + "automatic-styles"
_STYLE, _NAME, _CHANGE_ID = TEXT + "style-name", OFFICE + "name", TEXT + "change-id"
_INFO, _ID = OFFICE + "change-info", "{http://www.w3.org/XML/1998/namespace}id"
_CELLS = (TABLE + "table-cell", TABLE + "covered-table-cell")
_OBJECTS = tuple(DRAW + name for name in ("object", "object-ole", "plugin", "applet"))
_MOST_SPACES = 1000
"""No line of a manuscript has more spaces together, whatever a file says."""
_LINK = "internet link"


def read_odt(path: Path, progress: Progress | None = None) -> Draft:
    """The draft in an .odt. Raises DraftError for a file that is not sound, OSError."""
    with open_odt(path) as file:
        styles, aside = beside(file)
        text = DraftText(styles.usual, aside.language, {})
        reader = BodyReader(styles, text)
        parents = (OFFICE + "document-content", OFFICE + "text")
        for each in file.children(CONTENT, parents, progress):
            if each.tag == _AUTOMATIC:
                styles.add(each)
            elif each.tag.startswith((TEXT, TABLE, DRAW)):
                reader.block(each)
        return text.draft(aside)


class BodyReader:
    """Takes the blocks of a document's body one after another, and puts their words into `text`."""

    def __init__(self, styles: Styles, text: DraftText) -> None:
        self._styles = styles
        self._text = text
        self._boxes: list[etree._Element] = []
        self._insertions: set[str] = set()
        self._deletions: dict[str, tuple[str, datetime | None, str]] = {}
        self._spaced = True
        self._listed = False
        self._hidden = False

    def block(self, element: etree._Element) -> None:
        """One block: a paragraph, a table, or a wrapper around more blocks."""
        tag = element.tag
        if tag in (P, H):
            self._paragraph(element)
        elif tag == TABLE + "table":
            self._table(element)
        elif tag == TEXT + "tracked-changes":
            self._changes(element)
        elif tag in (TEXT + "list", TEXT + "numbered-paragraph"):
            before, self._listed = self._listed, True
            self._blocks(element)
            self._listed = before
        elif tag == TEXT + "section":
            before = self._hidden
            self._hidden = before or element.get(TEXT + "display") == "none"
            self._blocks(element)
            self._hidden = before
        elif tag == TEXT + "table-of-content":
            with self._text.listing_contents(True):
                self._blocks(element)
        elif isinstance(tag, str) and tag.startswith(DRAW):
            self._drawn(element)
            self._read_boxes()
        elif tag not in UNSAID:
            self._blocks(element)

    def _blocks(self, element: etree._Element) -> None:
        for each in element:
            self.block(each)

    def _paragraph(self, element: etree._Element) -> None:
        text = self._text
        style = self._styles.paragraph(element.get(_STYLE, ""))
        look, run = style.look, style.run
        if element.tag == H:
            level = element.get(TEXT + "outline-level", "1")
            number = int(level) if level.isdigit() else 1
            numbered = number in self._styles.numbered
            look = ParagraphLook(number, listed=numbered or self._listed).over(look)
        elif self._listed:
            look = ParagraphLook(listed=True).over(look)
        text.begin(style.named, look, RunLook(hidden=True).over(run) if self._hidden else run)
        self._spaced = True
        self._inside(element, None)
        if self._spaced:
            text.without_last_space()
        text.end()
        self._read_boxes()
        if style.ends_page:
            text.next_page()

    def _inside(self, element: etree._Element, look: RunLook | None) -> None:
        self._add(element.text, look)
        for child in element:
            if isinstance(child.tag, str):
                self._inline(child, look)
            self._add(child.tail, look)

    def _inline(self, element: etree._Element, look: RunLook | None) -> None:
        tag, text = element.tag, self._text
        if tag == TEXT + "span":
            self._inside(element, self._span_look(element, look))
        elif tag in _SIGNS:
            count = element.get(TEXT + "c", "1") if tag == S else "1"
            times = min(int(count), _MOST_SPACES) if count.isdigit() else 1
            text.add(_SIGNS[tag] * times, look)
            self._spaced = False
        elif tag == NOTE:
            kind = "endnote" if element.get(TEXT + "note-class") == "endnote" else "footnote"
            body = element.find(TEXT + "note-body")
            text.remarks.aside(kind, plain_text(body) if body is not None else "", text.place)
        elif tag == ANNOTATION:
            self._comment(element)
        elif tag == OFFICE + "annotation-end":
            text.remarks.comment_ends(element.get(_NAME, ""), text.place)
        elif tag == TEXT + "change-start":
            if element.get(_CHANGE_ID) in self._insertions:
                text.remarks.inserted(text.place)
        elif tag == TEXT + "change":
            if (gone := self._deletions.get(element.get(_CHANGE_ID, ""))) is not None:
                text.remarks.deleted(text.place, *gone)
        elif tag.startswith(DRAW) and tag != DRAW + "a":
            self._drawn(element)
        elif tag not in UNSAID:
            # A link, a field, a mark: what it shows is text.
            self._inside(element, look)

    def _add(self, words: str | None, look: RunLook | None) -> None:
        """Words as they stand in the file, where a run of white space counts as one space, and
        none at a paragraph's beginning (6.1.2).
        """
        if not words:
            return
        words = SPACES.sub(" ", words)
        if self._spaced and words[0] == " ":
            words = words[1:]
        if words:
            self._text.add(words, look)
            self._spaced = words[-1] == " "

    def _span_look(self, span: etree._Element, look: RunLook | None) -> RunLook:
        name = span.get(_STYLE, "")
        own = self._styles.run(name)
        if own.underline and self._styles.run_name(name).lower() == _LINK:
            own = RunLook(underline=False).over(own)
        return own if look is None else own.over(look)

    def _comment(self, element: etree._Element) -> None:
        remarks = self._text.remarks
        name = element.get(_NAME) or f"unnamed {len(remarks.comments)}"
        remarks.comments[name] = Comment(
            plain_text(element).strip(),
            said(element, DC + "creator"),
            moment(said(element, DC + "date")),
        )
        remarks.comment_begins(name, self._text.place)

    def _changes(self, element: etree._Element) -> None:
        """The tracked changes of the document; what was deleted stands here and nowhere else."""
        for region in element:
            name = region.get(_ID) or region.get(TEXT + "id")
            for change in region:
                if not name or not isinstance(change.tag, str):
                    continue
                if change.tag == TEXT + "insertion":
                    self._insertions.add(name)
                elif change.tag == TEXT + "deletion":
                    made = said(change, f"{_INFO}/{DC}date")
                    author = said(change, f"{_INFO}/{DC}creator")
                    for info in change.findall(_INFO):  # whose words were not deleted
                        change.remove(info)
                    self._deletions[name] = plain_text(change), moment(made), author

    def _drawn(self, element: etree._Element) -> None:
        if next(element.iter(P, H), None) is not None:
            self._text.tell_box()
            self._boxes.append(element)
            return
        described = next((each.text for each in element.iter(SVG + "desc", SVG + "title")), "")
        is_object = next(element.iter(*_OBJECTS), None) is not None
        self._text.leave_out("An embedded object" if is_object else "A picture", described or "")

    def _read_boxes(self) -> None:
        boxes, self._boxes = self._boxes, []
        for box in boxes:
            self._box(box)

    def _box(self, element: etree._Element) -> None:
        for each in element:
            if isinstance(each.tag, str) and each.tag.startswith(DRAW):
                self._box(each)
            else:
                self.block(each)

    def _table(self, table: etree._Element) -> None:
        if next(table.iterancestors(TABLE + "table"), None) is None:
            self._text.tell_table()
        for cell in table.iter(*_CELLS):
            if next(cell.iterancestors(TABLE + "table"), None) is table:
                with self._text.cell():
                    self._blocks(cell)


_SIGNS = {S: " ", TAB: "\t", LINE: LINE_BREAK}
