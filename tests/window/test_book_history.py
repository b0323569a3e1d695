"""The history of the book says of every scene what became of it, and opens the difference."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QListView, QTextEdit
from pytestqt.qtbot import QtBot
from reglet.manuscript.arranging import add_scene, move_scenes
from reglet.manuscript.offcuts import cut_scene
from reglet.manuscript.passage import Passage
from reglet.window.main_window import MainWindow

from tests.window.reaching import control, press, write
from tests.window.test_offcuts_view import WHEN


def changed_book(window: MainWindow) -> None:
    desk = window.desk
    window.keep("", "")
    desk.perform("Move", lambda book: move_scenes(book, ["mill"], "one", 0))
    desk.perform("Cut", lambda book: cut_scene(book, "salt", WHEN))
    desk.perform(
        "Add", lambda book: add_scene(book, "two", 0, "The quay", Passage.plain("It rained."))
    )
    text = desk.book.scene("lamp").passage.text.replace("was was", "was")
    desk.rewrite("lamp", Passage.plain(text))


def rows(window: MainWindow) -> list[str]:
    model = scenes(window).model()
    return [str(model.index(row, 0).data()) for row in range(model.rowCount())]


def scenes(window: MainWindow) -> QListView:
    return control(window.views.book_history, QListView, "What became of each scene")


def test_every_fate(window: MainWindow, qtbot: QtBot) -> None:
    changed_book(window)
    window.views.show_book_history()
    qtbot.waitUntil(lambda: len(rows(window)) == 4, timeout=20_000)
    said = dict(row.rsplit(", ", 1) for row in rows(window) if "moved" not in row)
    assert said["The lamp"] == "changed"
    assert said["The quay"] == "added"
    assert [fate for name, fate in said.items() if name.startswith("Salt lay")] == ["cut"]
    assert "The mill, as it was, moved" in rows(window)


def test_the_latest_snapshot_that_reads_otherwise_is_compared_first(
    window: MainWindow, qtbot: QtBot
) -> None:
    changed_book(window)
    window.keep("as it is now", "")
    window.views.show_book_history()
    qtbot.waitUntil(lambda: len(rows(window)) == 4, timeout=20_000)
    assert "The lamp, changed" in rows(window)


def test_a_scene_is_opened_and_left(window: MainWindow, qtbot: QtBot) -> None:
    changed_book(window)
    window.views.show_book_history()
    qtbot.waitUntil(lambda: len(rows(window)) == 4, timeout=20_000)
    row = next(i for i, each in enumerate(rows(window)) if each.startswith("The lamp"))
    scenes(window).setCurrentIndex(scenes(window).model().index(row, 0))
    qtbot.keyClick(scenes(window), Qt.Key.Key_Return)
    page = control(window.views.book_history, QTextEdit, "The two states compared")
    assert page.isVisible() and page.toPlainText().startswith("The lamp was lit.")
    qtbot.keyClick(window.views.book_history, Qt.Key.Key_Escape)
    assert scenes(window).isVisible()
    scenes(window).setCurrentIndex(scenes(window).model().index(row, 0))
    qtbot.keyClick(scenes(window), Qt.Key.Key_Return)
    press(window.views.book_history, "History of this scene")
    assert window.paper.views.currentWidget() is window.views.history
    assert window.desk.scene is not None and window.desk.scene.id == "lamp"


def test_a_snapshot_is_taken_with_a_label(window: MainWindow, qtbot: QtBot) -> None:
    window.views.ask_for_snapshot()
    bar = window.views.snapshot_bar
    write(bar, "Label of the snapshot", "Sent to M.")
    press(bar, "This scene only")
    press(bar, "Take a snapshot")
    assert window.file is not None
    taken = window.file.snapshots()[-1]
    assert (taken.label, taken.scenes) == ("Sent to M.", ("lamp",))
    assert not bar.isVisible()
