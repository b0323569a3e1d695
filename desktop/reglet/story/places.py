"""Where a scene is: the place its narration puts its people in, near its head.

"In the ferry shed Abel Quill had his dinner"; "She came into the kitchen"; "They met at Bath". What
is only spoken of, and what the narration looks back on ("She had been in the kitchen"), puts a
scene nowhere. Where two places have as much for them, none is proposed.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from functools import cache
from typing import NamedTuple

from reglet import resources
from reglet.language.prose import Prose
from reglet.story.names import NameMention, place_ends
from reglet.story.time import DAYS, MONTHS


class PlaceMention(NamedTuple):
    """Somewhere that narration puts somebody: code points in the text, and how it is called there
    ("the ferry shed", "Bath"). `noun` is what the place is recognised by when it is named again.
    """

    start: int
    end: int
    form: str
    noun: str


_HEAD = 700
"""Code points from the head of a scene within which its place is told."""
_ENOUGH, _AHEAD = 1.5, 0.75
"""What a place needs for it, and how much more than the next."""
_TOLD, _EARLY, _AGAIN, _MOST_AGAIN = 1.0, 0.5, 0.4, 3
"""What it says to be told near the head, within the first third of that, and each time again."""

_WORD = r"[a-z][a-z’'-]+"
_CAPITAL = r"[A-Z][a-zà-ÿ]+(?:[-’'][A-Z]?[a-zà-ÿ]+)?"
_INTO = r"in|into|inside|at|within|outside|entered|reached"
_ONTO = r"on|onto|aboard|reached|at"
_PART = (
    "middle|edge|end|foot|top|stern|bows?|back|front|corner|far corner|door|doorway|window|gate|"
    "steps?|centre|center|shade|darkness|depths"
)
_PAST_PERFECT = re.compile(r"\b(?:had|would|will|if)\b|\w[’']d\b", re.IGNORECASE)
_SENTENCE = re.compile(r"[.!?;:”\u2028]")


def _nouns() -> dict[str, frozenset[str]]:
    return resources.sections("story", "place_nouns.txt")


def _any_of(words: Iterable[str]) -> str:
    return "|".join(sorted(map(re.escape, words), key=len, reverse=True))


@cache
def _common() -> re.Pattern[str]:
    nouns = _nouns()
    return re.compile(
        rf"\b(?:(?P<in>{_INTO})|(?P<on>{_ONTO}))[ \u00a0]"
        rf"(?:the[ \u00a0](?:{_PART})[ \u00a0]of[ \u00a0])?"
        rf"(?P<article>the|her|his|their|its|my|our|a|an)[ \u00a0]"
        rf"(?P<before>(?:{_WORD}[ \u00a0]){{0,2}})"
        rf"(?P<noun>(?:{_any_of(nouns['in'])})|(?:{_any_of(nouns['on'])}))\b(?![-’'])",
        re.IGNORECASE,
    )


@cache
def _opening() -> re.Pattern[str]:
    nouns = _nouns()
    verb = r"(?:was|were|had|smelt|smelled|lay|stood|looked|seemed|felt|ran|filled)\b"
    return re.compile(
        rf"[Tt]he[ \u00a0](?P<before>(?:{_WORD}[ \u00a0]){{0,2}}?)"
        rf"(?P<noun>{_any_of(nouns['in'] | nouns['on'])})[ \u00a0]{verb}",
    )


_NAMED = re.compile(
    rf"\b(?:[Ii]n|[Ii]nto|[Aa]t|[Rr]eached|[Ee]ntered)[ \u00a0]"
    rf"(?P<the>[Tt]he[ \u00a0])?(?P<name>{_CAPITAL}(?:[ \u00a0]{_CAPITAL}){{0,2}})"
    r"(?![’']s|[ \u00a0]?[A-Z])"
)
_BEFORE = re.compile(r"([\w’'-]+)[ \u00a0]$")
_PUTS = frozenset(
    "was were is be sat stood lay slept woke came went ran got stepped crept drove rode fled "
    "flew hung met stopped waited worked lived stayed knelt bent swam spent found left led took "
    "brought put back up down out over off away together alone home here there ashore aboard him "
    "her them it himself herself themselves straight now again still only just and then".split()
)
"""Words that what says where somebody is stands behind; beside these, a verb in -ed."""
_NO_MODIFIER = frozenset(
    "same other whole of and or very next last first way on in at to the by with from into a an "
    "her his their its my our as than that for".split()
)


def places_in(prose: Prose, names: Sequence[NameMention]) -> tuple[PlaceMention, ...]:
    """The places that a paragraph's narration puts somebody in, in order. `names` are the
    paragraph's.
    """
    text = prose.text
    found: list[PlaceMention] = []
    for start, end in prose.narration:
        for match in _common().finditer(text, start, end):
            before = match["before"].split()
            on = match["noun"].lower() in _nouns()["on"]
            if (match["on"] and not on) or _NO_MODIFIER & set(before):
                continue
            if not _puts(text, match) or _looks_back(text, match):
                continue
            article = match["article"].lower()
            article = article if article in ("a", "an") else "the"
            form = " ".join((article, *before, match["noun"].lower()))
            found.append(PlaceMention(*match.span(), form, match["noun"].lower()))
        for match in _NAMED.finditer(text, start, end):
            name = match["name"]
            first, last = name.split()[0], name.split()[-1]
            if first in _no_places() or last in _no_places():
                continue
            before_it = _BEFORE.search(text, max(0, match.start() - 24), match.start())
            if not before_it or before_it[1].lower() not in _PUTS or _looks_back(text, match):
                continue
            # Evidence speaks for a person's name; what ends as places do is never one.
            person = any(
                n.start < match.end("name") and n.end > match.start("name") and n.evidence > 0
                for n in names
            )
            if not person or last in place_ends():
                form = f"the {name}" if match["the"] else name
                found.append(PlaceMention(*match.span(), form, name))
    opening = _opening().match(text) if prose.narration[:1] and not prose.narration[0][0] else None
    if opening:
        form = f"the {opening['before']}{opening['noun']}"
        found.append(PlaceMention(*opening.span(), form, opening["noun"].lower()))
    return tuple(sorted(found))


def _puts(text: str, match: re.Match[str]) -> bool:
    """Whether what stands before says that somebody is there, or comes there."""
    before = _BEFORE.search(text, max(0, match.start() - 24), match.start())
    if before is None:
        return True
    word = before[1].lower()
    return word in _PUTS or (word.endswith("ed") and len(word) > 3)


@cache
def _no_places() -> frozenset[str]:
    others = ("Christmas", "Easter", "God", "Heaven", "English", "French", "Latin")
    return frozenset((*DAYS, *MONTHS, *others)) | resources.words("story", "titles.txt")


def _looks_back(text: str, match: re.Match[str]) -> bool:
    opened = max((m.end() for m in _SENTENCE.finditer(text, 0, match.start())), default=0)
    return _PAST_PERFECT.search(text, opened, match.start()) is not None


def place_of(mentions: Sequence[PlaceMention], people: Mapping[str, str]) -> str:
    """Where a scene is, by what stands at its head and how often it is named again; "" where that
    is not clear. `people` are the forms of the cast's names, which are no places.
    """
    scores: dict[str, float] = defaultdict(float)
    forms: dict[str, str] = {}
    for mention in mentions:
        if mention.start >= _HEAD or mention.noun in people:
            continue
        if mention.noun not in forms:
            scores[mention.noun] += _TOLD + (_EARLY if mention.start < _HEAD / 3 else 0)
            forms[mention.noun] = mention.form
    for noun in forms:
        again = sum(each.noun == noun for each in mentions) - 1
        scores[noun] += _AGAIN * min(_MOST_AGAIN, again)
        if noun[0].isupper() and not again:
            scores[noun] = 0.0  # named once, it may be anywhere
    ranked = sorted(scores.items(), key=lambda each: -each[1])[:2]
    if not ranked or ranked[0][1] < _ENOUGH:
        return ""
    if len(ranked) > 1 and ranked[0][1] - ranked[1][1] < _AHEAD:
        return ""
    return forms[ranked[0][0]]
