"""Settling what the book does in two ways: one way put through the whole book."""

from __future__ import annotations

from collections.abc import Iterable

from reglet.manuscript.book import Book
from reglet.overlays.answer import take
from reglet.overlays.query import Query


def settle(book: Book, queries: Iterable[Query]) -> Book:
    """The book with every query taken that proposes something and was not let stand.

    Queries are of one state of the book, this one. Within a scene they are taken from the end, so
    that none moves another; of two that overlap the later is taken. The caller keeps a snapshot
    first. Raises CannotArrange where the text has changed since.
    """
    last: dict[str, int] = {}
    wanted = [each for each in queries if each.proposal is not None and not each.stet]
    for query in sorted(wanted, key=lambda each: (each.start, each.end), reverse=True):
        if query.end <= last.get(query.scene, query.end):
            book = take(book, query)
            last[query.scene] = query.start
    return book
