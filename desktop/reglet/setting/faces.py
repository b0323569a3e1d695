"""The faces that Reglet sets and shows text in, and where their files are.

They come from PyPI wheels (`fontpkg-*`, SIL Open Font License), so they are the same on every
machine and nothing is asked of the system's own fonts.
"""

from __future__ import annotations

import unicodedata
from functools import cache, lru_cache
from itertools import groupby
from pathlib import Path

import fontpkg
import uharfbuzz as hb
from fontpkg import FamilyNotInstalled, StyleNotAvailable, WeightNotAvailable

from reglet.errors import WriterError

LITERATA = "Literata"
SOURCE_SERIF = "Source Serif 4"
SOURCE_SANS = "Source Sans 3"
ATKINSON = "Atkinson Hyperlegible"
LEXEND = "Lexend"

CARDO = "Cardo"

FAMILIES = (LITERATA, SOURCE_SERIF, SOURCE_SANS, ATKINSON, LEXEND)
"""Page faces first, then the controls' face, then the two of easy-read."""

_STAND_INS = (SOURCE_SERIF, LITERATA, CARDO, SOURCE_SANS)
"""Where letters come from that the chosen face lacks: a book face, then one with the ornaments and
the scripts of scholars, then the controls' face with its arrows and signs.
"""
_JOINERS = frozenset("\u200d\ufe0e\ufe0f")
"""What has no shape of its own, and goes with the letter before it."""

_REGULAR, _BOLD = 400, 700
_ANY_SIZE = 12.0
"""Which letters a face has does not hang on its size."""


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
        except WeightNotAvailable:
            return Path(fontpkg.path(family, _REGULAR, "italic" if italic else "normal"))
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


def stretches(family: str, text: str, *, bold: bool, italic: bool) -> tuple[tuple[str, str], ...]:
    """A text in stretches, each with the face that it is set in: `family` where that has its
    letters, else the first of the stand-ins that does, and `family` again where none has.

    A letter and the marks on it stay in one face. Raises MissingFace.
    """
    if _letters(family, bold, italic).issuperset(text):
        return ((family, text),)
    chosen = ((_face_for(cluster, family, bold, italic), cluster) for cluster in _clusters(text))
    return tuple(
        (face, "".join(cluster for _, cluster in group))
        for face, group in groupby(chosen, lambda each: each[0])
    )


@cache
def _letters(family: str, bold: bool, italic: bool) -> frozenset[str]:
    """The letters that a cut of a face has a glyph of its own for."""
    return frozenset(map(chr, font(family, _ANY_SIZE, bold, italic).face.unicodes))


@lru_cache(maxsize=4096)
def _face_for(cluster: str, family: str, bold: bool, italic: bool) -> str:
    for each in (family, *_STAND_INS):
        try:
            drawn = font(each, _ANY_SIZE, bold, italic)
        except MissingFace:
            if each == family:
                raise
            continue  # text can be set without a stand-in
        # HarfBuzz is asked, which puts letters together and knows which signs leave no mark.
        buffer = hb.Buffer()
        buffer.add_str(cluster)
        buffer.guess_segment_properties()
        hb.shape(drawn, buffer)
        if all(glyph.codepoint for glyph in buffer.glyph_infos):
            return each
    return family


def _clusters(text: str) -> list[str]:
    """The letters of a text, each with the marks on it."""
    found: list[str] = []
    for sign in text:
        if found and (unicodedata.combining(sign) or sign in _JOINERS):
            found[-1] += sign
        else:
            found.append(sign)
    return found
