"""What was typed is on the disk within half a second; what cannot be written is said."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QMessageBox
from pytestqt.qtbot import QtBot
from reglet.bookfile.file import BookFile
from reglet.errors import BookFileError
from reglet.manuscript.book import Book
from reglet.manuscript.editing import edit
from reglet.manuscript.passage import Passage
from reglet.window.application import Application
from reglet.window.main_window import MainWindow
from reglet.window.saving import WAIT_MS, Saved, Saver

HALF_A_SECOND = 500
LONG = 20_000


def test_typing_reaches_the_disk_by_itself(
    window: MainWindow, qtbot: QtBot, stored: Callable[[], Book]
) -> None:
    qtbot.keyClicks(window.page.editor, "Early. ")
    assert not stored().scene("lamp").passage.text.startswith("Early.")
    qtbot.waitUntil(
        lambda: stored().scene("lamp").passage.text.startswith("Early. The lamp"), timeout=LONG
    )
    assert WAIT_MS <= HALF_A_SECOND / 2


def test_going_on_typing_does_not_put_saving_off(book_path: Path, qtbot: QtBot) -> None:
    file = BookFile.open(book_path)
    saver = Saver(file)
    book = file.book

    def type_on() -> None:
        nonlocal book
        book = edit(book, "lamp", 0, 0, Passage.plain("x"))
        saver.save(book)

    typing = QTimer(interval=20)
    typing.timeout.connect(type_on)
    typing.start()
    qtbot.waitUntil(lambda: file.book.scene("lamp").passage.text.startswith("x"), timeout=LONG)
    typing.stop()
    saver.close()


def test_closing_writes_what_still_waits(book_path: Path, stored: Callable[[], Book]) -> None:
    file = BookFile.open(book_path)
    saver = Saver(file)
    saver.save(edit(file.book, "lamp", 0, 0, Passage.plain("Last words. ")))
    saver.close()
    assert stored().scene("lamp").passage.text.startswith("Last words. ")


def test_a_file_that_cannot_be_written_says_so_and_is_tried_again(
    book_path: Path, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = BookFile.open(book_path)
    saver = Saver(file)
    save = file.save

    def refuse(book: Book) -> None:
        raise BookFileError("The disk is full.")

    monkeypatch.setattr(file, "save", refuse)
    book = edit(file.book, "lamp", 0, 0, Passage.plain("Kept. "))
    with qtbot.waitSignal(saver.failed) as failed:
        saver.save(book)
    assert failed.args == ["The disk is full."]
    assert saver.state is Saved.NOT_SAVED
    monkeypatch.setattr(file, "save", save)
    saver.flush()
    assert file.book == book
    saver.close()


def _refusing(monkeypatch: pytest.MonkeyPatch, file: BookFile) -> Callable[[], None]:
    """Have a file refuse to be saved, until what is returned is called."""
    save = file.save

    def refuse(book: Book) -> None:
        raise BookFileError("The disk is full.")

    monkeypatch.setattr(file, "save", refuse)
    return lambda: monkeypatch.setattr(file, "save", save)


def test_it_is_tried_again_by_itself(
    book_path: Path, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("reglet.window.saving.AGAIN_MS", 50)
    file = BookFile.open(book_path)
    saver = Saver(file)
    make_room = _refusing(monkeypatch, file)
    book = edit(file.book, "lamp", 0, 0, Passage.plain("Kept. "))
    with qtbot.waitSignal(saver.failed):
        saver.save(book)
    make_room()
    qtbot.waitUntil(lambda: saver.state is Saved.SAVED, timeout=5000)
    assert file.book == book
    saver.close()


def test_what_failed_a_moment_ago_is_not_taken_for_saved(
    book_path: Path, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = BookFile.open(book_path)
    saver = Saver(file)
    make_room = _refusing(monkeypatch, file)
    book = edit(file.book, "lamp", 0, 0, Passage.plain("Kept. "))
    saver.save(book)
    saver.after_saving(lambda _: None)  # hands it over; that it failed has not come back yet
    with pytest.raises(BookFileError):
        saver.close()
    make_room()
    saver.close()  # it was not let go
    with BookFile.open(book_path, read_only=True) as read:
        assert read.book == book


def test_a_book_that_cannot_be_saved_stays_on_the_desk(
    application: Application,
    window: MainWindow,
    qtbot: QtBot,
    monkeypatch: pytest.MonkeyPatch,
    stored: Callable[[], Book],
    tmp_path: Path,
) -> None:
    other = tmp_path / "other.reglet"
    BookFile.create(other, Book("Another")).close()
    assert window.file is not None
    make_room = _refusing(monkeypatch, window.file)
    qtbot.keyClicks(window.page.editor, "Kept. ")
    with qtbot.waitSignal(application.opening.told):
        application.opening.open(other)
    window.copying.may_close = lambda why: False  # type: ignore[method-assign]
    assert not window.close()
    assert window.desk.book.title == "The Tide Ledger"
    make_room()
    qtbot.keyClicks(window.page.editor, "And this. ")
    qtbot.waitUntil(
        lambda: stored().scene("lamp").passage.text.startswith("Kept. And this. "), timeout=5000
    )


def test_a_copy_takes_over_where_the_book_cannot_be_saved(
    window: MainWindow, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    assert window.file is not None
    window.file.snapshot("kept")
    _refusing(monkeypatch, window.file)
    qtbot.keyClicks(window.page.editor, "Kept. ")
    assert window.saver is not None
    with qtbot.waitSignal(window.saver.failed):
        pass
    copy = tmp_path / "elsewhere.reglet"
    window.copying.ask = lambda sentence, name: copy
    with qtbot.waitSignal(window.copying.told) as told:
        window.copying.copy()
    assert "working in this copy" in told.args[0]
    assert window.file.path == copy
    qtbot.keyClicks(window.page.editor, "On. ")
    window.saver.flush()
    with BookFile.open(copy, read_only=True) as read:
        text = read.book.scene("lamp").passage.text
        assert text.startswith("On. Kept. ") or text.startswith("Kept. On. ")
        assert [each.label for each in read.snapshots()] == ["kept"]


def test_a_copy_is_asked_for_before_anything_is_given_up(
    window: MainWindow, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    assert window.file is not None
    _refusing(monkeypatch, window.file)
    qtbot.keyClicks(window.page.editor, "Kept. ")
    copy = tmp_path / "elsewhere"
    window.copying.ask = lambda sentence, name: copy

    def press() -> None:
        box = QApplication.activeModalWidget()
        assert isinstance(box, QMessageBox)
        next(each for each in box.buttons() if each.text().startswith("Keep a copy")).click()

    QTimer.singleShot(100, press)
    assert window.close()
    with BookFile.open(copy.with_suffix(".reglet"), read_only=True) as read:
        assert read.book.scene("lamp").passage.text.startswith("Kept. ")
