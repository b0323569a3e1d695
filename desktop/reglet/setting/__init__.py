"""How text falls on a printed page, a phone screen and an e-reader, measured with real type.

`lines(paragraph, sheet)` breaks a paragraph, `paragraph_fill` says what it takes of the sheet,
`pages(paragraphs, sheet)` makes a text up into pages or screens. A `Sheet` says what it falls on:
take one of `TRIMS`, `PHONES` and `EREADERS`, or change one with its own methods. Lengths are in
points, positions are code points within the paragraph. Everything here is a pure function of its
arguments and may be called from any thread.
"""

from reglet.setting.fill import Fill, paragraph_fill
from reglet.setting.lines import Line, lines
from reglet.setting.pages import Page, Piece, page_at, pages
from reglet.setting.sheet import MANNERS, Align, Manner, Medium, Sheet
from reglet.setting.sheets import (
    EREADERS,
    PHONES,
    TRIMS,
    USUAL_EREADER,
    USUAL_PHONE,
    USUAL_TRIM,
    ereader,
    phone,
    trim,
)

__all__ = [
    "EREADERS",
    "MANNERS",
    "PHONES",
    "TRIMS",
    "USUAL_EREADER",
    "USUAL_PHONE",
    "USUAL_TRIM",
    "Align",
    "Fill",
    "Line",
    "Manner",
    "Medium",
    "Page",
    "Piece",
    "Sheet",
    "ereader",
    "lines",
    "page_at",
    "pages",
    "paragraph_fill",
    "phone",
    "trim",
]
