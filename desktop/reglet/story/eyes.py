"""Whose eyes a scene is seen through: whose mind its narration opens.

The looks into minds (`glimpses`) are given to their owners and added up. A "he" or "she" is the one
of that sex named shortly before, else the one who is most in the scene; in a scene that begins
with a "she" whom it has not named, the one of her sex who is named most in the book. Where too
little is said, or two have as much, nobody is named.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from reglet.story.glimpses import FIRST_PERSON, Glimpse
from reglet.story.names import NameMention, title_of


@dataclass(frozen=True, slots=True)
class Look:
    """A look into somebody's mind, in code points of the scene. `named` says that a name, and no
    pronoun, tells whose; `sensed` that it is less than a thought or a feeling; `weight` is how much
    it says of whose eyes the scene is seen through.
    """

    start: int
    end: int
    name: str
    named: bool
    sensed: bool
    weight: float


@dataclass(frozen=True)
class Eyes:
    """Whose eyes a scene is seen through. `name` is a member of the cast, "I", or "" where the
    text does not show it; `share` is the share of the looks into a mind, by weight, that are into
    theirs. `looks` are all of them. `stated` says that the name is from the scene's sheet.
    `opened_by` is the first person whom the scene shows doing something, at its head; `says_i` is
    how often its narration says "I".
    """

    name: str
    share: float
    looks: tuple[Look, ...]
    stated: bool = False
    opened_by: str = ""
    says_i: int = 0

    @property
    def others(self) -> tuple[Look, ...]:
        """The looks into the minds of others than the one whose eyes they are."""
        return tuple(look for look in self.looks if look.name != self.name)

    @cached_property
    def weights(self) -> Mapping[str, float]:
        """What the looks say for each, the most said first; nobody against whom they speak."""
        weights: defaultdict[str, float] = defaultdict(float)
        for look in self.looks:
            weights[look.name] += look.weight
        if self.opened_by in weights:
            weights[self.opened_by] += _OPENS
        said = sorted(weights.items(), key=lambda each: -each[1])
        return {name: weight for name, weight in said if weight > 0}


# The figures below are our own.
_FIRST_SHARE, _FIRST_FEWEST = 0.012, 5
"""The share of "I" among the words of narration, and the count, from which an "I" tells a scene."""
FEWEST_PARAGRAPHS = 3
"""In how many paragraphs an "I" must stand: what is in one or two may be a letter."""
_ENOUGH, _MOST = 1.6, 0.6
"""The weight of looks, and the share of it that is one person's, from which the eyes are theirs."""
_OPENS, _OPENING = 0.5, 500
"""What it says to be the first at work in a scene, within so many code points from its head."""
_LESS, _AGAIN = 0.7, 2
"""The weight that is enough for somebody through whose eyes so many other scenes are surely seen.
"""


def eyes_of(
    glimpses: Iterable[Glimpse],
    names: Sequence[NameMention],
    known_as: Mapping[str, str],
    sexes: Mapping[str, str],
    first_person: int,
    narrated_words: int,
    stated: str = "",
    first_pronouns: Mapping[str, int] | None = None,
    leads: Mapping[str, str] | None = None,
) -> Eyes:
    """Whose eyes a scene is seen through, by itself.

    `known_as` gives the cast's name for each form; `sexes` "f" or "m" for a name, where known;
    `first_person` and `narrated_words` are counts of the scene's narration. `stated` is what the
    scene's sheet says. `first_pronouns` says where its narration first has "he" and "she", and
    `leads` who of either sex ("m", "f") is named most in the book: a scene that begins with a "she"
    who has not been named goes on with somebody whom it need not name.
    """
    looks = tuple(_resolved(glimpses, names, known_as, sexes, first_pronouns or {}, leads or {}))
    eyes = Eyes("", 0.0, looks, opened_by=_opener(names, known_as), says_i=first_person)
    if stated:
        total = sum(eyes.weights.values())
        share = eyes.weights.get(stated, 0.0) / total if total else 0.0
        return replace(eyes, name=stated, share=share, stated=True)
    if first_person >= _FIRST_FEWEST and first_person >= _FIRST_SHARE * narrated_words:
        return replace(eyes, name=FIRST_PERSON, share=1.0)
    return _settled(eyes, frozenset())


def _opener(names: Sequence[NameMention], known_as: Mapping[str, str]) -> str:
    for name in names:
        at_work = (name.opens or title_of(name.form)) and name.evidence >= _DOES
        if name.start < _OPENING and not name.spoken and at_work and name.form in known_as:
            return known_as[name.form]
    return ""


_DOES = 0.5
"""The evidence of a person from which a name that opens a sentence is its subject."""


