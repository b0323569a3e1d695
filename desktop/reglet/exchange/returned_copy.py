"""A returned copy: what an editor or a reader wrote into the manuscript, as notes on the book.

The copy is compared with the state of the book that was sent, word by word, so that what the writer
has changed since is not taken for the editor's doing; each remark is then carried to where its
words stand now. The text of the book stays as it is.
"""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from itertools import accumulate, chain

from reglet.errors import DraftError
from reglet.manuscript.anchored import Note
from reglet.manuscript.book import Book, fresh_id
from reglet.manuscript.difference import ChangedPassage, Difference, difference
from reglet.manuscript.editing import add_note
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene

CHANGE = "change"
"""The kind of a note that tells a change made in a returned copy."""

_TOLD_OTHERWISE = "deletion"
"""The kind of note that a tracked deletion becomes in a draft; here the comparison tells it."""

_LEAST_ALIKE = 0.2
"""The share of a copy's paragraphs that must stand in the book word for word (our own figure): an
editor who changes four in five has written another book.
"""

_TOGETHER = 12
"""Changed places no further apart than this, in code points, are told as one (our own figure)."""

_TURNED = 80
"""How far a stretch is looked at for the beginning of its paragraph, in code points."""


@dataclass(frozen=True, slots=True)
class Remark:
    """A remark on `words` of a scene as it was sent, from code point `start` to `end` of it."""

    scene: str
    start: int
    end: int
    words: str
    text: str
    made: datetime
    author: str
    kind: str


@dataclass(frozen=True)
class ReturnedCopy:
    """What was found in a copy: the state of the book it was made of, and the remarks in order."""

    sent: Book
    remarks: tuple[Remark, ...]
    dressed: int
    """Places where italics or the style of a paragraph alone differ, which become no remarks."""


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
        before = "" if not self.there else f" {self.there:,} stood in the book already."
        if not found:
            return f"Nothing new was found in the copy; the book is as it was.{before}"
        return f"{' and '.join(found)} became notes. Your text stays as it is.{before}"


def read_returned(states: Iterable[Book], returned: Book, name: str) -> ReturnedCopy:
    """The remarks in a copy that was read as a draft, `returned`. `states` are the states of the
    book that may have been sent, the likeliest first; `name` is the file's, for who is not named.

    Raises DraftError where the copy is of none of them.
    """
    there = Counter(_paragraphs(returned))
    if not there:
        raise DraftError(f"There is no text in “{name}”. Nothing was changed.")
    # The first of those that are alike: max keeps it.
    sent = max(states, key=lambda state: (there & Counter(_paragraphs(state))).total())
    if (there & Counter(_paragraphs(sent))).total() < _LEAST_ALIKE * there.total():
        raise DraftError(
            f"“{name}” is no copy of this book: few of its paragraphs stand in it. Nothing was "
            "changed. To make a book of it, bring it in as a draft."
        )
    now, copy = _Stream(sent.texts), _Stream(returned.texts)
    led = difference(copy.passage, now.passage)
    comments = [
        note for scene in returned.texts for note in scene.notes if note.kind != _TOLD_OTHERWISE
    ]
    authors = Counter(note.author for note in comments if note.author)
    author = authors.most_common(1)[0][0] if authors else name
    worded, dressed = _changes(led, copy.passage.text, now.passage.text)
    remarks = [
        *_comments(returned.texts, copy, led, now),
        *(_told(each, copy, now, author) for each in worded),
    ]
    order = {scene.id: number for number, scene in enumerate(sent.texts)}
    remarks.sort(key=lambda each: (order[each.scene], each.start, each.end))
    return ReturnedCopy(sent, tuple(remarks), dressed)


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


class _Stream:
    """Scenes as one text, a "\\n" between them."""

    def __init__(self, scenes: Sequence[Scene]) -> None:
        self.scenes = scenes
        lengths = [len(scene.passage) + 1 for scene in scenes]
        self.starts = [0, *accumulate(lengths)][:-1]

    @cached_property
    def passage(self) -> Passage:
        """All of it."""
        return Passage.of(chain.from_iterable(each.passage.paragraphs for each in self.scenes))

    def place(self, start: int, end: int) -> tuple[str, int, int]:
        """A span in the scene that it begins in: what reaches beyond is left out."""
        at = bisect_right(self.starts, start) - 1
        scene, first = self.scenes[at], self.starts[at]
        longest = len(scene.passage)
        start = min(start - first, longest)
        return scene.id, start, max(start, min(end - first, longest))


def _paragraphs(book: Book) -> Iterator[str]:
    for scene in book.texts:
        for paragraph in scene.passage.paragraphs:
            if paragraph.text.strip():
                yield paragraph.text


def _comments(
    scenes: Sequence[Scene], copy: _Stream, led: Difference, sent: _Stream
) -> Iterator[Remark]:
    for scene, first in zip(scenes, copy.starts, strict=True):
        for note in scene.notes:
            if note.kind != _TOLD_OTHERWISE:
                span = led.change.carry_span(first + note.start, first + note.end)
                yield Remark(
                    *sent.place(*span), note.words, note.text, note.made, note.author, note.kind
                )


def _changes(led: Difference, old: str, new: str) -> tuple[list[list[ChangedPassage]], int]:
    """The changed places whose words differ, near ones together, and how many others there are."""
    groups: list[list[ChangedPassage]] = []
    dressed = 0
    for each in led.changed:
        if old[each.old_start : each.old_end] == new[each.new_start : each.new_end]:
            dressed += 1
            continue
        last = groups[-1][-1] if groups else None
        between = new[last.new_end : each.new_start] if last else "\n"
        if "\n" in between or len(between) > _TOGETHER:
            groups.append([each])
        else:
            groups[-1].append(each)
    return groups, dressed


def _told(group: list[ChangedPassage], copy: _Stream, sent: _Stream, author: str) -> Remark:
    first, last = group[0], group[-1]
    start, end = first.new_start, last.new_end
    old_start, old_end = first.old_start, last.old_end
    if old_start == old_end:
        start, end = _by_paragraphs(sent.passage.text, start, end)
    elif start == end:
        old_start, old_end = _by_paragraphs(copy.passage.text, old_start, old_end)
    words = sent.passage.text[start:end]
    theirs = copy.passage.text[old_start:old_end].strip("\n")
    shown = words.strip("\n")
    if not (shown.strip() or theirs.strip()):
        text = "Paragraphs are joined here." if "\n" in words else "A paragraph is parted here."
    elif not shown.strip():
        text = f"Put in: “{theirs.strip()}”"
    elif not theirs.strip():
        text = f"Taken out: “{shown.strip()}”"
    else:
        text = f"“{shown}” → “{theirs}”"
    made = datetime.now().astimezone()
    place = sent.place(start, end)
    return Remark(*place, shown, text, made, author, CHANGE)


def _by_paragraphs(text: str, start: int, end: int) -> tuple[int, int]:
    """A stretch that was put in or taken out, told from the beginning of a paragraph where it can
    be: of “A.¶B.¶”, with “.¶B” gone, “B.¶” is gone as well.
    """
    for by in range(min(_TURNED, start) + 1):
        if by and text[start - by] != text[end - by]:
            break
        if start == by or text[start - by - 1] == "\n":
            return start - by, end - by
    for by in range(1, min(_TURNED, len(text) - end) + 1):
        if text[start + by - 1] != text[end + by - 1]:
            break
        if text[start + by - 1] == "\n":
            return start + by, end + by
    return start, end


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
