"""What the styles of an .odt come to: each with all that it inherits.

Rules from OASIS OpenDocument 1.3 part 3: styles and what they inherit 16.1 and 16.2, text
properties 16.29.29, paragraph properties 16.29.30 (section numbers from memory). Automatic styles
carry what the writer set by hand; they take their name and kind from the style they stand on.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from lxml import etree

from reglet.exchange.looks import ParagraphLook, RunLook, StyleLook, style_named
from reglet.manuscript.paragraph import Style

_NAMES = "urn:oasis:names:tc:opendocument:xmlns:"
OFFICE, TEXT = f"{{{_NAMES}office:1.0}}", f"{{{_NAMES}text:1.0}}"
TABLE, DRAW = f"{{{_NAMES}table:1.0}}", f"{{{_NAMES}drawing:1.0}}"
STYLE, SVG = f"{{{_NAMES}style:1.0}}", f"{{{_NAMES}svg-compatible:1.0}}"
META, DC = f"{{{_NAMES}meta:1.0}}", "{http://purl.org/dc/elements/1.1/}"
_FO = f"{{{_NAMES}xsl-fo-compatible:1.0}}"

_USUAL = "Standard"
"""The paragraph style that others stand on (common practice of programs that write .odt)."""
_UNITS = {"pt": 20.0, "in": 1440.0, "cm": 1440 / 2.54, "mm": 144 / 2.54, "pc": 240.0, "px": 15.0}
"""Twentieths of a point in each unit of length (18.3.18)."""
_LENGTH = re.compile(r"(-?\d*\.?\d+)(pt|in|cm|mm|pc|px)")
_BOLD_FROM = 600
_ON_NEW_PAGE = ("page", "column", "even-page", "odd-page")


@dataclass(frozen=True, slots=True)
class ParagraphStyle:
    """What a paragraph's style comes to: the named style below it, how the paragraph is set, how
    its runs are, and whether a new page begins after it.
    """

    named: StyleLook
    look: ParagraphLook
    run: RunLook
    ends_page: bool = False


@dataclass(frozen=True, slots=True)
class _Raw:
    """One style as written. `percent` is a size given as a share of the inherited one."""

    name: str
    parent: str
    automatic: bool
    paragraph: ParagraphLook
    run: RunLook
    percent: int = 0
    ends_page: bool = False

    def over(self, run: RunLook) -> RunLook:
        """This style's runs over what they inherit."""
        if self.percent and run.size:
            run = RunLook(size=run.size * self.percent // 100).over(run)
        return self.run.over(run)


class Styles:
    """The styles of one document by family and name."""

    def __init__(self) -> None:
        self._raw: dict[tuple[str, str], _Raw] = {}
        self._paragraphs: dict[str, ParagraphStyle] = {}
        self._runs: dict[str, RunLook] = {}
        self.numbered: set[int] = set()
        """The levels of headings that the document numbers by itself."""

    @property
    def names(self) -> list[str]:
        """The names of all paragraph styles that have one."""
        return [raw.name for raw in self._raw.values() if not raw.automatic]

    @property
    def usual(self) -> RunLook:
        """How the document sets the words of its usual paragraphs."""
        return self.paragraph(_USUAL).run

    def add(self, styles: etree._Element) -> None:
        """All styles in an office:styles or office:automatic-styles."""
        automatic = styles.tag == OFFICE + "automatic-styles"
        for each in styles:
            if each.tag == STYLE + "style":
                self._add(each, each.get(STYLE + "name", ""), automatic)
            elif each.tag == STYLE + "default-style":
                self._add(each, "", True)
            elif each.tag == TEXT + "outline-style":
                self.numbered |= {
                    int(level.get(TEXT + "level", "0"))
                    for level in each
                    if level.get(STYLE + "num-format") and level.get(TEXT + "level", "").isdigit()
                }

    def paragraph(self, name: str) -> ParagraphStyle:
        """The paragraph style of this name."""
        if name not in self._paragraphs:
            self._paragraphs[name] = self._resolved(name)
        return self._paragraphs[name]

    def run(self, name: str) -> RunLook:
        """The text style of this name."""
        if name not in self._runs:
            look = RunLook()
            for raw in reversed(list(self._chain("text", name))):
                look = raw.over(look)
            self._runs[name] = look
        return self._runs[name]

    def run_name(self, name: str) -> str:
        """What the named style below a text style is called."""
        return next((raw.name for raw in self._chain("text", name) if not raw.automatic), "")

    def _add(self, element: etree._Element, name: str, automatic: bool) -> None:
        family = element.get(STYLE + "family", "")
        paragraph = element.find(STYLE + "paragraph-properties")
        text = element.find(STYLE + "text-properties")
        shown = element.get(STYLE + "display-name") or name
        size = text.get(_FO + "font-size", "") if text is not None else ""
        percent = size.removesuffix("%")
        after = paragraph.get(_FO + "break-after") if paragraph is not None else None
        self._raw[family, name] = _Raw(
            shown,
            element.get(STYLE + "parent-style-name", ""),
            automatic,
            _paragraph_look(element, shown, paragraph),
            _run_look(text),
            int(percent) if size.endswith("%") and percent.isdigit() else 0,
            after in _ON_NEW_PAGE,
        )

    def _chain(self, family: str, name: str) -> Iterator[_Raw]:
        """A style and those that it stands on, and the family's default at last."""
        seen: set[str] = set()
        while name and name not in seen and (family, name) in self._raw:
            seen.add(name)
            yield self._raw[family, name]
            name = self._raw[family, name].parent
        if (family, "") in self._raw:
            yield self._raw[family, ""]

    def _resolved(self, name: str) -> ParagraphStyle:
        chain = list(self._chain("paragraph", name))
        paragraph, run = ParagraphLook(), RunLook()
        named, style = StyleLook(), Style.BODY
        for raw in reversed(chain):
            paragraph, run = raw.paragraph.over(paragraph), raw.over(run)
            if not raw.automatic:
                style = style_named(raw.name) or style
                named = StyleLook(raw.name, raw.name, style, paragraph, run)
            elif named == StyleLook():
                named = StyleLook(paragraph=paragraph, run=run)
        return ParagraphStyle(named, paragraph, run, bool(chain) and chain[0].ends_page)


def length(text: str | None) -> int | None:
    """A length as an attribute has it, in twentieths of a point; None where it is none."""
    match = _LENGTH.fullmatch(text or "")
    return round(float(match[1]) * _UNITS[match[2]]) if match else None


def _paragraph_look(
    style: etree._Element, name: str, properties: etree._Element | None
) -> ParagraphLook:
    level = None
    outline = style.get(STYLE + "default-outline-level")
    lowered = name.lower()
    if outline is not None:
        level = int(outline) if outline.isdigit() else 0
    elif lowered.startswith("heading ") and lowered[8:].isdigit():
        level = int(lowered[8:])
    page = True if style.get(STYLE + "master-page-name") else None
    if properties is None:
        return ParagraphLook(level, new_page=page)
    get = properties.get
    before = get(_FO + "break-before")
    align = get(_FO + "text-align")
    borders = [get(_FO + side) for side in ("border", "border-top", "border-bottom")]
    lines = [each for each in borders if each is not None]
    return ParagraphLook(
        level,
        None if align is None else align == "center",
        length(get(_FO + "margin-left") or get(_FO + "margin")),
        length(get(_FO + "margin-right") or get(_FO + "margin")),
        length(get(_FO + "text-indent")),
        page if before is None else page or before in _ON_NEW_PAGE,
        None,
        any(each not in ("none", "hidden", "") for each in lines) if lines else None,
    )


def _run_look(properties: etree._Element | None) -> RunLook:
    if properties is None:
        return RunLook()
    get = properties.get
    weight, slant, variant = (get(_FO + f"font-{each}") for each in ("weight", "style", "variant"))
    size = length(get(_FO + "font-size"))
    lines = [get(f"{STYLE}text-line-through-{each}") for each in ("style", "type")]
    under = get(STYLE + "text-underline-style")
    display = get(TEXT + "display")
    return RunLook(
        bold=None if weight is None else weight == "bold" or _heavy(weight),
        italic=None if slant is None else slant in ("italic", "oblique"),
        small_capitals=None if variant is None else variant == "small-caps",
        strike=None if lines == [None, None] else any(each not in (None, "none") for each in lines),
        hidden=None if display is None else display == "none",
        underline=None if under is None else under != "none",
        language=_language(properties),
        size=None if size is None else size // 10,
    )


def _heavy(weight: str) -> bool:
    return weight.isdigit() and int(weight) >= _BOLD_FROM


def _language(properties: etree._Element) -> str | None:
    tag: str | None = properties.get(STYLE + "rfc-language-tag")
    language: str | None = properties.get(_FO + "language")
    country = properties.get(_FO + "country")
    if tag or language is None:
        return tag
    if language == "none":
        return "zxx"
    return language if country in (None, "", "none") else f"{language}-{country}"
