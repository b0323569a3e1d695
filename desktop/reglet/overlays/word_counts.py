"""How often each word stands in a book, counted scene by scene and kept."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping

from reglet.language.speech import Marks
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.overlays.reading import read_scene


class WordCounts:
    """The words of a book, as `ReadParagraph.plain_words` has them. Counts anew only the scenes
    whose text has changed since it was asked last.
    """

    def __init__(self) -> None:
        self._scenes: dict[str, tuple[Passage, Counter[str]]] = {}
        self._all: Counter[str] = Counter()

    def of(self, scenes: Iterable[Scene], marks: Marks) -> Mapping[str, int]:
        """How often each word stands in these scenes, all that the book has."""
        left = dict(self._scenes)
        for scene in scenes:
            kept = left.pop(scene.id, None)
            if kept is not None and kept[0] is scene.passage:
                continue
            words = [word for _, p in read_scene(scene, marks).prose() for word in p.plain_words]
            counted = Counter(words)
            self._all.update(counted)
            if kept is not None:
                self._all.subtract(kept[1])
            self._scenes[scene.id] = (scene.passage, counted)
        for scene_id, (_, counted) in left.items():
            self._all.subtract(counted)
            del self._scenes[scene_id]
        return self._all
