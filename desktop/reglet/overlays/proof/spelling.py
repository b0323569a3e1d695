"""Overlay: words that are in no dictionary and not in the book's style sheet."""

import re
from collections.abc import Iterator
from dataclasses import replace

from reglet.language.dictionary import dictionary
from reglet.manuscript.paragraph import SpanKind
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House
from reglet.overlays.overlay import Finding, Known, of_paragraph
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph

_CLITICS = re.compile("(?:['’](?:s|d|ll|ve)|(?<=s)['’])$")


def spelling(read: ReadParagraph, house: House) -> Iterator[Finding]:
    """A word that no dictionary and no style sheet knows is a slip, or a word of the book's own.

    Words in a span of another language are left alone, and so are those with a letter dropped at
    the end in speech ("runnin’").
    """
    known = dictionary(house.language)
    foreign = read.paragraph.spans_of(SpanKind.LANGUAGE)
    text = read.paragraph.text
    for word in read.prose.words:
        if known.knows(word.text):
            continue
        if text[word.end : word.end + 1] in ("’", "'") and known.knows(word.text + "g"):
            continue
        if any(span.start <= word.start < span.end for span in foreign):
            continue
        yield Finding(word.start, word.end, f"“{word.text}” is in no dictionary.")


def bare_name(word: str) -> str:
    """A name without its possessive or contracted ending, and not shouted: "TARROW’S" is Tarrow."""
    bare = _CLITICS.sub("", word)
    return bare.capitalize() if bare.isupper() else bare


def _settle(finding: Finding, word: str, known: Known, house: House) -> Finding | None:
    bare = bare_name(word)
    words = known.words
    if word in words or bare in words or word.lower() in words or bare.lower() in words:
        return None
    names = {**(known.names or {}), **dict.fromkeys(words, 1)}
    if bare in names:
        return None
    near = _near_name(bare, [name for name in names if name[:1].isupper()])
    if near:
        proposal = word.replace(bare, near)
        return replace(
            finding,
            message=f"“{word}” stands beside “{near}” elsewhere in the book.",
            proposal=proposal,
        )
    proposals = dictionary(house.language).near(word)
    return replace(finding, proposal=proposals[0] if proposals else None)


def _near_name(word: str, names: list[str]) -> str | None:
    """The book's name that differs from `word` by one letter, if there is one."""
    if not word[:1].isupper() or len(word) < 4:
        return None
    return next((name for name in names if _one_letter_apart(word, name)), None)


def _one_letter_apart(one: str, other: str) -> bool:
    if abs(len(one) - len(other)) > 1 or one == other:
        return False
    start = next(
        (i for i, (a, b) in enumerate(zip(one, other, strict=False)) if a != b),
        min(len(one), len(other)),
    )
    rest, rest_other = one[start:], other[start:]
    return (
        rest[1:] == rest_other[1:]
        or rest[1:] == rest_other
        or rest == rest_other[1:]
        or (rest[:2] == rest_other[:2][::-1] and rest[2:] == rest_other[2:])
    )


OVERLAY = of_paragraph(spelling, Stage.PROOF, ProofMark.REPLACE, _settle)
EXAMPLES_MARKED = {
    "The [teh] door stood open.": "the",
    "She was [definately] late.": "definitely",
}
EXAMPLES_UNMARKED = (
    "The harbour-master’s grey lamp, the o’clock chimes, the 1970s.",
    "“I’m runnin’ late,” he said. “Don’t wait.”",
    "The SALT MILL stood empty; the mill-wheel’s paddles hung still.",
)
