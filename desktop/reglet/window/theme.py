"""Colours, faces and sizes of the window, as frozen values: light, dark and easy-read.

A pencil for each stage: graphite for Structure, blue for Line, red for Proof. The pencil colours
the marks, the stage's name and its progress, and nothing else.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from reglet.manuscript.stage import Stage
from reglet.setting.faces import ATKINSON, LITERATA, SOURCE_SANS

GRID = 8
"""All distances in the window are multiples of this or its half, in pixels."""

MEASURE = 66
"""Characters in a line of the page (Bringhurst's ideal for one column; from memory)."""


@dataclass(frozen=True, slots=True)
class Lettering:
    """How text is set: `size` in pixels, `line` as a share of the face's own line height, `letter`
    and `word` as space added after each letter and each word, in ems.
    """

    family: str
    size: int
    line: float = 1.0
    letter: float = 0.0
    word: float = 0.0


@dataclass(frozen=True, slots=True)
class Theme:
    """One dress of the window. Colours are written #RRGGBB."""

    name: str
    label: str
    desk: str
    paper: str
    card: str
    ink: str
    quiet: str
    line: str
    bar: str
    """What is to be seen and not read: bars of charts, frames of fields, handles of scroll bars."""
    graphite: str
    blue: str
    red: str
    selection: str
    page: Lettering
    title: Lettering
    control: Lettering
    dark: bool = False
    ruler: bool = False
    """Whether a reading ruler lies under the line that is written in."""
    zoom: float = 1.0
    """How many times as large as usual the type is that is read: `page` is so large already."""

    def pencil(self, stage: Stage) -> str:
        """The colour of the marks in a stage."""
        return {Stage.LINE: self.blue, Stage.PROOF: self.red}.get(stage, self.graphite)

    def zoomed(self, by: float) -> Theme:
        """This theme with the type that is read `by` times as large."""
        return replace(self, page=replace(self.page, size=round(self.page.size * by)), zoom=by)


LIGHT = Theme(
    name="light",
    label="Light",
    desk="#E9E5DC",
    paper="#FCFBF7",
    card="#F4F1E9",
    ink="#1F1D1A",
    quiet="#625C53",
    line="#D3CCBE",
    bar="#857E72",
    graphite="#55514A",
    blue="#2B5A99",
    red="#AE332B",
    selection="#DCD5C6",
    page=Lettering(LITERATA, 18, line=1.04),
    title=Lettering(LITERATA, 23),
    control=Lettering(SOURCE_SANS, 14),
)

DARK = Theme(
    name="dark",
    label="Dark",
    desk="#191816",
    paper="#242320",
    card="#2D2B27",
    ink="#E6E1D6",
    quiet="#A19A8D",
    line="#3B3833",
    bar="#827C70",
    graphite="#BDB7AA",
    blue="#8DB4EA",
    red="#EA9088",
    selection="#474339",
    page=LIGHT.page,
    title=LIGHT.title,
    control=LIGHT.control,
    dark=True,
)

# Face, size (14 pt is 19 px at 96 to the inch), spacing between lines and letters, cream ground and
# ragged right: British Dyslexia Association, "Dyslexia friendly style guide" (2018, from memory).
EASY_READ = Theme(
    name="easy_read",
    label="Easy-read",
    desk="#EADFC4",
    paper="#FBF3DC",
    card="#F3E8CC",
    ink="#22201B",
    quiet="#5A523F",
    line="#D2C4A0",
    bar="#82775D",
    graphite="#4A463C",
    blue="#1F4E8C",
    red="#9C2A22",
    selection="#E2D2A6",
    page=Lettering(ATKINSON, 20, line=1.32, letter=0.03, word=0.12),
    title=Lettering(ATKINSON, 25, letter=0.02),
    control=Lettering(ATKINSON, 15, letter=0.01),
    ruler=True,
)

THEMES = (LIGHT, DARK, EASY_READ)


def contrast(one: str, other: str) -> float:
    """The contrast ratio of two colours, 1 to 21 (WCAG 2.2, "relative luminance")."""
    lighter, darker = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def _luminance(colour: str) -> float:
    def linear(channel: float) -> float:
        return channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4

    red, green, blue = (linear(int(colour[at : at + 2], 16) / 255) for at in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
