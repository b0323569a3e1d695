"""Front and back matter stands in the trade's order, and no word of it is ever taken away."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet.errors import CannotArrange
from reglet.manuscript.book import Book, Chapter, Part, StyleSheet
from reglet.manuscript.editing import rewrite
from reglet.manuscript.front_and_back import (
    add_matter,
    is_title_page,
    kind_of,
    missing,
    printed_back,
    printed_front,
    remove_matter,
)
from reglet.manuscript.matter import Matter
from reglet.manuscript.paragraph import Style
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene

STORY = (Part("p", "", (Chapter("c", "", (Scene("s", "", Passage.plain("It rained.")),)),)),)
BOOK = Book("Ferry", "A. Writer", STORY)


def piece(name: str, text: str = "x", title: str = "") -> Scene:
    return Scene(name, title, Passage.plain(text))


def shown(book: Book) -> list[str]:
    """Every piece as its kind, or its id where it has none; a bar where the story stands."""
    front, back = (
        [kind_of(each, book) or each.id for each in side] for side in (book.front, book.back)
    )
    return [*front, "|", *back]


@given(st.permutations(list(Matter)))
def test_whatever_comes_first_they_stand_in_their_order(kinds: list[Matter]) -> None:
    book = BOOK
    for kind in kinds:
        book, made = add_matter(book, kind)
        assert book.scene(made).matter is kind
    assert shown(book) == [*[*Matter][:5], "|", *[*Matter][5:]]
    assert missing(book) == () and book.scenes == BOOK.scenes
    assert printed_front(book) == printed_back(book) == ()


@pytest.mark.parametrize(
    ("front", "back", "kind", "order"),
    [
        ([piece("map")], [], Matter.DEDICATION, ["dedication", "map", "|"]),
        (
            [piece("t", "Ferry\nby A. Writer"), piece("map")],
            [],
            Matter.COPYRIGHT,
            ["title-page", "copyright-page", "map", "|"],
        ),
        (
            [piece("d", title="Dedication:"), piece("map")],
            [],
            Matter.TITLE_PAGE,
            ["title-page", "dedication", "map", "|"],
        ),
        (
            [],
            [piece("thanks", title="Acknowledgments"), piece("list")],
            Matter.AFTERWORD,
            ["|", "afterword", "acknowledgements", "list"],
        ),
        (
            [],
            [piece("thanks", title="Acknowledgments"), piece("list")],
            Matter.ABOUT_THE_AUTHOR,
            ["|", "acknowledgements", "list", "about-the-author"],
        ),
    ],
)
def test_among_the_pieces_of_a_draft(
    front: list[Scene], back: list[Scene], kind: Matter, order: list[str]
) -> None:
    book, _ = add_matter(replace(BOOK, front=tuple(front), back=tuple(back)), kind)
    assert shown(book) == order


def test_one_of_a_kind_is_enough() -> None:
    book = replace(BOOK, back=(piece("a", title="About the Author"),))
    with pytest.raises(CannotArrange, match="About the author"):
        add_matter(book, Matter.ABOUT_THE_AUTHOR)


def test_what_is_written_in_is_printed_and_stays() -> None:
    book, made = add_matter(BOOK, Matter.DEDICATION)
    written = rewrite(book, made, Passage.plain("For J.", Style.CENTRED))
    assert printed_front(written) == written.front
    with pytest.raises(CannotArrange, match="There are words"):
        remove_matter(written, made)
    assert remove_matter(book, made) == BOOK
    with pytest.raises(CannotArrange, match="Offcuts"):
        remove_matter(book, "s")


def test_an_empty_piece_of_a_draft_is_printed_as_ever() -> None:
    assert printed_front(replace(BOOK, front=(piece("f", ""),))) != ()


@pytest.mark.parametrize(
    ("kind", "language", "heading"),
    [
        (Matter.DEDICATION, "en-GB", ""),
        (Matter.ACKNOWLEDGEMENTS, "en-GB", "Acknowledgements"),
        (Matter.ACKNOWLEDGEMENTS, "en-US", "Acknowledgments"),
        (Matter.ABOUT_THE_AUTHOR, "en-US", "About the author"),
    ],
)
def test_headings(kind: Matter, language: str, heading: str) -> None:
    book, made = add_matter(replace(BOOK, style_sheet=StyleSheet(language)), kind)
    assert book.scene(made).title == heading


@pytest.mark.parametrize(
    ("scene", "is_one"),
    [
        (piece("t", "FERRY\nby A. Writer"), True),
        (piece("t", "For J."), False),
        (piece("t", "Ferry " * 90), False),
        (replace(piece("t", "Another title"), matter=Matter.TITLE_PAGE), True),
        (replace(piece("t", " "), matter=Matter.TITLE_PAGE), False),
        (replace(piece("t", "Ferry"), matter=Matter.COPYRIGHT), False),
    ],
)
def test_title_pages(scene: Scene, is_one: bool) -> None:
    assert is_title_page(scene, BOOK) is is_one
