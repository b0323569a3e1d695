"""What stands in the way of opening a book is said, with the ways round it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from PySide6.QtWidgets import QAbstractButton, QApplication, QMessageBox
from pytestqt.qtbot import QtBot
from reglet.bookfile.file import BookFile
from reglet.manuscript.passage import Passage
from reglet.window.application import Application
from reglet.window.main_window import MainWindow

from tests.window.conftest import LAMP, small_book


def answer(qtbot: QtBot, says: str) -> None:
    """Answer the question that is asked with the button that says this."""
    qtbot.waitUntil(lambda: isinstance(QApplication.activeModalWidget(), QMessageBox))
    box = QApplication.activeModalWidget()
    assert isinstance(box, QMessageBox)
    next(each for each in box.findChildren(QAbstractButton) if each.text() == says).click()


def test_the_book_on_the_desk_is_not_refused_to_its_own_window(
    application: Application, window: MainWindow, book_path: Path
) -> None:
    told: list[str] = []
    application.opening.told.connect(told.append)
    file = window.file
    application.opening.open(book_path)
    assert not told and window.file is file


def test_a_book_in_use_can_be_read(application: Application, book_path: Path, qtbot: QtBot) -> None:
    with BookFile.open(book_path) as held:
        application.start(book_path)
        answer(qtbot, "Open it for reading only")
        assert application.window.file is not None
        assert application.window.file.read_only and application.window.desk.book == held.book
        application.window.put_book_away()


def test_what_can_be_read_of_a_damaged_book_becomes_a_new_one(
    application: Application, tmp_path: Path, qtbot: QtBot
) -> None:
    torn = tmp_path / "torn.reglet"
    long = Passage.plain("\n".join(f"{number} came in. {LAMP}" for number in range(2000)))
    book = small_book()
    book = book.with_scene(replace(book.scene("mill"), passage=long))
    BookFile.create(torn, book).close()
    whole = torn.read_bytes()
    short = whole[: len(whole) * 2 // 3]
    torn.write_bytes(short)
    application.start(torn)
    with qtbot.waitSignal(application.opening.opened, timeout=20_000):
        answer(qtbot, "Bring what can be read into a new book …")
    assert torn.read_bytes() == short
    assert application.window.file is not None
    assert application.window.file.path == tmp_path / "torn salvaged.reglet"
    assert "lamp" in {scene.id for scene in application.window.desk.book.texts}


def test_the_newest_copy_of_a_damaged_book_can_be_read(
    application: Application, book_path: Path, qtbot: QtBot
) -> None:
    BookFile.open(book_path).close()  # lays the day's copy by
    book_path.write_bytes(book_path.read_bytes()[:5000])
    application.start(book_path)
    answer(qtbot, "Read the newest copy")
    assert application.window.desk.book == small_book()
    assert application.window.desk.read_only
