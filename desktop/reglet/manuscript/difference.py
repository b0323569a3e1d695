"""What changed between two states of a passage, word by word.

The comparison is Myers' difference (E. W. Myers, "An O(ND) Difference Algorithm and Its
Variations", 1986) as diff-match-patch implements it, run on tokens: each distinct token stands as
one character, as that library's own line mode does with lines.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from itertools import chain, groupby

from reglet.errors import FaultOfOurs
from reglet.manuscript.change import Change, Replacement
from reglet.manuscript.myers import steps
from reglet.manuscript.passage import Passage
from reglet.manuscript.token import Token, passage_of, positions, text_of, tokens
from reglet.manuscript.words import count_words


class Kind(StrEnum):
    """What became of a stretch of text."""

    KEPT = "kept"
    CUT = "cut"
    ADDED = "added"


@dataclass(frozen=True, slots=True)
class Piece:
    """Neighbouring tokens of one kind."""

    kind: Kind
    tokens: tuple[Token, ...]

    @property
    def text(self) -> str:
        """Their text; the beginning of a paragraph reads as "\\n"."""
        return text_of(self.tokens)


@dataclass(frozen=True, slots=True)
class ChangedPassage:
    """One place where the two states differ, in code points of each and in tokens."""

    old_start: int
    old_end: int
    new_start: int
    new_end: int
    cut: tuple[Token, ...]
    added: tuple[Token, ...]
    at: int
    """How many tokens of the new state stand before it."""


@dataclass(frozen=True)
class Difference:
    """The pieces that lead from an old passage to a new one, in order."""

    pieces: tuple[Piece, ...]

    @property
    def empty(self) -> bool:
        """Whether the two states are the same, spans and styles included."""
        return all(piece.kind is Kind.KEPT for piece in self.pieces)

    @cached_property
    def words_added(self) -> int:
        """Words that stand in the new state only."""
        return self._words(Kind.ADDED)

    @cached_property
    def words_cut(self) -> int:
        """Words that stand in the old state only."""
        return self._words(Kind.CUT)

    def old(self) -> Passage:
        """The state compared from."""
        return passage_of(self.tokens_of(Kind.CUT))

    def new(self) -> Passage:
        """The state compared to."""
        return passage_of(self.tokens_of(Kind.ADDED))

    @cached_property
    def changed(self) -> tuple[ChangedPassage, ...]:
        """Each place that differs, in order."""
        old_at = positions(self.tokens_of(Kind.CUT))
        new_at = positions(self.tokens_of(Kind.ADDED))
        found: list[ChangedPassage] = []
        old = new = 0
        for kept, group in groupby(self.pieces, key=lambda piece: piece.kind is Kind.KEPT):
            pieces = tuple(group)
            cut = tuple(t for piece in pieces if piece.kind is not Kind.ADDED for t in piece.tokens)
            added = tuple(t for piece in pieces if piece.kind is not Kind.CUT for t in piece.tokens)
            old_end, new_end = old + len(cut), new + len(added)
            if not kept:
                places = _in_text(old_at[old], old_at[old_end], new_at[new], new_at[new_end])
                found.append(ChangedPassage(*places, cut, added, new))
            old, new = old_end, new_end
        return tuple(found)

    @cached_property
    def change(self) -> Change:
        """How positions of the old text stand in the new one."""
        return Change(
            tuple(
                Replacement(each.old_start, each.old_end, each.new_end - each.new_start)
                for each in self.changed
            )
        )

    def taken_back(self, index: int) -> Passage:
        """The new state with the `index`th changed place as it was in the old one, all else kept.

        Raises IndexError.
        """
        place = self.changed[index]
        new = self.tokens_of(Kind.ADDED)
        return passage_of((*new[: place.at], *place.cut, *new[place.at + len(place.added) :]))

    def tokens_of(self, beside: Kind) -> tuple[Token, ...]:
        """The tokens kept and those of one other kind: with `CUT` the old state's, with `ADDED`
        the new one's.
        """
        pieces = (piece.tokens for piece in self.pieces if piece.kind in (Kind.KEPT, beside))
        return tuple(chain.from_iterable(pieces))

    def _words(self, kind: Kind) -> int:
        return sum(count_words(piece.text) for piece in self.pieces if piece.kind is kind)


def difference(old: Passage, new: Passage) -> Difference:
    """What leads from `old` to `new`. Raises FaultOfOurs if it should not prove exact."""
    old_tokens, new_tokens = tokens(old), tokens(new)
    letters: dict[Token, str] = {}
    # Code points from 256 on, less the surrogates, which no string may hold: a million tokens.
    for token in (*old_tokens, *new_tokens):
        if token not in letters:
            code = 256 + len(letters)
            letters[token] = chr(code if code < 0xD800 else code + 0x800)
    found_steps = steps(
        "".join(letters[token] for token in old_tokens),
        "".join(letters[token] for token in new_tokens),
    )
    found = Difference(tuple(_pieces(found_steps, old_tokens, new_tokens)))
    if (found.tokens_of(Kind.CUT), found.tokens_of(Kind.ADDED)) != (old_tokens, new_tokens):
        raise FaultOfOurs("A comparison did not prove exact. Nothing was changed or stored.")
    return found


def _in_text(old: int, old_end: int, new: int, new_end: int) -> tuple[int, int, int, int]:
    """Places in the two texts. A change that takes in the beginning of the first paragraph, which
    no text stands for, is told by the "\\n" behind it instead.
    """
    if old < 0 and (old_end < 0 or new_end < 0):
        old_end, new_end = old_end + 1, new_end + 1
    return max(old, 0), old_end, max(new, 0), new_end


def _pieces(
    steps: list[tuple[str, int]], old: tuple[Token, ...], new: tuple[Token, ...]
) -> Iterator[Piece]:
    old_index = new_index = 0
    for operation, count in steps:
        if operation == "=":
            yield Piece(Kind.KEPT, old[old_index : old_index + count])
            old_index += count
            new_index += count
        elif operation == "-":
            yield Piece(Kind.CUT, old[old_index : old_index + count])
            old_index += count
        else:
            yield Piece(Kind.ADDED, new[new_index : new_index + count])
            new_index += count
