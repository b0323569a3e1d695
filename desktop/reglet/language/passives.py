"""Passive clauses: a form of "be" or "get" with a past participle that something was done to."""

from collections.abc import Sequence
from typing import NamedTuple

from reglet.language.tagger import Reading
from reglet.language.words import Token

_BE = frozenset("be am is are was were been being 's 'm 're ain wast wert art".split())
_GET = frozenset("get gets got gotten getting".split())
_HAVE_OR_BE = frozenset(["'s"])
# Participles that after "be" tell a state or a movement, not something done to the subject.
_STATES = frozenset("gone done finished been become come got had dressed used supposed".split())
_STOPS = frozenset("VB VBD VBP VBZ MD . : `` -LRB-".split())


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
    found: list[Passive] = []
    tags, roles = reading
    if "passive auxiliary" not in roles and "passive" not in roles:
        return ()
    for at, role in enumerate(roles):
        if role != "passive auxiliary":
            continue
        form = _plain(tokens[at].text)
        if form not in _BE and form not in _GET:
            continue
        verb = _participle(at, tags, roles)
        if verb is None or _plain(tokens[verb].text) in _STATES:
            continue
        if form in _HAVE_OR_BE and tags[verb] != "VBN":
            continue
        found.append(Passive(tokens[at].start, tokens[verb].end, at, verb))
    return tuple(found)


def _participle(at: int, tags: Sequence[str], roles: Sequence[str]) -> int | None:
    for ahead in range(at + 1, min(at + 9, len(tags))):
        if roles[ahead] == "passive" or tags[ahead] == "VBN":
            return ahead
        if tags[ahead] in _STOPS:
            return None
    return None


def _plain(form: str) -> str:
    return form.lower().replace("’", "'")
