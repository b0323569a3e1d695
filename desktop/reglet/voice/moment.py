"""What is being heard at a moment, whichever voice reads."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

END_OF_BOOK = "That was the end of the book."
"""What a moment says where reading has stopped because nothing is left to read."""

SCENE_GONE = (
    "The scene that was being read is not in the book any more. Nothing is lost by that; put the "
    "cursor where reading should go on."
)


class State(StrEnum):
    """What the voice is doing."""

    STOPPED = "stopped"
    PLAYING = "playing"
    PAUSED = "paused"


@dataclass(frozen=True, slots=True)
class Moment:
    """What is being heard: code points `start` up to `end` of a scene's text, the word to mark.

    Between two words, and in a heading, the span is empty. `sentence` is where the sentence stands.
    `waiting` says that the voice is not ready yet. `heard` has the paragraphs (scene, key) heard to
    their end since the last moment, for `coverage.with_hearing`. `sentence_for_writer` is empty but
    where reading stopped by itself: it says why.
    """

    state: State
    scene: str = ""
    start: int = 0
    end: int = 0
    sentence: tuple[int, int] = (0, 0)
    waiting: bool = False
    heard: tuple[tuple[str, str], ...] = ()
    sentence_for_writer: str = ""
