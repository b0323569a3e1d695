"""A fount: one cut of one face at one size, which knows how wide words set in it are.

Words are shaped by HarfBuzz, each once, with the face's own kerning and ligatures. A line is as
wide as its words and spaces: of the faces here only upright Source Serif 4 kerns across a space,
a capital T, V, W or Y beside it, by 0.04 em at the most, and that is left out.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from itertools import accumulate, pairwise
from typing import NamedTuple

import uharfbuzz as hb

from reglet.language.remembered import Remembered
from reglet.setting import chances, faces, hyphenation

_DRAWN_SMALL_CAPITALS = 0.8
"""Size of capitals that stand in for small ones where a face has none (common practice)."""


class Division(NamedTuple):
    """A place inside a word where a line may end.

    `offset` counts code points from the word's start to the next line's. `before` is the width in
    points of what stays, with a hyphen where one is set; `after` of what goes to the next line.
    """

    offset: int
    before: float
    after: float
    hyphen: bool


class Word(NamedTuple):
    """A stretch of text without spaces: its width in points, the places where it may be divided
    without a hyphen being set, and whether it clings to the word before or after it.
    """

    width: float
    divisions: tuple[Division, ...]
    clings_back: bool
    clings_on: bool


class Fount:
    """One cut of one face at one size, for text in one language. Ask `fount` for it.

    `words[text]` and `hyphens[text]` answer from memory after the first time; `text` holds no
    spaces. `hyphens` gives the places where a hyphen may be set.
    """

    def __init__(
        self,
        family: str,
        size: float,
        optical: float,
        language: str,
        bold: bool,
        italic: bool,
        small_capitals: bool,
    ) -> None:
        self._family, self._cut = family, (optical, bold, italic)
        self._font = faces.font(family, optical, bold, italic)
        self._points = size / float(self._font.face.upem)
        self._language = language
        self._features = {"smcp": True} if small_capitals else None
        self._draws_capitals = small_capitals and not self._has_small_capitals()
        self.size = size
        self.space = self.width(" ")
        self._hyphen = self.width("-")
        self.words: Remembered[Word] = Remembered(self._word)
        self.hyphens: Remembered[tuple[Division, ...]] = Remembered(self._hyphens)

    def width(self, text: str) -> float:
        """The width of `text` in points, kerning and ligatures within it counted."""
        return sum(fount._width(part) for fount, part in self._parts(text))

    def _width(self, text: str) -> float:
        places = self._shaped(text).glyph_positions
        return float(sum([place.x_advance for place in places])) * self._scale(text)

    def _parts(self, text: str) -> Iterator[tuple[Fount, str]]:
        """The founts that a text is set in: this one, and others for letters that it lacks."""
        optical, bold, italic = self._cut
        for family, part in faces.stretches(self._family, text, bold=bold, italic=italic):
            if family == self._family:
                yield self, part
            else:
                yield (
                    fount(family, self.size, optical, self._language, bold=bold, italic=italic),
                    part,
                )

    def _edges(self, text: str) -> list[float]:
        """How far the text reaches, in points, before each of its code points and at its end.

        The letters of a ligature share its width.
        """
        reached = [0.0]
        for fount, part in self._parts(text):
            reached += [reached[-1] + edge for edge in fount._edges_of(part)[1:]]
        return reached

    def _edges_of(self, text: str) -> list[float]:
        shaped = self._shaped(text)
        advances = [place.x_advance for place in shaped.glyph_positions]
        clusters = [glyph.cluster for glyph in shaped.glyph_infos]
        if clusters != list(range(len(text))):
            advances = _shared_out(advances, clusters, len(text))
        scale = self._scale(text)
        return [reached * scale for reached in accumulate(advances, initial=0.0)]

    def _scale(self, text: str) -> float:
        small = self._draws_capitals and _capitals(text) != text
        return self._points * (_DRAWN_SMALL_CAPITALS if small else 1.0)

    def _shaped(self, text: str) -> hb.Buffer:
        buffer = hb.Buffer()
        buffer.add_str(_capitals(text) if self._draws_capitals else text)
        buffer.guess_segment_properties()
        hb.shape(self._font, buffer, self._features)
        return buffer

    def _has_small_capitals(self) -> bool:
        return any(
            "smcp" in self._font.face.get_language_feature_tags("GSUB", script)
            for script in range(len(self._font.face.get_table_script_tags("GSUB")))
        )

    def _word(self, text: str) -> Word:
        clings_back, clings_on = chances.clings_back(text), chances.clings_on(text)
        offsets = chances.inside(text)
        if not offsets:
            return Word(self.width(text), (), clings_back, clings_on)
        edges = self._edges(text)
        divisions = tuple(
            Division(at, edges[at], edges[-1] - edges[at], chances.ends_with_hyphen(text[:at]))
            for at in offsets
        )
        return Word(edges[-1], divisions, clings_back, clings_on)

    def _hyphens(self, text: str) -> tuple[Division, ...]:
        offsets = hyphenation.points(text, self._language)
        if not offsets:
            return ()
        edges = self._edges(text)
        return tuple(
            Division(at, edges[at] + self._hyphen, edges[-1] - edges[at], True) for at in offsets
        )


def _shared_out(advances: list[int], clusters: list[int], length: int) -> list[float]:
    """The advance of each of `length` code points, from those of glyphs that stand for several."""
    widths = dict.fromkeys(clusters, 0)
    for advance, cluster in zip(advances, clusters, strict=True):
        widths[cluster] += advance
    shared: list[float] = []
    for start, end in pairwise([*sorted(widths), length]):
        shared.extend([widths[start] / (end - start)] * (end - start))
    return shared


def _capitals(text: str) -> str:
    # A few letters have no one capital (ß); they are left, so that the offsets hold.
    return "".join(letter.upper() if len(letter.upper()) == 1 else letter for letter in text)


@cache
def fount(
    family: str,
    size: float,
    optical: float,
    language: str,
    *,
    bold: bool = False,
    italic: bool = False,
    small_capitals: bool = False,
) -> Fount:
    """The fount of these properties, with all the words it has measured so far.

    `size` is in points; `optical` is described at `faces.font`. Raises MissingFace.
    """
    return Fount(family, size, optical, language, bold, italic, small_capitals)
