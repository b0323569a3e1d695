"""From the text of one paragraph to the numbers that the outs model reads.

Pure functions: text in, words with their places and rows of small integers out. Nothing here
depends on training; the same code makes the training data and runs beside the writer.

What the model must not see is levelled out here: straight or curly quotation marks, single or
double ones, the kind and spacing of dashes, British or American spelling, accents, italics. The
two spellings are levelled by `respelled`, a table that was drawn from the training texts.
"""

from __future__ import annotations

import json
import re
import unicodedata
import zlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

import numpy as np
import numpy.typing as npt

# Columns of the rows that `Lexicon.rows` gives, in the order in which the model takes them.
WORD, HEAD, TAIL, CASE, BEFORE, AFTER = range(6)
COLUMNS = 6
LONGEST = 512  # the most words the network can take at once

# The first numbers of the word column; hashed words follow, then the listed words.
PAD, MASK, NUMBER = 0, 1, 2
HASHED_FROM = 3
HASHED = 1021  # a prime: unlisted words are spread over so many numbers
LISTED_FROM = HASHED_FROM + HASHED

AFFIXES = 1021  # hashed first and last three letters of unlisted words; 0 for a listed word

# Case column: lower 0, Title 1, CAPITALS 2, mIxed 3; four more if a possessive 's was taken off.
LOWER, TITLE, CAPITALS, MIXED = range(4)
POSSESSIVE = 4
CASES = 8

# The separator column: 0 is "never seen in training", 1 a plain space, 2 a hyphen.
OTHER, PLAIN, HYPHEN = 0, 1, 2
PARAGRAPH_START, PARAGRAPH_START_QUOTE = 3, 4
FIXED_SEPARATORS = ("\0", " ", "-", "\n", '\n"')

_WORD = re.compile(r"[^\W_]+(?:['’][^\W_]+)*")
# Old spellings of three common words; one word today.
_OLD_HYPHEN = re.compile(r"\b([Tt]o|TO)-(day|night|morrow|DAY|NIGHT|MORROW)\b")
_WITH_S = frozenset(
    "it's he's she's that's what's there's here's who's where's how's let's when's why's".split()
)
# Words that lose their beginning or their end to an apostrophe (common practice in dialogue).
_ELIDED_START = frozenset(
    "tis twas twere twill twould em tain til cause bout e er im is ere ead ave ad ouse orse".split()
)
_ELIDED_END = frozenset("o an th wi ol t".split())
_QUOTES = dict.fromkeys(map(ord, "“”„‟‘’‚‛'«»‹›`´″′"), '"')
_DASHES = dict.fromkeys(map(ord, "–—―‒−─"), "—")
_SEPARATOR_MAP = {**_QUOTES, **_DASHES, ord("‐"): "-", ord("‑"): "-", ord("…"): "…",
                  ord("*"): None, ord("_"): None, 0xAD: None, 0x2060: None, 0xFEFF: None}
_SPACES = re.compile(r"\s+")
_DASH_RUN = re.compile(r" ?(?:—|--+| - )[— -]*")
_DOTS = re.compile(r"\.(?: ?\.)+|…(?: ?…| ?\.)*")
_QUOTE_RUN = re.compile(r'"(?:\s?")+')


@dataclass(frozen=True, slots=True)
class Word:
    """One word of a paragraph: where it stands, its levelled form, and what stands around it.

    `start` and `end` are code points in the paragraph. `form` is lower case without accents and
    without a possessive 's. `before` and `after` are levelled separators, as in `separator`.
    """

    start: int
    end: int
    form: str
    case: int
    before: str
    after: str


def separator(text: str) -> str:
    """What stands between two words, levelled: quotes as `"`, dashes as `—`, dots as `…`."""
    if text == " ":
        return text
    plain = _SPACES.sub(" ", text.translate(_SEPARATOR_MAP))
    if plain == " - ":
        return "—"
    plain = _DOTS.sub("…", _DASH_RUN.sub("—", plain)).replace(" …", "…")
    return _QUOTE_RUN.sub('"', plain) or " "


