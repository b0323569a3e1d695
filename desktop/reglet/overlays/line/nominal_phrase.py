"""Overlay: a noun with an empty verb where a verb would do."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from reglet import resources
from reglet.language.lemmas import lemma
from reglet.language.prose import Prose
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House, Strictness
from reglet.overlays.overlay import Finding, of_paragraph
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph

_LIGHT_FORMS = {
    form: forms.split()[0]
    for forms in (
        "give gives gave given giving",
        "take takes took taken taking",
        "have has had having",
        "make makes made making",
        "hold holds held holding",
        "heave heaves heaved heaving",
        "utter utters uttered uttering",
        "cast casts casting",
        "shoot shoots shot shooting",
        "throw throws threw thrown throwing",
        "reach reaches reached reaching",
        "come comes came coming",
        "pay pays paid paying",
    )
    for form in forms.split()
}
_ARTICLES = frozenset(("a", "an", "another"))
_MIDDLE = frozenset("JJ RB VBN VBG JJR ,".split())
_FORM_OF_TAG = {"VB": 0, "VBP": 0, "VBZ": 1, "VBD": 2, "VBN": 3, "VBG": 4}
_VOWELS = "aeiou"
# What may follow the plain verb as it followed the noun.
_AFTER = frozenset("to at and as with for in on into from up down back , . ; : ! ? — – but".split())


def nominal_phrase(read: ReadParagraph, house: House) -> Iterator[Finding]:
    """“Gave a nod” takes three words, and the verb is the empty one: “nodded” says it.

    In narration, and where strict in speech too; where lenient only with nothing between article
    and noun.

    Source: Quirk, Greenbaum, Leech and Svartvik (1985) on the construction; the list is ours.
    """
    nouns = _verbs_by_phrase()
    if _nouns().isdisjoint(read.vocabulary) or _LIGHT_FORMS.keys().isdisjoint(read.vocabulary):
        return
    strictness = house.strictness_of("nominal_phrase")
    prose = read.prose
    tokens, tags = prose.tokens, prose.tags
    for at, token in enumerate(tokens[:-2]):
        light = _LIGHT_FORMS.get(token.text.lower())
        if light is None or not tags[at].startswith("VB"):
            continue
        if tokens[at + 1].text.lower() not in _ARTICLES:
            continue
        noun = at + 2
        while noun < min(len(tokens) - 1, at + 5) and tags[noun] in _MIDDLE:
            if (light, tokens[noun].text.lower()) in nouns and not tags[noun + 1].startswith("NN"):
                break
            noun += 1
        forms = nouns.get((light, tokens[noun].text.lower()))
        if forms is None or not _is_whole(prose, light, noun):
            continue
        if strictness is Strictness.LENIENT and noun > at + 2:
            continue
        if strictness < Strictness.STRICT and prose.is_spoken(token.start):
            continue
        verb = forms[_FORM_OF_TAG.get(tags[at], 2)]
        said = prose.text[token.start : tokens[noun].end]
        proposal = verb if noun == at + 2 and _can_follow(prose, noun) else None
        yield Finding(
            token.start,
            tokens[noun].end,
            f"“{said}” is “{verb}” in more words.",
            proposal.capitalize() if proposal and token.text[:1].isupper() else proposal,
        )


def _is_whole(prose: Prose, light: str, noun: int) -> bool:
    """Whether the noun is the action: no first half of a compound, no look on a face."""
    tags, tokens = prose.tags, prose.tokens
    after = tokens[noun + 1].text.lower() if noun + 1 < len(tokens) else ""
    if tags[noun + 1 : noun + 2] in (("NN",), ("NNS",), ("POS",)) or after == "-":
        return False
    if light == "have":
        return tokens[noun].text.lower() != "look" or after in ("at", "round", "around")
    return True


def _can_follow(prose: Prose, noun: int) -> bool:
    return noun + 1 >= len(prose.tokens) or prose.tokens[noun + 1].text.lower() in _AFTER


@cache
def _verbs_by_phrase() -> dict[tuple[str, str], tuple[str, ...]]:
    """(Light verb, noun) → the five forms of the verb that would do."""
    found: dict[tuple[str, str], tuple[str, ...]] = {}
    for line in resources.lines("words", "nominal_phrases.txt"):
        light, _, nouns = line.partition(":")
        for entry in nouns.split():
            noun, _, verb = entry.partition("=")
            forms = tuple(verb.split(",")) if "," in verb else _regular(verb or noun)
            found[light, noun] = forms
    return found


@cache
def _nouns() -> frozenset[str]:
    return frozenset(noun for _, noun in _verbs_by_phrase())


def _regular(verb: str) -> tuple[str, ...]:
    """Base, -s, past, participle and -ing of a regular verb."""
    if verb.endswith("y") and verb[-2] not in _VOWELS:
        return verb, verb[:-1] + "ies", verb[:-1] + "ied", verb[:-1] + "ied", verb + "ing"
    if verb.endswith("e"):
        return verb, verb + "s", verb + "d", verb + "d", verb[:-1] + "ing"
    doubled = verb + verb[-1]
    stem = doubled if lemma(doubled + "ed", "VBD") == verb and _doubles(verb) else verb
    ending = "es" if verb.endswith(("s", "sh", "ch", "x")) else "s"
    return verb, verb + ending, stem + "ed", stem + "ed", stem + "ing"


def _doubles(verb: str) -> bool:
    """One short vowel and one consonant at the end of a verb of one syllable: "nod", "permit"."""
    ends_so = len(verb) > 2 and verb[-1] not in "aeiouwxy" and verb[-2] in _VOWELS
    one = sum(letter in _VOWELS for letter in verb) == 1 or verb in ("permit", "refer", "prefer")
    return ends_so and verb[-3] not in _VOWELS and one


OVERLAY = of_paragraph(nominal_phrase, Stage.LINE, ProofMark.REPLACE)
EXAMPLES_MARKED = {
    "He [gave a nod] and went out.": "nodded",
    "She [made a decision] to go.": "decided",
    "He [gave a short, dry laugh].": None,
}
EXAMPLES_UNMARKED = (
    "She had a look of her mother.",
    "He made a boat. She gave a book to him.",
    "“I took a look,” he said.",
)
