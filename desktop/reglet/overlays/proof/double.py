"""Overlay: words set twice, and short stretches of them."""

from collections.abc import Iterator, Sequence
from functools import cache
from itertools import pairwise

from reglet import resources
from reglet.language.words import Word
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House, Strictness
from reglet.overlays.overlay import Finding, of_paragraph
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph

# Small words that no writer means to set twice, even with a mark between: "the, the".
_NEVER_TWICE = frozenset("a an the of to and or at by for from in into with as than if but".split())
# Those among them that may also end a phrase: "came in, in company".
_PARTICLES = frozenset("in on by for as".split())
_LOOKED_FOR = frozenset("looking look looked watching waiting wait waited searching asked".split())
_WHEN = frozenset("when if as once since because while".split())
# After "that that", these begin a clause of their own, so one "that" is too many.
_SUBJECTS = frozenset("i you he she it we they the there this".split())
_LONGEST = 4
"""The most words of a stretch that is looked for twice (our own figure)."""
# What joins a word to itself: "more and more and more", "from time to time to help", "plain as
# plain as day". Of 19 stretches set twice in 1.4 million words of published novels 18 were such.
_JOINING = frozenset("and or to as by after upon".split())
_SPACE = frozenset(" \t\u00a0\u2028\u202f\u2009")


def double(read: ReadParagraph, house: House) -> Iterator[Finding]:
    """A word set twice is easy to write and hard to see, most of all across the end of a line.

    Words that are doubled on purpose ("had had", "no no", "very very") are asked about only where
    the overlay is strict.

    Source: common practice; the list of words doubled on purpose is ours.
    """
    strict = house.strictness_of("double") is Strictness.STRICT
    text = read.paragraph.text
    words = read.prose.words
    for first, (previous, word) in enumerate(pairwise(words)):
        if word.text.lower() != previous.text.lower():
            continue
        low, between = word.text.lower(), text[previous.end : word.start]
        if not _slipped(low, between, strict) or _is_name(previous, word, text):
            continue
        if low not in _NEVER_TWICE and _again(words, first, low):
            continue  # a sound, a song
        if strict or not _is_grammar(first, words):
            said = f"“{word.text}” stands twice."
            yield Finding(previous.start, word.end, said, proposal=previous.text)
    yield from _stretches(text, words)


def _stretches(text: str, words: Sequence[Word]) -> Iterator[Finding]:
    """Two to four words that stand again behind themselves: "in the in the"."""
    lows = [word.text.lower() for word in words]
    at = 0
    while at < len(words):
        for size in range(_LONGEST, 1, -1):
            again, end = at + size, at + 2 * size
            if end > len(words) or lows[at] != lows[again] or lows[at:again] != lows[again:end]:
                continue
            if _runs_on(text, words[at:end]) and not _meant(lows[at:again]):
                once = text[words[at].start : words[again - 1].end]
                said = f"“{text[words[again].start : words[end - 1].end]}” stands twice."
                yield Finding(words[at].start, words[end - 1].end, said, proposal=once)
                at = end - 1
                break
        at += 1


def _runs_on(text: str, words: Sequence[Word]) -> bool:
    return all(_SPACE.issuperset(text[one.end : other.start]) for one, other in pairwise(words))


def _meant(stretch: Sequence[str]) -> bool:
    """Whether a stretch repeats on purpose: one word alone, or one that is joined to itself."""
    joined = _JOINING.intersection(stretch)
    return len(set(stretch)) == 1 or (bool(joined) and not _NEVER_TWICE.issuperset(stretch))


def _slipped(word: str, between: str, strict: bool) -> bool:
    if not _SPACE.issuperset(between):
        return word in _NEVER_TWICE - _PARTICLES and between.strip(" ") in (",", ";", "")
    return strict or word not in _meant_twice()


def _is_grammar(first: int, words: Sequence[Word]) -> bool:
    """Two of a kind that do two different things: "knew that that was so", "what it is is late",
    "looking for for days", "when I got it it broke".
    """
    word = words[first].text.lower()
    if word == "that":
        after = words[first + 2].text.lower() if first + 2 < len(words) else ""
        return after not in _SUBJECTS
    if word == "for":
        return first > 0 and words[first - 1].text.lower() in _LOOKED_FOR
    if word == "it":
        return any(each.text.lower() in _WHEN for each in words[max(0, first - 6) : first])
    if word in ("is", "was"):
        return any(
            each.text.lower() in ("what", "all") for each in words[max(0, first - 4) : first]
        )
    return False


def _again(words: Sequence[Word], first: int, low: str) -> bool:
    """Whether the word stands a third time beside these two."""
    near = (*words[max(0, first - 1) : first], *words[first + 2 : first + 3])
    return any(each.text.lower() == low for each in near)


def _is_name(previous: Word, word: Word, text: str) -> bool:
    """Capitalised twice inside a sentence: a name such as Baden Baden, or a sound."""
    inside = text[: previous.start].rstrip()[-1:] not in ("", ".", "!", "?", "“", "‘", '"')
    return word.text[:1].isupper() and len(word.text) > 1 and inside


@cache
def _meant_twice() -> frozenset[str]:
    return resources.words("words", "doubles.txt")


OVERLAY = of_paragraph(double, Stage.PROOF, ProofMark.DELETE)
EXAMPLES_MARKED = {
    "He went to [the the] door.": "the",
    "[The the] door stood open.": "The",
    "She was [of, of] course, late.": "of",
    "It was agreed [that that] it could wait.": "that",
    "a stone [in\u2028in] the wall": "in",
    "He put it [in the in the] drawer.": "in the",
    "Then [she was she was] gone.": "she was",
    "It went [to the to the] bottom.": "to the",
    "and [out of the house out of the house] he ran": "out of the house",
}
EXAMPLES_UNMARKED = (
    "All he had had was tea.",
    "“No, no,” she said. “No no no.”",
    "She knew that that was so. What it was was a lamp.",
    "It was theirs. Theirs alone.",
    "“I—I can’t.”",
    "He came in, in haste. Ta ta ta went the horn. They had been looking for for years.",
    "When she had it it was too late.",
    "It grew more and more and more, from time to time to help, as plain as plain as day.",
    "“She was, she was,” he said. She goes and goes and goes.",
)
