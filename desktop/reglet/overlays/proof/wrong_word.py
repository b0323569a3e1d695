"""Overlay: a right spelling of the wrong word."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache

from reglet.language.confusions import misfits
from reglet.language.frequency import zipf
from reglet.language.in_company import wrong_in_company
from reglet.language.neighbours import Piece, pieces
from reglet.language.sentences import is_inside
from reglet.language.words import plain, written_like
from reglet.manuscript.book import StyleSheet
from reglet.manuscript.stage import Stage
from reglet.outs.suspicion import Kind, Step
from reglet.overlays.house import House, Strictness
from reglet.overlays.overlay import Finding, of_scene
from reglet.overlays.proof.suspected import can_tell, is_sure, spelt, suspected, told
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadScene

# How far the evidence must go beyond what misleads in one place of two million words of clean
# prose, in natural logarithms of the odds (our own figures).
_LEAST = {Strictness.LENIENT: 1.0, Strictness.USUAL: 0.0, Strictness.STRICT: -1.5}

_SMALL_WORD = 5.7
"""A word that is more common than this (Zipf) stands often in every book (our own figure)."""
_SPACE = " \t\u00a0"
_LEAST_ODDS = {Strictness.LENIENT: 9.0, Strictness.USUAL: 2.3, Strictness.STRICT: 0.25}


def wrong_word(read: ReadScene, house: House) -> Iterator[Finding]:
    """A slip that is itself a word ("form" for "from") gets past the eye and the dictionary.

    A small model that was trained for this program says where another word would fit far better.
    For pairs that it does not know, and to bear it out where it is not sure, what stands around
    the word is weighed. Some words are wrong in the company they keep, whatever else stands there:
    "vocal chords".

    Source: common practice; the weights are learnt from published novels.
    """
    taken: set[int] = set()
    for start, paragraph in read.prose():
        for at, word, better in _in_company(paragraph.paragraph.text):
            taken.add(start + at)
            yield _finding(start + at, word, better)
    least = _LEAST[house.strictness_of("wrong_word")]
    weighed = {
        start + at: (word, better)
        for start, paragraph in read.prose()
        for at, word, better in _misfits(paragraph.paragraph.text, least)
    }
    for start, paragraph, suspicion in suspected(read, house, Kind.WRONG_WORD, Step.WIDE):
        text, at = paragraph.paragraph.text, start + suspicion.start
        word = text[suspicion.start : suspicion.end]
        better = written_like(spelt(suspicion.proposals[0][0], house, "'"), word)
        borne_out = weighed.get(at) == (word, better)
        if at in taken or not (borne_out or is_sure(suspicion, house)):
            continue
        if _stands_twice(text, suspicion.start, suspicion.end):
            continue  # asked about as set twice
        if not _is_name(word, text, suspicion.start):
            taken.add(at)
            yield _finding(at, word, better, suspicion.score)
    for at, (word, better) in weighed.items():
        if at not in taken and not can_tell(plain(word), plain(better)):
            yield _finding(at, word, better)


def weigh(
    finding: Finding, text: str, counts: Mapping[str, int], sheet: StyleSheet, house: House
) -> Finding | None:
    """A word with a meaning of its own that the book has again and again is likely meant; one of
    its style sheet is.
    """
    if text in sheet.words:
        return None
    low, better = plain(text), plain(finding.proposal or "")
    if zipf(low) > _SMALL_WORD:
        return finding
    odds = finding.score / max(1e-6, 1 - finding.score)
    odds *= min(1.0, (1 + counts.get(better, 0)) / (1 + counts.get(low, 0)))
    return finding if odds >= _LEAST_ODDS[house.strictness_of("wrong_word")] else None


def _finding(start: int, word: str, better: str, score: float = 1.0) -> Finding:
    said = f"“{better}” would fit here."
    return Finding(start, start + len(word), said, proposal=better, score=score)


@lru_cache(maxsize=16384)
def _misfits(text: str, least: float) -> tuple[tuple[int, str, str], ...]:
    """Where the words around a word speak for another: its start, the word, the other."""
    found = pieces(text)
    better = misfits([piece.text for piece in found], least)
    return tuple(_placed(text, found, ((each.at, each.better) for each in better)))


@lru_cache(maxsize=16384)
def _in_company(text: str) -> tuple[tuple[int, str, str], ...]:
    """Words that are wrong in the company they keep: the start of each, the word, the right one."""
    found = pieces(text)
    return tuple(_placed(text, found, wrong_in_company([piece.text for piece in found])))


def _placed(
    text: str, found: Sequence[Piece], better: Iterable[tuple[int, str]]
) -> Iterator[tuple[int, str, str]]:
    """Words and better ones, by place among the pieces, as they are to stand; names left out."""
    for at, right in better:
        piece = found[at]
        word = text[piece.start : piece.end]
        if not _is_name(word, text, piece.start):
            yield piece.start, word, written_like(right, word)


def _stands_twice(text: str, start: int, end: int) -> bool:
    """Whether the word beside this one, with only white space between, is the same."""
    word, before, behind = plain(text[start:end]), text[:start].split(), text[end:].split()
    behind_it = bool(behind) and text[end] in _SPACE and plain(behind[0]) == word
    return behind_it or (bool(before) and text[start - 1] in _SPACE and plain(before[-1]) == word)


def _is_name(word: str, text: str, at: int) -> bool:
    return word[:1].isupper() and len(word) > 1 and is_inside(text, at)


OVERLAY = of_scene(
    wrong_word, Stage.PROOF, ProofMark.REPLACE, weigh=weigh, told=told(12_500, 5_000, 1_750)
)
EXAMPLES_MARKED = {
    "He turned his face [form] the fire and went out.": "from",
    "[Form] the mill he went home.": "From",
    "They walked [passed] the mill.": "past",
    "He put a thumb into the [peal] and tore it.": "peel",
    "It strained her vocal [chords].": "cords",
}
EXAMPLES_UNMARKED = (
    "It’s a long way to the mill, and its wheel has stopped.",
    "“They’re late,” said Mrs Stile, “and their coats are gone.”",
    "The the clerk said so.",
)
