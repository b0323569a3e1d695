"""Words of scenes, counted again only where the text has changed."""

from __future__ import annotations

from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.manuscript.words import count_words


def words_of(passage: Passage) -> int:
    """The words of a passage."""
    return sum(count_words(paragraph.text) for paragraph in passage.paragraphs)


def counted(number: int, noun: str) -> str:
    """A number with its noun: "1 word", "1,200 words"."""
    return f"{number:,} {noun if number == 1 else noun + 's'}"


class WordCounts:
    """Remembers the count of each scene's text."""

    def __init__(self) -> None:
        self._known: dict[str, tuple[Passage, int]] = {}

    def of(self, scene: Scene) -> int:
        """The words of a scene."""
        known = self._known.get(scene.id)
        if known and known[0] is scene.passage:
            return known[1]
        counted = words_of(scene.passage)
        self._known[scene.id] = (scene.passage, counted)
        return counted
