"""Overlay: a verb or a noun that does not agree with what it belongs to."""

import re
from collections.abc import Iterator
from functools import lru_cache

from reglet.language.frequency import zipf
from reglet.manuscript.book import StyleSheet
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House, Strictness
from reglet.overlays.overlay import Finding, of_uses
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph
from reglet.overlays.tally import Tally, Use

_VOICE = 4  # times in narration, from which it is the narrator's way of speaking (our own figure)
_SPEECH = "speech "

# Subject and verb. The verb in the right form for each.
_SINGULAR = {"are": "is", "have": "has", "do": "does", "were": "was", "don’t": "doesn’t"}
_PLURAL = {"was": "were", "is": "are", "has": "have", "does": "do", "doesn’t": "don’t"}
_BEGINS = r"(?:^|[.!?;] |[,;] |\b(?:but|because|when|while|where|since|so|then) )"
_FOR_MANY = r"are|have|do|were(?! (?:better|best|not))|don[’']t"
_FOR_ONE = r"was|is|has|does|doesn[’']t"
_VERBS = (
    (re.compile(rf"{_BEGINS}(?:he|she|it) (?P<verb>{_FOR_MANY})\b", re.I), _SINGULAR),
    (re.compile(rf"\b(?:they|we) (?P<verb>{_FOR_ONE})\b", re.I), _PLURAL),
    (re.compile(rf"{_BEGINS}you (?P<verb>{_FOR_ONE})\b", re.I), _PLURAL),
)
# Where "he were", "it have" may be right: unreal conditions, wishes, inversions.
_UNREAL = re.compile(
    r"\b(?:if|as|though|although|wish|wished|unless|whether|suppose|lest|than|till|until|ere|"
    r"would|should|could|might|may|let|did|does|do|were|had|demand|insist|that)\b",
    re.I,
)
# A helping verb takes the base form. Our own list of pasts that are nothing else.
_BASES = {
    "went": "go", "gave": "give", "took": "take", "knew": "know", "threw": "throw",
    "wrote": "write", "drove": "drive", "chose": "choose", "flew": "fly", "forgot": "forget",
    "grew": "grow", "sang": "sing", "sank": "sink", "swam": "swim", "swore": "swear",
    "tore": "tear", "began": "begin", "drank": "drink", "ran": "run", "shook": "shake",
    "told": "tell", "kept": "keep", "slept": "sleep", "became": "become", "understood":
    "understand", "brought": "bring", "caught": "catch", "taught": "teach", "said": "say",
}  # fmt: skip
_HELPED = re.compile(
    rf"\b(?:he|she|it|they|we|I|you) (?:could|would|should|might|must|can|will|did)"
    rf"(?:n[’']t| not| never)? (?P<verb>{'|'.join(_BASES)})\b|"
    rf"(?<!used )(?<!due )(?<!according )\bto (?P<after_to>{'|'.join(_BASES)})\b",
    re.I,
)
_FREE_RELATIVE = re.compile(r"\b(?:what|all|who|that|whom|which|as|those|than|best)\b", re.I)

# Number and noun.
_NUMBERS = (
    "two three four five six seven eight nine ten eleven twelve fifteen twenty thirty forty fifty "
    "sixty several"
    " these those"
)
_FUNCTION = (
    "of in on at to from with that which who were was had stood lay came went for as by "
    "into over under"
)
_COUNTED = re.compile(
    rf"(?<![-\w])(?i:{'|'.join(_NUMBERS.split())}) (?P<noun>[a-z]{{3,}})"
    rf"(?=[.;:!?]|[”’](?!\w)| (?:{'|'.join(_FUNCTION.split())})\b|$)"
)
_ONE_OF = re.compile(
    r"\b[Oo]ne of (?:the|his|her|my|our|their|your|these|those) (?P<noun>[a-z]{3,})"
    rf"(?=[,.;:!?—]| (?:{'|'.join(_FUNCTION.split())})\b|$)",
)
_EVERY = re.compile(
    r"\b(?:[Ee]very|[Aa]n?) (?P<plural>[a-z]{3,}s)"
    rf"(?=[,.;:!?—]| (?:{'|'.join(_FUNCTION.split())})\b)"
)
# Measures and the like, which stay singular after a number in some mouths or books, words that
# name many at once, and words that are seldom nouns. Our own list.
_UNCHANGED = frozenset(
    "foot mile pound stone dozen hundred thousand million billion score head pair couple gross "
    "sail brace yoke ton fathom hour year month week day sheep fish deer fowl quid bob horse gun "
    "cannon shot kind sort type party company crew family group swarm horde gang band tribe lot "
    "number people folk cattle craft aircraft spacecraft counsel staff crowd few old young trout "
    "salmon grouse duck pike cod hair other same next first last past right left front back dear "
    "sick wounded chosen alone current english french square odd times means news series species "
    "glass class pass".split()
)


