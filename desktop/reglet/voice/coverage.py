"""What has been heard of the book, how often, and how much there is still to hear.

Hearings are counted by paragraph and kept on the scene by the paragraph's words (`Scene.heard`), so
a save after a hearing writes one scene's sheet, and a changed paragraph is unheard again.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace

from reglet.manuscript.book import Book
from reglet.manuscript.heard import Heard, most_heard, paragraph_key
from reglet.manuscript.paragraph import Style
from reglet.manuscript.scene import Scene
from reglet.manuscript.words import count_words
from reglet.voice.reading_order import Piece, Place
from reglet.voice.reading_order import of_scene as sentences_of

AIM = 3
"""Hearings of the whole book; two to three are common practice of proofreading by ear."""
AIMS = (1, 2, 3, 4, 5)
"""What may be aimed at."""
USUAL_SECONDS_A_WORD = 0.32
"""Of the built-in voice at its own pace, pauses included: measured by tests/benchmarks."""
_REST_AFTER = 45 * 60
"""Seconds of listening without a rest. Common practice; no figure of medicine."""


@dataclass(frozen=True, slots=True)
class Hearing:
    """One paragraph of a scene: its words, and how often it was heard since it last changed."""

    words: int
    times: int


@dataclass(frozen=True, slots=True)
class Coverage:
    """What has been heard of a scene, a chapter or the book, paragraph by paragraph in order."""

    paragraphs: tuple[Hearing, ...]

    @property
    def words(self) -> int:
        """How many words there are to hear."""
        return sum(hearing.words for hearing in self.paragraphs)

    def share(self, times: int = 1) -> float:
        """The part of the words, 0.0 to 1.0, heard at least so many times; 1.0 of no words."""
        heard = sum(hearing.words for hearing in self.paragraphs if hearing.times >= times)
        return heard / self.words if self.words else 1.0

    @property
    def hearings(self) -> float:
        """How often a word was heard on average."""
        heard = sum(hearing.words * hearing.times for hearing in self.paragraphs)
        return heard / self.words if self.words else 0.0

    @property
    def whole_hearings(self) -> int:
        """How often all of it was heard."""
        return min((hearing.times for hearing in self.paragraphs), default=0)

    def words_left(self, aim: int = AIM) -> int:
        """The words still to be listened to until all have been heard `aim` times."""
        return sum(each.words * max(0, aim - each.times) for each in self.paragraphs)


@dataclass(frozen=True, slots=True)
class SceneHeard:
    """What has been heard of one scene."""

    scene: str
    title: str
    covered: Coverage


@dataclass(frozen=True, slots=True)
class ChapterHeard:
    """What has been heard of a chapter; front and back matter are chapters of their own here."""

    title: str
    scenes: tuple[SceneHeard, ...]

    @property
    def covered(self) -> Coverage:
        """Of all its scenes together."""
        return together(each.covered for each in self.scenes)


class Counted:
    """Counts what was heard of a book, and again only the scenes that have changed since."""

    def __init__(self) -> None:
        self._known: dict[str, tuple[Scene, Coverage]] = {}

    def chapters(self, book: Book) -> tuple[ChapterHeard, ...]:
        """Chapter by chapter, in the order of reading. One without anything to hear is left out."""
        self._known = {
            scene.id: known
            if (known := self._known.get(scene.id)) and known[0] is scene
            else (scene, of_scene(scene))
            for scene in book.texts
        }
        parts: list[tuple[str, tuple[Scene, ...]]] = [("Front matter", book.front)]
        parts += [
            (chapter.title or f"Chapter {number}", chapter.scenes)
            for number, chapter in enumerate(book.chapters, start=1)
        ]
        parts.append(("Back matter", book.back))
        found = (
            ChapterHeard(
                title,
                tuple(
                    SceneHeard(scene.id, scene.title, covered)
                    for scene in scenes
                    if (covered := self._known[scene.id][1]).words
                ),
            )
            for title, scenes in parts
        )
        return tuple(each for each in found if each.scenes)


class HeardSentences:
    """Which sentences of which paragraphs have been heard, until all of a paragraph have."""

    def __init__(self) -> None:
        self._missing: dict[tuple[str, str], set[str]] = {}

    def heard(self, scene: Scene, piece: Piece) -> str | None:
        """A sentence of the scene as it stands was heard to its end: the `paragraph_key` of its
        paragraph, if with it all of that has been, or None. Raises IndexError outside the text.
        """
        number, _ = scene.passage.locate(piece.start)
        key = paragraph_key(scene.passage.paragraphs[number].text)
        missing = self._missing.get((scene.id, key))
        if missing is None:
            missing = {each.text for each in sentences_of(scene) if each.paragraph == number}
            self._missing[scene.id, key] = missing
        missing.discard(piece.text)
        if missing:
            return None
        del self._missing[scene.id, key]
        return key


def of_scene(scene: Scene) -> Coverage:
    """What has been heard of a scene. A paragraph that stands twice counts half its hearings."""
    times = {heard.paragraph: heard.times for heard in scene.heard}
    texts = [
        paragraph.text
        for paragraph in scene.passage.paragraphs
        if paragraph.style is not Style.SCENE_BREAK
    ]
    standing = Counter(texts)
    return Coverage(
        tuple(
            Hearing(words, times.get(paragraph_key(text), 0) // standing[text])
            for text in texts
            if (words := count_words(text))
        )
    )


def of_scenes(scenes: Iterable[Scene]) -> Coverage:
    """What has been heard of some scenes together: of a chapter, of the book."""
    return together(map(of_scene, scenes))


def together(parts: Iterable[Coverage]) -> Coverage:
    """What has been heard of several parts of a book, taken as one."""
    return Coverage(tuple(each for part in parts for each in part.paragraphs))


def seconds_to_aim(covered: Coverage, aim: int, pace: float = 1.0) -> float:
    """How long there is still to listen at this pace until all has been heard `aim` times."""
    return covered.words_left(aim) * USUAL_SECONDS_A_WORD / pace


def with_hearing(book: Book, scene_id: str, paragraph: str) -> Book:
    """The book with one more hearing of the paragraph of this `paragraph_key`.

    What is known of paragraphs that no longer stand there is kept for a while, since an edit may be
    undone. Raises UnknownThing.
    """
    scene = book.scene(scene_id)
    times = {heard.paragraph: heard.times for heard in scene.heard}
    times[paragraph] = times.pop(paragraph, 0) + 1
    if len(times) > 2 * len(scene.passage.paragraphs) + 10:
        standing = {paragraph_key(each.text) for each in scene.passage.paragraphs}
        times = {key: count for key, count in times.items() if key in standing | {paragraph}}
    heard = tuple(Heard(key, count) for key, count in times.items())
    return book.with_scene(replace(scene, heard=heard))


def with_hearings_of(book: Book, other: Book) -> Book:
    """`book` knowing also what was heard of `other`: so undoing an edit takes back no hearing."""
    for scene in other.texts:
        if scene.heard and book.has_scene(scene.id):
            here = book.scene(scene.id)
            heard = most_heard(here.heard, scene.heard)
            if heard != here.heard:
                book = book.with_scene(replace(here, heard=heard))
    return book


def seconds_left(book: Book, start: Place | None = None, pace: float = 1.0) -> float:
    """How long the rest of the book lasts at this pace, read once from `start` on.

    Raises UnknownThing.
    """
    scenes, before = book.texts, 0
    if start is not None:
        first = book.scene(start.scene)
        scenes = scenes[scenes.index(first) :]
        before = count_words(first.passage.text[: start.position])
    words = sum(scene.passage.word_count for scene in scenes) - before
    return words * USUAL_SECONDS_A_WORD / pace


def word_of_rest(seconds: float, told: float = 0.0) -> str:
    """A sentence for whoever has listened so many seconds without a rest, or none. `told` is when,
    on the same clock, it was last said.
    """
    if seconds - told < _REST_AFTER:
        return ""
    return (
        f"You have listened for {round(seconds / 60)} minutes. Eyes and ears catch more after a "
        "rest; if either tires quickly, a doctor or an audiologist knows more than a program."
    )
