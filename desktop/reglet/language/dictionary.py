"""Which words are spelt as a dictionary has them, and what a misspelt one may have meant.

The dictionaries are Hunspell's, through Enchant. A `Dictionary` is used by one thread.
"""

from __future__ import annotations

import re
from functools import lru_cache

import enchant

from reglet.errors import WriterError
from reglet.language.frequency import zipf
from reglet.language.suggestions import Suggestion, one_slip, ranked
from reglet.language.words import written_like

_HYPHENS = re.compile("[-‐‑]")
_CLITICS = re.compile("'(?:s|d|ll|ve)$")
_ENGLISH = ("en_GB", "en_US")
_COMMON = 2.5
"""The Zipf value from which a word is common enough in novels to be no slip (our own figure)."""


_EASY, _COMMON_WORD = 0.5, 4.0
"""A slip that is made as easily (`suggestions.distance`), of a word as common (Zipf)."""
_FIRM, _FIRMER = 3.0, 4.3
"""The Zipf values from which two words may make a third; the second if one has three letters."""
_ENDINGS = tuple("less ness like ish ful wise ward wards ship hood fashion ess ly".split())
_OPENINGS = tuple(
    "un re non over out under fore mid half super anti inter semi sub pre micro multi mis".split()
)
# Endings, what the word ends in without, and how common (Zipf) it must be at least. Our own list.
_DERIVED = (
    ("ies", ("y",), 1.5),
    ("ses", ("s", "se"), 1.5),
    ("xes", ("x",), 1.5),
    ("hes", ("h", "he"), 1.5),
    ("s", ("",), 1.5),
    ("ily", ("y",), 1.5),
    ("ally", ("al",), 1.5),
    ("iness", ("y",), 1.5),
    ("iest", ("y",), 1.5),
    ("ier", ("y",), 1.5),
    ("y", ("",), 3.0),
    ("er", ("", "e"), 3.0),
    ("ers", ("", "e"), 3.0),
)
# What takes none of these endings: "officialy", "monthes", "shelfs", "fastests" are slips.
_NOT_DERIVED = {
    "y": ("l", "ey", "ct", "ed", "y", "ow", "ht", "le"),
    "s": ("ed", "s", "st", "lf", "ful", "able", "se", "nger", "ever"),
    "hes": ("th",),
}
# Words that are written apart from others, so that "eachother" and "everytime" are slips.
_SMALL_WORDS = frozenset(
    "each every some much many such that this than then them they with from into when what which "
    "where there here have been were your their other time times more most very even just only "
    "also well will ever else both long soon less least about after before again next high".split()
)


