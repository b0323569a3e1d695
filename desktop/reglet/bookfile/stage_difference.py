"""The stored form of a difference between two states of a text.

It is a list of steps through the old text: `["kept", n]`, `["cut", n]`, and `["added", [[style,
text, spans], …]]`. Lengths are code points, and the beginning of each paragraph counts one, so no
step depends on what counts as a word. In what was added, a piece with a style begins a paragraph; a
first piece without one goes on where the step before it ended.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator

from reglet.bookfile.encoding import Unreadable, dumped
from reglet.errors import FaultOfOurs
from reglet.manuscript.difference import Difference, Kind, difference
from reglet.manuscript.paragraph import SpanKind, Style
from reglet.manuscript.passage import Passage
from reglet.manuscript.token import Format, Token, passage_of, tokens


def steps_between(old: Passage, new: Passage) -> str:
    """The steps from `old` to `new` as JSON, proved: they have led there before this returns.

    Raises FaultOfOurs if they do not.
    """
    steps = _steps(difference(old, new))
    if follow(old, steps) != new:
        raise FaultOfOurs(
            "The difference between two stages did not prove exact. Nothing was stored; the book "
            "is as it was."
        )
    return steps


def follow(old: Passage, steps: str) -> Passage:
    """The text that `steps` lead to from `old`. Raises Unreadable if they do not fit it."""
    try:
        return passage_of(_followed(old, json.loads(steps)))
    except (ValueError, TypeError, IndexError) as error:
        raise Unreadable(f"a stored difference does not fit its text: {error}") from error


def _steps(found: Difference) -> str:
    return dumped(
        [
            [piece.kind, _pieces(piece.tokens)]
            if piece.kind is Kind.ADDED
            else [piece.kind, sum(1 if t.style is not None else len(t.text) for t in piece.tokens)]
            for piece in found.pieces
        ]
    )


def _pieces(added: Iterable[Token]) -> list[list[object]]:
    pieces: list[tuple[Style | None, list[str], list[list[object]]]] = []
    length = 0
    for token in added:
        if token.style is not None or not pieces:
            pieces.append((token.style, [], []))
            length = 0
        _, texts, spans = pieces[-1]
        texts.append(token.text)
        spans += [[length + a, length + b, kind, value] for a, b, kind, value in token.format]
        length += len(token.text)
    return [[style, "".join(texts), spans] for style, texts, spans in pieces]


def _followed(old: Passage, steps: list[tuple[str, object]]) -> Iterator[Token]:
    at = -1  # the beginning of the first paragraph, which no text stands for
    for kind, what in steps:
        if kind == Kind.ADDED and isinstance(what, list):
            for style, text, spans in what:
                if style is not None:
                    yield Token("", style=Style(style))
                if text:
                    yield Token(text, _format(spans))
        elif isinstance(what, int) and what >= 0:
            if kind == Kind.KEPT:
                yield from _kept(old, at, at + what)
            at += what
        else:
            raise ValueError(f"no step: {kind}")
    if at != len(old):
        raise ValueError("its steps do not end where the text does")


def _kept(old: Passage, start: int, end: int) -> tuple[Token, ...]:
    if start == end:
        return ()
    if start < 0 or old.text[start] == "\n":
        return tokens(old.slice(start + 1, end))
    return tokens(old.slice(start, end))[1:]


def _format(spans: list[tuple[int, int, str, str]]) -> Format:
    return tuple((start, end, SpanKind(kind), value) for start, end, kind, value in spans)
