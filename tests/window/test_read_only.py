"""A book that can only be read is changed by nothing, and the writer is told so each time."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPlainTextEdit
from pytestqt.qtbot import QtBot
from reglet.bookfile.file import BookFile
from reglet.manuscript.passage import Passage
from reglet.window.application import Application
from reglet.window.main_window import MainWindow

from tests.window.conftest import small_book
from tests.window.reaching import control, enter, press, write


@pytest.fixture
def read_only(application: Application, book_path: Path, qtbot: QtBot) -> MainWindow:
    application.start(None)
    application.window.open_book(BookFile.open(book_path, read_only=True))
    return application.window


def test_nothing_changes_it(read_only: MainWindow, qtbot: QtBot) -> None:
    window, desk = read_only, read_only.desk
    said: list[str] = []
    desk.refused.connect(said.append)

    desk.rewrite("lamp", Passage.plain("Gone."))

    window.page.editor.select(0, 8)
    window.page_work.cut_selection()

    window.notes_work.write()
    writing = control(window.notes_room, QPlainTextEdit, "Note")
    writing.setPlainText("Lost?")
    qtbot.keyClick(writing, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)

    window.views.find(replacing=True)
    bar = window.views.find_bar
    write(bar, "Words to find", "lit")
    press(bar, "Replace all …")
    press(bar, "Replace 2 in one scene")

    window.views.show_facts()
    write(window.views.facts, "Word to leave alone", "woodsmoke")
    enter(window.views.facts, "Word to leave alone")

    window.views.ask_for_snapshot()
    press(window.views.snapshot_bar, "Take a snapshot")

    assert desk.book == small_book()
    assert len(said) == 6 and all("reading only" in sentence for sentence in said)
    assert window.file is not None and window.file.snapshots() == ()
