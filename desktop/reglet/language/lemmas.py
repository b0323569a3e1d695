"""The dictionary form of a word: "running", "ran" and "runs" are all "run".

Irregular forms come from our own tables in ``resources/language``; regular ones are led back by
the spelling rules of English, and where a rule leaves a choice ("hoping": "hop" or "hope"?) the
commoner word of ``frequency`` is taken.
"""

import re
from functools import cache, lru_cache

from reglet import resources
from reglet.language.frequency import zipf

_VOWELS = frozenset("aeiouy")
# A stem of one short vowel and one consonant: verbs of this shape double it before an ending.
_SHORT_VOWEL = re.compile(r"(?:[^aeiouy]+|qu|[^aeiouy]*y)?[aeiou][^aeiouwxy]")
_SHORT = frozenset("do go be add egg".split())
# Words that look like inflected forms and are not.
_THEMSELVES = frozenset(
    "its hers ours yours theirs news evening morning nothing something anything everything during "
    "wedding ceiling darling indeed need seed feed heed deed reed weed greed creed speed "
    "steed breed bleed exceed succeed proceed hundred sacred naked wicked bed red shed sled bred "
    "species series thanks alas perhaps always unless across besides afterwards towards "
    "trousers scissors clothes sometimes whereas lens gas bus yes plus thus christmas".split()
)


@lru_cache(maxsize=65_536)
def lemma(word: str, tag: str = "") -> str:
    """The dictionary form of ``word`` in lower case.

    ``tag`` is its Penn Treebank tag, if known: it settles "saw" (VBD "see", NN "saw") and keeps
    "building" (NN) from "build". Without a tag a verb's reading goes before a noun's. A possessive
    or contracted ending is left out first; a hyphened word is led back in its last part.
    """
    plain = word.lower().replace("’", "'").replace("ʼ", "'")
    if len(plain) > 2 and plain.endswith("'s"):
        plain = plain[:-2]
    if not plain.isalpha():
        head, hyphen, last = plain.rpartition("-")
        return (
            head + hyphen + lemma(last, tag) if head and last.isalpha() else _irregular(plain, tag)
        )
    if tag.startswith(
        ("NNP", "IN", "DT", "PRP", "CC", "TO", "MD", "RB", "W", "EX", "UH", "CD")
    ) and not tag.startswith(("RBR", "RBS")):
        return plain
    if plain in _THEMSELVES:
        return plain
    irregular = _irregular(plain, tag)
    if irregular != plain or plain in _bases():
        return irregular
    if tag.startswith("VB"):
        return _verb(plain)
    if tag.startswith("NN"):
        return _without_s(plain) if tag == "NNS" else plain
    if tag.startswith(("JJ", "RB")):
        return _compared(plain) if tag[2:] in ("R", "S") else plain
    found = _verb(plain)
    # Without a tag a guess must be a likely one: "always" is no plural of a hardly known "alway".
    return found if zipf(found) > max(1.0, zipf(plain) - 2) or not zipf(plain) else plain


def _irregular(plain: str, tag: str) -> str:
    verbs, others = _tables()
    if tag in ("VB", "VBP") and plain in _bases():
        return plain
    if tag.startswith("VB"):
        return verbs.get(plain, plain)
    if tag.startswith(("NN", "JJ", "RB")):
        return others.get(plain, plain)
    return verbs.get(plain) or others.get(plain, plain)


@cache
def _tables() -> tuple[dict[str, str], dict[str, str]]:
    return _table("irregular_verbs.txt"), _table("irregular_words.txt")


@cache
def _bases() -> frozenset[str]:
    verbs, others = _tables()
    return frozenset(verbs.values()) | frozenset(others.values())


def _table(name: str) -> dict[str, str]:
    """Form → base. The first line that has a form wins ("lay" is of "lay", then of "lie")."""
    found: dict[str, str] = {}
    for line in resources.lines("language", name):
        base, *forms = line.split()
        for form in forms:
            found.setdefault(form, base)
    return found


def _verb(plain: str) -> str:
    if plain.endswith("ing") and _has_vowel(plain[:-3]):
        return _stem(plain, plain[:-3])
    if plain.endswith("ied") and len(plain) > 4:
        return plain[:-3] + "y"
    if plain.endswith("eed"):
        return plain[:-1] if zipf(plain[:-1]) > 0 else plain
    if plain.endswith("ed") and _has_vowel(plain[:-2]):
        return _stem(plain, plain[:-2])
    return _without_s(plain)


def _without_s(plain: str) -> str:
    if not plain.endswith("s") or plain.endswith(("ss", "us", "is")) or len(plain) < 4:
        return plain
    if plain.endswith("ies") and len(plain) > 4:
        return _commonest(plain[:-3] + "y", plain[:-1])
    if plain.endswith(("shes", "ches", "xes", "ses", "zes", "oes")) and len(plain) > 4:
        return _commonest(plain[:-2], plain[:-1])
    return plain[:-1]


def _compared(plain: str) -> str:
    for ending in ("est", "er"):
        if plain.endswith(ending) and _has_vowel(plain[: -len(ending)]):
            stem = plain[: -len(ending)]
            return stem[:-1] + "y" if stem.endswith("i") else _stem(plain, stem)
    return plain


def _stem(plain: str, stem: str) -> str:
    """What "hop" in "hoping", "hopp" in "hopping", "mak" in "making" come from."""
    if len(stem) < 2:
        return plain
    if len(stem) == 2:  # "lying" is of "lie", "dyed" of "dye", "used" of "use"
        if stem[1] == "i" or (stem[1] == "y" and plain.endswith("ing")):
            return stem[0] + "ie"
        return stem if stem in _SHORT else stem + "e"
    if _SHORT_VOWEL.fullmatch(stem):
        return stem + "e"  # a verb such as "star" would have doubled its last letter: "starred"
    if stem[-1] == stem[-2] and stem[-1] not in _VOWELS:
        choices = [stem, stem[:-1]] if stem[-1] in "lsfz" else [stem[:-1], stem]
    elif stem.endswith("ck"):
        choices = [stem, stem + "e", stem[:-1]]  # "panicked"
    else:
        choices = [stem, stem + "e"]
    found = max(choices, key=zipf)
    return found if zipf(found) > 0 else _by_shape(stem)


def _by_shape(stem: str) -> str:
    if stem[-1] == stem[-2] and stem[-1] not in "lsfz" and stem[-1] not in _VOWELS:
        return stem[:-1]
    if stem.endswith(("c", "v", "u", "s", "z", "dg", "at")) and not stem.endswith(
        ("ss", "eat", "oat")
    ):
        return stem + "e"
    return stem


def _commonest(*choices: str) -> str:
    """The commonest; of equals the first."""
    return max(choices, key=zipf)


def _has_vowel(letters: str) -> bool:
    return not _VOWELS.isdisjoint(letters)
