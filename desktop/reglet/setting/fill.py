"""How much of a page or screen a paragraph fills."""

from __future__ import annotations

from dataclasses import dataclass

from reglet.manuscript.paragraph import Paragraph
from reglet.setting.lines import lines
from reglet.setting.sheet import MANNERS, Sheet


@dataclass(frozen=True, slots=True)
class Fill:
    """`lines` it takes, and the `share` of the sheet's depth that they fill: 1.6 is more than one
    and a half screens of nothing else.
    """

    lines: int
    share: float


def paragraph_fill(paragraph: Paragraph, sheet: Sheet) -> Fill:
    """What `paragraph` fills of `sheet`; the space around some styles is not counted."""
    count = len(lines(paragraph, sheet))
    return Fill(count, count * sheet.leading * MANNERS[paragraph.style].scale / sheet.depth)
