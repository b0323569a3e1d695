"""Readability figures of a stretch of text: for comparing a scene with its book, not for grading.

Flesch Reading Ease is Flesch's (1948) with the coefficients as restated by Kincaid, Fishburne,
Rogers and Chissom, "Derivation of new readability formulas … for Navy enlisted personnel" (1975);
the Flesch–Kincaid grade is from the same report.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from math import sqrt

from reglet.language.prose import Prose
from reglet.language.syllables import syllables


def flesch_reading_ease(words: int, sentences: int, syllables: int) -> float:
    """206.835 - 1.015 words/sentence - 84.6 syllables/word. Raises ValueError if a count is 0."""
    _check(words, sentences)
    return 206.835 - 1.015 * words / sentences - 84.6 * syllables / words


def flesch_kincaid_grade(words: int, sentences: int, syllables: int) -> float:
    """0.39 words/sentence + 11.8 syllables/word - 15.59. Raises ValueError if a count is 0."""
    _check(words, sentences)
    return 0.39 * words / sentences + 11.8 * syllables / words - 15.59


def _check(words: int, sentences: int) -> None:
    if words < 1 or sentences < 1:
        raise ValueError("readability needs a word and a sentence")


@dataclass(frozen=True, slots=True)
class Readability:
    """Counts over some paragraphs, and what is reckoned from them.

    ``spoken`` is how many of the words stand in speech; ``squares`` is the sum of the squares of
    the sentence lengths, kept so that figures of scenes add up to the book's (``+``).
    """

    words: int = 0
    sentences: int = 0
    syllables: int = 0
    spoken: int = 0
    squares: int = 0

    def __add__(self, other: "Readability") -> "Readability":
        return Readability(
            self.words + other.words,
            self.sentences + other.sentences,
            self.syllables + other.syllables,
            self.spoken + other.spoken,
            self.squares + other.squares,
        )

    @property
    def ease(self) -> float | None:
        """Flesch Reading Ease; None where there is no word."""
        if not self.words:
            return None
        return flesch_reading_ease(self.words, self.sentences, self.syllables)

    @property
    def grade(self) -> float | None:
        """The Flesch–Kincaid grade; None where there is no word."""
        if not self.words:
            return None
        return flesch_kincaid_grade(self.words, self.sentences, self.syllables)

    @property
    def dialogue(self) -> float:
        """The share of the words that is spoken, 0 to 1."""
        return self.spoken / self.words if self.words else 0.0

    @property
    def sentence_length(self) -> float:
        """The mean number of words in a sentence."""
        return self.words / self.sentences if self.sentences else 0.0

    @property
    def sentence_spread(self) -> float:
        """The standard deviation of words in a sentence."""
        if not self.sentences:
            return 0.0
        return sqrt(max(0.0, self.squares / self.sentences - self.sentence_length**2))


def readability(proses: Iterable[Prose]) -> Readability:
    """The figures of some paragraphs together. Sentences with no word in them are not counted."""
    total = Readability()
    for prose in proses:
        words = prose.words
        lengths = [n for n in prose.sentence_lengths if n]
        total += Readability(
            words=len(words),
            sentences=len(lengths),
            syllables=sum(syllables(word.text) for word in words),
            spoken=prose.spoken_words,
            squares=sum(n * n for n in lengths),
        )
    return total
