"""One paragraph of a .docx after another: its words, spans and style, and all that hangs on it."""

from __future__ import annotations

from dataclasses import replace

from lxml import etree

from reglet.exchange.docx_parts import Parts
from reglet.exchange.docx_styles import NS, paragraph_look, run_look, value_of
from reglet.exchange.draft_text import DraftText
from reglet.exchange.looks import RunLook
from reglet.exchange.remarks import moment
from reglet.manuscript.paragraph import LINE_BREAK

_MC = "{http://schemas.openxmlformats.org/markup-compatibility/2006}"
_M = "{http://schemas.openxmlformats.org/officeDocument/2006/math}"
_V = "{urn:schemas-microsoft-com:vml}"
_O = "{urn:schemas-microsoft-com:office:office}"
_P, _PPR, _R, _RPR, _T = NS + "p", NS + "pPr", NS + "r", NS + "rPr", NS + "t"
_BOX, _ID = NS + "txbxContent", NS + "id"


class ParagraphReader:
    """Reads w:p elements in order into `text`."""

    def __init__(self, parts: Parts) -> None:
        self.text = DraftText(parts.usual, parts.beside.language, parts.comments)
        self._parts = parts
        self._boxes: list[etree._Element] = []

    def read(self, element: etree._Element) -> None:
        """One w:p."""
        properties = element.find(_PPR)
        self._begin(properties)
        self._inside(element)
        mark = properties.find(_RPR) if properties is not None else None
        deleted = mark is not None and mark.find(NS + "del") is not None
        if deleted:
            self.text.remarks.deleted(self.text.place)
        if deleted or (mark is not None and mark.find(NS + "moveFrom") is not None):
            self.text.end(carried=True)
        else:
            self.text.end()
            self._read_boxes()
        section = properties.find(NS + "sectPr") if properties is not None else None
        if section is not None and value_of(section.find(NS + "type")) != "continuous":
            self.text.next_page()

    def _begin(self, properties: etree._Element | None) -> None:
        style_id = value_of(properties.find(NS + "pStyle")) if properties is not None else ""
        style = self._parts.styles.paragraph(style_id or None)
        look = style.paragraph
        if properties is not None:
            look = paragraph_look(properties).over(look)
        self.text.begin(style, look, style.run)

    def _read_boxes(self) -> None:
        boxes, self._boxes = self._boxes, []
        for box in boxes:
            for paragraph in box.iter(_P):
                self.read(paragraph)

    def _inside(self, element: etree._Element) -> None:
        remarks, text = self.text.remarks, self.text
        for child in element:
            tag = child.tag
            if tag == _R:
                self._run(child)
            elif tag in _ENTERED:
                self._inside(child)
            elif tag == NS + "ins":
                remarks.inserted(text.place)
                self._inside(child)
            elif tag == NS + "del":
                words = "".join(each.text or "" for each in child.iter(NS + "delText", _T))
                when = moment(child.get(NS + "date"))
                remarks.deleted(text.place, words, when, child.get(NS + "author", ""))
            elif tag == NS + "commentRangeStart":
                remarks.comment_begins(child.get(_ID, ""), text.place)
            elif tag == NS + "commentRangeEnd":
                remarks.comment_ends(child.get(_ID, ""), text.place)
            elif tag == _MC + "AlternateContent":
                choice = child.find(_MC + "Choice")
                self._inside(choice if choice is not None else child)
            elif tag in (_M + "oMath", _M + "oMathPara"):
                text.tell("A formula stands here; its signs are kept as plain text.")
                text.add("".join(each.text or "" for each in child.iter(_M + "t")))

    def _run(self, run: etree._Element) -> None:
        text = self.text
        look: RunLook | None = None
        for child in run:
            tag = child.tag
            if tag == _T:
                text.add(child.text or "", look)
            elif tag == _RPR:
                look = self._run_look(child)
            elif tag == NS + "br":
                if child.get(NS + "type") in ("page", "column"):
                    text.break_page()
                else:
                    text.add(LINE_BREAK, look)
            elif tag in _CHARACTERS:
                text.add(_CHARACTERS[tag], look)
            elif tag == NS + "sym":
                self._symbol(child, look)
            elif tag == NS + "footnoteReference":
                aside = self._parts.footnotes.get(child.get(_ID, ""), "")
                text.remarks.aside("footnote", aside, text.place)
            elif tag == NS + "endnoteReference":
                aside = self._parts.endnotes.get(child.get(_ID, ""), "")
                text.remarks.aside("endnote", aside, text.place)
            elif tag == NS + "commentReference":
                text.remarks.comment_stands(child.get(_ID, ""), text.place)
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
        # Toggle properties of a paragraph's and a character's style cancel out: 17.7.3.
        under = self.text.style.run
        style = replace(
            style,
            bold=_crossed(style.bold, under.bold),
            italic=_crossed(style.italic, under.italic),
            small_capitals=_crossed(style.small_capitals, under.small_capitals),
            strike=_crossed(style.strike, under.strike),
        )
        return look.over(style)

    def _symbol(self, element: etree._Element, look: RunLook | None) -> None:
        try:
            code = int(element.get(NS + "char", ""), 16)
            sign = chr(code)
        except (ValueError, OverflowError):
            code, sign = 0, "\ufffd"
        if 0xE000 <= code <= 0xF8FF or not code:
            font = element.get(NS + "font", "")
            self.text.tell(
                f"A sign from the symbol face “{font}” stands here; look whether it is right."
            )
        self.text.add(sign, look)

    def _drawn(self, element: etree._Element) -> None:
        boxes = [box for box in element.iter(_BOX) if next(box.iterancestors(_BOX), None) is None]
        if any(rule.get(_O + "hr") for rule in element.iter(_V + "rect")):
            self.text.rule()
        elif boxes:
            self.text.tell_box()
            self._boxes += boxes
        else:
            described = next(
                (each.get("descr") for each in element.iter() if each.get("descr")), ""
            )
            what = "An embedded object" if element.tag == NS + "object" else "A picture"
            self.text.leave_out(what, described)


def _crossed(one: bool | None, other: bool | None) -> bool | None:
    return None if one is None else one ^ bool(other)


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
