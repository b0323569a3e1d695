"""How many syllables an English word has, by its spelling.

Rules of our own, for counting over many words (the readability formulas), not for hyphenation:
vowel groups are counted, silent endings are taken off, vowels that meet without running together
are counted apart. A few hundred very common words make up most of any text, so the exceptions
among those matter most; they are listed in ``resources/language/syllables.txt``.
"""

import re
from functools import cache, lru_cache

from reglet import resources

_GROUPS = re.compile(r"[aeiouy]+")
# Endings whose e is silent, tried on the whole word.
_SILENT = re.compile(
    r"(?:(?<=[^aeiouy])(?<![^aeiouy]l)e"
    r"|(?<=[^aeiouytd])(?<![^aeiouy]l)ed|(?<=[^aeiouysxzcghl])es|(?<=[aeiou]l)es"
    r"|(?<=[aeiouy]th)es)$"
)
# A silent e before an ending or in a compound: "lonely", "somehow", "forehead".
_INNER_SILENT = re.compile(
    r"(?<=[aeiouy][^aeiouy])e(?=(?:ly|ness|less|ment|ments|ful|fully|some|time|times|thing|where"
    r"|body|how|what|head|work|man|men|teen|teenth|ty|noon|place|born|fore|wards?|wise)$)"
)
# Pairs of vowels that are two syllables.
_APART = (
    re.compile(r"(?<![tcsgx])i(?=[ao])(?<![ln]i(?=on|a[rnt]))"),
    re.compile(r"[ct]i(?=ate|atin)"),
    re.compile(r"i(?=u[mn])"),
    re.compile(r"(?<![gq])u(?=[aeo](?!u|y\b))(?=a|o|e[tl])"),
    re.compile(r"e(?=o(?!u|p\b|ple))(?<!p.)(?<!g.)"),
    re.compile(r"[aeiouy](?=ing$)"),
    re.compile(r"(?<=[^aeiouyqgct])[iy](?=e(?:r|rs|st|t|ty|tly|nce|nt|ntly)$)"),
    re.compile(r"cre(?=a(?:t|tor))|(?<=[^h])e(?=al(?:ity|ly))|re(?=a[cl][tilu])"),
    re.compile(r"(?<=[^aeiouy])o(?=(?:e[mt]|ic(?!e)|ing))"),
)
_SYLLABIC_M = re.compile(r"(?:s|th)ms?$")


@cache
def _known() -> dict[str, int]:
    found: dict[str, int] = {}
    for line in resources.lines("language", "syllables.txt"):
        number, *words = line.split()
        found |= dict.fromkeys(words, int(number))
    return found


@lru_cache(maxsize=65_536)
def syllables(word: str) -> int:
    """Syllables of one word (hyphens, apostrophes and case do not matter); at least 1."""
    plain = word.lower().replace("’", "'").replace("ʼ", "'")
    return max(1, sum(_part(part) for part in re.split(r"[^a-zà-öø-ÿ]+", plain) if part))


def _part(part: str) -> int:
    known = _known().get(part)
    if known is not None:
        return known
    if len(part) < 3:
        return 1 if part not in ("s", "d", "t", "ll", "re", "ve", "m") else 0
    groups = len(_GROUPS.findall(part))
    if _SILENT.search(part) or _INNER_SILENT.search(part):
        groups -= 1
    if _SYLLABIC_M.search(part):
        groups += 1
    groups += sum(1 for pattern in _APART if pattern.search(part))
    return max(1, groups)
