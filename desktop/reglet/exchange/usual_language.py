"""Which of a draft's language marks mean something: those that differ from its usual language.

Word processors mark nearly every run with the language of the keyboard it was typed on.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from reglet.exchange.draft import DraftParagraph
from reglet.manuscript.paragraph import SpanKind


def without_usual_language(
    paragraphs: Sequence[DraftParagraph], declared: str
) -> list[DraftParagraph]:
    """The paragraphs without language spans in the language that most of the draft is in, or that
    it declares; varieties of one language count as the same.
    """
    lengths: Counter[str] = Counter()
    for each in paragraphs:
        for span in each.paragraph.spans_of(SpanKind.LANGUAGE):
            lengths[_primary(span.value)] += span.end - span.start
    total = sum(len(each.text) for each in paragraphs)
    usual = {_primary(declared)}
    usual |= {tag for tag, length in lengths.items() if length * 2 > total}
    return [_without(each, usual) for each in paragraphs]


def _without(each: DraftParagraph, usual: set[str]) -> DraftParagraph:
    kept = tuple(
        span
        for span in each.paragraph.spans
        if span.kind is not SpanKind.LANGUAGE or _primary(span.value) not in usual
    )
    if len(kept) == len(each.paragraph.spans):
        return each
    return replace(each, paragraph=replace(each.paragraph, spans=kept))


def _primary(tag: str) -> str:
    """The language itself in a BCP 47 tag, without region or script."""
    return tag.partition("-")[0].lower()
