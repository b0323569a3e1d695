"""The book in the order it is read aloud: sentence by sentence, with the silence behind each."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace

from reglet.errors import UnknownThing
from reglet.language.sentences import Sentence, sentences
from reglet.manuscript.book import Book
from reglet.manuscript.change import Change, Lean
from reglet.manuscript.paragraph import LINE_BREAK, Style
from reglet.manuscript.scene import Scene
from reglet.manuscript.words import count_words, word_pattern

# Seconds of silence at the voice's own pace. Common practice of reading aloud, set by ear.
AFTER_SENTENCE = 0.30
_AFTER_PARAGRAPH = 0.55
_AFTER_HEADING = 1.0
_AFTER_SCENE = 1.5
_AT_BREAK = 1.5
_WITHIN_SENTENCE = 0.12
_LONG = 40
"""Words beyond which a sentence is said in parts, so that its first word need not wait for all."""
_PART = 20
"""Words of such a part at least."""
_PARTING = re.compile(r"[,;:–—]+[”’\"')]*\s+|[—–](?=\w)")


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A position in the book: code point `position` of the text of a scene."""

    scene: str
    position: int = 0

    def carried(self, scene_id: str, change: Change) -> Place:
        """Where it is once `change` is made in the text of a scene."""
        if scene_id != self.scene:
            return self
        return Place(scene_id, change.carry(self.position, Lean.BACK))


@dataclass(frozen=True, slots=True)
class Piece:
    """What is said in one go: a sentence, a part of a very long one, or a chapter's heading.

    `text` is code points `start` up to `end` of the scene's text; a heading stands in no scene's
    text, so for one both are 0 and `heading` is set. `paragraph` is the number of the paragraph in
    its scene, `pause` the seconds of silence behind the piece at the voice's own pace.
    """

    scene: str
    start: int
    end: int
    text: str
    pause: float
    paragraph: int = 0
    heading: bool = False

    @property
    def place(self) -> Place:
        """Where it begins."""
        return Place(self.scene, self.start)

    def carried(self, scene_id: str, change: Change) -> Piece:
        """The same words where they stand once `change` is made in the text of a scene."""
        if scene_id != self.scene or self.heading:
            return self
        start = change.carry(self.start, Lean.FORWARD)
        return replace(self, start=start, end=start + len(self.text))

    def stands_in(self, book: Book) -> bool:
        """Whether its scene is in the book and has its words where they were."""
        if not book.has_scene(self.scene):
            return False
        text = book.scene(self.scene).passage.text
        return self.heading or text[self.start : self.end] == self.text


Pieces = Iterator[Piece]


def pieces(
    book: Book, start: Place | None = None, chapter: str | None = None, headings: bool = True
) -> Pieces:
    """What is read from `start` on (the sentence that holds it first), or the whole book.

    With `chapter`, only what stands in it. Chapter headings are read where the scene they open is
    read from its first word, but that of the first scene not without `headings`. Raises
    UnknownThing for a scene that is not in the book.
    """
    begun = start is None
    if start is not None:
        book.scene(start.scene)
    heading = ""
    for _, within, scene in book.walk():
        if chapter is not None and (within is None or within.id != chapter):
            continue
        if within is not None and within.scenes[0] is scene:
            heading = within.title.replace(LINE_BREAK, ". ")
        else:
            heading = ""
        if not begun and start is not None and scene.id == start.scene:
            begun = True
            if start.position > 0:
                yield from _from(scene, start.position)
                continue
        if not begun:
            continue
        if heading.strip() and headings:
            yield Piece(scene.id, 0, 0, heading, _AFTER_HEADING, heading=True)
        headings = True
        yield from of_scene(scene)


def of_scene(scene: Scene) -> tuple[Piece, ...]:
    """The sentences of a scene; a break within it only lengthens the silence before it."""
    found: list[Piece] = []
    paragraphs = scene.passage.paragraphs
    for number, paragraph in enumerate(paragraphs):
        if paragraph.style is Style.SCENE_BREAK:
            if found:
                found[-1] = replace(found[-1], pause=_AT_BREAK)
            continue
        offset = scene.passage.starts[number]
        spans = [
            part
            for sentence in sentences(paragraph.text)
            if _has_word(paragraph.text[sentence.start : sentence.end])
            for part in _parts(paragraph.text, sentence)
        ]
        for start, end, pause in spans:
            found.append(
                Piece(
                    scene.id,
                    offset + start,
                    offset + end,
                    paragraph.text[start:end],
                    pause,
                    number,
                )
            )
        if spans:
            heading = paragraph.style is Style.HEADING
            pause = _AFTER_HEADING if heading else _AFTER_PARAGRAPH
            found[-1] = replace(found[-1], pause=pause)
    if found:
        found[-1] = replace(found[-1], pause=_AFTER_SCENE)
    return tuple(found)


