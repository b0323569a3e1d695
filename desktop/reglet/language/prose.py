"""``Prose``: one paragraph with all that the language core knows of it, each part made once.

    prose = Prose(paragraph.text, marks)      # marks = detect_marks(all paragraphs), once a book
    prose.words        Word(start, end, text): what is counted
    prose.tokens       Token(start, end, text): words, clitics and marks
    prose.sentences    Sentence(start, end)
    prose.quotations   Quotation(start, end, depth, opened, closed, spoken, continues)
    prose.speeches     those of them that are speech
    prose.speech_tags  SpeechTag(start, end, quotation, verb, adverb, speaker)
    prose.narration    (start, end) of what is not spoken
    prose.tags         a Penn Treebank tag for each of prose.tokens ("NN", "VBD", "RB" …)
    prose.roles        its part in the clause ("subject", "main", "passive auxiliary" …, or "")
    prose.passives     Passive(start, end, auxiliary, verb): places in prose.tokens

All offsets are code points into ``prose.text``. A ``Prose`` is a value: equal texts (with equal
marks) give equal values, so a cache may be keyed by it or by its text. Tags for many paragraphs are
cheaper together: ``read_ahead(proses)`` makes them in one go, and nothing else changes.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from reglet.language.passives import Passive, passives
from reglet.language.sentences import Sentence, sentences
from reglet.language.speech import Marks, Quotation, narration, quotations
from reglet.language.speech_tags import SpeechTag, speech_tags
from reglet.language.words import Pieces, Token, Word, cut

if TYPE_CHECKING:
    from reglet.language.tagger import Reading


@dataclass(frozen=True)
class Prose:
    """One paragraph's text, read lazily.

    ``marks`` is the book's way of quotation marks (``detect_marks``); without it the paragraph's
    own is taken, which fails only where a paragraph has nothing but apostrophes to go by.
    ``continued`` says that the paragraph before left speech open.
    """

    text: str
    marks: Marks | None = None
    continued: bool = False

    @property
    def words(self) -> tuple[Word, ...]:
        """The words, in order."""
        return self._pieces.words

    @property
    def tokens(self) -> tuple[Token, ...]:
        """Words, the parts of contracted words, and marks, in order."""
        return self._pieces.tokens

    @property
    def plain_words(self) -> tuple[str, ...]:
        """The words in small letters with straight apostrophes, as word lists have them."""
        return self._pieces.plain

    @cached_property
    def _pieces(self) -> Pieces:
        return cut(self.text)

    @cached_property
    def sentences(self) -> tuple[Sentence, ...]:
        """The sentences, in order."""
        return sentences(self.text)

    @cached_property
    def quotations(self) -> tuple[Quotation, ...]:
        """The stretches in quotation marks."""
        return quotations(self.text, self.marks, self.continued)

    @cached_property
    def speeches(self) -> tuple[Quotation, ...]:
        """Those of them that are speech, the outermost alone."""
        return tuple(q for q in self.quotations if q.spoken and q.depth == 0)

    @cached_property
    def speech_tags(self) -> tuple[SpeechTag, ...]:
        """The tags that say who speaks."""
        return speech_tags(self.text, self.quotations)

    @cached_property
    def narration(self) -> tuple[tuple[int, int], ...]:
        """The stretches that are not spoken, as (start, end)."""
        return narration(self.text, self.quotations)

    @cached_property
    def reading(self) -> Reading:
        """Tags and roles of the tokens."""
        return _read([self])[0]

    @property
    def tags(self) -> tuple[str, ...]:
        """A Penn Treebank tag for each token."""
        return self.reading.tags

    @property
    def roles(self) -> tuple[str, ...]:
        """The part that each token plays in its clause; see ``tagger.Reading``."""
        return self.reading.roles

    @cached_property
    def passives(self) -> tuple[Passive, ...]:
        """The passive clauses."""
        return passives(self.tokens, self.reading)

    @cached_property
    def _word_starts(self) -> list[int]:
        return [word.start for word in self.words]

    @cached_property
    def sentence_lengths(self) -> tuple[int, ...]:
        """How many words each of ``sentences`` has."""
        starts = self._word_starts
        cuts = [bisect_left(starts, sentence.end) for sentence in self.sentences]
        return tuple(b - a for a, b in zip([0, *cuts], cuts, strict=False))

    @cached_property
    def spoken_words(self) -> int:
        """How many of the words stand in speech."""
        starts = self._word_starts
        return sum(bisect_left(starts, q.end) - bisect_left(starts, q.start) for q in self.speeches)

    def is_spoken(self, offset: int) -> bool:
        """Whether the code point at ``offset`` stands in speech."""
        return any(q.spoken and q.start <= offset < q.end for q in self.quotations)

    def words_in(self, start: int, end: int) -> tuple[Word, ...]:
        """The words that lie wholly between two offsets, as of a sentence."""
        starts = self._word_starts
        found = self.words[bisect_left(starts, start) : bisect_left(starts, end)]
        return found[:-1] if found and found[-1].end > end else found


_TOGETHER = 32  # paragraphs tagged at once: enough to be quick, few enough to stay in the cache


def read_ahead(proses: Iterable[Prose]) -> None:
    """Tag many paragraphs together, some three times as fast as one by one."""
    waiting = [prose for prose in proses if "reading" not in prose.__dict__]
    for at in range(0, len(waiting), _TOGETHER):
        batch = waiting[at : at + _TOGETHER]
        for prose, reading in zip(batch, _read(batch), strict=True):
            prose.__dict__["reading"] = reading  # what cached_property would have stored


def _read(proses: list[Prose]) -> list[Reading]:
    # Imported here, for the tagger brings in numpy, which a window that is to open at once would
    # wait for, and the first tags are asked for later.
    from reglet.language.tagger import read

    return read([[token.text for token in prose.tokens] for prose in proses])
