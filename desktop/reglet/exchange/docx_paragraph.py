"""One paragraph of a .docx after another: its words, spans and style, and all that hangs on it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace

from lxml import etree

from reglet.exchange.docx_parts import Parts
from reglet.exchange.docx_remarks import Remarks
from reglet.exchange.docx_styles import (
    INCH,
    NS,
    ParagraphLook,
    RunLook,
    StyleLook,
    paragraph_look,
    run_look,
    value_of,
)
from reglet.exchange.draft import DraftParagraph
from reglet.exchange.signs import sign_of, style_of
from reglet.manuscript.paragraph import (
    LINE_BREAK,
    SCENE_BREAK,
    Paragraph,
    Span,
    SpanKind,
    Style,
)

_MC = "{http://schemas.openxmlformats.org/markup-compatibility/2006}"
_M = "{http://schemas.openxmlformats.org/officeDocument/2006/math}"
_V = "{urn:schemas-microsoft-com:vml}"
_O = "{urn:schemas-microsoft-com:office:office}"
_P, _PPR, _R, _RPR, _T = NS + "p", NS + "pPr", NS + "r", NS + "rPr", NS + "t"
_BOX = NS + "txbxContent"
_ODD = str.maketrans({"\n": " ", "\r": " ", "\u2029": LINE_BREAK})
_LARGER = 1.2
"""A line is set off if it is set this much larger than the text."""


@dataclass
class _Open:
    """A paragraph while it is read."""

    style: StyleLook
    look: ParagraphLook
    pieces: list[str] = field(default_factory=list)
    length: int = 0
    spans: list[Span] = field(default_factory=list)
    bold: int = 0
    largest: int = 0
    ruled: bool = False
    drawn: bool = False
    boxes: list[etree._Element] = field(default_factory=list)


@dataclass
class Read:
    """What has been read so far. `indents` gives the first-line indent of each paragraph."""

    paragraphs: list[DraftParagraph] = field(default_factory=list)
    indents: list[int] = field(default_factory=list)


class ParagraphReader:
    """Reads w:p elements in order; what spans several of them is remembered in between."""

    def __init__(self, parts: Parts) -> None:
        self.remarks = Remarks(parts)
        self._parts = parts
        self._read = Read()
        self._now: _Open | None = None
        self._carried: _Open | None = None
        self._blanks = 0
        self._new_page = False
        self._listing = False
        self._in_cell = False

    @contextmanager
    def cell(self) -> Iterator[None]:
        """What is read inside stands in a cell of a table, where nothing is a blank line."""
        before, self._in_cell = self._in_cell, True
        yield
        self._in_cell = before

    @contextmanager
    def listing_contents(self, listing: bool) -> Iterator[None]:
        """What is read inside is a table of contents, if `listing`."""
        before, self._listing = self._listing, self._listing or listing
        yield
        self._listing = before

    def tell(self, sentence: str, once: bool = False) -> None:
        """A finding about the place that has been reached."""
        self.remarks.tell(sentence, len(self._read.paragraphs), once)

    def read(self, element: etree._Element) -> None:
        """One w:p."""
        properties = element.find(_PPR)
        self._begin(properties)
        self._inside(element)
        mark = properties.find(_RPR) if properties is not None else None
        deleted = mark is not None and mark.find(NS + "del") is not None
        if deleted:
            self.remarks.deleted(None, self._place())
        if deleted or (mark is not None and mark.find(NS + "moveFrom") is not None):
            self._carried = self._now
        self._end()
        section = properties.find(NS + "sectPr") if properties is not None else None
        if section is not None and value_of(section.find(NS + "type")) != "continuous":
            self._new_page = True

    def finished(self) -> Read:
        """All that was read."""
        self._now, self._carried = self._carried, None
        self._end()
        return self._read

    def _begin(self, properties: etree._Element | None) -> None:
        style_id = value_of(properties.find(NS + "pStyle")) if properties is not None else ""
        style = self._parts.styles.paragraph(style_id or None)
        look = style.paragraph
        if properties is not None:
            look = paragraph_look(properties).over(look)
        self._now = _Open(style, look)
        if self._carried:
            # The text before a deleted paragraph end goes on in this paragraph, and in its style.
            now, self._now = self._now, self._carried
            self._now.style, self._now.look = now.style, now.look
            self._carried = None
        if look.new_page:
            self._new_page = True

    def _inside(self, element: etree._Element) -> None:
        for child in element:
            tag = child.tag
            if tag == _R:
                self._run(child)
            elif tag in _ENTERED:
                self._inside(child)
            elif tag == NS + "ins":
                self.remarks.inserted(self._place())
                self._inside(child)
            elif tag == NS + "del":
                self.remarks.deleted(child, self._place())
            elif tag == NS + "commentRangeStart":
                self.remarks.comment_begins(child, self._place())
            elif tag == NS + "commentRangeEnd":
                self.remarks.comment_ends(child, self._place())
            elif tag == _MC + "AlternateContent":
                choice = child.find(_MC + "Choice")
                self._inside(choice if choice is not None else child)
            elif tag in (_M + "oMath", _M + "oMathPara"):
                self.tell("A formula stands here; its signs are kept as plain text.")
                self._add("".join(each.text or "" for each in child.iter(_M + "t")), None)

    def _run(self, run: etree._Element) -> None:
        look: RunLook | None = None
        for child in run:
            tag = child.tag
            if tag == _T:
                self._add(child.text or "", look)
            elif tag == _RPR:
                look = self._run_look(child)
            elif tag == NS + "br":
                if child.get(NS + "type") in ("page", "column"):
                    self._break_page()
                else:
                    self._add(LINE_BREAK, look)
            elif tag in _CHARACTERS:
                self._add(_CHARACTERS[tag], look)
            elif tag == NS + "sym":
                self._symbol(child, look)
            elif tag in (NS + "footnoteReference", NS + "endnoteReference"):
                self.remarks.aside(child, self._place())
            elif tag == NS + "commentReference":
                self.remarks.comment_stands(child, self._place())
            elif tag in (NS + "drawing", NS + "pict", NS + "object"):
                self._drawn(child)
            elif tag == _MC + "AlternateContent":
                choice = child.find(_MC + "Choice")
                self._drawn(choice if choice is not None else child)
            elif tag == NS + "ruby":
                base = child.find(NS + "rubyBase")
                if base is not None:
                    self._inside(base)

    def _run_look(self, properties: etree._Element) -> RunLook:
        look = run_look(properties)
        named = properties.find(NS + "rStyle")
        if named is None:
            return look
        style = self._parts.styles.character(value_of(named))
        if value_of(named).lower() == "hyperlink":
            style = replace(style, underline=None)
        if self._now is None:
            return look.over(style)
        # Toggle properties of a paragraph's and a character's style cancel out: 17.7.3.
        under = self._now.style.run
        style = replace(
            style,
            bold=_crossed(style.bold, under.bold),
            italic=_crossed(style.italic, under.italic),
            small_capitals=_crossed(style.small_capitals, under.small_capitals),
            strike=_crossed(style.strike, under.strike),
        )
        return look.over(style)

    def _add(self, text: str, look: RunLook | None) -> None:
        now = self._now
        if now is None or not text:
            return
        if not text.isprintable():
            text = text.translate(_ODD)
        under = now.style.run
        shown = look.over(under) if look is not None else under
        if shown.hidden:
            self.remarks.hidden(text, self._place())
            return
        start, end = now.length, now.length + len(text)
        now.pieces.append(text)
        now.length = end
        if shown.bold:
            now.bold += len("".join(text.split()))
        if shown.size and shown.size > now.largest:
            now.largest = shown.size
        if look is None and now.style.style not in (Style.BODY, Style.FIRST):
            return
        plain = self._plain(now)
        for kind, name in _TOGGLES:
            if bool(getattr(shown, name)) != bool(getattr(plain, name)):
                now.spans.append(Span(start, end, kind))
        language = shown.language
        if language and language != self._parts.language and language not in ("x-none", "zxx"):
            now.spans.append(Span(start, end, SpanKind.LANGUAGE, language))

    def _plain(self, now: _Open) -> RunLook:
        """What counts as not emphasised: for text, the usual style's runs; for the rest its own."""
        if now.style.style in (Style.BODY, Style.FIRST) and not now.look.level:
            return self._parts.styles.paragraph(None).run
        return now.style.run

    def _symbol(self, element: etree._Element, look: RunLook | None) -> None:
        try:
            code = int(element.get(NS + "char", ""), 16)
            sign = chr(code)
        except (ValueError, OverflowError):
            code, sign = 0, "\ufffd"
        if 0xE000 <= code <= 0xF8FF or not code:
            font = element.get(NS + "font", "")
            self.tell(
                f"A sign from the symbol face “{font}” stands here; look whether it is right."
            )
        self._add(sign, look)

    def _break_page(self) -> None:
        now = self._now
        if now and any(piece.strip() for piece in now.pieces):
            self._end()
            self._now = replace(now, pieces=[], length=0, spans=[], bold=0, largest=0, boxes=[])
        self._new_page = True

    def _drawn(self, element: etree._Element) -> None:
        boxes = [box for box in element.iter(_BOX) if next(box.iterancestors(_BOX), None) is None]
        if any(rule.get(_O + "hr") for rule in element.iter(_V + "rect")) and self._now:
            self._now.ruled = True
        elif boxes and self._now:
            self.tell("A text box stands here; its words are kept as paragraphs after this one.")
            self._now.boxes += boxes
        else:
            described = next(
                (each.get("descr") for each in element.iter() if each.get("descr")), ""
            )
            called = f" (“{described}”)" if described else ""
            what = "An embedded object" if element.tag == NS + "object" else "A picture"
            self.tell(f"{what}{called} stands here and is not brought in: a book holds text.")
            if self._now:
                self._now.drawn = True

    def _place(self) -> tuple[int, int]:
        return len(self._read.paragraphs), self._now.length if self._now else 0

    def _end(self) -> None:
        now, self._now = self._now, None
        if now is None or now is self._carried:
            return
        text = "".join(now.pieces)
        ours = sign_of(now.style.name) is not None
        numbered = bool(now.look.listed and now.look.level)
        if text.strip() or ours or numbered:
            self._keep(now, text)
        elif now.ruled or now.look.ruled:
            self._keep(now, SCENE_BREAK)
        elif not (now.drawn or self._in_cell):  # empty, but no blank line
            self._blanks += 1
        for box in now.boxes:
            for paragraph in box.iter(_P):
                self.read(paragraph)

    def _keep(self, now: _Open, text: str) -> None:
        if now.look.listed:
            self.tell("Numbers or bullets that a list sets by itself are not kept.", once=True)
        level = now.look.level or None
        if now.style.name.lower() == "title":
            level = 0
        size = self._parts.styles.paragraph(None).run.size or self._parts.styles.defaults.size or 20
        lettered = len("".join(text.split())) if now.bold else 0
        self._read.paragraphs.append(
            DraftParagraph(
                Paragraph(text, _style(now, text, level), tuple(now.spans)),
                level,
                set_off=bool(now.look.centred)
                or now.bold >= lettered > 0
                or now.largest >= size * _LARGER,
                new_page=self._new_page,
                blanks=self._blanks,
                list_of_contents=self._listing or now.style.name.lower().startswith("toc"),
                sign=sign_of(now.style.name),
            )
        )
        indent = now.look.first or 0
        self._read.indents.append(indent)
        self._blanks = 0
        self._new_page = False


