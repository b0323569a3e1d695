"""The word lists of the outs model, and how they turn words into the numbers that it reads.

British and American spellings are levelled by `Lexicon.respelled`, a table that was drawn from the
training texts.
"""

from __future__ import annotations

import json
import zlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

import numpy as np
import numpy.typing as npt

from reglet.outs.levelling import Word

# Columns of the rows that `Lexicon.rows` gives, in the order in which the model takes them.
WORD, HEAD, TAIL, CASE, BEFORE, AFTER = range(6)
COLUMNS = 6

# The first numbers of the word column; hashed words follow, then the listed words.
PAD, MASK, NUMBER = 0, 1, 2
HASHED_FROM = 3
HASHED = 1021  # a prime: unlisted words are spread over so many numbers
LISTED_FROM = HASHED_FROM + HASHED

AFFIXES = 1021  # hashed first and last three letters of unlisted words; 0 for a listed word

# The separator column: 0 is "never seen in training", 1 a plain space, 2 a hyphen.
OTHER, PLAIN, HYPHEN = 0, 1, 2
PARAGRAPH_START, PARAGRAPH_START_QUOTE = 3, 4
FIXED_SEPARATORS = ("\0", " ", "-", "\n", '\n"')


def _hashed(text: str, buckets: int) -> int:
    return zlib.crc32(text.encode()) % buckets


@dataclass(frozen=True)
class Lexicon:
    """The model's word lists: all that turns words into numbers and numbers into words.

    `listed` are the known forms, commonest first; `separators` the known separators; `proposed`
    the words that the gap head can name (its class 0 is "nothing missing", the last "another
    word"); `confusable` maps a form to the forms that may have been meant in its place, and
    `meant` are the classes of the word head (its class 0 is "right").
    """

    listed: tuple[str, ...]
    separators: tuple[str, ...]
    respelled: Mapping[str, str]
    proposed: tuple[str, ...]
    meant: tuple[str, ...]
    confusable: Mapping[str, tuple[str, ...]]

    @classmethod
    def load(cls, path: Path) -> Lexicon:
        """Read what `save` wrote; raises OSError or ValueError if the file is not there or bad."""
        data = json.loads(path.read_text(encoding="utf-8"))
        return cls(
            tuple(data["listed"].split()),
            tuple(data["separators"]),
            dict(pair.split(":") for pair in data["respelled"].split()),
            tuple(data["proposed"].split()),
            tuple(data["meant"].split()),
            {row.split()[0]: tuple(row.split()[1:]) for row in data["confusable"]},
        )

    def save(self, path: Path) -> None:
        """Write as one JSON file."""
        data = {
            "listed": " ".join(self.listed),
            "separators": list(self.separators),
            "respelled": " ".join(f"{a}:{b}" for a, b in self.respelled.items()),
            "proposed": " ".join(self.proposed),
            "meant": " ".join(self.meant),
            "confusable": [" ".join((w, *others)) for w, others in self.confusable.items()],
        }
        path.write_text(json.dumps(data, ensure_ascii=False, indent=0), encoding="utf-8")

    @cached_property
    def numbers(self) -> dict[str, int]:
        """Form → number in the word column, for listed forms and their other spellings."""
        known = {form: LISTED_FROM + i for i, form in enumerate(self.listed)}
        known.update({a: known[b] for a, b in self.respelled.items() if b in known})
        return known

    @cached_property
    def separator_numbers(self) -> dict[str, int]:
        """Separator → number in the two separator columns."""
        return {text: i for i, text in enumerate(self.separators)}

    @property
    def size(self) -> int:
        """How many numbers the word column can hold."""
        return LISTED_FROM + len(self.listed)

    def identity(self, form: str) -> tuple[int, int, int]:
        """Word, head and tail column for one form."""
        number = self.numbers.get(form)
        if number is not None:
            return number, 0, 0
        if form.isdigit():
            return NUMBER, 1 + _hashed(str(len(form)), AFFIXES - 1), 0
        return (
            HASHED_FROM + _hashed(form, HASHED),
            1 + _hashed("^" + form[:3], AFFIXES - 1),
            1 + _hashed(form[-3:] + "$", AFFIXES - 1),
        )

    def rows(self, found: Sequence[Word]) -> npt.NDArray[np.int32]:
        """One row of `COLUMNS` numbers for each word."""
        seps = self.separator_numbers
        out = np.empty((len(found), COLUMNS), np.int32)
        for i, word in enumerate(found):
            number = self.numbers.get(word.form)
            ident = (number, 0, 0) if number is not None else self.identity(word.form)
            out[i] = (
                *ident,
                word.case,
                seps.get(word.before, OTHER),
                seps.get(word.after, OTHER),
            )
        return out
