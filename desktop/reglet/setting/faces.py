"""The faces that Reglet sets and shows text in, and where their files are.

They come from PyPI wheels (`fontpkg-*`, SIL Open Font License), so they are the same on every
machine and nothing is asked of the system's own fonts.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import fontpkg
import uharfbuzz as hb
from fontpkg import FamilyNotInstalled, StyleNotAvailable

from reglet.errors import WriterError

LITERATA = "Literata"
SOURCE_SERIF = "Source Serif 4"
SOURCE_SANS = "Source Sans 3"
ATKINSON = "Atkinson Hyperlegible"
LEXEND = "Lexend"

FAMILIES = (LITERATA, SOURCE_SERIF, SOURCE_SANS, ATKINSON, LEXEND)
"""Page faces first, then the controls' face, then the two of easy-read."""

_REGULAR, _BOLD = 400, 700


class MissingFace(WriterError):
    """A face of Reglet's is not on this machine."""


def file(family: str, *, bold: bool = False, italic: bool = False) -> Path:
    """The font file that holds this cut of `family`; one file may hold several cuts.

    Lexend has no italic: its upright file is given, as it has the widths that a slanted one
    would have. Raises MissingFace.
    """
    weight = _BOLD if bold else _REGULAR
    try:
        try:
            return Path(fontpkg.path(family, weight, "italic" if italic else "normal"))
        except StyleNotAvailable:
            return Path(fontpkg.path(family, weight, "normal"))
    except FamilyNotInstalled as error:
        raise MissingFace(
            f"The typeface {family} is not installed, so text cannot be measured in it. "
            "Your book is not affected. Install Reglet again to bring its typefaces back."
        ) from error


def files(family: str) -> tuple[Path, ...]:
    """Every font file of `family`, each once. Raises MissingFace."""
    cuts = [(bold, italic) for italic in (False, True) for bold in (False, True)]
    return tuple(dict.fromkeys(file(family, bold=bold, italic=italic) for bold, italic in cuts))


def bold_cut(file: Path) -> bytes | None:
    """A font file that holds the bold cut alone of a face with an axis of weight, the other axes as
    they come; None for a face without one.
    """
    face = hb.Face(hb.Blob.from_file_path(str(file)))
    tags = {axis.tag for axis in face.axis_infos}
    if "wght" not in tags:
        return None
    wanted = hb.SubsetInput()
    wanted.keep_everything()
    wanted.pin_axis_location(face, "wght", float(_BOLD))
    for tag in tags - {"wght"}:
        wanted.pin_axis_to_default(face, tag)
    return bytes(hb.subset(face, wanted).blob.data)


@cache
def font(family: str, optical: float, bold: bool, italic: bool) -> hb.Font:
    """The cut of `family` drawn for type of `optical` size, ready to be shaped; read once.

    `optical` is in points on paper and in CSS pixels on a screen (CSS Fonts Module Level 4,
    `font-optical-sizing`); faces without that axis take no notice of it. Raises MissingFace.
    """
    face = hb.Face(hb.Blob.from_file_path(str(file(family, bold=bold, italic=italic))))
    axes = {"wght": float(_BOLD if bold else _REGULAR), "opsz": optical}
    drawn = hb.Font(face)
    drawn.set_variations({axis.tag: axes[axis.tag] for axis in face.axis_infos if axis.tag in axes})
    return drawn
