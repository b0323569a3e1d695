"""The first read: the reader's own pace, what is left, the notes made, and the rest before it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cached_property

from reglet.manuscript.anchored import Answer, Note, in_order
from reglet.manuscript.book import Book, ReadingPlace, Rest
from reglet.manuscript.words import count_words

USUAL_PACE = 260
"""Words a minute that adults read fiction at silently, on average: M. Brysbaert, "How many words do
we read per minute? A review and meta-analysis of reading rate", Journal of Memory and Language 109
(2019).
"""
SLOWEST, FASTEST = 80, 700
"""Words a minute beyond which somebody is not reading but has left, or leafs (our own figures)."""
_TRUSTED = 2000
"""Words read from which the measured pace counts as much as the usual one (our own figure)."""

USUAL_REST = timedelta(days=14)
"""A week or two is common practice."""

KINDS = ("doubt", "slow", "lovely", "missing before", "does this follow?")
"""Kinds of note for a keystroke each, until the writer makes their own."""


def pace(place: ReadingPlace) -> float:
    """The reader's pace in words a minute: the usual one at first, their own more and more."""
    if place.seconds <= 0 or place.words <= 0:
        return USUAL_PACE
    own = min(FASTEST, max(SLOWEST, place.words * 60 / place.seconds))
    return (own * place.words + USUAL_PACE * _TRUSTED) / (place.words + _TRUSTED)


def read_to(book: Book, scene: str, position: int, words: int = 0, seconds: float = 0.0) -> Book:
    """The book with the reading come to code point `position` of a scene, `words` having been read
    in `seconds` since the last time. A stretch slower or faster than anybody reads is not measured.

    Raises UnknownThing.
    """
    book.scene(scene)
    place = replace(book.reading, scene=scene, position=position)
    if words > 0 and seconds > 0 and SLOWEST <= words * 60 / seconds <= FASTEST:
        place = replace(place, words=place.words + words, seconds=place.seconds + seconds)
    return replace(book, reading=place)


def begin_again(book: Book) -> Book:
    """The book with the reading back at its start; the reader's pace is kept."""
    return replace(book, reading=replace(book.reading, scene="", position=0))


@dataclass(frozen=True, slots=True)
class Progress:
    """How far the first read has come. `minutes` are those left, at the reader's pace."""

    words_read: int
    words_left: int
    pace: float

    @property
    def share(self) -> float:
        """The share of the book that is read, from 0 to 1."""
        whole = self.words_read + self.words_left
        return self.words_read / whole if whole else 1.0

    @property
    def minutes(self) -> float:
        """Minutes left."""
        return self.words_left / self.pace


def progress(book: Book) -> Progress:
    """How far the first read has come; not begun, where its scene is no longer in the book."""
    read = whole = 0
    place = book.reading
    for scene in book.texts:
        if scene.id == place.scene:
            read = whole + count_words(scene.passage.text[: place.position])
        whole += scene.passage.word_count
    return Progress(read, whole - read, pace(place))


@dataclass(frozen=True)
class SceneNotes:
    """The notes of one scene in order of place, with its chapter's title."""

    scene: str
    title: str
    chapter: str
    notes: tuple[Note, ...]

    @cached_property
    def kinds(self) -> Mapping[str, int]:
        """How many there are of each kind; "" stands for those without one."""
        return Counter(note.kind for note in self.notes)

    @property
    def open(self) -> int:
        """How many wait for an answer."""
        return sum(note.answer is Answer.OPEN for note in self.notes)


def notes_in_order(book: Book) -> tuple[SceneNotes, ...]:
    """The scenes that have notes, in reading order: what a first read ends with."""
    return tuple(
        SceneNotes(
            scene.id,
            scene.title,
            chapter.title if chapter else "",
            in_order(scene.notes),
        )
        for _, chapter, scene in book.walk()
        if scene.notes
    )


def remark(said: str) -> tuple[str, str]:
    """The kind and the text of a note as it is typed: "#cold: who is he?" is of the kind "cold",
    which from then on is one of the writer's own; what begins otherwise is of none.
    """
    if not said.startswith("#"):
        return "", said
    kind, _, text = said[1:].partition(":")
    return kind.strip(), text.strip()


def kinds_of(book: Book) -> tuple[str, ...]:
    """The kinds of note to offer: our own, then those the writer has used, most used first."""
    used = Counter(
        note.kind
        for scene in book.texts
        for note in scene.notes
        if note.kind and note.kind not in _BROUGHT_IN
    )
    return tuple(dict.fromkeys((*KINDS, *(kind for kind, _ in used.most_common()))))


_BROUGHT_IN = ("comment", "insertion", "deletion", "change")
"""Kinds of notes that the comments and changes of a draft or a returned copy become."""


def put_to_rest(book: Book, today: date, until: date | None = None) -> Book:
    """The draft put to rest until a day; two weeks on, unless one is given."""
    return replace(book, rest=Rest(today, until or today + USUAL_REST))


def overruled(book: Book) -> Book:
    """The rest overruled by the writer: the text may be changed and nothing asks again."""
    return replace(book, rest=replace(book.rest, overruled=True)) if book.rest else book


def woken(book: Book) -> Book:
    """The book without a rest."""
    return replace(book, rest=None)


def days_of_rest_left(book: Book, today: date) -> int:
    """Days until the rest is over; 0 where it is, or there is none."""
    return max(0, (book.rest.until - today).days) if book.rest else 0


def asks_before_change(book: Book, today: date) -> bool:
    """Whether the writer is to be asked, once, before the text is changed."""
    return days_of_rest_left(book, today) > 0 and not (book.rest and book.rest.overruled)
