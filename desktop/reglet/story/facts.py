"""The facts of each scene that views, queries and proposals stand on, kept as long as the scene's
text stays the same.

    analyst = Analyst()
    facts = analyst.read(book)      # after an edit the changed paragraphs alone are read
    facts.scenes[0].words, facts.cast, facts.times, facts.trails, facts.eyes
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from typing import NamedTuple

from reglet.language.prose import Prose
from reglet.language.speech import Marks, detect_marks, quotations_in
from reglet.manuscript.book import Book
from reglet.manuscript.paragraph import NO_PROSE, Style
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene, SceneSheet
from reglet.manuscript.words import count_words
from reglet.story import threads as threading
from reglet.story.cast import CastMember, SceneNames, cast_of, known_as
from reglet.story.contradictions import Contradiction, contradictions
from reglet.story.eyes import FEWEST_PARAGRAPHS, Eyes, eyes_of, in_a_book
from reglet.story.glimpses import Glimpse, first_person_in, first_pronouns_in, glimpses_in
from reglet.story.names import NameMention, names_in
from reglet.story.places import PlaceMention, place_of, places_in
from reglet.story.threads import Thread, Trail, read_thread, trail
from reglet.story.time import SceneTime, TimeMention, scene_time, story_days, times_in

_NOT_THE_NARRATORS = (Style.LETTER, Style.BLOCK_QUOTE, Style.VERSE)
"""Styles whose "I" and whose thoughts are not those of the one who tells the scene."""


class _Paragraph(NamedTuple):
    words: int
    spoken: int
    sentences: tuple[int, ...]
    names: tuple[NameMention, ...]
    times: tuple[TimeMention, ...]
    glimpses: tuple[Glimpse, ...]
    first_person: int
    pronouns: tuple[int, int]
    places: tuple[PlaceMention, ...]
    objects: tuple[str, ...]


def _read_paragraph(text: str, marks: Marks, continued: bool) -> _Paragraph:
    prose = Prose(text, marks, continued)
    names = names_in(prose)
    return _Paragraph(
        len(prose.words),
        prose.spoken_words,
        tuple(length for length in prose.sentence_lengths if length),
        names,
        times_in(prose),
        glimpses_in(prose, names),
        first_person_in(prose),
        first_pronouns_in(prose),
        places_in(prose, names),
        threading.objects_in(prose),
    )


@dataclass(frozen=True)
class SceneFacts:
    """What the text of one scene says by itself. Positions are code points of its text.

    `words` counts running text, headings left out; `spoken` those of them in speech; `sentences`
    are the lengths of its sentences in words. `first_person` is how often its narration says "I",
    and `first_person_paragraphs` in how many paragraphs; `first_pronouns` where it first says "he"
    and "she".
    """

    scene: Scene
    words: int
    spoken: int
    sentences: tuple[int, ...]
    named: SceneNames
    times: tuple[TimeMention, ...]
    glimpses: tuple[Glimpse, ...]
    first_person: int
    first_person_paragraphs: int
    first_pronouns: Mapping[str, int]
    places: tuple[PlaceMention, ...]
    objects: Counter[str]

    @property
    def told_by_i(self) -> int:
        """How often its narration says "I"; 0 where that is in too few paragraphs for whoever tells
        it, and may be a letter.
        """
        fewest = min(FEWEST_PARAGRAPHS, len(self.scene.passage.paragraphs))
        return self.first_person if self.first_person_paragraphs >= fewest else 0

    @property
    def dialogue(self) -> float:
        """The share of its words that are spoken, from 0 to 1."""
        return self.spoken / self.words if self.words else 0.0

    @property
    def sentence_mean(self) -> float:
        """The mean length of its sentences in words; 0 where it has none."""
        return sum(self.sentences) / len(self.sentences) if self.sentences else 0.0


def unread(scene: Scene) -> SceneFacts:
    """What is known of a scene that is still to be read: how long it is."""
    words = sum(
        count_words(paragraph.text)
        for paragraph in scene.passage.paragraphs
        if paragraph.style not in NO_PROSE
    )
    return SceneFacts(
        scene, words, 0, (), SceneNames(scene.id, ()), (), (), 0, 0, {}, (), Counter()
    )


@dataclass(frozen=True)
class StoryFacts:
    """The facts of a book: those of its scenes in telling order, and what they make together."""

    book: Book
    scenes: tuple[SceneFacts, ...]

    @cached_property
    def places(self) -> Mapping[str, int]:
        """The place of each scene in telling order, by its id."""
        return {each.scene.id: place for place, each in enumerate(self.scenes)}

    @cached_property
    def cast(self) -> tuple[CastMember, ...]:
        """The people named in the book; see `cast_of`."""
        return cast_of([each.named for each in self.scenes], self.book.cast)

    @cached_property
    def times(self) -> tuple[SceneTime, ...]:
        """When each scene happens, as far as is said."""
        return tuple(
            scene_time(each.scene.id, each.scene.passage.text, each.times, each.scene.sheet.when)
            for each in self.scenes
        )

    @cached_property
    def days(self) -> tuple[int | None, ...]:
        """The day of the story that each scene happens on; see `story_days`."""
        return story_days(self.times)

    @cached_property
    def contradictions(self) -> tuple[Contradiction, ...]:
        """What is said of time that cannot be so."""
        return contradictions(self.times)

    @cached_property
    def threads(self) -> tuple[Thread, ...]:
        """The writer's threads: those of the book, and those that only sheets name."""
        listed = [read_thread(said) for said in self.book.threads]
        named = {thread.name.lower() for thread in listed}
        for each in self.scenes:
            for name in each.scene.sheet.threads:
                if name.lower() not in named:
                    named.add(name.lower())
                    listed.append(read_thread(name))
        return tuple(listed)

    @cached_property
    def trails(self) -> tuple[Trail, ...]:
        """Where each of the writer's threads is touched."""
        scenes = [each.scene for each in self.scenes]
        return tuple(trail(thread, scenes) for thread in self.threads)

    @cached_property
    def proposed_trails(self) -> tuple[Trail, ...]:
        """Objects the book comes back to and then forgets; see `threads.vanished`."""
        scenes = [each.scene for each in self.scenes]
        words = threading.vanished([each.objects for each in self.scenes], self.threads)
        return tuple(trail(Thread(word, (word,)), scenes, proposed=True) for word in words)

    @cached_property
    def eyes(self) -> tuple[Eyes, ...]:
        """Whose eyes each scene is seen through."""
        names = known_as(self.cast)
        sexes = {member.name: member.sex for member in self.cast if member.sex}
        by_count = sorted(self.cast, key=lambda member: member.count)
        leads = {member.sex: member.name for member in by_count if member.sex}
        return in_a_book(
            tuple(
                eyes_of(
                    each.glimpses,
                    each.named.mentions,
                    names,
                    sexes,
                    each.told_by_i,
                    each.words - each.spoken,
                    names.get(each.scene.sheet.eyes, each.scene.sheet.eyes),
                    each.first_pronouns,
                    leads,
                )
                for each in self.scenes
            )
        )

    def proposed_sheet(self, place: int) -> SceneSheet:
        """The sheet of the scene at a place with its blanks filled from the text: those present
        (named in its narration, most often first), whose eyes, where, when, and threads.
        """
        scene = self.scenes[place].scene
        sheet = scene.sheet
        names = known_as(self.cast)
        # Whom speech alone names may be far away.
        present = Counter(
            names[each.form]
            for each in self.scenes[place].named.mentions
            if each.form in names and not each.spoken
        )
        touched = (
            t.thread.name for t in self.trails if any(each.scene == scene.id for each in t.touches)
        )
        return SceneSheet(
            who=sheet.who or tuple(name for name, _ in present.most_common()),
            eyes=sheet.eyes or self.eyes[place].name,
            when=sheet.when or self.times[place].label,
            threads=sheet.threads or tuple(touched),
            happens=sheet.happens,
            changes=sheet.changes,
            where=sheet.where or place_of(self.scenes[place].places, names),
            verdict=sheet.verdict,
        )


