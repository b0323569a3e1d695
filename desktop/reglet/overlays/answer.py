"""The writer's answers to a query: take what it proposes, or let the text stand."""

from __future__ import annotations

from enum import StrEnum

from reglet.errors import CannotArrange
from reglet.manuscript import editing
from reglet.manuscript.anchored import Allowance
from reglet.manuscript.book import Book
from reglet.manuscript.change import Change
from reglet.overlays.query import Query


class Reach(StrEnum):
    """How far a stet reaches."""

    HERE = "here"
    SCENE = "scene"
    BOOK = "book"


def take(book: Book, query: Query) -> Book:
    """The book with what the query proposes in place of what it marks.

    Only the part that differs is replaced, and what replaces it wears the spans of what stood
    there. Raises CannotArrange where nothing is proposed or the text has changed since.
    """
    scene = book.scene(query.scene)
    if query.proposal is None:
        raise CannotArrange("This query proposes no change. Edit the text, or let it stand.")
    if scene.passage.text[query.start : query.end] != query.text:
        raise CannotArrange("The text has changed since this query was made. Nothing was replaced.")
    for change in Change.between(query.text, query.proposal).replacements:
        start, end = query.start + change.start, query.start + change.end
        new = query.proposal[change.start : change.start + change.length]
        fragment = scene.passage.dressed(new, start, end)
        return editing.edit(book, query.scene, start, end, fragment)
    return book


def stet(book: Book, query: Query, reach: Reach = Reach.HERE) -> Book:
    """The book with the writer's word that this stands: here, in the scene, or everywhere.

    A spelling that stands everywhere becomes a word of the style sheet.
    """
    if query.about_the_scene:
        return editing.let_stand_in_scene(book, query.scene, Allowance(query.overlay, ""))
    if reach is Reach.HERE:
        return editing.let_stand(book, query.scene, query.overlay, query.start, query.end)
    allowance = Allowance(query.overlay, query.text)
    if reach is Reach.SCENE:
        return editing.let_stand_in_scene(book, query.scene, allowance)
    if query.overlay == "spelling":
        return editing.learn_words(book, [query.text])
    return editing.let_stand_in_book(book, allowance)
