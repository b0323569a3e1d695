"""Where a long paragraph could best be broken: between which two of its sentences.

Every place between two sentences is weighed by what changes there: the speaker, the time, the
place, who acts, what is spoken of. The weights were fitted, by `tests/benchmarks/line_breaks.py`,
on pairs of paragraphs of novels in the public domain that were joined, so that the place where
their writers had broken them was known.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from reglet.language.frequency import zipf
from reglet.language.lemmas import lemma
from reglet.language.prose import Prose
from reglet.language.sentences import Sentence

FEWEST_WORDS = 25
"""A part shorter than this is not broken off (our own figure)."""

_TIME = re.compile(
    r"(?:Then|Now|Next|Later|Afterwards?|Presently|Meanwhile|Soon|Suddenly|Once|When|While|Before"
    r"|After|Until|Till|Since|At (?:last|length|once|first|the end|that moment|this moment|noon"
    r"|midnight|dawn|dusk|night|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve)"
    r"|By (?:the time|then|now|noon|night|evening|morning)|That (?:night|evening|morning|day"
    r"|afternoon|year|summer|winter)|The (?:next|following|same) (?:day|night|morning|evening)"
    r"|One (?:day|night|morning|evening|afternoon)|In the (?:morning|evening|afternoon|end)"
    r"|(?:An|Half an) hour|(?:A|Some) (?:moment|minute|few|week|month|year|day)"
    r"|On (?:Mon|Tues|Wednes|Thurs|Fri|Satur|Sun)day|Ever|Years|Days|Weeks|Months|To-?day|Yesterday"
    r"|To-?morrow|To-?night|Finally|All (?:day|night|morning))\b"
)
_PLACE = re.compile(
    r"(?:At|In|On|Under|Over|Above|Below|Beyond|Behind|Before|Beside|Between|Outside|Inside|Round"
    r"|Around|Across|Along|Down|Up|Near|Beneath|Among|Through|From|Here|To the|Out|Against"
    r"|Opposite)\b"
)
_EMPTY = re.compile(r"(?:There|It) (?:was|were|is|are|had)\b")
_POINTS_BACK = re.compile(
    r"(?:This|That|These|Those|Such|So|For|And|Or|Nor|Which|Because|Perhaps|Even|Indeed|Yes|No)\b"
)
_TURNS = re.compile(r"(?:But|Yet|Still|However|Nevertheless|Only|Instead)\b")
_OPENING_QUOTES = '“‘"'
_CLOSING_QUOTES = '”’"'

_WEIGHTS = {
    "speech begins": -1.3,
    "speech ends": 2.2,
    "time": 0.5,
    "place": 0.1,
    "somebody new": 0.6,
    "another acts": 0.2,
    "the same one acts": 0.1,
    "there was, it was": 0.2,
    "points back": -0.2,
    "turns": -0.2,
    "shared words": -1.4,
    "off the middle": -1.9,
    "new name": 0.3,
    "pronoun first": -0.3,
}
FEATURES = tuple(_WEIGHTS)
"""What is asked of each place, in the order of `Place.features`."""


@dataclass(frozen=True, slots=True)
class Place:
    """A place between two sentences: the code point at which the second begins, and what changes
    there, in the order of `FEATURES`.
    """

    at: int
    features: tuple[float, ...]

    @property
    def weight(self) -> float:
        """How good a place it is to break; only comparisons within a paragraph mean anything."""
        return sum(w * f for w, f in zip(_WEIGHTS.values(), self.features, strict=True))


def breaking_place(prose: Prose) -> int | None:
    """The code point at which the better second paragraph would begin, or None if there is none."""
    best = max(places(prose), key=lambda place: place.weight, default=None)
    return best.at if best else None


def places(prose: Prose) -> Iterator[Place]:
    """The places where a paragraph could be broken: between sentences, never inside speech."""
    sentences = prose.sentences
    subjects = _subjects(prose)
    roots = [_roots(prose, each) for each in sentences]
    names = _names(prose)
    counts = prose.sentence_lengths
    total = sum(counts)
    before = 0
    for number in range(1, len(sentences)):
        before += counts[number - 1]
        here = sentences[number]
        if min(before, total - before) < FEWEST_WORDS or _is_inside_speech(prose, here.start):
            continue
        first = prose.text[here.start : here.end].lstrip("*_")
        last = prose.text[sentences[number - 1].start : sentences[number - 1].end].rstrip("*_")
        opens, closed = first[:1] in _OPENING_QUOTES, last[-1:] in _CLOSING_QUOTES
        subject, earlier = subjects[number], subjects[max(0, number - 2) : number]
        known = set().union(*names[:number])
        ahead = set().union(*roots[number : number + 3])
        behind = set().union(*roots[max(0, number - 3) : number])
        shared = len(ahead & behind) / (1 + min(len(ahead), len(behind)))
        acts = bool(subject) and bool(earlier[-1:]) and bool(earlier[-1])
        yield Place(
            here.start,
            (
                float(opens and not closed),
                float(closed and not opens),
                float(_TIME.match(first) is not None),
                float(_PLACE.match(first) is not None),
                float(bool(subject) and subject[:1].isupper() and subject not in earlier),
                float(acts and subject.lower() != earlier[-1].lower()),
                float(acts and subject.lower() == earlier[-1].lower()),
                float(_EMPTY.match(first) is not None),
                float(_POINTS_BACK.match(first) is not None),
                float(_TURNS.match(first) is not None),
                shared,
                abs(before / total - 0.5) * 2,
                float(bool(names[number] - known)),
                float(
                    first.split(" ", 1)[0] in ("He", "She", "They", "It", "We", "I", "His", "Her")
                ),
            ),
        )


def _is_inside_speech(prose: Prose, at: int) -> bool:
    return any(each.start < at < each.end for each in prose.quotations)


def _subjects(prose: Prose) -> list[str]:
    """The first subject of each sentence, a name as written and others in small letters; "" where
    none can be seen.
    """
    found = [""] * len(prose.sentences)
    number = 0
    for token, tag, role in zip(prose.tokens, prose.tags, prose.roles, strict=True):
        while token.start >= prose.sentences[number].end:
            number += 1
        if role == "subject" and not found[number]:
            found[number] = token.text if tag == "NNP" else token.text.lower()
    return found


def _roots(prose: Prose, sentence: Sentence) -> set[str]:
    return {
        lemma(word.text)
        for word in prose.words_in(sentence.start, sentence.end)
        if len(word.text) > 3 and zipf(word.text) < 5.6
    }


def _names(prose: Prose) -> list[set[str]]:
    """The names in each sentence."""
    found: list[set[str]] = [set() for _ in prose.sentences]
    number = 0
    for token, tag in zip(prose.tokens, prose.tags, strict=True):
        while token.start >= prose.sentences[number].end:
            number += 1
        if tag == "NNP":
            found[number].add(token.text)
    return found
