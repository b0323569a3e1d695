"""Windows of text with words left out, exchanged and hidden, made afresh on the GPU.

What happens when a word is left out between `before` and `after`: the punctuation on either side
stays. If only a space follows, the gap lies right before the next word; if a mark follows (and a
space precedes), it lies right after the previous word. A word with marks on both sides, or beside
a hyphen, is never left out: its loss would show in the punctuation.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import torch
from reglet.outs.levelling import LOWER, POSSESSIVE, TITLE
from reglet.outs.lexicon import (
    AFTER,
    BEFORE,
    CASE,
    HYPHEN,
    LISTED_FROM,
    MASK,
    PARAGRAPH_START,
    PARAGRAPH_START_QUOTE,
    PLAIN,
    WORD,
    Lexicon,
)
from torch import Tensor

from .prepare import FUNCTION_WORDS, Packed

IGNORED = -100
SPARE = 32  # words read beyond the window, to fill the places of those left out
FUNCTION_SHARE = 0.75  # of the words left out
ALTERNATIVES = 16  # at most so many words may stand for one
UNLISTED_FROM = 3_000  # words rarer than this are now and then shown as unlisted ones
UNLISTED_SHARE = 0.04


@dataclass(frozen=True, slots=True)
class Rates:
    """Shares of words left out, exchanged and hidden, and of windows left clean."""

    left_out: float
    exchanged: float
    hidden: float
    clean: float


@dataclass(frozen=True, slots=True)
class Batch:
    """`rows` (windows, words, columns) and the right answers (windows, words).

    `missing` is the number of the word that is missing before, `original` that of the word itself
    before it was exchanged or hidden.
    """

    rows: Tensor
    gap_before: Tensor
    gap_after: Tensor
    right: Tensor
    missing: Tensor
    original: Tensor
    source: Tensor  # places in the text


class Source:
    """One stretch of packed text and the tables of a lexicon on one device."""

    def __init__(self, packed: Packed, lexicon: Lexicon, device: torch.device) -> None:
        def put(array: np.ndarray, kind: torch.dtype) -> Tensor:
            return torch.from_numpy(np.ascontiguousarray(array)).to(device, kind)

        self.device = device
        self.kind = put(packed.kind, torch.int32)
        self.case = put(packed.case, torch.uint8)
        self.before = put(packed.before, torch.uint8)
        self.after = put(packed.after, torch.uint8)
        self.kinds = put(packed.kinds, torch.int64)
        self.length = len(packed.kind)
        opens = (packed.before == PARAGRAPH_START) | (packed.before == PARAGRAPH_START_QUOTE)
        self.starts = np.flatnonzero(opens)
        marked = np.where(opens, np.arange(self.length), 0)
        self.paragraph = put(np.maximum.accumulate(marked), torch.int32)
        lengths = np.diff(np.append(packed.texts, self.length))
        self.text_starts = put(packed.texts, torch.int64)
        self.text_lengths = put(lengths, torch.int64)
        self.lengths = lengths
        self.weigh(np.ones(len(lengths)))
        self._tables(packed, lexicon, put)

    def weigh(self, weights: np.ndarray) -> None:
        """From now on read each word of a text so often, compared with the words of others."""
        share = torch.from_numpy(self.lengths * weights)
        self.text_share = (share / share.sum()).to(self.device, torch.float32)

    def _tables(self, packed: Packed, lexicon: Lexicon, put: object) -> None:
        assert callable(put)
        numbers = lexicon.numbers
        counts = np.bincount(packed.kind, minlength=len(packed.kinds)).astype(float)
        of_word = np.bincount(packed.kinds[:, 0], counts, minlength=lexicon.size)
        gap = np.full(lexicon.size, len(lexicon.proposed) + 1)
        for i, form in enumerate(lexicon.proposed):
            gap[numbers[form]] = i + 1
        function = np.zeros(lexicon.size, bool)
        function[[numbers[f] for f in FUNCTION_WORDS if f in numbers]] = True
        share = of_word[function].sum() / of_word.sum()
        lean = np.where(function, FUNCTION_SHARE / share, (1 - FUNCTION_SHARE) / (1 - share))
        meant = np.zeros(lexicon.size, int)
        others = np.zeros((lexicon.size, ALTERNATIVES), int)
        many = np.ones(lexicon.size, int)
        for i, form in enumerate(lexicon.meant):
            at = numbers[form]
            meant[at] = i + 1
            those = [numbers[o] for o in lexicon.confusable[form]][:ALTERNATIVES]
            others[at, : len(those)] = those
            many[at] = len(those)
        pull = np.where(meant > 0, (of_word + 1000.0) ** -0.5, 0)
        pull /= (pull * of_word).sum() / of_word.sum()
        unlisted = np.zeros((lexicon.size, 3), int)
        bare = Lexicon((), (), {}, (), (), {})
        for form in lexicon.listed[UNLISTED_FROM:]:
            unlisted[numbers[form]] = bare.identity(form)
        self.gap_class = put(gap, torch.int64)
        self.lean = put(lean, torch.float32)
        self.meant = put(meant, torch.int64)
        self.others = put(others, torch.int64)
        self.many = put(many, torch.int64)
        self.pull = put(pull, torch.float32)
        self.unlisted = put(unlisted, torch.int64)

    def random_starts(self, windows: int, generator: torch.Generator) -> Tensor:
        """Places to begin: mostly the beginning of a paragraph, sometimes amid a long one."""
        text = torch.multinomial(self.text_share, windows, replacement=True, generator=generator)
        within = torch.rand(windows, generator=generator, device=self.device)
        at = self.text_starts[text] + (within * self.text_lengths[text]).long()
        at.clamp_(max=self.length - 512)
        begin = self.paragraph[at].long()
        return torch.where(at - begin > 96, at, begin)

    def batch(self, starts: Tensor, length: int, rates: Rates, generator: torch.Generator) -> Batch:
        """Corrupted windows of `length` words that begin at `starts`."""

        def chance(*size: int) -> Tensor:
            return torch.rand(size, generator=generator, device=self.device)

        windows = starts.shape[0]
        span = torch.arange(length + SPARE, device=self.device)
        place = (starts[:, None] + span).clamp_(max=self.length - 1)
        ident = self.kinds[self.kind[place].long()]
        word = ident[..., 0]
        case, before, after = (c[place].long() for c in (self.case, self.before, self.after))
        dirty = (chance(windows, 1) >= rates.clean).expand(-1, length + SPARE)

        plain_before, plain_after = before == PLAIN, after == PLAIN
        gone = dirty & (chance(*word.shape) < rates.left_out * self.lean[word])
        gone &= (plain_before | plain_after) & (before != HYPHEN) & (after != HYPHEN)
        gone[:, 1:] &= ~gone[:, :-1]
        gone[:, -1] = False
        behind = gone & ~plain_after  # the gap lies after the previous word
        ahead = gone & plain_after  # the gap lies before the next word

        gap_before, gap_after, missing = (torch.zeros_like(word) for _ in range(3))
        gap_before[:, 1:] = torch.where(ahead[:, :-1], self.gap_class[word[:, :-1]], 0)
        missing[:, 1:] = torch.where(ahead[:, :-1], word[:, :-1], 0)
        gap_after[:, :-1] = torch.where(behind[:, 1:], self.gap_class[word[:, 1:]], 0)
        new_before = before.clone()
        new_before[:, 1:] = torch.where(ahead[:, :-1], before[:, :-1], before[:, 1:])
        new_after = after.clone()
        new_after[:, :-1] = torch.where(behind[:, 1:], after[:, 1:], after[:, :-1])
        raised = torch.zeros_like(gone)
        raised[:, 1:] = ahead[:, :-1] & (case[:, :-1] == TITLE) & (before[:, :-1] != PLAIN)
        raised &= (case == LOWER) & (chance(*word.shape) < 0.75)
        case = torch.where(raised, TITLE, case)

        swap = dirty & (chance(*word.shape) < (rates.exchanged * self.pull[word]).clamp(max=0.3))
        swap &= (self.meant[word] > 0) & (case < POSSESSIVE)
        pick = (chance(*word.shape) * self.many[word]).long()
        other = self.others[word, pick]
        right = torch.where(swap, self.meant[word], 0)
        original = word
        ident = torch.where(
            swap[..., None], torch.nn.functional.pad(other[..., None], (0, 2)), ident
        )
        rare = (chance(*word.shape) < UNLISTED_SHARE) & (self.unlisted[word][..., 0] > 0) & ~swap
        ident = torch.where(rare[..., None], self.unlisted[word], ident)
        hide = chance(*word.shape) < rates.hidden
        original = torch.where(original >= LISTED_FROM, original, IGNORED)
        right = torch.where(hide, IGNORED, right)
        mask = torch.tensor([MASK, 0, 0], device=self.device)
        ident = torch.where(hide[..., None], mask, ident)
        original = torch.where(hide | swap, original, IGNORED)

        keep = ~gone
        target = torch.where(keep, keep.long().cumsum(1) - 1, length + SPARE)
        order = torch.zeros(windows, length + SPARE + 1, dtype=torch.long, device=self.device)
        order.scatter_(1, target, span.expand(windows, -1))
        order = order[:, :length]

        def kept(column: Tensor) -> Tensor:
            return column.gather(1, order)

        rows = torch.stack(
            [
                *(kept(ident[..., i]) for i in range(3)),
                kept(case),
                kept(new_before),
                kept(new_after),
            ],
            -1,
        )
        return Batch(
            rows,
            kept(gap_before),
            kept(gap_after),
            kept(right),
            kept(missing),
            kept(original),
            kept(place),
        )


__all__ = ["AFTER", "BEFORE", "CASE", "IGNORED", "WORD", "Batch", "Rates", "Source"]
