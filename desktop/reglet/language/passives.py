"""Passive clauses: a form of "be" or "get" with a past participle that something was done to.

The tagger names most of them outright (its roles "passive auxiliary" and "passive"). The rest are
found by form: a "be", with nothing but adverbs between, before a word tagged as a past participle.
Participles that tell a state rather than an act ("was gone") are left out. "Supposed to" counts,
as it does in Universal Dependencies; an overlay may think otherwise.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

from reglet.language.words import Token, plain

if TYPE_CHECKING:
    from reglet.language.tagger import Reading

_BE = frozenset("be am is are was were been being 's 'm 're ain wast wert art".split())
_GET = frozenset("get gets got gotten getting".split())
# Participles that after "be" tell a state or a movement, not something done to the subject.
_STATES = frozenset("gone been become come got gotten had rid".split())
# A state too if it is said of someone ("I’m done"), an act if of a thing ("it was done").
_STATES_OF_PEOPLE = frozenset("done finished through".split())
_PEOPLE = frozenset("i we you he she they".split())
# Participles that are adjectives unless someone is named who does it ("was surprised by Ann").
_ADJECTIVES = frozenset(
    "accustomed acquainted amazed amused annoyed appalled ashamed astonished bored bound broke "
    "closed committed concerned confused contented crowded dazed delighted determined "
    "disappointed disgusted distressed divorced drunk embarrassed engaged exhausted excited "
    "frightened horrified inclined interested involved lost married obsessed offended outdated "
    "overjoyed pleased prepared puzzled qualified relieved satisfied scared settled shocked "
    "startled surprised terrified thrilled tired troubled upset wasted worried".split()
)
# Begin with un- and are acts all the same; others ("unrestricted", "unread") are adjectives.
_UN_ACTS = frozenset(
    "understood undone undertaken unveiled united undermined unloaded unpacked unlocked untied "
    "unwrapped unfolded unleashed undressed unearthed unfurled unhooked unbuttoned unrolled".split()
)
# Only an adjective can be more or less so (Quirk, Greenbaum, Leech and Svartvik 1985, 3.75).
_DEGREES = frozenset(
    "very so too quite rather really extremely terribly awfully pretty more most".split()
)
# After ’s these are "has done" unless nothing follows that could be their object.
_OBJECT = frozenset("DT PRP PRP$ CD NNP".split())
_TWO_OBJECTS = frozenset(
    "called named told given made asked paid shown taught offered sent".split()
)
_STOPS = frozenset("VB VBP VBZ MD . : `` -LRB-".split())
_BETWEEN = frozenset("RB RBR RBS UH".split())
_SUBJECT = frozenset("DT PRP PRP$ JJ NN NNS NNP NNPS POS".split())
_BEFORE_QUESTION = frozenset("WRB WP `` . : ''".split())


class Passive(NamedTuple):
    """One passive, from its auxiliary to its participle, ``start`` and ``end`` in code points.

    ``auxiliary`` and ``verb`` are places in the paragraph's tokens.
    """

    start: int
    end: int
    auxiliary: int
    verb: int


def passives(tokens: Sequence[Token], reading: Reading) -> tuple[Passive, ...]:
    """The passives among tagged tokens, in order."""
    tags, roles = reading
    if "passive auxiliary" not in roles and "VBN" not in tags and "passive" not in roles:
        return ()
    found: list[Passive] = []
    for at, role in enumerate(roles):
        named = role == "passive auxiliary"
        if not named and not tags[at].startswith("V"):
            continue
        form = plain(tokens[at].text)
        if form in _BE:
            verb = _participle(at, tags, roles) if named else _next_participle(at, tags, roles)
        elif named and form in _GET:
            verb = _participle(at, tags, roles)
        else:
            continue
        if verb is not None and _is_act(at, form, verb, tokens, tags):
            found.append(Passive(tokens[at].start, tokens[verb].end, at, verb))
    return tuple(found)


def _participle(at: int, tags: Sequence[str], roles: Sequence[str]) -> int | None:
    """The participle that a named auxiliary belongs to; a subject may stand between."""
    for ahead in range(at + 1, min(at + 9, len(tags))):
        if roles[ahead] == "passive" or tags[ahead] in ("VBN", "VBD"):
            return ahead  # after an auxiliary a past tense is a participle that looks like one
        if tags[ahead] in _STOPS:
            return None
    return None


def _next_participle(at: int, tags: Sequence[str], roles: Sequence[str]) -> int | None:
    """A participle right after a "be" that was not named, adverbs apart; in a question the subject
    stands between too ("When was the harbour built?").
    """
    asks = at == 0 or tags[at - 1] in _BEFORE_QUESTION
    between = _BETWEEN | _SUBJECT if asks else _BETWEEN
    ahead = at + 1
    while ahead < min(len(tags), at + 7) and (
        tags[ahead] in between or (tags[ahead] == "CC" and tags[ahead - 1] in _BETWEEN)
    ):
        ahead += 1
    if ahead < len(tags) and (tags[ahead] == "VBN" or roles[ahead] == "passive"):
        return ahead
    return None


def _is_act(at: int, form: str, verb: int, tokens: Sequence[Token], tags: Sequence[str]) -> bool:
    participle = plain(tokens[verb].text)
    if participle in _STATES:
        return False
    before = plain(tokens[at - 1].text) if at else ""
    if participle in _STATES_OF_PEOPLE and before in _PEOPLE:
        return False
    if not _agent_follows(verb, tokens):
        if participle in _ADJECTIVES:
            return False
        if plain(tokens[verb - 1].text) in _DEGREES and verb - 1 > at:
            return False
        if participle.startswith("un") and participle not in _UN_ACTS:
            return False  # "unrestricted", "unread": nobody "unreads"
    if form == "'s":
        if "ever" in (plain(token.text) for token in tokens[at + 1 : verb]):
            return False
        after = tags[verb + 1] if verb + 1 < len(tags) else ""
        return tags[verb] in ("VBN", "VBD") and (after not in _OBJECT or participle in _TWO_OBJECTS)
    return True


def _agent_follows(verb: int, tokens: Sequence[Token]) -> bool:
    return any(plain(token.text) == "by" for token in tokens[verb + 1 : verb + 4])
