"""The word lists of the Line overlays, read from `resources/words`.

Two kinds of file, one entry a line, `#` before a remark. In a list of words a line begins with the
strictness from which its words are asked about: `usual: very really`. In a list of phrases a line
is a phrase and, after `=`, what could stand instead. In a phrase `a/b` is a choice of words,
`+roll` any form of the verb, `one's` any possessive pronoun, `one` any pronoun as an object.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from reglet import resources
from reglet.language.frequency import zipf
from reglet.language.lemmas import lemma
from reglet.overlays.house import Strictness
from reglet.overlays.reading import ReadParagraph

_POSSESSIVES = frozenset("my your his her its our their one's".split())
_OBJECTS = frozenset("me you him her it us them one".split())


@cache
def words_by_strictness(name: str) -> dict[str, Strictness]:
    """Each word of a list, with the strictness from which it is asked about."""
    found: dict[str, Strictness] = {}
    for line in resources.lines("words", name):
        strictness, _, words = line.partition(":")
        found.update(dict.fromkeys(words.split(), Strictness[strictness.upper()]))
    return found


@dataclass(frozen=True, slots=True)
class Phrase:
    """A phrase of a list: its words as sets of choices (or a verb in any form), and what could
    stand instead; None where the list has nothing, "" where the phrase can simply go.
    """

    words: tuple[frozenset[str] | str, ...]
    instead: str | None

    def stands_in(self, words: tuple[str, ...], at: int) -> bool:
        """Whether these words have the phrase at this place."""
        if at < 0 or at + len(self.words) > len(words):
            return False
        return all(
            found in want if isinstance(want, frozenset) else lemma(found, "VBD") == want
            for want, found in zip(self.words, words[at : at + len(self.words)], strict=True)
        )


@dataclass(frozen=True, slots=True)
class Found:
    """A phrase of a list in a paragraph, in code points."""

    start: int
    end: int
    phrase: Phrase


class PhraseList:
    """Phrases, found in text by their least common word."""

    def __init__(self, name: str) -> None:
        self._by_key: dict[str, list[tuple[int, Phrase]]] = {}
        for line in resources.lines("words", name):
            pattern, equals, instead = (part.strip() for part in line.partition("="))
            phrase = Phrase(
                tuple(_want(each) for each in pattern.split()), instead if equals else None
            )
            key = min(
                (at for at, want in enumerate(phrase.words) if isinstance(want, frozenset)),
                key=lambda at: max(zipf(choice) for choice in phrase.words[at]),
            )
            for choice in phrase.words[key]:
                self._by_key.setdefault(choice, []).append((key, phrase))
        self._keys = frozenset(self._by_key)

    def found_in(self, read: ReadParagraph) -> Iterator[Found]:
        """The phrases in a paragraph, in order; of two that overlap, the longer."""
        hits = self._keys & read.vocabulary
        if not hits:
            return
        plain, words, text = read.plain_words, read.prose.words, read.paragraph.text
        taken = 0
        found = []
        for at, word in enumerate(plain):
            for offset, phrase in self._by_key[word] if word in hits else ():
                if phrase.stands_in(plain, at - offset):
                    here = words[at - offset : at - offset + len(phrase.words)]
                    if _unbroken(text[here[0].start : here[-1].end]):
                        found.append(Found(here[0].start, here[-1].end, phrase))
        for each in sorted(found, key=lambda each: (each.start, -each.end)):
            if each.start >= taken:
                taken = each.end
                yield each


@cache
def phrases(name: str) -> PhraseList:
    """A list of phrases, read once."""
    return PhraseList(name)


def _unbroken(text: str) -> bool:
    return not any(mark in text for mark in ',;:.!?—–…“”"()')


def _want(word: str) -> frozenset[str] | str:
    if word.startswith("+"):
        return word[1:]
    if word in ("one's", "one"):
        return _POSSESSIVES if word == "one's" else _OBJECTS
    return frozenset(word.split("/"))