def agreement(read: ReadParagraph, house: House) -> Iterator[Use]:
    """A verb that does not go with its subject, or a noun with its number: "they was", "two lamp".

    In speech people say what they say: it is asked about only where the overlay is strict. So is a
    narrator whose way of speaking it is.
    """
    text = read.paragraph.text
    for match, place, better in _slips(text):
        start, end = match.span(place)
        spoken = _SPEECH if read.prose.is_spoken(start) else ""
        kind = spoken + ("noun" if place in ("noun", "plural") else "verb")
        yield Use(kind, better, start, end, match[0].strip(" ,.;!?"))


def _slips(text: str) -> Iterator[tuple[re.Match[str], str, str]]:
    for pattern, forms in _VERBS:
        for match in pattern.finditer(text):
            better = forms[match["verb"].lower().replace("'", "’")]
            if forms is _PLURAL or not _UNREAL.search(_sentence_before(text, match.start("verb"))):
                yield match, "verb", better
    for match in _HELPED.finditer(text):
        place = "verb" if match["verb"] else "after_to"
        if not _FREE_RELATIVE.search(_sentence_before(text, match.start())[-30:]):
            yield match, place, _BASES[match[place].lower()]
    for pattern, apart in ((_COUNTED, 0.9), (_ONE_OF, 1.4)):
        for match in pattern.finditer(text):
            plural = _plural(match["noun"], apart)
            if plural is not None:
                yield match, "noun", plural
    for match in _EVERY.finditer(text):
        singular = _singular(match["plural"])
        if singular is not None:
            yield match, "plural", singular


def _sentence_before(text: str, at: int) -> str:
    return re.split(r"[.!?]", text[max(0, at - 160) : at])[-1]


@lru_cache(maxsize=4096)
def _plural(noun: str, apart: float) -> str | None:
    """The plural of a noun that is not one itself, if it is in use nearly as often: no further
    `apart`, in Zipf values.
    """
    if noun in _UNCHANGED or noun.endswith(("s", "ed", "ing", "men", "ren")):
        return None
    if noun.endswith(("ch", "sh", "x")):
        plural = noun + "es"
    elif noun.endswith("y") and noun[-2] not in "aeiou":
        plural = noun[:-1] + "ies"
    else:
        plural = noun + "s"
    return plural if zipf(plural) >= max(2.5, zipf(noun) - apart) else None


@lru_cache(maxsize=4096)
def _singular(plural: str) -> str | None:
    """The singular of what is surely a plural, of a noun that is in use more often."""
    singular = plural[:-3] + "y" if plural.endswith("ies") else plural[:-1]
    if plural in _UNCHANGED or singular in _UNCHANGED or plural.endswith(("ss", "us", "is", "ous")):
        return None
    return singular if zipf(singular) >= max(3.5, zipf(plural)) else None


def _judge(use: Use, tally: Tally, sheet: StyleSheet, house: House) -> Finding | None:
    if house.strictness_of("agreement") is not Strictness.STRICT:
        said_so = sum(tally.ways(use.question).values())
        if use.question.startswith(_SPEECH) or said_so >= _VOICE:
            return None
    return Finding(use.start, use.end, f"“{use.way}” would go with “{use.text}”.", use.way)


OVERLAY = of_uses(agreement, _judge, Stage.PROOF, ProofMark.REPLACE)
EXAMPLES_MARKED = {
    "They [was] late. The lamp was out.": "were",
    "She [have] a lamp.": "has",
    "He could not [went] home.": "go",
    "She wanted to [gave] it back.": "give",
    "There were three [lamp] on the sill.": "lamps",
    "It was one of the [door] of the house.": "doors",
    "Every [lamps] of the house was lit.": "lamp",
}
EXAMPLES_UNMARKED = (
    "If he were late, as though it were nothing. “We was late,” he said.",
    "Would he have gone? He and she were late, and so were they. As it were.",
    "Two stone walls, three foot of water, several of them, two young men, these days.",
    "All he could did no good. What she would gave her pause.",
)
