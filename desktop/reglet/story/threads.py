"""Threads: lines of story that run through scenes, where each is touched, and which are left open.

A thread of `Book.threads` is written as a name, or as a name and the words that touch it:
"the brass key: key, red thread". A scene touches it where one of its words stands in the text, or
where the scene's sheet names it. Objects that people keep, carry and hide, and that the book comes
back to and then forgets, are proposed as threads.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, cached_property

from reglet import resources
from reglet.language.prose import Prose
from reglet.manuscript.scene import Scene


@dataclass(frozen=True, slots=True)
class Thread:
    """A thread: its name, and the words that touch it, in lower case."""

    name: str
    words: tuple[str, ...]


def read_thread(said: str) -> Thread:
    """The thread that a line of `Book.threads` names. Without words of its own its name touches
    it, an article left out.
    """
    name, colon, listed = said.partition(":")
    words = [word.strip().lower() for word in re.split(r"[,;]", listed)] if colon else []
    bare = re.sub(r"^(?:the|a|an|his|her|their|my) ", "", name.strip().lower())
    return Thread(name.strip(), tuple(filter(None, words)) or (bare,))


@dataclass(frozen=True, slots=True)
class Touch:
    """A scene that touches a thread: its place among the scenes, how often, and where first (code
    points; 0, 0 where only its sheet says so).
    """

    scene: str
    index: int
    count: int
    start: int
    end: int


@dataclass(frozen=True)
class Trail:
    """A thread's touches in telling order, in a book of `scenes` scenes. `proposed` says that the
    program found it.
    """

    thread: Thread
    touches: tuple[Touch, ...]
    scenes: int
    proposed: bool = False

    @cached_property
    def gaps(self) -> tuple[tuple[Touch, Touch], ...]:
        """Each touch and the next where more than a quarter of the book, and five scenes, lie
        between them untouched.
        """
        least = max(5, self.scenes // 4)
        pairs = zip(self.touches, self.touches[1:], strict=False)
        return tuple((a, b) for a, b in pairs if b.index - a.index > least)

    @property
    def left_open(self) -> bool:
        """Whether it is raised (touched in two scenes, or three times in one) and then not touched
        in the last two fifths of the book, nor in its last five scenes.
        """
        if not self.touches:
            return False
        raised = len(self.touches) > 1 or self.touches[0].count >= 3
        untouched = self.scenes - 1 - self.touches[-1].index
        return raised and untouched >= max(5, 0.4 * self.scenes)


def trail(thread: Thread, scenes: Sequence[Scene], proposed: bool = False) -> Trail:
    """Where the scenes touch a thread."""
    pattern = _pattern(thread.words)
    name = thread.name.lower()
    touches = []
    for index, scene in enumerate(scenes):
        places = [match.span() for match in pattern.finditer(scene.passage.text)]
        on_sheet = any(each.lower() == name for each in scene.sheet.threads)
        if places or on_sheet:
            start, end = places[0] if places else (0, 0)
            touches.append(Touch(scene.id, index, max(1, len(places)), start, end))
    return Trail(thread, tuple(touches), len(scenes), proposed)


@cache
def _pattern(words: tuple[str, ...]) -> re.Pattern[str]:
    forms = "|".join(rf"{re.escape(word)}(?:e?s|[’']s)?" for word in words)
    return re.compile(rf"(?<![\w’'-])(?:{forms})(?![\w-])", re.IGNORECASE)


def objects_in(prose: Prose) -> tuple[str, ...]:
    """The objects on our list that a paragraph names, once for each time, without plural ending."""
    kept = _kept()
    text = prose.text.lower()
    return tuple(kept[match[0]] for match in _WORD.finditer(text) if match[0] in kept)


_WORD = re.compile(r"[a-z]{3,}")


@cache
def _kept() -> dict[str, str]:
    words = resources.words("story", "kept_objects.txt")
    plurals = {_plural(word): word for word in words}
    return plurals | {word: word for word in words}


def _plural(word: str) -> str:
    if word.endswith(("s", "x", "ch", "sh")):
        return word + "es"
    return word[:-2] + "ves" if word.endswith("fe") else word + "s"


_FEWEST_SCENES, _OF_THE_BOOK, _DENSE, _SILENT = 3, 0.35, 0.3, 8


def vanished(objects: Sequence[Counter[str]], known: Sequence[Thread] = ()) -> tuple[str, ...]:
    """Objects that scenes come back to and that then vanish, in the order they vanish.

    Such an object stands in three scenes or more, in three of ten from its first to its last, all
    of them in the first 35 per cent of the book, and eight scenes or more follow without it.
    `objects` are the counts of `objects_in` for each scene in order; what touches a thread that is
    `known` is left out. The figures were set on the demo book and tried on novels.
    """
    named = {word for thread in known for said in thread.words for word in said.split()}
    places: dict[str, list[int]] = {}
    for index, counts in enumerate(objects):
        for word in counts:
            places.setdefault(word, []).append(index)
    found = [
        (indices[-1], word)
        for word, indices in places.items()
        if word not in named
        and len(indices) >= _FEWEST_SCENES
        and len(indices) >= _DENSE * (indices[-1] - indices[0] + 1)
        and indices[-1] + 1 <= _OF_THE_BOOK * len(objects)
        and len(objects) - 1 - indices[-1] >= _SILENT
    ]
    return tuple(word for _, word in sorted(found))
