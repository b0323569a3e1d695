"""A book file gives back what was saved, whatever the book."""

import sqlite3
import tempfile
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import given, settings
from reglet.bookfile import BookFile
from reglet.errors import BookFileError
from reglet.manuscript.anchored import Allowance, CutPlace, Note, Stet
from reglet.manuscript.book import Book, Chapter, Part, Person, PlannedScene, StyleSheet
from reglet.manuscript.matter import Matter
from reglet.manuscript.offcuts import cut_passage, cut_scene
from reglet.manuscript.paragraph import Paragraph
from reglet.manuscript.passage import Passage
from reglet.manuscript.picture import Picture
from reglet.manuscript.scene import Scene, SceneSheet, Verdict
from reglet.manuscript.stage import Stage

from tests.strategies import books

WHEN = datetime(2031, 5, 4, 12, 30, tzinfo=UTC)
COVER = Picture("image/png", 1600, 2560, b"\x89PNG and more")


def full_book() -> Book:
    """A book with something in every field."""
    scene = Scene(
        "scene-1",
        "The ferry",
        Passage.plain("The ferry came late.\nNobody waited for it."),
        SceneSheet(
            "a ferry", "hope", ("Anna", "Jo"), "Anna", "quay", "dusk", ("ferry",), Verdict.MOVE
        ),
        frozenset({Stage.LINE, Stage.STRUCTURE}),
        (Note("note-1", 0, 3, "The", "Which?", WHEN, "Jo", "comment"),),
        (Stet("echo", 4, 9, "ferry"),),
        frozenset({Allowance("echo", "ferry"), Allowance("double", "had had")}),
        (CutPlace("offcut-9", 5),),
    )
    other = Scene("scene-2", passage=Passage.plain("Rain.\n\nMore rain."))
    chapters = (Chapter("chapter-1", "One", (scene, other)), Chapter("chapter-2", "Empty"))
    book = Book(
        "Ferry",
        "A. Writer",
        (Part("part-1", "Part I", chapters), Part("part-2")),
        (Scene("scene-f", "Dedication", matter=Matter.DEDICATION),),
        (Scene("scene-b", "Thanks", Passage.plain("To all.")),),
        plan=(PlannedScene("plan-1", "Anna waits", "One"),),
        cast=(Person("Anna", ("Annie",)),),
        threads=("ferry", "rain"),
        style_sheet=StyleSheet(
            "en-GB", frozenset({"quay", "Jo"}), frozenset({Allowance("echo", "rain")})
        ),
        cover=COVER,
    )
    return cut_scene(cut_passage(book, "scene-1", 4, 10, WHEN), "scene-2", WHEN)


@settings(max_examples=20)
@given(books(), books())
def test_any_book_comes_back_after_create_and_after_save(first: Book, second: Book) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "Book.reglet")
        BookFile.create(path, first).close()
        with BookFile.open(path) as file:
            assert file.book == first
            file.save(second)
        with BookFile.open(path, read_only=True) as file:
            assert file.book == second


def test_every_field_comes_back(tmp_path: Path) -> None:
    book = full_book()
    with BookFile.create(tmp_path / "Book.reglet", book):
        pass
    with BookFile.open(tmp_path / "Book.reglet") as file:
        assert file.book == book
        file.save(replace(book, title="Other", cast=()))
    with BookFile.open(tmp_path / "Book.reglet") as file:
        assert file.book == replace(book, title="Other", cast=())


def test_closed_it_is_one_file(tmp_path: Path) -> None:
    BookFile.create(tmp_path / "Book.reglet", full_book()).close()
    assert [each.name for each in tmp_path.iterdir()] == ["Book.reglet"]


def test_text_that_nothing_holds_is_taken_away(tmp_path: Path) -> None:
    book = full_book()
    path = tmp_path / "Book.reglet"
    with BookFile.create(path, book) as file:
        scene = book.scene("scene-1")
        for typed in range(20):
            passage = Passage.plain(f"Typed {typed}")
            file.save(book.with_scene(replace(scene, passage=passage)))
    connection = sqlite3.connect(path)
    texts = {text for (text,) in connection.execute("SELECT text FROM paragraph")}
    connection.close()
    assert "Typed 19" in texts and "Typed 18" not in texts