def sentence_at(book: Book, place: Place) -> Place:
    """The start of the sentence that holds `place`, or the next one's. Raises UnknownThing."""
    starts = _starts(book.scene(place.scene))
    before = [start for start in starts if start <= place.position]
    return Place(place.scene, before[-1] if before else starts[0] if starts else 0)


def sentence_before(book: Book, place: Place) -> Place:
    """The start of the sentence before the one that holds `place`, in an earlier scene if need be;
    that of the book's first where none is before. Raises UnknownThing.
    """
    here = sentence_at(book, place)
    earlier = [start for start in _starts(book.scene(here.scene)) if start < here.position]
    if earlier:
        return Place(here.scene, earlier[-1])
    previous = _scene_before(book, here.scene)
    return here if previous is None else Place(previous.id, _starts(previous)[-1])


def paragraph_before(book: Book, place: Place) -> Place:
    """The start of the paragraph that holds `place`, or, where that is where the sentence at
    `place` begins, of the paragraph before. Raises UnknownThing.
    """
    here = sentence_at(book, place)
    firsts = _paragraph_starts(book.scene(here.scene))
    earlier = [start for start in firsts if start < here.position]
    if earlier:
        return Place(here.scene, earlier[-1])
    previous = _scene_before(book, here.scene)
    return here if previous is None else Place(previous.id, _paragraph_starts(previous)[-1])


def passage_at(book: Book, place: Place, words: int) -> str:
    """What is read from `place` on, whole sentences of its paragraph of about so many words: a
    sample of the book. The next paragraph's where none is left; "" at the scene's end. Raises
    UnknownThing.
    """
    found: list[Piece] = []
    for piece in _from(book.scene(place.scene), place.position):
        if found and (piece.paragraph != found[0].paragraph or words <= 0):
            break
        found.append(piece)
        words -= count_words(piece.text)
    return " ".join(piece.text for piece in found)


def still_in(book: Book, place: Place) -> Place | None:
    """`place`, if its scene is still in the book, held within its text; None if it is not."""
    try:
        scene = book.scene(place.scene)
    except UnknownThing:
        return None
    return Place(place.scene, min(place.position, len(scene.passage)))


def _from(scene: Scene, position: int) -> Iterator[Piece]:
    found = of_scene(scene)
    first = next((at for at, piece in enumerate(found) if piece.end > position), len(found))
    yield from found[first:]


def _parts(text: str, sentence: Sentence) -> Iterator[tuple[int, int, float]]:
    """A sentence as it is said, with the silence behind each part: whole, or at marks within."""
    left = count_words(text[sentence.start : sentence.end])
    start = at = sentence.start
    words = 0
    if left > _LONG:
        for mark in _PARTING.finditer(text, sentence.start, sentence.end):
            between = count_words(text[at : mark.start()])
            words, left, at = words + between, left - between, mark.end()
            if words >= _PART and left >= _PART // 2:
                end = start + len(text[start : mark.end()].rstrip())
                yield start, end, _WITHIN_SENTENCE
                start, words = mark.end(), 0
    yield start, sentence.end, AFTER_SENTENCE


def _has_word(text: str) -> bool:
    return word_pattern(text).search(text) is not None


def _starts(scene: Scene) -> list[int]:
    return [piece.start for piece in of_scene(scene)]


def _paragraph_starts(scene: Scene) -> list[int]:
    firsts: dict[int, int] = {}
    for piece in of_scene(scene):
        firsts.setdefault(piece.paragraph, piece.start)
    return list(firsts.values())


def _scene_before(book: Book, scene_id: str) -> Scene | None:
    """The nearest scene before this one that has anything to read."""
    found = None
    for scene in book.texts:
        if scene.id == scene_id:
            return found
        if _starts(scene):
            found = scene
    return found
