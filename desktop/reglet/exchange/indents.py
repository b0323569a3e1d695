"""First-line indents: told from what is set, or from tabs and spaces typed before each line."""

from __future__ import annotations

import re
from dataclasses import replace

from reglet.exchange.draft import DraftNote, DraftParagraph, Finding
from reglet.manuscript.paragraph import Paragraph, Style

_INDENT = re.compile(r"(?:\t| {2,}|\u3000)[\t \u3000]*(?=\S)")
_USUAL = 0.5
"""An indent is the draft's way of beginning a paragraph if this share of them has it."""


def without_typed_indents(
    paragraphs: list[DraftParagraph], notes: list[DraftNote]
) -> tuple[list[DraftParagraph], list[DraftNote], list[Finding]]:
    """Tabs and spaces that a writer typed to indent first lines, taken for what they mean.

    Only where most body paragraphs have them; the others then are set without an indent.
    """
    lengths = {}
    for at, each in enumerate(paragraphs):
        match = _INDENT.match(each.text) if each.paragraph.style is Style.BODY else None
        if match:
            lengths[at] = match.end()
    body = sum(each.paragraph.style is Style.BODY for each in paragraphs)
    if len(lengths) <= body * _USUAL:
        return paragraphs, notes, []
    kept = []
    for at, each in enumerate(paragraphs):
        paragraph = each.paragraph
        if at in lengths:
            paragraph = paragraph.slice(lengths[at], len(paragraph.text))
        elif paragraph.style is Style.BODY:
            paragraph = replace(paragraph, style=Style.FIRST)
        kept.append(replace(each, paragraph=paragraph))
    moved = [
        replace(
            note,
            start=max(0, note.start - lengths.get(note.first, 0)),
            end=max(0, note.end - lengths.get(note.last, 0)),
        )
        for note in notes
    ]
    finding = Finding(
        "Tabs or spaces typed to indent the first lines of paragraphs are not kept as signs: "
        "Reglet indents paragraphs by itself.",
        min(lengths),
    )
    return kept, moved, [finding]


def first_paragraphs(paragraphs: list[DraftParagraph], indents: list[int]) -> list[DraftParagraph]:
    """Body paragraphs set without an indent, in a draft that usually sets one, marked `FIRST`."""
    body = [
        indent
        for each, indent in zip(paragraphs, indents, strict=True)
        if each.paragraph.style is Style.BODY
    ]
    if sum(indent > 0 for indent in body) <= len(body) * _USUAL:
        return paragraphs
    return [
        replace(each, paragraph=_first(each.paragraph)) if indent <= 0 else each
        for each, indent in zip(paragraphs, indents, strict=True)
    ]


def _first(paragraph: Paragraph) -> Paragraph:
    return replace(paragraph, style=Style.FIRST) if paragraph.style is Style.BODY else paragraph


def plain_where_all_is_indented(paragraphs: list[DraftParagraph]) -> list[DraftParagraph]:
    """Block quotes taken for body text, in a draft of which most is set in from the margin."""
    quotes = sum(each.paragraph.style is Style.BLOCK_QUOTE for each in paragraphs)
    if quotes <= len(paragraphs) * _USUAL:
        return paragraphs
    return [
        replace(each, paragraph=replace(each.paragraph, style=Style.BODY))
        if each.paragraph.style is Style.BLOCK_QUOTE
        else each
        for each in paragraphs
    ]
