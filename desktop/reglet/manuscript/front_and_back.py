"""Operations on front and back matter. Its pieces stand in the trade's order, and none that the
writer has written in is ever taken away.
"""

from __future__ import annotations

from dataclasses import replace

from reglet.errors import CannotArrange
from reglet.manuscript.book import Book, fresh_id
from reglet.manuscript.matter import Matter
from reglet.manuscript.paragraph import LINE_BREAK, Paragraph
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.manuscript.words import count_words

_MOST_TITLE_PAGE_WORDS = 80
_ORDER = list(Matter)


def is_title_page(scene: Scene, book: Book) -> bool:
    """Whether a piece of front matter is a title page of the writer's own: one by its kind, or, in
    a draft that was brought in, by being short and having the title.
    """
    text = " ".join(scene.passage.text.replace(LINE_BREAK, " ").split()).casefold()
    if scene.matter:
        return scene.matter is Matter.TITLE_PAGE and bool(text)
    title = " ".join(book.title.split()).casefold()
    return bool(title) and title in text and count_words(text) <= _MOST_TITLE_PAGE_WORDS


def kind_of(scene: Scene, book: Book) -> Matter | None:
    """What a piece of front or back matter is; None for what the trade has no name for."""
    if scene.matter or scene.title:
        return scene.matter or Matter.called(scene.title)
    return Matter.TITLE_PAGE if is_title_page(scene, book) else None


def printed_front(book: Book) -> tuple[Scene, ...]:
    """The front matter that goes into print: all but pieces of a known kind not yet written in."""
    return tuple(scene for scene in book.front if not _unwritten(scene))


def printed_back(book: Book) -> tuple[Scene, ...]:
    """The back matter that goes into print, as `printed_front`."""
    return tuple(scene for scene in book.back if not _unwritten(scene))


def missing(book: Book) -> tuple[Matter, ...]:
    """The kinds of which the book has no piece, in their order."""
    there = {kind_of(scene, book) for scene in (*book.front, *book.back)}
    return tuple(kind for kind in Matter if kind not in there)


def add_matter(book: Book, kind: Matter) -> tuple[Book, str]:
    """An empty piece of this kind in its place among those there are, and its id.

    Raises CannotArrange where the book has one already.
    """
    if kind not in missing(book):
        raise CannotArrange(f"The book has this already: {kind.label}. Nothing was changed.")
    start = Passage((Paragraph("", kind.style),))
    heading = kind.heading(book.style_sheet.language)
    scene = Scene(fresh_id("scene"), heading, start, matter=kind)
    pieces = book.front if kind.before_the_story else book.back
    ranks = [
        None if (found := kind_of(each, book)) is None else _ORDER.index(found) for each in pieces
    ]
    rank = _ORDER.index(kind)
    if kind.before_the_story:
        # Behind the last that comes before it; what has no name stays nearest to the story.
        at = max(
            (i + 1 for i, each in enumerate(ranks) if each is not None and each < rank), default=0
        )
    else:
        after = (i for i, each in enumerate(ranks) if each is not None and each > rank)
        at = next(after, len(pieces))
    pieces = (*pieces[:at], scene, *pieces[at:])
    if kind.before_the_story:
        return replace(book, front=pieces), scene.id
    return replace(book, back=pieces), scene.id


def remove_matter(book: Book, scene_id: str) -> Book:
    """A piece of front or back matter that has no words taken away.

    Raises UnknownThing; CannotArrange for a scene of a chapter and for a piece that is written in.
    """
    scene = book.scene(scene_id)
    if book.chapter_of(scene_id) is not None:
        raise CannotArrange("This is a scene of the story. Cut it to the Offcuts instead.")
    if scene.passage.text.strip() or scene.notes or scene.cuts:
        raise CannotArrange(
            "There are words or notes in it. Nothing was changed; a piece without words is not "
            "printed, and can be taken out."
        )
    return replace(
        book,
        front=tuple(each for each in book.front if each.id != scene_id),
        back=tuple(each for each in book.back if each.id != scene_id),
    )


def _unwritten(scene: Scene) -> bool:
    return scene.matter is not None and not scene.passage.text.strip()