class Dictionary:
    """The words of one variety of English (or another language that is installed).

    `language` is a BCP 47 tag. Raises WriterError where no dictionary of it is installed.
    """

    def __init__(self, language: str) -> None:
        tag = language.replace("-", "_")
        if not enchant.dict_exists(tag):
            raise WriterError(
                f"No spelling dictionary for {language} is installed, so spelling cannot be looked "
                f"at. Install one (on Debian and Ubuntu: hunspell-{language.lower()}), or choose "
                "another language in the style sheet. All else goes on working."
            )
        self._dictionary = enchant.Dict(tag)
        others = [other for other in _ENGLISH if other != tag and enchant.dict_exists(other)]
        self._others = [enchant.Dict(other) for other in others] if tag in _ENGLISH else None
        self._has = lru_cache(maxsize=65536)(self._dictionary.check)
        self.near = lru_cache(maxsize=4096)(self._near)

    def knows(self, word: str) -> bool:
        """Whether a word is spelt as the dictionary has it, or is put together from such words.

        Possessives, hyphened words, typographer's apostrophes, words all in capitals and words
        with figures in them are seen through.
        """
        if any(letter.isdigit() for letter in word):
            return True
        plain = word.replace("’", "'").replace("\u00ad", "")
        if self._any_form(plain):
            return True
        bare = _CLITICS.sub("", plain)
        if word[:1].isupper() and word.endswith("s") and len(word) > 4 and self._has(plain[:-1]):
            return True  # the Murrays, the Hendrys
        if bare != plain and self._any_form(bare):
            return True
        if self._is_formed(bare) and not self._is_easy_slip(bare):
            return True
        parts = _HYPHENS.split(plain)
        if len(parts) > 1 and self._any_form("".join(parts)):
            return True  # drawn out, or broken: "win-ter"
        if len(parts) < 2 or not all(not part or self.knows(part) for part in parts[:-1]):
            return False
        last = parts[-1]
        made = [last[: -len(end)] for end in ("ed", "er", "ers", "s", "d") if last.endswith(end)]
        return not last or self.knows(last) or any(len(m) > 2 and self._has(m) for m in made)

    def _any_form(self, word: str) -> bool:
        forms = [word]
        if word.isupper() and len(word) > 1:
            forms += [word.capitalize(), word.lower()]
        return any(self._has(form) for form in forms) or self._is_common(word)

    def _is_formed(self, word: str, again: bool = True) -> bool:
        """Whether it is formed from listed words as English forms them: "dinnerless", "boxful",
        "unlatched", "pearwood", "bonelessly".
        """
        if not word.isalpha() or not word.islower() or self._others is None:
            return False
        for ending in _ENDINGS:
            stem = word[: -len(ending)]
            if word.endswith(ending) and len(stem) > 2 and self._has(stem) and zipf(stem) >= 2.5:
                return True
        if any(self._is_inflected(word, ending) for ending in ("ed", "ing", "ings")):
            return True
        if self._is_derived(word):
            return True
        if again and word.endswith(("ly", "s", "er", "est")):
            stem = next(word[: -len(e)] for e in ("ly", "est", "er", "s") if word.endswith(e))
            if len(stem) > 5 and self._is_formed(stem, again=False):
                return True
        for opening in _OPENINGS:
            rest = word[len(opening) :]
            if word.startswith(opening) and len(rest) > 3 and zipf(rest) > 0 and self._any(rest):
                return True
        return any(
            zipf(head) >= _FIRM
            and zipf(tail) >= _FIRM
            and not {head, tail} & _SMALL_WORDS
            and self._has(head)
            and self._has(tail)
            for head, tail in ((word[:at], word[at:]) for at in range(3, len(word) - 2))
            if min(len(head), len(tail)) > 3 or min(zipf(head), zipf(tail)) >= _FIRMER
        )

    def _is_derived(self, word: str) -> bool:
        """Whether it is a listed word with an ending that English puts to any of its kind."""
        for ending, stem_endings, least in _DERIVED:
            if not word.endswith(ending):
                continue
            stem = word[: -len(ending)]
            for stem_ending in stem_endings:
                whole = stem + stem_ending
                if whole.endswith(_NOT_DERIVED.get(ending, ())) or whole in _SMALL_WORDS:
                    continue
                if len(stem) > 3 and zipf(whole) >= least and self._any(whole):
                    return True
        return False

    def _any(self, word: str) -> bool:
        """Whether a dictionary of English has the word, of this variety or another."""
        return bool(self._has(word)) or any(other.check(word) for other in self._others or ())

    def _is_inflected(self, word: str, ending: str) -> bool:
        """A noun used as a verb, by the rules of spelling: "sleuthed", but never "runing"."""
        stem = word[: -len(ending)]
        return (
            word.endswith(ending)
            and len(stem) > 3
            and stem[-1] not in "aeiouy"
            and (stem[-2] not in "aeiou" or stem[-3] in "aeiou" or len(stem) > 5)
            and zipf(stem) >= _FIRM
            and self._has(stem)
        )

    def _is_easy_slip(self, word: str) -> bool:
        """Whether a formed word is but a letter doubled, left single or left out in a common one:
        "waitting", "untill", "misstake".
        """
        best = next((each for each in self.near(word) if "’" not in each.word), None)
        return best is not None and best.distance <= _EASY and zipf(best.word) >= _COMMON_WORD

    def is_of_other_variety(self, word: str) -> bool:
        """Whether another English dictionary has the word, in this or another form, and this one
        has not: "gray" and "recognize" in British English.
        """
        plain = word.replace("’", "'")
        bare = _CLITICS.sub("", plain).lower()
        parts = _HYPHENS.split(bare)
        return self._others is not None and all(self._any(part) for part in parts if part)

    def _is_common(self, word: str) -> bool:
        """Whether novels in English have the word although the dictionary lacks it ("caddy",
        "leant"). A word that another English dictionary has is the spelling of that variety.
        """
        return (
            self._others is not None
            and zipf(word) >= _COMMON
            and not any(other.check(word) for other in self._others)
        )

    def lists(self, word: str) -> bool:
        """Whether the dictionary itself has the word, with a straight apostrophe if any."""
        return bool(self._has(word))

    def _near(self, word: str) -> tuple[Suggestion, ...]:
        """Words it may have meant, likeliest first, with case and apostrophe as the word has it."""
        plain = word.replace("’", "'")
        candidates = {*self._dictionary.suggest(plain), *one_slip(plain.lower(), self._has)}
        candidates = {each for each in candidates if each[:1].islower() or word[:1].isupper()} or (
            candidates
        )
        dressed: list[Suggestion] = []
        for each in ranked(plain.lower(), candidates):
            new = written_like(each.word, word)
            if new not in (one.word for one in dressed):
                dressed.append(each._replace(word=new))
        return tuple(dressed)


@lru_cache(maxsize=4)
def dictionary(language: str) -> Dictionary:
    """The dictionary of a language, opened once. Raises WriterError."""
    return Dictionary(language)