def in_a_book(scenes: Sequence[Eyes]) -> tuple[Eyes, ...]:
    """The eyes of each scene of a book: a scene that shows too little by itself is taken for that
    of somebody through whose eyes others are seen, where it shows a little of theirs.
    """
    seen = Counter(each.name for each in scenes if each.name)
    often = frozenset(name for name, count in seen.items() if count >= _AGAIN)
    told_by_i = 2 * seen[FIRST_PERSON] >= seen.total() > 0

    def settled(eyes: Eyes) -> Eyes:
        if eyes.stated or eyes.name == FIRST_PERSON:
            return eyes
        if told_by_i and eyes.says_i >= _FIRST_FEWEST:
            return replace(eyes, name=FIRST_PERSON, share=1.0)
        return eyes if eyes.name else _settled(eyes, often)

    return tuple(map(settled, scenes))


def _settled(eyes: Eyes, often: frozenset[str]) -> Eyes:
    weights = eyes.weights
    if not weights:
        return eyes
    name, weight = next(iter(weights.items()))
    total = sum(weights.values())
    enough = weight >= (_LESS if name in often else _ENOUGH)
    if name == FIRST_PERSON or not enough or weight < _MOST * total:
        return eyes
    return replace(eyes, name=name, share=weight / total)


_SEX = {"he": "m", "she": "f"}
_NEAR = 200
"""How many code points back a name may stand for a pronoun to be taken for it."""
_SUBJECT = 1.0
"""The evidence of a person from which a name is taken for the subject of a verb."""
_BY_NAME, _BY_NEARNESS, _BY_PRESENCE, _AMONG_OTHERS = 1.0, 0.9, 0.8, 0.4
"""How sure it is whom a look belongs to: by their name; by a pronoun just behind it; by a pronoun,
where one person of that sex is most in the scene; and where another is nearly as much there."""


def _resolved(
    glimpses: Iterable[Glimpse],
    names: Sequence[NameMention],
    known_as: Mapping[str, str],
    sexes: Mapping[str, str],
    first_pronouns: Mapping[str, int],
    leads: Mapping[str, str],
) -> Iterator[Look]:
    glimpses = sorted(glimpses)
    told = [
        (n.start, known_as[n.form], n.evidence >= _SUBJECT)
        for n in names
        if n.form in known_as and not n.spoken
    ]
    presence: Counter[str] = Counter()
    for _, name, subject in told:
        presence[name] += 2 if subject else 1
    for glimpse in glimpses:
        if glimpse.who in known_as and glimpse.weight > 0:
            presence[known_as[glimpse.who]] += 3
    if opener := _opener(names, known_as):
        presence[opener] += 4
    chief = {pronoun: _chief(presence, sexes, sex) for pronoun, sex in _SEX.items()}
    for pronoun, at in first_pronouns.items():
        sex = _SEX[pronoun]
        if at >= 0 and not any(start < at and sexes.get(name) == sex for start, name, _ in told):
            lead = leads.get(sex, "")
            # Named later in the scene, the lead is as likely somebody whom that "she" looks at.
            known = lead not in presence or lead == chief[pronoun][0]
            chief[pronoun] = (lead, _BY_PRESENCE) if known else (chief[pronoun][0], _AMONG_OTHERS)
    for glimpse in glimpses:
        who = glimpse.who
        if who not in _SEX:
            name = who if who == FIRST_PERSON else known_as.get(who, "")
            sure = _BY_NAME
        else:
            # "She saw that Anne heard it too": whoever she is, she is not Anne.
            others = {known_as[form] for form in glimpse.told if form in known_as}
            near = [
                (name, subject)
                for start, name, subject in told
                if glimpse.start - _NEAR < start < glimpse.start
                and sexes.get(name) == _SEX[who]
                and name not in others
            ]
            subjects = [name for name, subject in near if subject]
            if subjects or near:
                name, sure = (subjects or [near[-1][0]])[-1], _BY_NEARNESS
                if len({each for each, _ in near}) > 1:
                    sure = _AMONG_OTHERS
            else:
                name, sure = chief[who]
                if name in others:
                    name = ""
        if name:
            yield Look(
                glimpse.start,
                glimpse.end,
                name,
                who not in _SEX,
                glimpse.sensed,
                glimpse.weight * sure,
            )


def _chief(presence: Counter[str], sexes: Mapping[str, str], sex: str) -> tuple[str, float]:
    """Who of a sex is most in a scene, and how surely a pronoun there is theirs. One whose sex is
    not known is taken where there is none of whom it is.
    """
    ranked = [each for each in presence.most_common() if sexes.get(each[0]) == sex]
    ranked = ranked or [each for each in presence.most_common() if each[0] not in sexes]
    if not ranked:
        return "", 0.0
    first, *rest = ranked
    close = bool(rest) and rest[0][1] > 0.6 * first[1]
    return first[0], _AMONG_OTHERS if close else _BY_PRESENCE
