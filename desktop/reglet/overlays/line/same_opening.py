"""Overlay: sentences that open alike, one after another."""

from collections.abc import Iterator
from dataclasses import dataclass

from reglet.manuscript.stage import Stage
from reglet.overlays.house import House, Strictness
from reglet.overlays.overlay import Finding, of_scene
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadScene

# How many running are heard; one more for those that English can hardly do without (our own).
_MANY = {Strictness.LENIENT: 4, Strictness.USUAL: 3, Strictness.STRICT: 3}
_COMMON = frozenset("i he she it they we the".split())
_NUMBERS = "no one two three four five six seven eight nine ten eleven twelve".split()


@dataclass(frozen=True, slots=True)
class _Opening:
    start: int
    end: int
    text: str
    word: str


def same_opening(scene: ReadScene, house: House) -> Iterator[Finding]:
    """Sentence after sentence that opens with one word reads as a list, unless a list is meant.

    In narration; a line of speech between ends the run. One more is let pass where the word is a
    pronoun or “the”, unless strict.
    """
    strictness = house.strictness_of("same_opening")
    run: list[_Opening] = []
    for opening in [*_openings(scene), _Opening(0, 0, "", "")]:
        if run and opening.word == run[0].word:
            run.append(opening)
            continue
        if run:
            spared = run[0].word in _COMMON and strictness is not Strictness.STRICT
            many = _MANY[strictness] + spared
            if len(run) >= many:
                yield _finding(run, many)
        run = [opening] if opening.word else []


def _finding(run: list[_Opening], many: int) -> Finding:
    count = _NUMBERS[len(run)] if len(run) < len(_NUMBERS) else f"{len(run)}"
    marked = run[many - 1]
    return Finding(
        marked.start,
        marked.end,
        f"{count.capitalize()} sentences running open with “{run[0].text}”.",
    )


def _openings(scene: ReadScene) -> Iterator[_Opening]:
    """The first word of each sentence; one that begins with speech has none."""
    for start, read in scene.prose():
        prose = read.prose
        at = 0
        for sentence, count in zip(prose.sentences, prose.sentence_lengths, strict=True):
            first, at = prose.words[at] if count else None, at + count
            if first is None:
                continue
            if prose.is_spoken(sentence.start):
                yield _Opening(0, 0, "", "")
            else:
                plain = first.text.lower().split("’")[0]
                yield _Opening(start + first.start, start + first.end, first.text, plain)


OVERLAY = of_scene(same_opening, Stage.LINE, ProofMark.ASK)
EXAMPLES_MARKED = {
    "She rose. She took the lamp. She went to the door.\n[She] listened.": None,
    "Then he rose. Then he sat. [Then] he wept.": None,
}
EXAMPLES_UNMARKED = (
    "She rose. She took the lamp. “Who is it?” She went to the door. She listened.",
    "She rose. He sat. She rose. He sat.",
)
