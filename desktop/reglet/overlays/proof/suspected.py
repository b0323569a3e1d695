"""What the reader of `reglet.outs` suspects in a scene, in the terms of overlays."""

from collections.abc import Iterator
from functools import cache

from reglet.language.dictionary import dictionary
from reglet.language.frequency import is_mostly_name
from reglet.manuscript.paragraph import SpanKind
from reglet.outs.at_hand import ReaderMissing, reader
from reglet.outs.suspicion import Kind, Step, Suspicion
from reglet.overlays.house import House, Strictness
from reglet.overlays.reading import ReadParagraph, ReadScene

STEPS = {
    Strictness.LENIENT: Step.NARROW,
    Strictness.USUAL: Step.EVEN,
    Strictness.STRICT: Step.WIDE,
}
_TITLES = frozenset("mr mrs ms dr messrs st".split())


def suspected(
    read: ReadScene, house: House, kind: Kind, step: Step | None = None
) -> Iterator[tuple[int, ReadParagraph, Suspicion]]:
    """The suspicions of a kind with their paragraphs, each with its start in the scene's text; at
    the house's strictness unless a step is given.

    Words in a span of another language are not suspected. Nothing is, where the reader is missing
    (`reglet.outs.at_hand.what_is_missing` says so).
    """
    prose = list(read.prose())
    try:
        found = reader().suspicions(
            [each.paragraph.text for _, each in prose], step or STEPS[house.strictness_of(kind)]
        )
    except ReaderMissing:
        return
    for (start, paragraph), suspicions in zip(prose, found, strict=True):
        foreign = paragraph.paragraph.spans_of(SpanKind.LANGUAGE)
        for each in suspicions:
            if each.kind is kind and not any(s.start <= each.start <= s.end for s in foreign):
                yield start, paragraph, each


def is_sure(suspicion: Suspicion, house: House) -> bool:
    """Whether a suspicion is one at the house's strictness."""
    kind = suspicion.kind
    return suspicion.score >= reader().lines[STEPS[house.strictness_of(kind)]][kind]


def can_tell(word: str, other: str) -> bool:
    """Whether the reader, if it is at hand, would say that `other` was meant where `word` stands;
    both in small letters with straight apostrophes.
    """
    try:
        lexicon = reader().lexicon
    except ReaderMissing:
        return False
    word, other = (lexicon.respelled.get(each, each) for each in (word, other))
    return other in lexicon.confusable.get(word, ())


def told(few: int, usual: int, many: int) -> dict[Strictness, str]:
    """What each strictness costs: in how many words of clean text a mistaken mark stands."""
    said = "About one mark in {:,} words of clean text is mistaken."
    return {step: said.format(n) for step, n in zip(Strictness, (few, usual, many), strict=True)}


def spelt(word: str, house: House, apostrophe: str) -> str:
    """A word that the reader proposes as this book would write it: its variety of English, its
    apostrophes, the capital of "I" and of names.
    """
    known = dictionary(house.language)
    if not known.lists(word):
        word = next((other for other in _other_spellings(word) if known.lists(other)), word)
    if word == "i" or word.startswith("i'") or word in _TITLES or is_mostly_name(word):
        word = word[:1].upper() + word[1:]
    if word in ("Mr", "Mrs", "Ms", "Dr", "St") and house.language == "en-US":
        word += "."
    return word.replace("'", apostrophe)


@cache
def _by_levelled() -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for spelling, levelled in reader().lexicon.respelled.items():
        found.setdefault(levelled, []).append(spelling)
    return found


def _other_spellings(word: str) -> list[str]:
    return _by_levelled().get(word, [])
