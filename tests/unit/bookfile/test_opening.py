"""A book file that cannot be opened or written gets a sentence, and loses nothing."""

import os
import signal
import sqlite3
import subprocess
import sys
import time
from contextlib import closing
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from reglet.bookfile import BookFile, backups, schema
from reglet.bookfile.naming import backup_folder
from reglet.errors import BookFileError, BookFileInUse, DamagedBookFile, NewerBookFile
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.editing import edit
from reglet.manuscript.passage import Passage
from reglet.manuscript.picture import Picture
from reglet.manuscript.scene import Scene

SCENES = tuple(
    Scene(f"s{n}", f"Scene {n}", Passage.plain(f"Words of {n}.\nMore of {n}.")) for n in range(3)
)
BOOK = Book("Ferry", parts=(Part("p", chapters=(Chapter("c", "One", SCENES),)),))
NOON = datetime(2031, 5, 4, 12)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "Ferry.reglet"
    BookFile.create(path, BOOK).close()
    return path


def sql(path: Path, statement: str) -> None:
    with closing(sqlite3.connect(path)) as connection:
        connection.execute(statement)
        connection.commit()


def elsewhere(code: str, *arguments: object) -> subprocess.Popen[str]:
    """Another program that runs `code`; it has started once it has printed a line."""
    process = subprocess.Popen(
        [sys.executable, "-c", code, *map(str, arguments)],
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)},
    )
    assert process.stdout is not None
    assert process.stdout.readline() == "ready\n"
    return process


HOLD = """
import sys, time
from pathlib import Path
from reglet.bookfile import BookFile
file = BookFile.open(Path(sys.argv[1]))
print("ready", flush=True)
time.sleep(60)
"""

TYPE = """
import sys
from pathlib import Path
from reglet.bookfile import BookFile
from reglet.manuscript.editing import edit
from reglet.manuscript.passage import Passage
file = BookFile.open(Path(sys.argv[1]))
for number in range(100000):
    file.save(edit(file.book, "s1", 0, 0, Passage.plain(f"{number} ")))
    if number % 5 == 0:
        file.snapshot(str(number), scene_ids=["s1"] if number % 2 else None)
    Path(sys.argv[2]).write_text(str(number))
    if number == 0:
        print("ready", flush=True)
"""


@pytest.mark.parametrize(
    ("name", "content", "error", "sentence"),
    [
        ("None.reglet", None, BookFileError, "There is no book at"),
        ("Empty.reglet", b"", DamagedBookFile, "does not start as a book file"),
        ("Letter.reglet", b"Dear Anna, " * 50, DamagedBookFile, "does not start as a book file"),
        ("Letter.txt", b"Dear Anna, " * 50, BookFileError, "is not a Reglet book"),
        ("Short.reglet", b"SQLite format 3\x00", DamagedBookFile, "ends after a few bytes"),
    ],
)
def test_what_is_no_book(
    tmp_path: Path, name: str, content: bytes | None, error: type[BookFileError], sentence: str
) -> None:
    path = tmp_path / name
    if content is not None:
        path.write_bytes(content)
    with pytest.raises(error, match=sentence):
        BookFile.open(path)
    assert content is None or path.read_bytes() == content


def test_a_folder_and_another_programs_file(tmp_path: Path) -> None:
    with pytest.raises(BookFileError, match="is a folder"):
        BookFile.open(tmp_path)
    other = tmp_path / "Other.reglet"
    sql(other, "CREATE TABLE letters (text)")
    with pytest.raises(BookFileError, match="belongs to another program"):
        BookFile.open(other)


def test_open_elsewhere(path: Path) -> None:
    other = elsewhere(HOLD, path)
    try:
        with pytest.raises(BookFileInUse, match="open in another window"):
            BookFile.open(path)
        with BookFile.open(path, read_only=True) as reader:
            assert reader.book == BOOK
    finally:
        other.kill()  # as a crash would end it
        other.wait()
        assert other.stdout is not None
        other.stdout.close()
    with BookFile.open(path) as file:
        assert not file.read_only


def test_open_twice_in_one_program(path: Path) -> None:
    with BookFile.open(path), pytest.raises(BookFileInUse):
        BookFile.open(path)
    BookFile.open(path).close()


def test_a_reader_sees_each_commit_and_does_not_stop_the_writer(path: Path) -> None:
    with BookFile.open(path) as writer, BookFile.open(path, read_only=True) as reader:
        writer.save(edit(writer.book, "s1", 0, 0, Passage.plain("New ")))
        writer.snapshot("First")
        assert [each.label for each in reader.snapshots()] == ["First"]
        assert reader.scene_state("1", "s1").passage.text.startswith("New Words")
        with pytest.raises(BookFileError, match="open for reading only"):
            reader.snapshot("Second")


