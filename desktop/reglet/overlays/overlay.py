"""What an overlay is: a name, a stage, a reason in a sentence, and a pure function that looks.

The function's name is the overlay's name and its docstring's first paragraph the reason that the
writer reads. What it finds may depend on its arguments alone, because results are kept.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from enum import Enum
from typing import Any

from reglet.manuscript.book import StyleSheet
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House, Strictness
from reglet.overlays.query import Choice, Dress, ProofMark
from reglet.overlays.reading import ReadBook, ReadParagraph, ReadScene
from reglet.overlays.tally import Tally, Use


@dataclass(frozen=True, slots=True)
class Finding:
    """What an overlay found, in code points of the text that it was given.

    `mark` is given where it differs from the overlay's own, `score` (0 to 1) where the overlay can
    say how sure it is. For `choice`, `dress` and `chapter` see `Query`.
    """

    start: int
    end: int
    message: str
    proposal: str | None = None
    mark: ProofMark | None = None
    choice: Choice | None = None
    dress: Dress | None = None
    chapter: str = ""
    score: float = 1.0


Judge = Callable[[Use, Tally, StyleSheet, House], Finding | None]
"""Judges one place, of which the tally has `start` and `end` in the scene's text, by the tally of
the whole book and its style sheet: what to ask there, or None.
"""


Weigh = Callable[[Finding, str, Mapping[str, int], StyleSheet, House], Finding | None]
"""Weighs a finding in a scene, and its words, against how often each word stands in the book (in
small letters with straight apostrophes) and its style sheet: the finding, or None.
"""


_SOURCE = "Source: "
"""What the paragraph of an overlay's docstring begins with that names a source."""


class Scope(Enum):
    """How much text an overlay needs before it, and so how far an edit reaches."""

    PARAGRAPH = "paragraph"
    SCENE = "scene"
    USES = "uses"
    BOOK = "book"


@dataclass(frozen=True, eq=False)
class Overlay:
    """One family of queries. Made by `of_paragraph`, `of_scene`, `of_uses` and `of_book`.

    `told` says what to expect at each strictness, in a sentence. `lacks` gives a sentence where
    something that the overlay needs is not on this machine, or nothing.
    """

    name: str
    stage: Stage
    reason: str
    mark: ProofMark
    scope: Scope
    look: Callable[..., Iterable[Any]]
    judge: Judge | None = None
    weigh: Weigh | None = None
    told: Mapping[Strictness, str] = field(default_factory=dict)
    lacks: Callable[[], str] = str

    @property
    def source(self) -> str:
        """Where what it asks for is taken from: a handbook, or the practice of the trade."""
        paragraphs = (inspect.getdoc(self.look) or "").split("\n\n")
        named = [each for each in paragraphs if each.startswith(_SOURCE)]
        return _sentence(named[0].removeprefix(_SOURCE)).rstrip(".") if named else "common practice"

    @property
    def label(self) -> str:
        """The name as the writer sees it."""
        return self.name.replace("_", " ").capitalize()


ParagraphLook = Callable[[ReadParagraph, House], Iterable[Finding]]
SceneLook = Callable[[ReadScene, House], Iterable[Finding]]
UsesLook = Callable[[ReadParagraph, House], Iterable[Use]]
BookLook = Callable[[ReadBook, House], Iterable[tuple[str, Finding]]]


def of_paragraph(look: ParagraphLook, stage: Stage, mark: ProofMark) -> Overlay:
    """An overlay that needs one paragraph of prose at a time."""
    return Overlay(_name(look), stage, _reason(look), mark, Scope.PARAGRAPH, look)


def of_scene(
    look: SceneLook,
    stage: Stage,
    mark: ProofMark,
    weigh: Weigh | None = None,
    told: Mapping[Strictness, str] | None = None,
    lacks: Callable[[], str] = str,
) -> Overlay:
    """An overlay that needs a whole scene; positions are in the scene's text."""
    return Overlay(
        _name(look),
        stage,
        _reason(look),
        mark,
        Scope.SCENE,
        look,
        weigh=weigh,
        told=told or {},
        lacks=lacks,
    )


def of_uses(look: UsesLook, judge: Judge, stage: Stage, mark: ProofMark) -> Overlay:
    """An overlay that finds in each paragraph how the book goes, and judges each place by the whole
    book's tally. So it costs no more than what an edit changed.
    """
    return Overlay(_name(look), stage, _reason(look), mark, Scope.USES, look, judge)


def of_book(look: BookLook, stage: Stage, mark: ProofMark) -> Overlay:
    """An overlay that needs the whole book; each finding goes with the id of its scene."""
    return Overlay(_name(look), stage, _reason(look), mark, Scope.BOOK, look)


def _name(look: Callable[..., object]) -> str:
    return look.__name__


def _reason(look: Callable[..., object]) -> str:
    return _sentence((inspect.getdoc(look) or "").split("\n\n")[0])


def _sentence(paragraph: str) -> str:
    """A paragraph of a docstring as the writer reads it, on one line and with ’ for apostrophes."""
    return " ".join(paragraph.split()).replace("'", "’")
