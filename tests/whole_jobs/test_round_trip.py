"""Out to a file and in again: the same passages, spans, styles, divisions and titles."""

from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import HealthCheck, given, settings
from reglet.exchange import read_draft, write_docx, write_markdown
from reglet.manuscript.book import Book

from tests.strategies import books

WRITERS = {".docx": write_docx, ".md": write_markdown}


def shape(book: Book) -> object:
    """All of a book that a manuscript shows: no ids, and no working titles of scenes."""
    return (
        book.title,
        book.author,
        book.style_sheet.language,
        [(scene.title, scene.passage) for scene in book.front],
        [
            (part.title, [(c.title, [s.passage for s in c.scenes]) for c in part.chapters])
            for part in book.parts
        ],
        [(scene.title, scene.passage) for scene in book.back],
    )


def out_and_in(book: Book, suffix: str) -> Book:
    write: Callable[[Book, Path], None] = WRITERS[suffix]
    with TemporaryDirectory() as folder:
        path = Path(folder) / f"book{suffix}"
        write(book, path)
        return read_draft(path).book()


@pytest.mark.parametrize("suffix", WRITERS)
@settings(deadline=None, max_examples=40, suppress_health_check=[HealthCheck.too_slow])
@given(book=books())
def test_any_book_comes_back_the_same(suffix: str, book: Book) -> None:
    assert shape(out_and_in(book, suffix)) == shape(book)
