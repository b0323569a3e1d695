"""Looks into minds, as a paragraph's narration gives them.

What only its owner knows (thought, remembered, wished, felt) is one, and says most; what somebody
sees and hears says less, and what they liked or had done before the scene is a hint. What is seen
from outside (seemed, looked as if) speaks against its subject's eyes. Outside speech such a verb
counts for its subject: "I", a name, or a "he" or "she" who is still to be told.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from reglet.language.prose import Prose
from reglet.story.names import NameMention

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
