"""The writer's answers to a query: take what it proposes, or let the text stand."""

from __future__ import annotations

from dataclasses import replace
from enum import StrEnum

from reglet.errors import CannotArrange
from reglet.manuscript import arranging, editing
from reglet.manuscript.anchored import Allowance
from reglet.manuscript.book import Book
from reglet.manuscript.change import Change
from reglet.manuscript.paragraph import Paragraph, Span, SpanKind, scene_break
from reglet.manuscript.passage import Passage
from reglet.overlays.query import Dress, Query


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
    if query.proposal is None:
        raise CannotArrange("This query proposes no change. Edit the text, or let it stand.")
    if query.chapter:
        stands = book.chapter(query.chapter).title
    else:
        stands = book.scene(query.scene).passage.text[query.start : query.end]
    if stands != query.text:
        raise CannotArrange("The text has changed since this query was made. Nothing was replaced.")
    if query.chapter:
        return arranging.retitle(book, query.chapter, query.proposal)
    book = _replaced(book, query, query.proposal)
    if query.dress is None:
        return book
    end = query.start + len(query.proposal)
    words = book.scene(query.scene).passage.slice(query.start, end)
    dressed = Passage(tuple(_dressed(each, query.dress) for each in words.paragraphs))
    return editing.edit(book, query.scene, query.start, end, dressed)


def _replaced(book: Book, query: Query, proposal: str) -> Book:
    passage = book.scene(query.scene).passage
    for change in Change.between(query.text, proposal).replacements:
        start, end = query.start + change.start, query.start + change.end
        new = proposal[change.start : change.start + change.length]
        return editing.edit(book, query.scene, start, end, passage.dressed(new, start, end))
    return book


def _dressed(paragraph: Paragraph, dress: Dress) -> Paragraph:
    if dress is Dress.SCENE_BREAK:
        return scene_break()
    others = tuple(span for span in paragraph.spans if span.kind is not SpanKind.EMPHASIS)
    if dress is Dress.PLAIN:
        return replace(paragraph, spans=others)
    return replace(paragraph, spans=(*others, Span(0, len(paragraph.text), SpanKind.EMPHASIS)))


def stet(book: Book, query: Query, reach: Reach = Reach.HERE) -> Book:
    """The book with the writer's word that this stands: here, in the scene, or everywhere.

    A spelling that stands everywhere becomes a word of the style sheet.
    """
    if query.about_the_scene:
        return editing.let_stand_in_scene(book, query.scene, Allowance(query.overlay, query.text))
    if reach is Reach.HERE:
        return editing.let_stand(book, query.scene, query.overlay, query.start, query.end)
    allowance = Allowance(query.overlay, query.text)
    if reach is Reach.SCENE:
        return editing.let_stand_in_scene(book, query.scene, allowance)
    if query.overlay == "spelling":
        return editing.learn_words(book, [query.text])
    return editing.let_stand_in_book(book, allowance)
