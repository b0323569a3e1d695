"""The dictionary form of a word: "running", "ran" and "runs" are all "run".

Irregular forms come from our own tables in ``resources/language``; regular ones are led back by
the spelling rules of English, and where a rule leaves a choice ("hoping": "hop" or "hope"?) the
commoner word of ``frequency`` is taken.
"""

from functools import cache, lru_cache

from reglet import resources
from reglet.language.frequency import zipf

_VOWELS = frozenset("aeiouy")
_NEVER_DOUBLED = frozenset("wxy")


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
    ) and (not tag.startswith(("RBR", "RBS"))):
        return plain
    irregular = _irregular(plain, tag)
    if irregular != plain or plain in _bases():
        return irregular
    if tag.startswith("VB"):
        return _verb(plain)
    if tag.startswith("NN"):
        return _noun(plain) if tag == "NNS" else plain
    if tag.startswith(("JJ", "RB")):
        return _compared(plain) if tag[2:] in ("R", "S") else plain
    as_verb = _verb(plain)
    return as_verb if as_verb != plain else _noun(plain)


def _irregular(plain: str, tag: str) -> str:
    verbs, others = _tables()
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
    for line in resources.path("language", name).read_text(encoding="utf-8").splitlines():
        if line and not line.startswith("#"):
            base, *forms = line.split()
            for form in forms:
                found.setdefault(form, base)
    return found


def _verb(plain: str) -> str:
    if plain.endswith("ing") and _has_vowel(plain[:-3]):
        return _stem(plain, plain[:-3])
    if plain.endswith("ied") and len(plain) > 4:
        return plain[:-3] + "y"
    if plain.endswith("ed") and _has_vowel(plain[:-2]) and not plain.endswith("eed"):
        return _stem(plain, plain[:-2])
    return _without_s(plain)


def _noun(plain: str) -> str:
    return _without_s(plain)


def _without_s(plain: str) -> str:
    if not plain.endswith("s") or plain.endswith(("ss", "us", "is")) or len(plain) < 4:
        return plain
    if plain.endswith("ies") and len(plain) > 4:
        return _commonest(plain[:-3] + "y", plain[:-1])
    if plain.endswith(("shes", "ches", "xes", "sses", "zzes", "oes")):
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
    choices = [stem, stem + "e"]
    if len(stem) > 2 and stem[-1] == stem[-2] and stem[-1] not in _VOWELS | _NEVER_DOUBLED:
        choices = [stem[:-1], stem]
    found = _commonest(*choices)
    return found if zipf(found) > 0 else _by_shape(stem)


def _by_shape(stem: str) -> str:
    if (
        len(stem) > 2
        and stem[-1] == stem[-2]
        and stem[-1] not in "lsfz"
        and stem[-1] not in _VOWELS
    ):
        return stem[:-1]
    if stem.endswith(("c", "v", "u", "s", "z", "dg")) and not stem.endswith("ss"):
        return stem + "e"
    return stem


def _commonest(*choices: str) -> str:
    """The commonest; of equals the first."""
    return max(choices, key=zipf)


def _has_vowel(letters: str) -> bool:
    return not _VOWELS.isdisjoint(letters)
