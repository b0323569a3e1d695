"""Overlay: sentences that open alike, one after another."""

from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

from reglet.manuscript.stage import Stage
from reglet.numbers import in_words
from reglet.overlays.house import House, Strictness
from reglet.overlays.overlay import Finding, of_scene
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph, ReadScene

# How many running are heard; one more for those that English can hardly do without (our own).
_MANY = {Strictness.LENIENT: 4, Strictness.USUAL: 3, Strictness.STRICT: 3}
_COMMON = frozenset("i he she it they we the".split())


class _Opening(NamedTuple):
    """The first word of a sentence; `word` is it in small letters, "" before speech."""

    start: int
    end: int
    text: str
    word: str


_NONE = _Opening(0, 0, "", "")


def same_opening(scene: ReadScene, house: House) -> Iterator[Finding]:
    """Sentence after sentence that opens with one word reads as a list, unless a list is meant.

    In narration; a line of speech between ends the run. One more is let pass where the word is a
    pronoun or “the”, unless strict.

    Source: common practice; the figures are our own.
    """
    strictness = house.strictness_of("same_opening")
    run: list[_Opening] = []
    for start, openings in [*_openings(scene), (0, (_NONE,))]:
        for opening in openings:
            if run and opening.word == run[0].word:
                run.append(_moved(opening, start))
                continue
            if run:
                spared = run[0].word in _COMMON and strictness is not Strictness.STRICT
                many = _MANY[strictness] + spared
                if len(run) >= many:
                    yield _finding(run, many)
            run = [_moved(opening, start)] if opening.word else []


def _finding(run: list[_Opening], many: int) -> Finding:
    count = in_words(len(run)) if len(run) <= 12 else f"{len(run)}"
    marked = run[many - 1]
    return Finding(
        marked.start,
        marked.end,
        f"{count.capitalize()} sentences running open with “{run[0].text}”.",
    )


def _openings(scene: ReadScene) -> Iterator[tuple[int, tuple[_Opening, ...]]]:
    for start, read in scene.prose():
        yield start, _openings_in(read)


def _moved(opening: _Opening, by: int) -> _Opening:
    return _Opening(opening.start + by, opening.end + by, opening.text, opening.word)


@lru_cache(maxsize=16_384)
def _openings_in(read: ReadParagraph) -> tuple[_Opening, ...]:
    """The first word of each sentence; one that begins with speech has none."""
    prose = read.prose
    found = []
    at = 0
    for sentence, count in zip(prose.sentences, prose.sentence_lengths, strict=True):
        first, at = prose.words[at] if count else None, at + count
        if first is None:
            continue
        if prose.is_spoken(sentence.start):
            found.append(_NONE)
        else:
            plain = first.text.lower().split("’")[0]
            found.append(_Opening(first.start, first.end, first.text, plain))
    return tuple(found)


OVERLAY = of_scene(same_opening, Stage.LINE, ProofMark.ASK)
EXAMPLES_MARKED = {
    "She rose. She took the lamp. She went to the door.\n[She] listened.": None,
    "Then he rose. Then he sat. [Then] he wept.": None,
}
EXAMPLES_UNMARKED = (
    "She rose. She took the lamp. “Who is it?” She went to the door. She listened.",
    "She rose. He sat. She rose. He sat.",
)
