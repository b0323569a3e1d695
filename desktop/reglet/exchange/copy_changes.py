"""What was changed in a returned copy, each change told in a sentence where its words were sent.

The copy and the state that was sent are looked at as two long texts, each with its scenes one
behind another.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from itertools import accumulate, chain, groupby
from typing import NamedTuple

from reglet.manuscript.book import Book
from reglet.manuscript.change import Lean
from reglet.manuscript.difference import ChangedPassage, Difference
from reglet.manuscript.paragraph import SpanKind
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene

CHANGE = "change"
"""The kind of a note that tells a change made in a returned copy."""

_TOGETHER = 12
"""Changed places no further apart than this, in code points, are told as one (our own figure)."""

_TURNED = 80
"""How far a stretch is looked at for the beginning of its paragraph, in code points."""

_DRESSES = {
    SpanKind.EMPHASIS: ("in italics", "no longer in italics"),
    SpanKind.STRONG: ("in bold", "no longer in bold"),
    SpanKind.SMALL_CAPITALS: ("in small capitals", "no longer in small capitals"),
    SpanKind.UNDERLINE: ("underlined", "no longer underlined"),
    SpanKind.STRIKE: ("struck through", "no longer struck through"),
}


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


class Stream:
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


def told(
    led: Difference, copy: Stream, sent: Stream, author: str, dressed: bool
) -> Iterator[Remark]:
    """A remark on each changed place; on one where the words are dressed otherwise (in italics, in
    bold) and the same, only if `dressed`. `led` leads from the copy to what was sent.
    """
    made = datetime.now().astimezone()

    def remark(start: int, end: int, words: str, text: str) -> Remark:
        return Remark(*sent.place(start, end), words, text, made, author, CHANGE)

    for group in _groups(led, sent.passage.text):
        worded = [each for each in group if not _same_words(copy, sent, _reach([each]))]
        if _same_words(copy, sent, _reach(group)):
            alone = [_reach(group)]
        else:
            alone = [_reach([each]) for each in group if each not in worded]
            yield remark(*_words_told(_reach(worded), copy.passage, sent.passage, dressed))
        for place in alone if dressed else ():
            for start, end, text in _dress_told(place, copy.passage, sent.passage):
                yield remark(start, end, sent.passage.text[start:end], text)


def restyled(led: Difference) -> int:
    """The paragraphs that differ in their style and not in their words."""
    changed = 0
    for place in led.changed:
        if "".join(each.text for each in place.cut) == "".join(each.text for each in place.added):
            # Where the words are the same, as many paragraphs begin in both.
            sides = (
                [each.style for each in side if each.style] for side in (place.cut, place.added)
            )
            changed += sum(one is not other for one, other in zip(*sides, strict=False))
    return changed


def retitled(
    led: Difference, copy: Stream, sent: Stream, books: tuple[Book, Book], author: str
) -> Iterator[Remark]:
    """A remark on each title that differs, at the beginning of what it heads. `books` are the copy
    and what was sent.
    """
    returned, was = books
    owners = {(head.what, scene): head for head in _heads(was) for scene in head.scenes}
    made = datetime.now().astimezone()
    starts = {scene.id: start for scene, start in zip(copy.scenes, copy.starts, strict=True)}
    paired = set()
    for head in _heads(returned):
        start = led.change.carry(starts[head.scenes[0]], Lean.BACK)
        found = owners.get((head.what, sent.place(start, start)[0]))
        if found is None or found in paired:
            continue
        paired.add(found)
        if text := _title_told(head.what, found.title, head.title):
            yield Remark(found.scenes[0], 0, 0, "", text, made, author, CHANGE)


@dataclass(frozen=True, slots=True)
class _Head:
    """A title, what it is the title of, and the scenes under it."""

    what: str
    title: str
    scenes: tuple[str, ...]


def _heads(book: Book) -> Iterator[_Head]:
    heads = [_Head("Title", each.title, (each.id,)) for each in (*book.front, *book.back)]
    for part in book.parts:
        scenes = tuple(scene.id for chapter in part.chapters for scene in chapter.scenes)
        heads.append(_Head("Part title", part.title, scenes))
        for chapter in part.chapters:
            under = tuple(scene.id for scene in chapter.scenes)
            heads.append(_Head("Chapter title", chapter.title, under))
    return (head for head in heads if head.scenes)


def _title_told(what: str, old: str, new: str) -> str:
    """The sentence on a title; nothing where it is the same but for its white space."""
    old, new = " ".join(old.split()), " ".join(new.split())
    if old == new:
        return ""
    if not old:
        return f"{what} put in: “{new}”"
    return f"{what}: “{old}” → “{new}”" if new else f"{what} taken out: “{old}”"


def _groups(led: Difference, sent: str) -> list[list[ChangedPassage]]:
    """The changed places, near ones together."""
    groups: list[list[ChangedPassage]] = []
    for each in led.changed:
        between = sent[groups[-1][-1].new_end : each.new_start] if groups else "\n"
        if "\n" in between or len(between) > _TOGETHER:
            groups.append([each])
        else:
            groups[-1].append(each)
    return groups


class _Place(NamedTuple):
    """A stretch of the copy, and the one of what was sent that it stands for."""

    theirs: int
    theirs_end: int
    ours: int
    ours_end: int


def _reach(group: Sequence[ChangedPassage]) -> _Place:
    first, last = group[0], group[-1]
    return _Place(first.old_start, last.old_end, first.new_start, last.new_end)


def _same_words(copy: Stream, sent: Stream, place: _Place) -> bool:
    theirs = copy.passage.text[place.theirs : place.theirs_end]
    return theirs == sent.passage.text[place.ours : place.ours_end]


def _words_told(
    place: _Place, copy: Passage, sent: Passage, dressed: bool
) -> tuple[int, int, str, str]:
    """Where other words stand in a copy, the words that were sent, and the sentence on them."""
    old_start, old_end, start, end = place
    if old_start == old_end:
        start, end = _by_paragraphs(sent.text, start, end)
    elif start == end:
        old_start, old_end = _by_paragraphs(copy.text, old_start, old_end)
    words = sent.text[start:end]
    theirs = copy.text[old_start:old_end].strip("\n")
    shown = words.strip("\n")
    if not (shown.strip() or theirs.strip()):
        text = "Paragraphs are joined here." if "\n" in words else "A paragraph is parted here."
    elif not theirs.strip():
        text = f"Taken out: “{shown.strip()}”"
    else:
        text = f"“{shown}” → “{theirs}”" if shown.strip() else f"Put in: “{theirs.strip()}”"
        if dressed:
            # What is put in is measured by the sign before it.
            was = (start, end) if shown.strip() else (max(start - 1, 0), start)
            text += _dress_of_words(_throughout(copy, old_start, old_end), _throughout(sent, *was))
    return start, end, shown, text


def _dress_of_words(theirs: set[SpanKind], ours: set[SpanKind]) -> str:
    said = [on for kind, (on, _) in _DRESSES.items() if kind in theirs - ours]
    said += [off for kind, (_, off) in _DRESSES.items() if kind in ours - theirs]
    return f" ({', '.join(said)})" if said else ""


def _dress_told(place: _Place, copy: Passage, sent: Passage) -> Iterator[tuple[int, int, str]]:
    """The stretches of a place that are dressed otherwise, each with the sentence on it."""
    theirs = _worn(copy, place.theirs, place.theirs_end)
    ours = _worn(sent, place.ours, place.ours_end)
    for kind, (on, off) in _DRESSES.items():
        for changed, said in (
            (theirs[kind] - ours[kind], f"Set {on}"),
            (ours[kind] - theirs[kind], off[0].upper() + off[1:]),
        ):
            for start, end in _runs(changed):
                start, end = start + place.ours, end + place.ours
                words = sent.text[start:end]
                if any(map(str.isalnum, words)):
                    yield start, end, f"{said}: “{words.strip()}”"


def _worn(passage: Passage, start: int, end: int) -> dict[SpanKind, set[int]]:
    """Which code points of a stretch each kind of span is on, counted from its start."""
    worn: dict[SpanKind, set[int]] = {kind: set() for kind in SpanKind}
    part = passage.slice(start, end)
    for first, paragraph in zip(part.starts, part.paragraphs, strict=True):
        for span in paragraph.spans:
            worn[span.kind].update(range(first + span.start, first + span.end))
    return worn


def _throughout(passage: Passage, start: int, end: int) -> set[SpanKind]:
    """The kinds of span that are on every letter of a stretch; on every sign, where it has none."""
    text = passage.text[start:end]
    signs = {at for at, sign in enumerate(text) if sign.isalnum()} or set(range(len(text)))
    worn = _worn(passage, start, end)
    return {kind for kind in _DRESSES if signs and signs <= worn[kind]}


def _runs(places: set[int]) -> Iterator[tuple[int, int]]:
    """Neighbouring places together, from the first up to the one after the last."""
    for _, group in groupby(enumerate(sorted(places)), lambda each: each[1] - each[0]):
        run = [place for _, place in group]
        yield run[0], run[-1] + 1


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
