"""What was typed is on the disk within half a second; what cannot be written is said."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QTimer
from pytestqt.qtbot import QtBot
from reglet.bookfile.file import BookFile
from reglet.errors import BookFileError
from reglet.manuscript.book import Book
from reglet.manuscript.editing import edit
from reglet.manuscript.passage import Passage
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
