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
from dataclasses import dataclass, replace
from functools import cached_property
from typing import NamedTuple

from reglet.language.prose import Prose
from reglet.story.names import NameMention, title_of

FIRST_PERSON = "I"

_MINDS = (
    "thought wondered remembered realised realized hoped wished feared supposed guessed doubted "
    "imagined recalled forgot knew believed understood decided regretted dreaded reflected "
    "noticed minded longed expected perceived recollected recognised recognized pondered "
    "despaired dreamed dreamt considered intended"
)
_FELT = r"felt(?! (?:behind|inside|along|about|for|in|her way|his way)\b)"
_MIND = rf"(?:{'|'.join(_MINDS.split())}|{_FELT})"
_HAD_MIND = (
    r"had (?:\w+ly |always |never |once |not |only |just |so )?"
    r"(?:forgotten|thought|known|felt|hoped|meant|supposed|imagined|expected|wanted|wished|"
    r"dreaded|believed|remembered|wondered|feared|understood|noticed|pictured|longed|intended|"
    r"been (?:so |quite |very )?(?:sure|certain|afraid|glad|sorry|ashamed|awake))"
)
_WANTED = (
    r"(?:wanted|meant) to\b|could (?:feel|remember|see that|not think|tell|not bear|not imagine)"
    r"|was (?:afraid|sure|certain|ashamed|glad|sorry|conscious|aware) (?:of|that|to)\b"
    r"|(?:did not|didn[’']t|never) "
    r"(?:know|remember|believe|understand|feel|want|mind|mean|expect)\b"
)
_SENSED = r"saw|heard|found (?:that|(?:him|her|my)self)|could (?:see|hear|smell)|watched"
# What only they or who tells their story can know: what they had done before the scene opens.
_BEFORE = (
    r"had (?:\w+ly |always |never |once |not |only |just )?(?:been|come|gone|had|seen|\w+ed)\b"
)
_LIKED = (
    r"(?:liked|disliked|hated|loved|disapproved of|was used to|made out|could (?:not )?make out"
    r"|was (?:surprised|relieved|amazed|astonished|pleased|vexed|tired|mortified))\b"
)
_OUTSIDE = (
    r"seemed|appeared (?:to|as)|looked (?:as if|as though|like)|must have (?:thought|felt|known)"
)
_VERB = re.compile(
    rf"[ \u00a0](?:(?:\w+ly|never|always|still|then|also|only|not|did not|didn[’']t|could not|"
    rf"couldn[’']t) )?(?P<verb>{_MIND}\b|{_HAD_MIND}\b|{_WANTED}|(?P<sensed>{_SENSED})\b"
    rf"|(?P<hint>{_LIKED}|{_BEFORE})|(?P<outside>{_OUTSIDE})\b)"
)
_PRONOUN = re.compile(r"(?<![\w’'-])(?:I|[Hh]e|[Ss]he)(?![\w’'.-])")
_FIRST = re.compile(r"(?<![\w’'.-])I(?![\w.-])")
# "Nobody could have said that she knew": what follows another's "said that" is not the narrator's.
_REPORTED = re.compile(r"(?:said|told \w+|says|announced|declared|insisted|explained) (?:that )?$")
# "It seemed to her that", "the thought struck him", "her heart sank".
_UNDERGONE = re.compile(
    r"\b(?:(?:seemed|occurred|came|appeared) to|struck|surprised|reminded|puzzled|startled|"
    r"relieved|vexed|astonished) (?P<whom>him|her|me)\b(?= (?:that|as|to|of|how)\b|[,.;:])"
    r"|(?<![\w’'])(?P<whose>[Hh]is|[Hh]er|[Mm]y) (?:heart|pulse|spirits|stomach|thoughts|mind)"
    r" (?:was|were|had|sank|leapt|leaped|beat|went|turned|rose)\b"
)
_SUBJECTS = {"him": "he", "his": "he", "her": "she", "me": FIRST_PERSON, "my": FIRST_PERSON}
# ", thought Anne": the verb before its subject.
_INVERTED = re.compile(r"\b(?P<verb>thought|wondered|reflected|knew) $")

_SURE, _SENSE, _HINT, _FROM_OUTSIDE = 1.0, 0.5, 0.3, -0.8


class Glimpse(NamedTuple):
    """One look into a mind: where its subject stands, and who it is: a form of a name, "I", or
    "he" or "she" where the paragraph does not say for whom; `verb` is what it is told by. `weight`
    is how much it says (1 for a thought told); below zero, that they are looked at from outside.
    `told` are the forms of names in the rest of its sentence, who are others than its subject.
    """

    start: int
    end: int
    who: str
    verb: str
    weight: float
    told: tuple[str, ...] = ()

    @property
    def sensed(self) -> bool:
        """Whether it is less than a thought or a feeling told: what they see or hear, or a hint."""
        return self.weight < _SURE


def glimpses_in(prose: Prose, names: Sequence[NameMention]) -> tuple[Glimpse, ...]:
    """The looks into minds in a paragraph's narration, in order. `names` are the paragraph's."""
    text = prose.text
    starts = {name.start: name for name in names if not name.spoken}
    found: list[Glimpse] = []
    for start, end in prose.narration:
        for match in _PRONOUN.finditer(text, start, end):
            verb = _VERB.match(text, match.end(), end)
            if verb and not _REPORTED.search(text, max(start, match.start() - 20), match.start()):
                who = match[0] if match[0] == FIRST_PERSON else match[0].lower()
                found.append(_glimpse(text, match.start(), who, verb, starts))
        for match in _UNDERGONE.finditer(text, start, end):
            who = _SUBJECTS[(match["whom"] or match["whose"]).lower()]
            found.append(Glimpse(match.start(), match.end(), who, match[0], _SENSE))
    for name in starts.values():
        verb = _VERB.match(text, name.end)
        if verb:
            found.append(_glimpse(text, name.start, name.form, verb, starts))
        else:
            before = _INVERTED.search(text, max(0, name.start - 12), name.start)
            if before:
                found.append(Glimpse(name.start, name.end, name.form, before["verb"], _SURE))
    return tuple(sorted(found))


_STOP = re.compile(r"[.!?;]")


def _glimpse(
    text: str, start: int, who: str, verb: re.Match[str], names: Mapping[int, NameMention]
) -> Glimpse:
    weight = (
        _FROM_OUTSIDE
        if verb["outside"]
        else _HINT
        if verb["hint"]
        else _SENSE
        if verb["sensed"]
        else _SURE
    )
    stop = _STOP.search(text, verb.end())
    end = stop.start() if stop else len(text)
    told = tuple(each.form for at, each in names.items() if verb.end() <= at < end)
    return Glimpse(start, verb.end(), who, verb["verb"], weight, told)


def first_pronouns_in(prose: Prose) -> tuple[int, int]:
    """Where the narration of a paragraph first says "he", and where "she"; -1 for nowhere."""
    first = {"he": -1, "she": -1}
    for start, end in prose.narration:
        for match in _PRONOUN.finditer(prose.text, start, end):
            said = match[0].lower()
            if first.get(said) == -1:
                first[said] = match.start()
    return first["he"], first["she"]


def first_person_in(prose: Prose) -> int:
    """How often the narration of a paragraph says "I"."""
    if "I" not in prose.text:
        return 0
    return sum(len(_FIRST.findall(prose.text[start:end])) for start, end in prose.narration)


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
