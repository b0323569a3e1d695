"""Whose eyes a scene is seen through: whose mind its narration opens.

What can be seen from outside (looked, smiled) tells nothing; what only its owner knows (thought,
remembered, wished, felt) tells whose eyes they are, and what somebody sees and hears hints at it.
Outside speech such a verb counts for its subject: for "I", for a name, or for whom "he" or "she"
stands: the last one named shortly before, else the one of that sex who is most in the scene.
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
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
_WANTED = (
    r"(?:wanted|meant) to\b|could (?:feel|remember|see that|not think|tell)"
    r"|was (?:afraid|sure|certain|ashamed|glad|sorry) (?:of|that|to)\b"
)
_SENSED = r"saw|heard|found (?:that|(?:him|her|my)self)|could (?:see|hear|smell)|watched"
_VERB = re.compile(
    rf"[ \u00a0](?:(?:\w+ly|never|always|still|then|also|only|not|did not|didn[’']t|could not|"
    rf"couldn[’']t) )?(?P<verb>{_MIND}\b|{_HAD_MIND}\b|{_WANTED}|(?P<sensed>{_SENSED})\b)"
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
    sensed: bool


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
                found.append(
                    Glimpse(match.start(), verb.end(), who, verb["verb"], bool(verb["sensed"]))
                )
    for name in starts.values():
        verb = _VERB.match(text, name.end)
        if verb:
            sensed = bool(verb["sensed"])
            found.append(Glimpse(name.start, verb.end(), name.form, verb["verb"], sensed))
    return tuple(sorted(found))


def first_person_in(prose: Prose) -> int:
    """How often the narration of a paragraph says "I"."""
    if "I" not in prose.text:
        return 0
    return sum(len(_FIRST.findall(prose.text[start:end])) for start, end in prose.narration)


@dataclass(frozen=True, slots=True)
class Look:
    """A look into somebody's mind, in code points of the scene. `named` says that a name, and no
    pronoun, tells whose; `sensed` that it is only what they see or hear.
    """

    start: int
    end: int
    name: str
    named: bool
    sensed: bool

    @property
    def weight(self) -> float:
        """How much it says of whose eyes the scene is seen through."""
        return (1.0 if self.named else 0.8) * (0.5 if self.sensed else 1.0)


@dataclass(frozen=True)
class Eyes:
    """Whose eyes a scene is seen through. `name` is a member of the cast, "I", or "" where the
    text does not show it; `share` is the share of the looks into a mind, by weight, that are into
    theirs. `looks` are all of them. `stated` says that the name is from the scene's sheet.
    """

    name: str
    share: float
    looks: tuple[Look, ...]
    stated: bool = False

    @property
    def others(self) -> tuple[Look, ...]:
        """The looks into the minds of others than the one whose eyes they are."""
        return tuple(look for look in self.looks if look.name != self.name)


_FIRST_SHARE, _FIRST_FEWEST = 0.012, 5
"""The share of "I" among the words of narration, and the count, from which an "I" tells a scene."""
_ENOUGH, _MOST = 2.0, 0.6
"""The weight of looks, and the share of it that is one person's, from which the eyes are theirs."""


def eyes_of(
    glimpses: Iterable[Glimpse],
    names: Sequence[NameMention],
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
    looks = tuple(_resolved(glimpses, names, known_as, sexes))
    weights: defaultdict[str, float] = defaultdict(float)
    for look in looks:
        weights[look.name] += look.weight
    total = sum(weights.values())
    if stated:
        return Eyes(stated, weights[stated] / total if total else 0.0, looks, stated=True)
    if first_person >= _FIRST_FEWEST and first_person >= _FIRST_SHARE * narrated_words:
        return Eyes(FIRST_PERSON, 1.0, looks)
    if total < _ENOUGH:
        return Eyes("", 0.0, looks)
    name, weight = max(weights.items(), key=lambda each: each[1])
    if weight < _MOST * total or name == FIRST_PERSON:
        return Eyes("", 0.0, looks)
    return Eyes(name, weight / total, looks)


_SEX = {"he": "m", "she": "f"}


def _resolved(
    glimpses: Iterable[Glimpse],
    names: Sequence[NameMention],
    known_as: Mapping[str, str],
    sexes: Mapping[str, str],
) -> Iterator[Look]:
    glimpses = sorted(glimpses)
    told = [(n.start, known_as[n.form]) for n in names if n.form in known_as and not n.spoken]
    presence = Counter(name for _, name in told)
    for glimpse in glimpses:
        if glimpse.who in known_as:
            presence[known_as[glimpse.who]] += 3
    chief = {
        pronoun: max(
            (name for name in presence if sexes.get(name, sex) == sex),
            key=lambda name: presence[name],
            default="",
        )
        for pronoun, sex in _SEX.items()
    }
    for glimpse in glimpses:
        who = glimpse.who
        named = who not in _SEX
        if who in _SEX:
            near = [
                name
                for start, name in told
                if glimpse.start - _NEAR < start < glimpse.start and sexes.get(name) == _SEX[who]
            ]
            name = near[-1] if near else chief[who]
        else:
            name = who if who == FIRST_PERSON else known_as.get(who, "")
        if name:
            yield Look(glimpse.start, glimpse.end, name, named, glimpse.sensed)


_NEAR = 200
"""How many code points back a name may stand for a pronoun to be taken for it."""