def _crossed(one: bool | None, other: bool | None) -> bool | None:
    return None if one is None else one ^ bool(other)


def _style(now: _Open, text: str, level: int | None) -> Style:
    """The style of a paragraph: by its named style, or else by how it is set."""
    ours = style_of(now.style.name)
    if ours:
        return ours
    if level is not None:
        return Style.HEADING
    if now.style.style is not Style.BODY:
        return now.style.style
    if now.look.centred:
        return Style.CENTRED
    left, right = now.look.left or 0, now.look.right or 0
    hanging = (now.look.first or 0) < 0
    if left >= INCH // 4 and right >= INCH // 4:
        lines = text.split(LINE_BREAK)
        return Style.VERSE if len(lines) > 2 and max(map(len, lines)) < 60 else Style.BLOCK_QUOTE
    if left >= INCH // 2 and not hanging and not now.look.listed:
        return Style.BLOCK_QUOTE
    return Style.BODY


_ENTERED = {
    NS + name
    for name in (
        "smartTag",
        "sdt",
        "sdtContent",
        "fldSimple",
        "dir",
        "bdo",
        "customXml",
        "hyperlink",
        "moveTo",
    )
} | {_MC + "Fallback"}
_CHARACTERS = {
    NS + "tab": "\t",
    NS + "ptab": "\t",
    NS + "cr": LINE_BREAK,
    NS + "noBreakHyphen": "\u2011",
    NS + "softHyphen": "\u00ad",
}
_TOGGLES = (
    (SpanKind.EMPHASIS, "italic"),
    (SpanKind.STRONG, "bold"),
    (SpanKind.SMALL_CAPITALS, "small_capitals"),
    (SpanKind.UNDERLINE, "underline"),
    (SpanKind.STRIKE, "strike"),
)
