"""What text is set on: a printed page, a phone's screen, an e-reader's, and how it is set there.

All lengths are in points (1/72 inch). A CSS pixel is 1/96 inch by definition (CSS Values and Units
Module Level 3), so 0.75 points.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from types import MappingProxyType

from reglet.manuscript.paragraph import Style

INCH = 72.0
PIXEL = 0.75


class Medium(StrEnum):
    """What kind of thing the reader holds."""

    PRINT = "print"
    PHONE = "phone"
    EREADER = "e-reader"


@dataclass(frozen=True, slots=True)
class Sheet:
    """A page or screen, its margins, and the type on it. Lengths in points, `indent` in ems.

    `inner` and `outer` are the side margins (left and right on a screen). `leading` is the distance
    from one base line to the next. `optimum` breaks whole paragraphs at their best, else each line
    takes what it holds (`breaking`). `sink` is how far down a chapter's heading starts, in lines.
    `language` is a BCP 47 tag, for hyphenation.
    """

    name: str
    medium: Medium
    width: float
    height: float
    top: float
    bottom: float
    inner: float
    outer: float
    family: str
    size: float
    leading: float
    indent: float
    justified: bool
    hyphenated: bool
    optimum: bool
    sink: int = 0
    language: str = "en-GB"

    @property
    def measure(self) -> float:
        """The width of a full line."""
        return self.width - self.inner - self.outer

    @property
    def depth(self) -> float:
        """The height of the type area, or of the screen that text may fill."""
        return self.height - self.top - self.bottom

    @property
    def line_count(self) -> int:
        """How many lines of body text a full page or screen holds."""
        return int((self.depth + 1e-6) / self.leading)

    def optical(self, size: float) -> float:
        """The optical size that type of `size` points is drawn for, as `faces.font` wants it."""
        return size if self.medium is Medium.PRINT else size / PIXEL

    def in_language(self, tag: str) -> Sheet:
        """This sheet for text in another language."""
        return replace(self, language=tag)


class Align(StrEnum):
    """How the lines of a paragraph stand in the measure. `TEXT` is as the sheet has it."""

    TEXT = "text"
    LEFT = "left"
    CENTRE = "centre"


@dataclass(frozen=True, slots=True)
class Manner:
    """How a paragraph style departs from body text.

    `indent` is that of the first line, in the sheet's indents; a negative one hangs the lines after
    it. `left` and `right` are insets in ems, `space` stands before and after, in lines, where the
    style changes; `scale` multiplies size and leading.
    """

    indent: float = 0.0
    left: float = 0.0
    right: float = 0.0
    space: float = 0.0
    scale: float = 1.0
    align: Align = Align.TEXT


MANNERS: Mapping[Style, Manner] = MappingProxyType(
    {
        Style.BODY: Manner(indent=1.0),
        Style.FIRST: Manner(),
        Style.HEADING: Manner(space=2.0, scale=1.5, align=Align.CENTRE),
        Style.BLOCK_QUOTE: Manner(left=1.5, right=1.5, space=0.5),
        Style.VERSE: Manner(indent=-1.0, left=2.0, space=0.5, align=Align.LEFT),
        Style.LETTER: Manner(indent=1.0, left=1.5, right=1.5, space=0.5),
        Style.CENTRED: Manner(align=Align.CENTRE),
        Style.SCENE_BREAK: Manner(space=0.5, align=Align.CENTRE),
    }
)
"""How each style is set: common practice in printed novels."""
