"""What the styles of a .docx come to: each with all that it inherits.

Rules from ECMA-376 part 1: style inheritance 17.7.2, toggle properties 17.7.3, run properties
17.3.2, paragraph properties 17.3.1. Lengths are twentieths of a point.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from lxml import etree

from reglet.exchange.looks import ParagraphLook, RunLook, StyleLook, style_named
from reglet.manuscript.paragraph import Style

NS = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"
VAL = NS + "val"

_NO_RUN = RunLook()


@dataclass
class _Raw:
    name: str
    parent: str
    paragraph: ParagraphLook
    run: RunLook


class Styles:
    """The styles of one document by id."""

    def __init__(self, root: etree._Element | None) -> None:
        self._raw: dict[str, _Raw] = {}
        self._looks: dict[str, StyleLook] = {}
        self._default = ""
        self.defaults = RunLook()
        self._paragraph_defaults = ParagraphLook()
        for each in root if root is not None else ():
            if each.tag == NS + "docDefaults":
                self.defaults = run_look(each.find(f"{NS}rPrDefault/{NS}rPr"))
                self._paragraph_defaults = paragraph_look(each.find(f"{NS}pPrDefault/{NS}pPr"))
            elif each.tag == NS + "style":
                self._add(each)

    @property
    def names(self) -> list[str]:
        """The names of all styles."""
        return [raw.name for raw in self._raw.values()]

    def paragraph(self, style_id: str | None) -> StyleLook:
        """The paragraph style of this id; where there is none, the document's usual one."""
        return self._look(style_id if style_id in self._raw else self._default)

    def character(self, style_id: str) -> RunLook:
        """The run properties of a character style of this id."""
        return self._look(style_id).run

    def _add(self, element: etree._Element) -> None:
        style_id = element.get(NS + "styleId", "")
        if element.get(NS + "default") in ("1", "true") and (
            element.get(NS + "type") == "paragraph"
        ):
            self._default = style_id
        name = value_of(element.find(NS + "name")) or style_id
        look = paragraph_look(element.find(NS + "pPr"))
        run = run_look(element.find(NS + "rPr"))
        lowered = name.lower()
        if lowered.startswith("heading ") and lowered[8:].isdigit():
            look = replace(look, level=int(lowered[8:]))
        elif lowered == "emphasis" and run.italic is None and run.bold is None:
            run = replace(run, italic=True)
        elif lowered == "strong" and run.bold is None:
            run = replace(run, bold=True)
        self._raw[style_id] = _Raw(name, value_of(element.find(NS + "basedOn")), look, run)

    def _look(self, style_id: str) -> StyleLook:
        found = self._looks.get(style_id)
        if found is None:
            found = self._looks[style_id] = self._resolved(style_id)
        return found

    def _resolved(self, style_id: str) -> StyleLook:
        chain: list[_Raw] = []
        ids: list[str] = []
        at = style_id
        while at in self._raw and at not in ids:
            ids.append(at)
            chain.append(self._raw[at])
            at = self._raw[at].parent
        paragraph, run = self._paragraph_defaults, RunLook()
        style = Style.BODY
        for raw in reversed(chain):
            paragraph, run = raw.paragraph.over(paragraph), raw.run.over(run)
            style = style_named(raw.name) or style
        name = chain[0].name if chain else ""
        return StyleLook(style_id, name, style, paragraph, run)


def run_look(element: etree._Element | None) -> RunLook:
    """What a w:rPr says."""
    if element is None or not len(element):
        return _NO_RUN
    said: dict[str, bool | str | int | None] = {}
    for each in element:
        name = _RUN_TAGS.get(each.tag)
        if name:
            said[name] = _on(each.get(VAL))
        elif each.tag == _U:
            said["underline"] = each.get(VAL) not in (None, "none")
        elif each.tag == _LANG:
            said["language"] = each.get(VAL)
        elif each.tag == _SIZE:
            said["size"] = number(each.get(VAL))
    return _interned(tuple(said.items()))


@lru_cache(maxsize=1024)
def _interned(said: tuple[tuple[str, bool | str | int | None], ...]) -> RunLook:
    return RunLook(**dict(said))  # type: ignore[arg-type]


def paragraph_look(element: etree._Element | None) -> ParagraphLook:
    """What a w:pPr says."""
    if element is None or not len(element):
        return ParagraphLook()
    level = centred = left = right = first = new_page = listed = ruled = None
    for each in element:
        tag = each.tag
        if tag == _JC:
            centred = each.get(VAL) == "center"
        elif tag == _IND:
            left = number(each.get(NS + "left") or each.get(NS + "start"))
            right = number(each.get(NS + "right") or each.get(NS + "end"))
            hanging = number(each.get(NS + "hanging"))
            first = number(each.get(NS + "firstLine"))
            if hanging:
                first = -hanging
        elif tag == _OUTLINE:
            shown = number(each.get(VAL))
            level = shown + 1 if shown is not None and shown < 9 else 0
        elif tag == _PAGE:
            new_page = _on(each.get(VAL))
        elif tag == _LIST:
            listed = value_of(each.find(NS + "numId")) not in ("", "0")
        elif tag == _BORDER:
            lines = (value_of(each.find(NS + side)) for side in ("top", "bottom"))
            ruled = any(line not in ("", "nil", "none") for line in lines)
    return ParagraphLook(level, centred, left, right, first, new_page, listed, ruled)


def value_of(element: etree._Element | None) -> str:
    """The w:val of an element, or nothing."""
    return "" if element is None else element.get(VAL, "")


def number(text: str | None) -> int | None:
    """A whole number as written in an attribute; None where it is none."""
    try:
        return int(float(text)) if text else None
    except (ValueError, OverflowError):
        return None


def _on(value: str | None) -> bool:
    return value not in ("0", "false", "off")


_U, _LANG, _SIZE = NS + "u", NS + "lang", NS + "sz"
_JC, _IND, _OUTLINE = NS + "jc", NS + "ind", NS + "outlineLvl"
_PAGE, _LIST, _BORDER = NS + "pageBreakBefore", NS + "numPr", NS + "pBdr"
_RUN_TAGS = {
    NS + "b": "bold",
    NS + "i": "italic",
    NS + "smallCaps": "small_capitals",
    NS + "strike": "strike",
    NS + "dstrike": "strike",
    NS + "vanish": "hidden",
}
