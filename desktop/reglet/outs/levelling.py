"""Words of a paragraph, levelled: what the outs model must not see is taken off here.

That is straight or curly quotation marks, single or double ones, the kind and spacing of dashes,
accents, italics. Pure functions: text in, words with their places out. The same code makes the
training data and runs beside the writer.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass

# Case column: lower 0, Title 1, CAPITALS 2, mIxed 3; four more if a possessive 's was taken off.
LOWER, TITLE, CAPITALS, MIXED = range(4)
POSSESSIVE = 4
CASES = 8

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
_SEPARATOR_MAP = {
    **_QUOTES,
    **_DASHES,
    ord("‐"): "-",
    ord("‑"): "-",
    ord("…"): "…",
    ord("*"): None,
    ord("_"): None,
    0xAD: None,
    0x2060: None,
    0xFEFF: None,
}
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
    between = [separator(text[edges[i][1] : edges[i + 1][0]]) for i in range(len(found) - 1)]
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
