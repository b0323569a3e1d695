"""Whose eyes a scene is seen through: whose mind its narration opens.

What can be seen from outside (looked, smiled) tells nothing; what only its owner knows (thought,
remembered, wished, felt) tells whose eyes they are. Outside speech such a verb counts for its
subject: for "I", for a name, or for the name that "he" or "she" was last used for.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from reglet.language.prose import Prose
from reglet.story.names import NameMention

FIRST_PERSON = "I"

_MINDS = (
    "thought wondered remembered realised realized hoped wished feared supposed guessed doubted "
    "imagined recalled forgot knew felt believed understood decided regretted dreaded reflected "
    "noticed minded longed expected perceived recollected recognised recognized pondered "
    "despaired dreamed dreamt considered intended"
)
_MIND = rf"(?:{'|'.join(_MINDS.split())})"
_HAD_MIND = (
    r"had (?:\w+ly |always |never |once |not |only |just )?"
    r"(?:forgotten|thought|known|felt|hoped|meant|supposed|imagined|expected|wanted|wished|"
    r"dreaded|believed|remembered|wondered|feared|understood|noticed)"
)
_WANTED = r"(?:wanted|meant) to\b|could (?:feel|remember|see that|not think|tell)|was (?:afraid|sure|certain|ashamed|glad|sorry) (?:of|that|to)\b"
_VERB = re.compile(
    rf"[ \u00a0](?:(?:\w+ly|never|always|still|then|also|only|not|did not|didn[’']t|could not|"
    rf"couldn[’']t) )?(?P<verb>{_MIND}\b|{_HAD_MIND}\b|{_WANTED})"
)
_PRONOUN = re.compile(r"(?<![\w’'-])(?:I|[Hh]e|[Ss]he)(?![\w’'.-])")
_FIRST = re.compile(r"(?<![\w’'.-])I(?![\w.-])")
# "Nobody could have said that she knew": what follows another's "said that" is not the narrator's.
_REPORTED = re.compile(r"(?:said|told \w+|says|announced|declared|insisted|explained) (?:that )?$")


class Glimpse(NamedTuple):
    """One look into a mind: where its subject stands, and who it is: a form of a name, "I", or
    "he" or "she" where the paragraph does not say for whom; `verb` is what it is told by.
    """

    start: int
    end: int
    who: str
    verb: str


def glimpses_in(prose: Prose, names: Sequence[NameMention]) -> tuple[Glimpse, ...]:
    """The looks into minds in a paragraph's narration, in order. `names` are the paragraph's."""
    found: list[Glimpse] = []
    text = prose.text
    starts = {name.start: name for name in names if not name.spoken}
    for start, end in prose.narration:
        for match in _PRONOUN.finditer(text, start, end):
            verb = _VERB.match(text, match.end(), end)
            if verb and not _REPORTED.search(text, max(start, match.start() - 20), match.start()):
                who = match[0] if match[0] == FIRST_PERSON else match[0].lower()
                found.append(Glimpse(match.start(), verb.end(), who, verb["verb"]))
    for name in starts.values():
        verb = _VERB.match(text, name.end)
        if verb:
            found.append(Glimpse(name.start, verb.end(), name.form, verb["verb"]))
    return tuple(sorted(found))


def first_person_in(prose: Prose) -> int:
    """How often the narration of a paragraph says "I"."""
    if "I" not in prose.text:
        return 0
    return sum(len(_FIRST.findall(prose.text[start:end])) for start, end in prose.narration)


@dataclass(frozen=True, slots=True)
class Look:
    """A look into somebody's mind, in code points of the scene."""

    start: int
    end: int
    name: str


@dataclass(frozen=True)
class Eyes:
    """Whose eyes a scene is seen through. `name` is a member of the cast, "I", or "" where the
    text does not show it; `share` is the share of the looks into a mind that are into theirs.
    `looks` are all of them. `stated` says that the name is from the scene's sheet.
    """

    name: str
    share: float
    looks: tuple[Look, ...]
    stated: bool = False

    @property
    def others(self) -> tuple[Look, ...]:
        """The looks into the minds of others than the one whose eyes they are."""
        return tuple(look for look in self.looks if look.name != self.name)


_FIRST_SHARE = 0.012
"""The share of "I" among the words of narration from which a scene is told by an "I"."""
_FEWEST = 2


def eyes_of(
    glimpses: Iterable[Glimpse],
    names: Iterable[NameMention],
    known_as: Mapping[str, str],
    sexes: Mapping[str, str],
    first_person: int,
    narrated_words: int,
    stated: str = "",
) -> Eyes:
    """Whose eyes a scene is seen through.

    `known_as` gives the cast's name for each form; `sexes` "f" or "m" for a name, where known;
    `first_person` and `narrated_words` are counts of the scene's narration. `stated` is what the
    scene's sheet says.
    """
    looks = _resolved(glimpses, names, known_as, sexes)
    counts = Counter(look.name for look in looks)
    if stated:
        share = counts[stated] / len(looks) if looks else 0.0
        return Eyes(stated, share, looks, stated=True)
    if narrated_words and first_person / narrated_words >= _FIRST_SHARE:
        return Eyes(FIRST_PERSON, 1.0, tuple(l for l in looks if l.name == FIRST_PERSON))
    counts.pop(FIRST_PERSON, None)
    if not counts:
        return Eyes("", 0.0, looks)
    name, count = counts.most_common(1)[0]
    if count < _FEWEST:
        return Eyes("", 0.0, looks)
    return Eyes(name, count / sum(counts.values()), looks)


def _resolved(
    glimpses: Iterable[Glimpse],
    names: Iterable[NameMention],
    known_as: Mapping[str, str],
    sexes: Mapping[str, str],
) -> tuple[Look, ...]:
    told = [(n.start, known_as[n.form]) for n in names if n.form in known_as and not n.spoken]
    last: dict[str, str] = {}
    looks: list[Look] = []
    at = 0
    for glimpse in sorted(glimpses):
        while at < len(told) and told[at][0] <= glimpse.start:
            name = told[at][1]
            for pronoun, sex in (("he", "m"), ("she", "f")):
                if sexes.get(name, sex) == sex:
                    last[pronoun] = name
            at += 1
        name = known_as.get(glimpse.who, "") if glimpse.who not in ("he", "she", "I") else (
            "I" if glimpse.who == "I" else last.get(glimpse.who, "")
        )
        if name:
            looks.append(Look(glimpse.start, glimpse.end, name))
    return tuple(looks)