def test_a_file_marked_read_only(path: Path) -> None:
    path.chmod(0o444)
    before = path.read_bytes()
    with BookFile.open(path) as file:
        assert file.book == BOOK
        assert file.read_only and "not written where it is" in file.notice
        with pytest.raises(BookFileError, match="not written where it is"):
            file.save(Book())
    assert path.read_bytes() == before


@pytest.mark.skipif(sys.platform == "win32", reason="folders there have no such right")
def test_a_folder_that_cannot_be_written(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(*_: object) -> int:
        raise PermissionError(13, "Permission denied")

    # The superuser, who may run the tests, may write everywhere; so it is the system that refuses.
    monkeypatch.setattr("reglet.bookfile.lock.os.open", refused)
    with BookFile.open(path) as file:
        assert file.book == BOOK and file.read_only
    with pytest.raises(BookFileError, match="cannot be made in"):
        BookFile.create(path.with_name("Other.reglet"), BOOK)


def test_a_crash_within_a_commit_is_undone_even_where_only_reading_is_allowed(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    copy, journal = path.with_name("Torn.reglet"), path.with_name("Torn.reglet-journal")
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        connection.execute("PRAGMA cache_size = 1")  # so that pages reach the file uncommitted
        connection.execute("BEGIN")
        connection.execute("DELETE FROM passage_paragraph")
        for number in range(2000):
            connection.execute(
                "INSERT INTO document (hash, body) VALUES (?, ?)",
                (bytes([number % 256, number // 256]), "x" * 500),
            )
        copy.write_bytes(path.read_bytes())
        journal.write_bytes(path.with_name(f"{path.name}-journal").read_bytes())
        connection.execute("ROLLBACK")
    with BookFile.open(copy, read_only=True) as file:
        assert file.book == BOOK and file.verify() == []


def test_a_later_reglets_book_is_read_and_not_written(path: Path) -> None:
    sql(path, "ALTER TABLE document ADD COLUMN colour TEXT")
    sql(path, f"PRAGMA user_version = {schema.VERSION + 1}")
    before = path.read_bytes()
    with BookFile.open(path) as file:
        assert file.book == BOOK
        assert "later Reglet" in file.notice
        with pytest.raises(NewerBookFile, match="Install the later Reglet"):
            file.save(Book())
    assert path.read_bytes() == before


def test_a_later_reglets_book_in_another_form_altogether(path: Path) -> None:
    sql(path, "DROP VIEW every_word_now")
    sql(path, "ALTER TABLE now RENAME TO present")
    sql(path, f"PRAGMA user_version = {schema.VERSION + 1}")
    with pytest.raises(NewerBookFile, match="cannot read"):
        BookFile.open(path)


def test_an_older_book_is_brought_up_to_date_after_a_copy(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    now = schema.VERSION
    monkeypatch.setattr(schema, "VERSION", now + 1)
    monkeypatch.setattr(schema, "MIGRATIONS", {now: "ALTER TABLE snapshot ADD COLUMN colour TEXT"})
    with BookFile.open(path, read_only=True) as file:
        assert file.book == BOOK
    assert version(path) == now
    with BookFile.open(path) as file:
        assert file.book == BOOK and not file.read_only
        file.snapshot("First")
    assert version(path) == now + 1
    (copy,) = backups(path)
    assert version(copy) == now


def test_a_book_from_before_there_were_covers(path: Path) -> None:
    sql(path, "DROP TABLE picture")
    sql(path, "PRAGMA user_version = 1")
    with BookFile.open(path, read_only=True) as file:
        assert file.book == BOOK
    with BookFile.open(path) as file:
        assert file.book == BOOK and file.verify() == []
        file.save(replace(BOOK, cover=COVER))
    with BookFile.open(path) as file:
        assert file.book.cover == COVER


COVER = Picture("image/png", 3, 5, b"not looked at here")


def test_a_step_to_date_that_fails_changes_nothing(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = path.read_bytes()
    now = schema.VERSION
    monkeypatch.setattr(schema, "VERSION", now + 1)
    monkeypatch.setattr(schema, "MIGRATIONS", {now: "DELETE FROM paragraph; SELECT nonsense"})
    with pytest.raises(Exception, match="Nothing was changed"):
        BookFile.open(path)
    assert path.read_bytes() == before


def test_a_form_no_reglet_wrote(path: Path) -> None:
    sql(path, "PRAGMA user_version = 0")
    with pytest.raises(DamagedBookFile, match="which no Reglet wrote"):
        BookFile.open(path)


def version(path: Path) -> int:
    with closing(sqlite3.connect(path)) as connection:
        return int(connection.execute("PRAGMA user_version").fetchone()[0])


def test_copies_are_laid_by_once_a_day_and_the_oldest_let_go(path: Path) -> None:
    own = backup_folder(path) / "My own copy.reglet"
    for day in range(10):
        for hour in (0, 3):
            when = NOON + timedelta(days=day, hours=hour)
            with BookFile.open(path, when=when) as file:
                file.save(edit(file.book, "s1", 0, 0, Passage.plain("x")))
            later = time.time() + 10 + day * 10 + hour
            os.utime(path, (later, later))
            own.touch()
    copies = backups(path)
    assert [copy.stem for copy in copies] == [
        f"Ferry 2031-05-{day:02} 12.00.00" for day in range(13, 6, -1)
    ]
    assert own.exists()
    with BookFile.open(copies[0], read_only=True) as copy:
        assert copy.book.scene("s1").passage.text.startswith("x" * 18 + "Words")


def test_a_book_that_is_not_written_needs_no_second_copy(path: Path) -> None:
    for day in range(3):
        BookFile.open(path, when=NOON + timedelta(days=day)).close()
    assert len(backups(path)) == 1


def test_a_book_left_open_is_laid_by_each_day_too(path: Path) -> None:
    with BookFile.open(path, when=NOON) as file:
        assert file.lay_copy_by(NOON + timedelta(hours=3)) is None
        file.save(edit(file.book, "s1", 0, 0, Passage.plain("x")))
        later = time.time() + 10
        os.utime(path, (later, later))
        copy = file.lay_copy_by(NOON + timedelta(days=1))
        assert copy is not None
        assert copy == backups(path)[0]
    with BookFile.open(copy, read_only=True) as laid_by:
        assert laid_by.book.scene("s1").passage.text.startswith("xWords")
        assert laid_by.lay_copy_by(NOON + timedelta(days=9)) is None


def test_no_room_for_the_copy_of_a_book_left_open_is_said(path: Path) -> None:
    with BookFile.open(path, when=NOON) as file:
        for copy in backups(path):
            copy.unlink()
        backup_folder(path).rmdir()
        backup_folder(path).write_text("in the way")
        with pytest.raises(BookFileError):
            file.lay_copy_by(NOON + timedelta(days=1))
        file.save(edit(file.book, "s1", 0, 0, Passage.plain("x")))


def test_no_room_for_a_copy_is_said_and_stops_nothing(path: Path) -> None:
    backup_folder(path).write_text("in the way")
    with BookFile.open(path) as file:
        assert not file.read_only
        assert "could not be laid by" in file.notice


@pytest.mark.skipif(sys.platform == "win32", reason="an open file cannot be moved there")
def test_a_book_taken_away_or_replaced_while_open(path: Path) -> None:
    with BookFile.open(path) as file:
        changed = edit(file.book, "s1", 0, 0, Passage.plain("x"))
        moved = path.rename(path.with_name("Moved.reglet"))
        with pytest.raises(BookFileError, match="no longer there"):
            file.save(changed)
        path.write_text("something else")
        with pytest.raises(BookFileError, match="different file"):
            file.save(changed)
        path.unlink()
        moved.rename(path)
        file.save(changed)
    with BookFile.open(path) as file:
        assert file.book == changed


def test_a_full_disk_is_said_and_the_next_save_makes_up(path: Path) -> None:
    with BookFile.open(path) as file:
        connection = file._connection
        pages = connection.execute("PRAGMA page_count").fetchone()[0]
        connection.execute(f"PRAGMA max_page_count = {pages}")
        book = edit(file.book, "s1", 0, 0, Passage.plain("long " * 9000))
        with pytest.raises(BookFileError, match="is full"):
            file.save(book)
        assert file.book == BOOK and file.verify() == []
        connection.execute("PRAGMA max_page_count = 100000")
        file.save(book)
    with BookFile.open(path) as file:
        assert file.book == book


@pytest.mark.skipif(sys.platform == "win32", reason="no kill signal there")
@pytest.mark.parametrize("pause", [0.05, 0.21, 0.4])
def test_killed_while_typing(path: Path, tmp_path: Path, pause: float) -> None:
    told = tmp_path / "told"
    process = elsewhere(TYPE, path, told)
    time.sleep(pause)
    process.send_signal(signal.SIGKILL)
    process.wait()
    assert process.stdout is not None
    process.stdout.close()
    typed = int(told.read_text() or -1)
    with BookFile.open(path) as file:
        assert file.verify() == []
        first = int(file.book.scene("s1").passage.text.split()[0])
        assert first >= typed  # all that was reported saved is there
        for snapshot in file.snapshots("s1"):
            text = file.scene_state(snapshot.id, "s1").passage.text
            assert text.split()[0] == snapshot.label
