"""What was taken out can be read, goes back where it was, and can be set in elsewhere."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QListView, QTextEdit
from pytestqt.qtbot import QtBot
from reglet.manuscript.offcuts import cut_passage, cut_scene
from reglet.window.main_window import MainWindow

from tests.window.conftest import LAMP, MILL, small_book
from tests.window.reaching import button, control, press

WHEN = datetime(2031, 5, 4, 12, 30, tzinfo=UTC)


def rows(window: MainWindow) -> list[str]:
    model = control(window.views.offcuts, QListView, "Offcuts").model()
    return [str(model.index(row, 0).data()) for row in range(model.rowCount())]


@pytest.fixture
def cut(window: MainWindow) -> MainWindow:
    """A window in whose book the second line of one scene and all of another are offcuts."""
    start = LAMP.index("Nobody")
    end = LAMP.index("“Well")
    window.desk.perform("Cut", lambda book: cut_passage(book, "lamp", start, end, WHEN))
    window.desk.perform("Cut", lambda book: cut_scene(book, "mill", WHEN))
    window.views.show_offcuts()
    return window


def test_they_are_listed_with_where_they_came_from_and_read(cut: MainWindow) -> None:
    mill, passage = rows(cut)
    assert mill == "The mill, scene of Two · 4 May 2031"
    assert passage.startswith("Nobody had lit") and "from “The lamp” · 4 May 2031" in passage
    text = control(cut.views.offcuts, QTextEdit, "Text of the offcut")
    assert text.toPlainText() == MILL


def test_put_back_where_they_were(cut: MainWindow) -> None:
    press(cut.views.offcuts, "Put back where it was")
    press(cut.views.offcuts, "Put back where it was")
    assert cut.desk.book.scenes == small_book().scenes
    assert cut.desk.book.offcuts == ()
    assert not button(cut.views.offcuts, "Put back where it was").isEnabled()


def test_set_in_at_the_cursor_of_another_scene(cut: MainWindow, qtbot: QtBot) -> None:
    cut.views.show_page()
    cut.desk.show_scene("salt")
    cut.page.editor.select(4, 4)
    cut.views.show_offcuts()
    press(cut.views.offcuts, "Set in at the cursor")
    assert cut.desk.book.scene("salt").passage.text.startswith(f"Salt{MILL} lay")
    assert cut.paper.views.currentWidget() is cut.page
    assert cut.page.editor.passage == cut.desk.book.scene("salt").passage
    cut.desk.undo_text()
    assert cut.desk.book.scene("salt").passage == small_book().scene("salt").passage
    assert len(cut.desk.book.offcuts) == 2


def test_none_is_said(window: MainWindow, qtbot: QtBot) -> None:
    window.views.show_offcuts()
    assert rows(window) == []
    qtbot.keyClick(window.views.offcuts, Qt.Key.Key_Escape)
    assert window.paper.views.currentWidget() is window.page
