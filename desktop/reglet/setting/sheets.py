"""The sheets that Reglet knows: trims of printed novels, phones, e-readers.

Where the figures come from. *Trims*: sizes that novels are commonly printed at; margins, type
sizes and leading are common practice, chosen so that a full line holds 54 to 65 characters.
*Phones*: 360 to 430 CSS pixels is the common span of upright phone screens, each about 2.17 times
as high as wide; 16 pixels is the usual default text size of browsers, the others are steps that
reading programs offer; lines stand 1.5 text sizes apart (WCAG 2.2, 1.4.12, asks that text bear
that); the bars above and below a text are taken to cost 96 pixels. *E-readers*: panels of 300
pixels an inch, 1072 by 1448 (6 inches) and 1264 by 1680 (7 inches). The figures of screens are
from memory.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from reglet.setting import faces
from reglet.setting.sheet import INCH, PIXEL, Medium, Sheet


def trim(name: str, width: float, height: float, size: float, leading: float) -> Sheet:
    """A printed page of `width` by `height` inches with type of `size` on `leading` points."""
    return Sheet(
        name=name,
        medium=Medium.PRINT,
        width=width * INCH,
        height=height * INCH,
        top=0.75 * INCH,
        bottom=0.75 * INCH,
        inner=0.75 * INCH,
        outer=0.5 * INCH,
        family=faces.SOURCE_SERIF,
        size=size,
        leading=leading,
        indent=1.5,
        justified=True,
        hyphenated=True,
        optimum=True,
        sink=8,
    )


def phone(width: int, text: int) -> Sheet:
    """An upright phone `width` CSS pixels wide, with text of `text` pixels."""
    return Sheet(
        name=f"{width} px, text {text} px",
        medium=Medium.PHONE,
        width=width * PIXEL,
        height=round(width * 2.165) * PIXEL,
        top=56 * PIXEL,
        bottom=40 * PIXEL,
        inner=20 * PIXEL,
        outer=20 * PIXEL,
        family=faces.LITERATA,
        size=text * PIXEL,
        leading=1.5 * text * PIXEL,
        indent=1.25,
        justified=False,
        hyphenated=False,
        optimum=False,
    )


def ereader(name: str, width: int, height: int, size: float) -> Sheet:
    """An e-reader whose panel has `width` by `height` pixels at 300 an inch; text in points."""
    across, down = width / 300 * INCH, height / 300 * INCH
    return Sheet(
        name=name,
        medium=Medium.EREADER,
        width=across,
        height=down,
        top=0.06 * down,
        bottom=0.06 * down,
        inner=0.07 * across,
        outer=0.07 * across,
        family=faces.LITERATA,
        size=size,
        leading=1.4 * size,
        indent=1.5,
        justified=True,
        hyphenated=True,
        optimum=False,
        sink=2,
    )


def _by_name(*sheets: Sheet) -> Mapping[str, Sheet]:
    return MappingProxyType({sheet.name: sheet for sheet in sheets})


TRIMS = _by_name(
    trim("5 x 8 in", 5.0, 8.0, 10.0, 13.5),
    trim("5.25 x 8 in", 5.25, 8.0, 10.0, 13.5),
    trim("5.5 x 8.5 in", 5.5, 8.5, 10.5, 14.5),
    trim("6 x 9 in", 6.0, 9.0, 11.0, 15.0),
)
"""Printed pages by trim, width first."""

PHONES = _by_name(
    *(phone(width, text) for width in (360, 375, 390, 412, 430) for text in (14, 16, 18, 20, 24))
)
"""Phones by width and text size in CSS pixels."""

EREADERS = _by_name(
    ereader("6 in, small text", 1072, 1448, 9.0),
    ereader("6 in, middling text", 1072, 1448, 11.0),
    ereader("6 in, large text", 1072, 1448, 14.0),
    ereader("7 in, middling text", 1264, 1680, 11.0),
)
"""E-readers by the size of their screen and text."""

USUAL_TRIM = TRIMS["5.5 x 8.5 in"]
USUAL_PHONE = PHONES["390 px, text 16 px"]
USUAL_EREADER = EREADERS["6 in, middling text"]
"""What is shown until the writer chooses."""
