"""A query: one thing that an overlay asks the writer to look at."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from reglet.manuscript.stage import Stage


class ProofMark(StrEnum):
    """What a query asks for, in the meanings of ISO 5776; the last two are a copy-editor's own."""

    INSERT = "insert"
    DELETE = "delete"
    REPLACE = "replace"
    TRANSPOSE = "transpose"
    CLOSE_UP = "close_up"
    NEW_PARAGRAPH = "new_paragraph"
    RUN_ON = "run_on"
    WRONG_CASE = "wrong_case"
    LENGTH = "length"
    ASK = "ask"


class Dress(StrEnum):
    """How words are set: with emphasis, without, or as a break within a scene."""

    EMPHASIS = "emphasis"
    PLAIN = "plain"
    SCENE_BREAK = "scene_break"


@dataclass(frozen=True, slots=True)
class Choice:
    """One way where a book can go two: the question ("grey or gray"), and the way to go."""

    question: str
    way: str


@dataclass(frozen=True, slots=True)
class Query:
    """One mark on the page.

    `start` and `end` are code points in the scene's text, `text` what stands there; a query about
    the scene as a whole has both at 0. `message` is one or two sentences for the writer. `proposal`
    is what the text could read instead, if there is anything to propose. `stet` says that the
    writer has let it stand.

    `choice` is given where the book goes two ways, and is what `settle` puts through the book.
    `dress` says how the proposal is to be set, where otherwise than what it replaces; `chapter`
    that it is not the scene's text that is asked about but the title of the chapter of that id.
    """

    overlay: str
    stage: Stage
    scene: str
    start: int
    end: int
    text: str
    message: str
    mark: ProofMark
    proposal: str | None = None
    stet: bool = False
    choice: Choice | None = None
    dress: Dress | None = None
    chapter: str = ""

    @property
    def about_the_scene(self) -> bool:
        """Whether it is about the whole scene and no one place in it."""
        return self.start == self.end == 0
