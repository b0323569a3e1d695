"""Overlay: a word left out."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from reglet.language.dictionary import dictionary
from reglet.language.frequency import is_mostly_name
from reglet.language.words import Word
from reglet.manuscript.book import StyleSheet
from reglet.manuscript.stage import Stage
from reglet.outs.at_hand import what_is_missing
from reglet.outs.suspicion import Kind, Suspicion
from reglet.overlays.house import House
from reglet.overlays.overlay import Finding, of_scene
from reglet.overlays.proof.double import double
from reglet.overlays.proof.suspected import spelt, suspected, told
from reglet.overlays.proof.wrong_word import wrong_word
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph, ReadScene

_SURE = 0.8
"""The score from which a word may be missing before one of the book's own (our own figure)."""
_NEAR = 3
"""The most words between two gaps of a sentence that hardly has both (our own figure)."""
_PARTS = frozenset('.!?…:;“”"')


def out(read: ReadScene, house: House) -> Iterator[Finding]:
    """A word left out is hard to see, for the eye of the one who wrote it supplies it.

    A small model, which was trained for this program and reads on this machine alone, says where a
    word may be missing and which. Of two places within three words the surer alone is asked about.
    What a double or a wrong word says already is not said again.

    Source: a small model of our own, which learnt from published novels.
    """
    suspicions = list(suspected(read, house, Kind.OUT))
    if not suspicions:
        return
    said = [(each.start, each.end) for each in wrong_word(read, house)]
    said += [
        (start + each.start, start + each.end)
        for start, paragraph in {start: p for start, p, _ in suspicions}.items()
        for each in double(paragraph, house)
    ]
    known = dictionary(house.language)
    gaps: list[_Gap] = []
    for start, paragraph, suspicion in suspicions:
        finding = _finding(start, paragraph, suspicion, house)
        beside = paragraph.prose.words_in(finding.start - start, finding.end - start)
        # A misspelling, or a dialect, whose sentences follow other rules.
        strange = any(each.text.islower() and not known.knows(each.text) for each in beside)
        if not strange and not any(a < finding.end and b > finding.start for a, b in said):
            gaps.append(_Gap(start, paragraph, suspicion, finding))
    surest: list[_Gap] = []
    for gap in sorted(gaps, key=lambda gap: -gap.suspicion.score):
        if not any(gap.is_near(other) for other in surest):
            surest.append(gap)
    yield from (gap.finding for gap in surest)


@dataclass(frozen=True)
class _Gap:
    """Where a word may be missing: the paragraph with its start, and what to ask."""

    start: int
    read: ReadParagraph
    suspicion: Suspicion
    finding: Finding

    def is_near(self, other: _Gap) -> bool:
        """Whether both stand in one sentence, so few words apart that hardly both are meant."""
        if self.start != other.start:
            return False
        first, last = sorted((self.suspicion.start, other.suspicion.start))
        apart = any(first < sentence.start <= last for sentence in self.read.prose.sentences)
        return not apart and len(self.read.prose.words_in(first, last)) <= _NEAR


def _finding(start: int, read: ReadParagraph, suspicion: Suspicion, house: House) -> Finding:
    """The words on either side of the gap, with the missing one proposed between them."""
    text, at = read.paragraph.text, suspicion.start
    before, after = _beside(read.prose.words, text, at)
    first, last = before or after, after or before
    if first is None or last is None:
        return Finding(start + at, start + at, "Is a word missing here?", score=suspicion.score)
    word = _proposed(suspicion, text, house)
    where = _where(before, after)
    proposal = None
    if word is not None:
        left, right = text[first.start : at], text[at : last.end]
        proposal = _put_in(word, left, right, before is None, after is None)
    message = f"Is {f'“{word}”' if word else 'a word'} missing {where}?"
    start, end = start + first.start, start + last.end
    return Finding(start, end, message, proposal, score=suspicion.score)


def weigh(
    finding: Finding, text: str, counts: Mapping[str, int], sheet: StyleSheet, house: House
) -> Finding | None:
    """A word of the style sheet, or a name of this book, follows rules of its own."""
    named = not sheet.words.isdisjoint(text.split(" "))
    return None if named and finding.score < _SURE else finding


def _beside(words: Sequence[Word], text: str, at: int) -> tuple[Word | None, Word | None]:
    """The words before and after a gap; none where a stop, a quotation mark or the paragraph's end
    lies between.
    """
    n = bisect_left(words, at, key=lambda word: word.end)
    before = words[n] if n < len(words) and words[n].end == at else None
    if before is not None:
        return before, None  # the missing word belongs before a mark
    n = bisect_right(words, at, key=lambda word: word.end)
    after = words[n] if n < len(words) else None
    if after is not None and n and not _PARTS.intersection(text[words[n - 1].end : at].strip("’'")):
        before = words[n - 1]
    return before, after


def _where(before: Word | None, after: Word | None) -> str:
    if before and after:
        return f"between “{before.text}” and “{after.text}”"
    return f"before “{after.text}”" if after else f"after “{before.text}”" if before else "here"


def _proposed(suspicion: Suspicion, text: str, house: House) -> str | None:
    """The likeliest word, as the book would write it; no name, for those are guessed."""
    for word, _ in suspicion.proposals[:1]:
        if not is_mostly_name(word):
            return spelt(word, house, "'" if "'" in text and "’" not in text else "’")
    return None


def _put_in(word: str, left: str, right: str, opens: bool, closes: bool) -> str:
    """The missing word between what stands on its left and right, a capital passed on to it where
    it opens a sentence.
    """
    if closes:
        return f"{left} {word}{right}"
    if opens and right[:1].isupper():
        following = right.split(" ")[0]
        word = word[:1].upper() + word[1:]
        if following != "I" and not following.startswith("I’") and not is_mostly_name(following):
            right = right[:1].lower() + right[1:]
    return f"{left}{word} {right}"


OVERLAY = of_scene(
    out,
    Stage.PROOF,
    ProofMark.INSERT,
    weigh=weigh,
    told=told(7_500, 4_000, 1_000),
    lacks=what_is_missing,
)
EXAMPLES_MARKED = {
    "The lamp had gone out, and nobody [in kitchen] moved.": "in the kitchen",
    "He put the letter [back its] envelope and looked at the rain.": "back in its",
    "It was dark by then, and the road was full [of].": None,
}
EXAMPLES_UNMARKED = (
    "They walked along the harbour wall until the light failed.",
    "“No rain yet,” she said. “Good. Nothing for it but to wait.”",
)