def test_a_cover_is_stored_once_and_kept_as_long_as_a_snapshot_holds_it(tmp_path: Path) -> None:
    path = tmp_path / "Book.reglet"
    other = Picture("image/jpeg", 2, 3, b"\xff\xd8 another")

    def stored() -> int:
        connection = sqlite3.connect(path)
        (count,) = connection.execute("SELECT count(*) FROM picture").fetchone()
        connection.close()
        return int(count)

    with BookFile.create(path, full_book()) as file:
        file.save(replace(file.book, cover=other))
        assert stored() == 1  # the first is in no state any more
        kept = file.snapshot("With it").id
        file.save(replace(file.book, title="Quay"))
        file.save(replace(file.book, cover=None))
        assert stored() == 1 and file.book.cover is None
        assert file.state(kept).cover == other
        file.save(replace(file.book, cover=other))
        file.snapshot("With it again")
        assert stored() == 1 and file.verify() == []


def test_every_word_can_be_read_with_plain_sql(tmp_path: Path) -> None:
    book = full_book()
    path = tmp_path / "Book.reglet"
    BookFile.create(path, book).close()
    connection = sqlite3.connect(path)
    rows = connection.execute("SELECT part, chapter, scene, text FROM every_word_now").fetchall()
    connection.close()
    scenes = [*book.texts, *(offcut.scene for offcut in book.offcuts)]
    expected = [(scene.id, p.text) for scene in scenes for p in scene.passage.paragraphs]
    assert [(scene, text) for _, _, scene, text in rows] == expected
    assert {(part, chapter) for part, chapter, scene, _ in rows if scene == "scene-1"} == {
        ("Part I", "One")
    }


def test_half_a_surrogate_pair_does_not_stop_the_saving(tmp_path: Path) -> None:
    with BookFile.create(tmp_path / "Book.reglet", Book()) as file:
        scene = Scene("scene-1", passage=Passage((Paragraph("a\ud83dz"),)))
        file.save(Book(front=(scene,)))
    with BookFile.open(tmp_path / "Book.reglet") as file:
        assert file.book.scene("scene-1").passage.text == "a\ufffdz"


def test_create_leaves_what_is_there(tmp_path: Path) -> None:
    path = tmp_path / "Book.reglet"
    path.write_text("a letter")
    with pytest.raises(BookFileError, match="is there already"):
        BookFile.create(path, Book())
    assert path.read_text() == "a letter"
    assert [each.name for each in tmp_path.iterdir()] == ["Book.reglet"]


def test_a_copy_holds_the_book_as_it_is_and_its_history(tmp_path: Path) -> None:
    book = full_book()
    with BookFile.create(tmp_path / "Book.reglet", book) as file:
        file.snapshot("kept")
        assert file.copy_to(tmp_path / "Copy.reglet", replace(book, title="Unsaved"))
        assert file.book == book
        with BookFile.open(tmp_path / "Copy.reglet") as copy:
            assert copy.book == replace(book, title="Unsaved")
            assert [each.label for each in copy.snapshots()] == ["kept"]
            assert not copy.verify()
        with pytest.raises(BookFileError, match="there already"):
            file.copy_to(tmp_path / "Copy.reglet")
        with pytest.raises(BookFileError):
            file.copy_to(tmp_path / "nowhere" / "Copy.reglet")


def test_a_copy_has_the_text_even_where_the_file_cannot_be_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object) -> None:
        raise sqlite3.OperationalError("disk I/O error")

    book = full_book()
    with BookFile.create(tmp_path / "Book.reglet", book) as file:
        monkeypatch.setattr("reglet.bookfile.opening.copy_whole", fail)
        assert not file.copy_to(tmp_path / "Copy.reglet", book)
    with BookFile.open(tmp_path / "Copy.reglet") as copy:
        assert copy.book == book
