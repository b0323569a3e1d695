"""Standard manuscript format: the settings of the page and of each named style.

The common practice of publishers and magazines for prose sent in, as many of them state it in
their guidelines: 12-point serif, double spaced, margins of one inch, paragraphs indented half an
inch and not parted by blank lines, a running head of surname, title and page, `#` between scenes,
chapters begun on a new page a third of the way down. Lengths are in inches and points.
"""

from __future__ import annotations

from typing import Any

from docx.document import Document
from docx.enum.style import WD_STYLE_TYPE
from docx.enum.text import WD_ALIGN_PARAGRAPH
from docx.oxml import OxmlElement
from docx.oxml.ns import qn
from docx.shared import Inches, Pt

from reglet.exchange.draft import Sign
from reglet.exchange.signs import SIGN_NAMES, STYLE_NAMES, style_id
from reglet.manuscript.book import Book
from reglet.manuscript.paragraph import Style

FACE = "Times New Roman"
SIZE = Pt(12)
MARGIN = Inches(1)
INDENT = Inches(0.5)
PAGE_US = (Inches(8.5), Inches(11))
PAGE_A4 = (Inches(8.27), Inches(11.69))
DOWN_A_THIRD = Pt(144)
SCENE_MARK = "#"
_AFTER_NAME = ("jr", "jr.", "sr", "sr.", "ii", "iii", "iv")


def surname(author: str) -> str:
    """The last word of a name, without what stands after it such as “Jr.”."""
    words = author.replace(",", " ").split()
    while len(words) > 1 and words[-1].lower() in _AFTER_NAME:
        words.pop()
    return words[-1] if words else ""


def running_head(book: Book) -> str:
    """Surname and TITLE as they stand before the page number; what is not known is left out."""
    return "".join(f"{part} / " for part in (surname(book.author), book.title.upper()) if part)


def rounded_words(count: int) -> str:
    """A word count as a title page gives it: to the nearest thousand from 17,500 words on (a
    novella's or novel's length), to the nearest hundred below. Common practice.
    """
    step = 1000 if count >= 17_500 else 100
    rounded = max(step, round(count / step) * step) if count else 0
    return f"about {rounded:,} words"


def set_up(document: Document, book: Book) -> None:
    """Give an empty document the page, running head and named styles of a manuscript."""
    _facts(document, book)
    _page(document, book)
    _defaults(document, book.style_sheet.language)
    body = _style(document, STYLE_NAMES[Style.BODY])
    body.paragraph_format.first_line_indent = INDENT
    body.paragraph_format.line_spacing = 2.0
    body.paragraph_format.widow_control = False
    for style, settings in (
        (Style.FIRST, {}),
        (Style.HEADING, {"keep_with_next": True}),
        (Style.BLOCK_QUOTE, {"left_indent": INDENT, "right_indent": INDENT}),
        (Style.VERSE, {"left_indent": Inches(1)}),
        (Style.LETTER, {"left_indent": INDENT, "right_indent": INDENT}),
        (Style.CENTRED, {"alignment": WD_ALIGN_PARAGRAPH.CENTER}),
    ):
        _below(document, STYLE_NAMES[style], settings)
    centred: dict[str, Any] = {"alignment": WD_ALIGN_PARAGRAPH.CENTER}
    for sign in (Sign.SCENE, Sign.PAUSE):
        _below(document, SIGN_NAMES[sign], {**centred, "keep_with_next": True})
    _below(document, SIGN_NAMES[Sign.TITLE_PAGE], {})
    opening = {
        **centred,
        "page_break_before": True,
        "space_before": DOWN_A_THIRD,
        "keep_with_next": True,
    }
    has_parts = any(part.title for part in book.parts)
    for sign in (Sign.PART, Sign.CHAPTER, Sign.FRONT, Sign.BACK):
        level = 1 if sign is Sign.CHAPTER and has_parts else 0
        _outlined(_below(document, SIGN_NAMES[sign], opening), level)


def _facts(document: Document, book: Book) -> None:
    facts = document.core_properties
    facts.title, facts.author = book.title, book.author
    facts.comments = facts.keywords = facts.last_modified_by = ""
    facts.language = book.style_sheet.language


def _page(document: Document, book: Book) -> None:
    section = document.sections[0]
    american = book.style_sheet.language.lower() == "en-us"
    section.page_width, section.page_height = PAGE_US if american else PAGE_A4
    section.left_margin = section.right_margin = MARGIN
    section.top_margin = section.bottom_margin = MARGIN
    section.header_distance = section.footer_distance = Inches(0.5)
    section.different_first_page_header_footer = True
    header = section.header.paragraphs[0]
    header.alignment = WD_ALIGN_PARAGRAPH.RIGHT
    header.add_run(running_head(book))
    for kind, text in (("begin", ""), ("", " PAGE "), ("separate", ""), (None, "2"), ("end", "")):
        run = header.add_run()._r
        if kind is None:
            run.text = text
        elif kind:
            mark = OxmlElement("w:fldChar")
            mark.set(qn("w:fldCharType"), kind)
            run.append(mark)
        else:
            instruction = OxmlElement("w:instrText")
            instruction.set(qn("xml:space"), "preserve")
            instruction.text = text
            run.append(instruction)


def _defaults(document: Document, language: str) -> None:
    normal = document.styles["Normal"]
    normal.font.name, normal.font.size = FACE, SIZE
    fonts = normal.element.rPr.rFonts
    for script in ("w:eastAsia", "w:cs"):
        fonts.set(qn(script), FACE)
    normal.paragraph_format.space_after = normal.paragraph_format.space_before = Pt(0)
    for tag in document.styles.element.iter(qn("w:lang")):
        tag.set(qn("w:val"), language)


def _style(document: Document, name: str) -> Any:
    style = document.styles.add_style(name, WD_STYLE_TYPE.PARAGRAPH)
    style.element.set(qn("w:styleId"), style_id(name))
    style.base_style = document.styles["Normal"]
    style.quick_style = True
    return style


def _below(document: Document, name: str, settings: dict[str, Any]) -> Any:
    """A style that differs from the body's in its `settings`, and has no first-line indent."""
    style = _style(document, name)
    style.base_style = document.styles[STYLE_NAMES[Style.BODY]]
    style.next_paragraph_style = document.styles[STYLE_NAMES[Style.BODY]]
    style.paragraph_format.first_line_indent = Inches(0)
    for setting, value in settings.items():
        setattr(style.paragraph_format, setting, value)
    return style


def _outlined(style: Any, level: int) -> None:
    outline = OxmlElement("w:outlineLvl")
    outline.set(qn("w:val"), str(level))
    style.element.get_or_add_pPr().append(outline)
