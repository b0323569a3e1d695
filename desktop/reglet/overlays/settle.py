"""Settling what the book does in two ways: the choice goes into the style sheet, and one way is put
through the whole book.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from reglet.manuscript.book import Book
from reglet.manuscript.editing import restyle
from reglet.manuscript.stage import Stage
from reglet.overlays.answer import take
from reglet.overlays.examine import Examiner
from reglet.overlays.query import Choice, Query


@dataclass(frozen=True)
class Settlement:
    """What settling would do: the places that would change, and the book as it would be."""

    queries: tuple[Query, ...]
    book: Book


def settle(
    book: Book, overlay: str, choices: Iterable[Choice], examiner: Examiner | None = None
) -> Settlement:
    """These ways of a Proof overlay settled in a book's style sheet and put through its text.

    What the writer has let stand stays as it is. The caller keeps a snapshot first. An `examiner`
    that has seen the book saves time. Raises UnknownThing for an overlay that is not there.
    """
    chosen = tuple(choices)
    sheet = book.style_sheet
    for choice in chosen:
        sheet = sheet.with_way(choice.question, choice.way)
    styled = restyle(book, sheet)
    found = (examiner or Examiner()).examine(styled, Stage.PROOF, overlays=[overlay])
    queries = tuple(each for each in found if each.choice in chosen and not each.stet)
    return Settlement(queries, put_through(styled, queries))


def put_through(book: Book, queries: Iterable[Query]) -> Book:
    """The book with every query taken that proposes something and was not let stand.

    Queries are of one state of the book, this one. Within a scene they are taken from the end, so
    that none moves another; of two that overlap the later is taken. Raises CannotArrange where the
    text has changed since.
    """
    last: dict[str, int] = {}
    wanted = [each for each in queries if each.proposal is not None and not each.stet]
    for query in sorted(wanted, key=lambda each: (each.start, each.end), reverse=True):
        if query.chapter:
            book = take(book, query)
        elif query.end <= last.get(query.scene, query.end):
            book = take(book, query)
            last[query.scene] = query.start
    return book
