"""Out to a file and in again: the same passages, spans, styles, divisions and titles."""

import tomllib
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import HealthCheck, given, settings
from reglet.exchange import read_draft, write_docx, write_markdown
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.paragraph import LINE_BREAK, Paragraph, Style
from reglet.manuscript.passage import EMPTY, Passage
from reglet.manuscript.scene import Scene

from tests.strategies import books
from tests.whole_jobs.another import OTHER_WORD_PROCESSOR, saved_by_another

DEMO = Path(__file__).parents[2] / "demo_book" / "draft.docx"

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
@settings(deadline=None, max_examples=25, suppress_health_check=[HealthCheck.too_slow])
@given(book=books())
def test_any_book_comes_back_the_same(suffix: str, book: Book) -> None:
    assert shape(out_and_in(book, suffix)) == shape(book)


def scene(*texts: str, title: str = "") -> Scene:
    return Scene(f"scene-{texts}", title, Passage.of(Paragraph(text) for text in texts))


AWKWARD = {
    "two-line titles": Book(
        "A", "B", (Part("p", "", (Chapter("c", f"One{LINE_BREAK}The Weir", (scene("x"),)),)),)
    ),
    "untitled chapters": Book(
        "A",
        "B",
        (Part("p", "", (Chapter("c", "", (scene("x"),)), Chapter("d", "", (scene("y"),)))),),
    ),
    "empty chapters and parts": Book(
        "A",
        "B",
        (
            Part("p", "", (Chapter("c", "One"), Chapter("d", "Two", (scene("x"),)))),
            Part("q", "", ()),
            Part("r", "Last", (Chapter("e", "Three"),)),
        ),
    ),
    "empty scenes": Book(
        "A", "B", (Part("p", "", (Chapter("c", "One", (scene(), scene("", "x", ""), scene())),)),)
    ),
    "front and back matter": Book(
        "A Tide",
        "B",
        (Part("p", "One", (Chapter("c", "Chapter One", (scene("x"),)),)),),
        (scene("A Tide", "by B"), scene("For you.", title="Dedication"), scene("y")),
        (scene("Thank you.", title="Thanks"), scene()),
    ),
    "text that looks like divisions": Book(
        "", "", (Part("p", "", (Chapter("c", "x", (scene("Chapter Two", "***", "#", "8."),)),)),)
    ),
    "only headings": Book(
        'A "quoted": title',
        "B",
        (
            Part(
                "p",
                "",
                (Chapter("c", "x", (Scene("s", "", Passage((Paragraph("y", Style.HEADING),))),)),),
            ),
        ),
    ),
    "one empty scene": Book(
        "", "", (Part("p", "", (Chapter("c", "", (Scene("s", "", EMPTY),)),)),)
    ),
}


@pytest.mark.parametrize("suffix", WRITERS)
@pytest.mark.parametrize("name", AWKWARD)
def test_awkward_books_come_back_the_same(suffix: str, name: str) -> None:
    assert shape(out_and_in(AWKWARD[name], suffix)) == shape(AWKWARD[name])


@pytest.mark.parametrize("suffix", WRITERS)
def test_the_demo_book_comes_back_the_same(suffix: str) -> None:
    book = read_draft(DEMO).book()
    assert len(book.scenes) >= 20
    assert shape(out_and_in(book, suffix)) == shape(book)


def test_the_demo_book_is_divided_as_its_writer_meant() -> None:
    meant = tomllib.loads((DEMO.parent / "book.toml").read_text("utf-8"))["chapters"]
    chapters = read_draft(DEMO).book().chapters
    assert [(chapter.title, len(chapter.scenes)) for chapter in chapters] == [
        (chapter["text"], len(chapter["scenes"])) for chapter in meant
    ]


@pytest.mark.skipif(not OTHER_WORD_PROCESSOR, reason="no other word processor is here")
def test_a_draft_in_either_format_is_the_same_draft(tmp_path: Path) -> None:
    one, other = read_draft(DEMO), read_draft(saved_by_another(DEMO, "odt", tmp_path))
    assert other.paragraphs == one.paragraphs and other.roles == one.roles
    assert other.report == one.report
    assert [(note.text, note.author) for note in other.notes] == [
        (note.text, note.author) for note in one.notes
    ]


@pytest.mark.skipif(not OTHER_WORD_PROCESSOR, reason="no other word processor is here")
@pytest.mark.parametrize("kind", ["docx", "odt"])
def test_a_manuscript_saved_by_another_word_processor_is_still_ours(
    kind: str, tmp_path: Path
) -> None:
    book = read_draft(DEMO).book()
    write_docx(book, tmp_path / "manuscript.docx")
    saved = saved_by_another(tmp_path / "manuscript.docx", kind, tmp_path)
    assert shape(read_draft(saved).book()) == shape(book)