class Analyst:
    """Reads the facts of books. It holds no book, only what it has read in paragraphs it has seen,
    so that after an edit the changed paragraphs alone are read again.

    It may be shared by threads: what two of them read at once is merely read twice.
    """

    def __init__(self, paragraphs: int = 65_536) -> None:
        """`paragraphs`: how many are kept at most."""
        self._paragraph = lru_cache(maxsize=paragraphs)(_read_paragraph)
        self._scenes: dict[tuple[str, Marks], tuple[Passage, SceneFacts]] = {}

    def read(
        self,
        book: Book,
        marks: Marks | None = None,
        on_the_way: Callable[[Sequence[SceneFacts]], None] | None = None,
    ) -> StoryFacts:
        """The facts of a book's scenes. `marks` are its quotation marks, if they are known; else
        they are told from the book's first 60,000 characters or so. `on_the_way` is called after
        each scene with the facts so far; an exception that it raises ends the reading.
        """
        marks = marks or detect_marks(_head(book.scenes))
        read: list[SceneFacts] = []
        for scene in book.scenes:
            read.append(self._scene(scene, marks))
            if on_the_way is not None:
                on_the_way(read)
        scenes = tuple(read)
        present = {scene.id for scene in book.scenes}
        for key in [key for key in self._scenes if key[0] not in present]:
            self._scenes.pop(key, None)
        return StoryFacts(book, scenes)

    def knows(self, book: Book) -> bool:
        """Whether most scenes of a book have been read, so that the rest takes no time."""
        read = {scene_id for scene_id, _ in self._scenes}
        return sum(scene.id not in read for scene in book.scenes) <= _FEW

    def _scene(self, scene: Scene, marks: Marks) -> SceneFacts:
        key = (scene.id, marks)
        held = self._scenes.get(key)
        if held and (held[0] is scene.passage or held[0] == scene.passage):
            facts = held[1]
            if facts.scene is not scene:
                facts = replace(facts, scene=scene)  # its sheet or its notes changed, not its text
        else:
            facts = self._read(scene, marks)
        self._scenes[key] = scene.passage, facts
        return facts

    def _read(self, scene: Scene, marks: Marks) -> SceneFacts:
        paragraphs = scene.passage.paragraphs
        texts = [paragraph.text for paragraph in paragraphs]
        words = spoken = first_person = own_paragraphs = 0
        sentences: list[int] = []
        names: list[NameMention] = []
        times: list[TimeMention] = []
        glimpses: list[Glimpse] = []
        objects: Counter[str] = Counter()
        pronouns: dict[str, int] = {}
        places: list[PlaceMention] = []
        quotations = quotations_in(texts, marks)
        for paragraph, start, found in zip(
            paragraphs, scene.passage.starts, quotations, strict=True
        ):
            if paragraph.style in NO_PROSE or not paragraph.text:
                continue
            continued = any(q.continues and not q.opened for q in found)
            read = self._paragraph(paragraph.text, marks, continued)
            words += read.words
            spoken += read.spoken
            sentences += read.sentences
            objects.update(read.objects)
            names += [n._replace(start=n.start + start, end=n.end + start) for n in read.names]
            times += [t._replace(start=t.start + start, end=t.end + start) for t in read.times]
            if paragraph.style in _NOT_THE_NARRATORS:
                continue
            places += [p._replace(start=p.start + start, end=p.end + start) for p in read.places]
            first_person += read.first_person
            own_paragraphs += bool(read.first_person)
            for pronoun, at in zip(("he", "she"), read.pronouns, strict=True):
                if at >= 0:
                    pronouns.setdefault(pronoun, start + at)
            glimpses += [
                g._replace(start=g.start + start, end=g.end + start) for g in read.glimpses
            ]
        return SceneFacts(
            scene,
            words,
            spoken,
            tuple(sentences),
            SceneNames(scene.id, tuple(names)),
            tuple(times),
            tuple(glimpses),
            first_person,
            own_paragraphs,
            pronouns,
            tuple(places),
            objects,
        )


_FEW = 8
_ENOUGH_FOR_MARKS = 60_000


def _head(scenes: Sequence[Scene]) -> list[str]:
    texts: list[str] = []
    length = 0
    for scene in scenes:
        texts.append(scene.passage.text)
        length += len(texts[-1])
        if length > _ENOUGH_FOR_MARKS:
            break
    return texts
