"""Which words are spelt as a dictionary has them, and what a misspelt one may have meant.

The dictionaries are Hunspell's, through Enchant. A `Dictionary` is used by one thread.
"""

from __future__ import annotations

import re
from functools import lru_cache

import enchant

from reglet.errors import WriterError
from reglet.language.frequency import zipf

_HYPHENS = re.compile("[-‐‑]")
_CLITICS = re.compile("'(?:s|d|ll|ve)$")
_ENGLISH = ("en_GB", "en_US")
_COMMON = 2.5
"""The Zipf value from which a word is common enough in novels to be no slip (our own figure)."""


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
        if bare != plain and self._any_form(bare):
            return True
        parts = _HYPHENS.split(plain)
        return len(parts) > 1 and all(not part or self.knows(part) for part in parts)

    def _any_form(self, word: str) -> bool:
        forms = [word]
        if word.isupper() and len(word) > 1:
            forms += [word.capitalize(), word.lower()]
        return any(self._has(form) for form in forms) or self._is_common(word)

    def _is_common(self, word: str) -> bool:
        """Whether novels in English have the word although the dictionary lacks it ("caddy",
        "leant"). A word that another English dictionary has is the spelling of that variety.
        """
        return (
            self._others is not None
            and zipf(word) >= _COMMON
            and not any(other.check(word) for other in self._others)
        )

    def _near(self, word: str) -> tuple[str, ...]:
        """Words it may have meant, likeliest first, with the apostrophe as the word has it."""
        found = self._dictionary.suggest(word.replace("’", "'"))
        return tuple(each.replace("'", "’") if "'" not in word else each for each in found)


@lru_cache(maxsize=4)
def dictionary(language: str) -> Dictionary:
    """The dictionary of a language, opened once. Raises WriterError."""
    return Dictionary(language)