def words(text: str) -> list[Word]:
    """The words of one paragraph, in order. Emphasis marks `*…*` and `_…_` are looked through."""
    found: list[tuple[int, int, str, int]] = []
    edges: list[tuple[int, int]] = []  # the places in the text that belong to each word
    for match in _pieces(text):
        start, end = match
        raw = text[start:end]
        left, right = _elisions(text, start, end, raw)
        form, case = _form(raw)
        found.append((start, end, form, case))
        edges.append((left, right))
    if not found:
        return []
    between = [
        separator(text[edges[i][1] : edges[i + 1][0]]) for i in range(len(found) - 1)
    ]
    opening = '\n"' if '"' in separator(text[: edges[0][0]]) else "\n"
    closing = separator(text[edges[-1][1] :]).rstrip() + "\n"
    befores = [opening, *between]
    afters = [*between, closing]
    return [
        Word(start, end, form, case, before, after)
        for (start, end, form, case), before, after in zip(found, befores, afters, strict=True)
    ]


def _pieces(text: str) -> Iterable[tuple[int, int]]:
    """Start and end of each word; `to-day` and its like are one word."""
    joined = {m.start(): m.end() for m in _OLD_HYPHEN.finditer(text)} if "o-" in text else {}
    skip_to = 0
    for match in _WORD.finditer(text):
        start, end = match.span()
        if start < skip_to:
            continue
        if start in joined:
            end = skip_to = joined[start]
        yield start, end


def _elisions(text: str, start: int, end: int, raw: str) -> tuple[int, int]:
    """Widen a word over the apostrophe of 'tis or goin', which is no quotation mark."""
    left, right = start, end
    if start and text[start - 1] in "'’‘" and raw.lower() in _ELIDED_START:
        left = start - 1
    if end < len(text) and text[end] in "'’":
        low = raw.lower()
        follows = text[end + 1 : end + 3]
        if low in _ELIDED_END or (low.endswith("in") and len(low) > 3):
            right = end + 1
        elif low.endswith("s") and len(follows) == 2 and follows[0] == " " and follows[1].islower():
            # boys' books: with no single quotation mark open before it, a possessive.
            opened = re.search(r"(?:^|[\s—(\"“])['‘]\w", text[:start])
            if opened is None:
                right = end + 1
    return left, right


def _form(raw: str) -> tuple[str, int]:
    """The levelled form of a word and the number of its case."""
    if raw.isascii():
        plain = raw
    else:
        plain = raw.replace("’", "'").replace("œ", "oe").replace("æ", "ae").replace("Æ", "Ae")
        if not plain.isascii():
            decomposed = unicodedata.normalize("NFKD", plain)
            plain = "".join(c for c in decomposed if not unicodedata.combining(c)) or plain
    low = plain.lower()
    if plain == low or plain == "I" or plain.startswith("I'"):
        case = LOWER
    elif plain[1:] == low[1:]:
        case = TITLE
    elif plain.isupper():
        case = CAPITALS
    else:
        case = MIXED
    if low.endswith("'s") and low not in _WITH_S:
        low, case = low[:-2], (LOWER if case == MIXED else case) + POSSESSIVE
    if "-" in low:
        low = low.replace("-", "")
    return low, case


def rotation_tables(
    head_width: int, length: int
) -> tuple[npt.NDArray[np.float32], npt.NDArray[np.float32]]:
    """Cosines and sines (length, head_width / 2) of rotary positions, base 1,000.

    Rotary position embedding: Su and others, RoFormer, 2021.
    """
    rates = 1000.0 ** (-np.arange(0, head_width, 2) / head_width)
    angles = np.arange(length)[:, None] * rates[None]
    return np.cos(angles).astype(np.float32), np.sin(angles).astype(np.float32)


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
