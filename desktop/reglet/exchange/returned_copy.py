"""A returned copy: what an editor or a reader wrote into the manuscript, as notes on the book.

The copy is compared with the state of the book that was sent, word by word, so that what the writer
has changed since is not taken for the editor's doing; each remark is then carried to where its
words stand now. The text of the book stays as it is.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from reglet.errors import DraftError
from reglet.exchange.copy_changes import CHANGE, Remark, Stream, restyled, retitled, told
from reglet.manuscript.anchored import Note
from reglet.manuscript.book import Book, fresh_id
from reglet.manuscript.difference import Difference, difference
from reglet.manuscript.editing import add_note
from reglet.manuscript.front_and_back import printed_back, printed_front
from reglet.manuscript.paragraph import Paragraph, SpanKind
from reglet.manuscript.scene import Scene

_TOLD_OTHERWISE = "deletion"
"""The kind of note that a tracked deletion becomes in a draft; here the comparison tells it."""

_LEAST_ALIKE = 0.2
"""The share of a copy's paragraphs that must stand in the book word for word (our own figure): an
editor who changes four in five has written another book.
"""


@dataclass(frozen=True)
class ReturnedCopy:
    """What was found in a copy: the state of the book it was made of, and the remarks in order."""

    sent: Book
    remarks: tuple[Remark, ...]
    restyled: int
    """Paragraphs whose style alone differs, which become no remarks."""
    plain: bool
    """Whether the copy has no italics at all where the book has some, as plain text has none."""

    @property
    def aside(self) -> str:
        """What differs and became no remark, in a sentence or two; "" where nothing does."""
        said = []
        if self.plain:
            said.append("The copy has no italics at all; no notes were made of that.")
        if self.restyled:
            what = "paragraph is" if self.restyled == 1 else "paragraphs are"
            said.append(
                f"{self.restyled:,} {what} set in another style in the copy; no notes were made of "
                "that."
            )
        return " ".join(said)


@dataclass(frozen=True, slots=True)
class TakenBack:
    """The book with the remarks as notes, and how many of each kind were new."""

    book: Book
    comments: int
    changes: int
    there: int
    """Remarks that stood in the book already."""

    @property
    def said(self) -> str:
        """What was done, in a sentence or two for the writer."""
        found = [
            f"{count:,} {noun}{'' if count == 1 else 's'}"
            for count, noun in ((self.comments, "comment"), (self.changes, "change"))
            if count
        ]
        became = "a note" if self.comments + self.changes == 1 else "notes"
        before = "" if not self.there else f" {self.there:,} stood in the book already."
        if not found:
            return f"Nothing new was found in the copy; the book is as it was.{before}"
        return f"{' and '.join(found)} became {became}. Your text stays as it is.{before}"


def read_returned(states: Iterable[Book], returned: Book, name: str) -> ReturnedCopy:
    """The remarks in a copy that was read as a draft, `returned`. `states` are the states of the
    book that may have been sent, the likeliest first; `name` is the file's, for who is not named.

    Raises DraftError where the copy is of none of them.
    """
    there = Counter(_paragraphs(returned))
    if not there:
        raise DraftError(f"There is no text in “{name}”. Nothing was changed.")
    titles, looks = Counter(_titles(returned)), Counter(_looks(returned))

    def alike(state: Book) -> tuple[int, int, int]:
        """The paragraphs in common; of states with the same, the titles and the italics tell."""
        return (
            (there & Counter(_paragraphs(state))).total(),
            (titles & Counter(_titles(state))).total(),
            (looks & Counter(_looks(state))).total(),
        )

    # The first of those that are alike: max keeps it.
    sent = max(states, key=alike)
    sent = replace(sent, front=printed_front(sent), back=printed_back(sent))
    if alike(sent)[0] < _LEAST_ALIKE * there.total():
        raise DraftError(
            f"“{name}” is no copy of this book: few of its paragraphs stand in it. Nothing was "
            "changed. To make a book of it, bring it in as a draft."
        )
    was, copy = Stream(sent.texts), Stream(returned.texts)
    led = difference(copy.passage, was.passage)
    comments = [
        note for scene in returned.texts for note in scene.notes if note.kind != _TOLD_OTHERWISE
    ]
    authors = Counter(note.author for note in comments if note.author)
    author = authors.most_common(1)[0][0] if authors else name
    plain = _dressed(sent) and not _dressed(returned)
    remarks = [
        *retitled(led, copy, was, (returned, sent), author),
        *_comments(returned.texts, copy, led, was),
        *told(led, copy, was, author, dressed=not plain),
    ]
    order = {scene.id: number for number, scene in enumerate(sent.texts)}
    remarks.sort(key=lambda each: (order[each.scene], each.start, each.end))
    return ReturnedCopy(sent, tuple(remarks), restyled(led), plain)


def take_back(book: Book, copy: ReturnedCopy) -> TakenBack:
    """The book as it is now with the remarks of a copy as notes, where their words stand now or
    stood last. What is a note of the book already is left out.
    """
    differences: dict[str, Difference] = {}
    counts: Counter[str] = Counter()
    before = Counter(_key(note) for scene in book.texts for note in scene.notes)
    for remark in copy.remarks:
        scene_id, start, end = _place_now(book, copy.sent, remark, differences)
        if not scene_id:
            continue
        note = Note(
            fresh_id("note"),
            start,
            end,
            remark.words,
            remark.text,
            remark.made,
            remark.author,
            remark.kind,
        )
        if before[_key(note)]:
            before[_key(note)] -= 1
            counts["there"] += 1
            continue
        book = add_note(book, scene_id, note)
        counts["changes" if remark.kind == CHANGE else "comments"] += 1
    return TakenBack(book, counts["comments"], counts["changes"], counts["there"])


def _paragraphs(book: Book) -> Iterator[str]:
    for scene in book.texts:
        for paragraph in scene.passage.paragraphs:
            if paragraph.text.strip():
                yield paragraph.text


def _titles(book: Book) -> Iterator[str]:
    yield from (each.title for each in (*book.front, *book.back))
    yield from (part.title for part in book.parts)
    yield from (chapter.title for chapter in book.chapters)


def _looks(book: Book) -> Iterator[Paragraph]:
    return (each for scene in book.texts for each in scene.passage.paragraphs)


def _dressed(book: Book) -> bool:
    """Whether anything in a book is in italics, bold and so on."""
    return any(span.kind is not SpanKind.LANGUAGE for each in _looks(book) for span in each.spans)


def _comments(
    scenes: Sequence[Scene], copy: Stream, led: Difference, sent: Stream
) -> Iterator[Remark]:
    for scene, first in zip(scenes, copy.starts, strict=True):
        for note in scene.notes:
            if note.kind != _TOLD_OTHERWISE:
                span = led.change.carry_span(first + note.start, first + note.end)
                yield Remark(
                    *sent.place(*span), note.words, note.text, note.made, note.author, note.kind
                )


def _place_now(
    book: Book, sent: Book, remark: Remark, differences: dict[str, Difference]
) -> tuple[str, int, int]:
    """Where the words of a remark stand in the book as it is; where their scene has left it, at the
    end of the one before.
    """
    ids = [scene.id for scene in sent.texts]
    at = ids.index(remark.scene)
    if not book.has_scene(remark.scene):
        near = [each for each in (*reversed(ids[:at]), *ids[at:]) if book.has_scene(each)]
        near += [scene.id for scene in book.texts]
        if not near:
            return "", 0, 0
        end = len(book.scene(near[0]).passage)
        return near[0], end, end
    old, new = sent.scene(remark.scene).passage, book.scene(remark.scene).passage
    if old == new:
        return remark.scene, remark.start, remark.end
    if remark.scene not in differences:
        differences[remark.scene] = difference(old, new)
    return remark.scene, *differences[remark.scene].change.carry_span(remark.start, remark.end)


def _key(note: Note) -> tuple[str, str, str]:
    return note.author, note.words, note.text
