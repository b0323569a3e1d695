"""Contents shows the book and turns gestures into its order."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtTest import QAbstractItemModelTester
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot
from reglet.manuscript.stage import Stage
from reglet.window.contents_menu import menu_of
from reglet.window.contents_model import ContentsModel, Kind
from reglet.window.main_window import MainWindow

from tests.window.conftest import small_book

UP, DOWN, ALT = Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.KeyboardModifier.AltModifier


def order(window: MainWindow) -> str:
    return " | ".join(
        " ".join(scene.id for scene in chapter.scenes) for chapter in window.desk.book.chapters
    )


def test_the_model_is_one_that_qt_agrees_with(qapp: object) -> None:
    model = ContentsModel()
    tester = QAbstractItemModelTester(model)
    book = small_book()
    model.show(book)
    assert [model.row_of(model.index(row, 0, QModelIndex())).kind for row in range(2)] == [
        Kind.CHAPTER,
        Kind.CHAPTER,
    ]
    assert model.data(model.index_of("lamp")) == "The lamp"
    assert model.data(model.index_of("salt")) == "Salt lay on the sill 🐚 …"
    del tester


@pytest.mark.parametrize(
    ("scene", "key", "expected"),
    [
        ("lamp", DOWN, "salt lamp | mill"),
        ("salt", UP, "salt lamp | mill"),
        ("salt", DOWN, "lamp | salt mill"),
        ("mill", UP, "lamp salt mill | "),
        ("lamp", UP, "lamp salt | mill"),
        ("mill", DOWN, "lamp salt | mill"),
    ],
)
def test_scenes_move_by_keys(
    window: MainWindow, qtbot: QtBot, scene: str, key: Qt.Key, expected: str
) -> None:
    before = window.desk.book
    window.desk.show_scene(scene)
    qtbot.keyClick(window.contents.tree, key, ALT)
    assert order(window) == expected
    assert window.desk.scene is not None and window.desk.scene.id == scene
    qtbot.keyClick(window.contents.tree, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert window.desk.book == before


def test_chapters_move_by_keys(window: MainWindow, qtbot: QtBot) -> None:
    tree, model = window.contents.tree, window.contents.model
    tree.setCurrentIndex(model.index_of("two"))
    qtbot.keyClick(tree, UP, ALT)
    assert order(window) == "mill | lamp salt"


@pytest.mark.parametrize(
    ("dragged", "onto", "row", "expected"),
    [
        ("lamp", "two", 1, "salt | mill lamp"),
        ("lamp", "two", -1, "salt | mill lamp"),
        ("mill", "one", 1, "lamp mill salt | "),
        ("lamp", "one", 2, "salt lamp | mill"),
        ("two", "", 0, "mill | lamp salt"),
        ("two", "one", 0, "lamp salt | mill"),
    ],
)
def test_what_is_dropped_lands_where_it_is_shown(
    window: MainWindow, dragged: str, onto: str, row: int, expected: str
) -> None:
    model = window.contents.model
    data = model.mimeData([model.index_of(dragged)])
    over = model.index_of(onto) if onto else QModelIndex()
    model.dropMimeData(data, Qt.DropAction.MoveAction, row, 0, over)
    assert order(window) == expected


def test_titles_are_written_in_place(window: MainWindow) -> None:
    model = window.contents.model
    model.setData(model.index_of("salt"), "  Salt on the sill ")
    model.setData(model.index_of("one"), "The first")
    assert window.desk.book.scene("salt").title == "Salt on the sill"
    assert window.desk.book.chapter("one").title == "The first"
    assert model.data(model.index_of("salt")) == "Salt on the sill"


def test_a_scene_is_opened_by_arrowing_to_it(window: MainWindow, qtbot: QtBot) -> None:
    qtbot.keyClick(window.contents.tree, DOWN)
    assert window.desk.scene is not None and window.desk.scene.id == "salt"
    assert window.page.editor.passage is window.desk.scene.passage


def test_the_wishes_of_the_menu_are_carried_out(window: MainWindow) -> None:
    contents = window.contents
    contents.merge_wanted.emit(["lamp", "salt"])
    assert order(window) == "lamp | mill"
    contents.undo_wanted.emit()
    contents.scene_wanted.emit("two", 1)
    assert len(window.desk.book.scenes) == 4
    assert window.desk.scene is not None and window.desk.scene.passage.text == ""
    contents.undo_wanted.emit()
    contents.chapter_start_wanted.emit("salt")
    assert order(window) == "lamp | salt | mill"
    contents.chapter_join_wanted.emit("two")
    assert order(window) == "lamp | salt mill"
    contents.cut_wanted.emit(["mill"])
    assert order(window) == "lamp | salt"
    assert len(window.desk.book.offcuts) == 1
    contents.passed.emit(["lamp"], Stage.LINE, True)
    assert Stage.LINE in window.desk.book.scene("lamp").passed
    for _ in range(3):
        contents.undo_wanted.emit()
    assert order(window) == "lamp salt | mill"


def test_what_is_said_of_a_scene(window: MainWindow) -> None:
    model = window.contents.model
    window.contents.passed.emit(["lamp"], Stage.PROOF, True)
    window.contents.show_scene(window.desk.book.scene("lamp"))
    said = model.data(model.index_of("lamp"), Qt.ItemDataRole.AccessibleTextRole)
    assert said == "The lamp, 15 words, passed Proof"


def test_several_scenes_are_chosen_and_go_together(window: MainWindow, qtbot: QtBot) -> None:
    tree, before = window.contents.tree, window.desk.book
    tree.setFocus()
    qtbot.keyClick(tree, DOWN, Qt.KeyboardModifier.ShiftModifier)
    assert window.contents._selected_scenes() == ["lamp", "salt"]
    qtbot.keyClick(tree, DOWN, ALT)
    assert order(window) == " | lamp salt mill"
    assert window.contents._selected_scenes() == ["lamp", "salt"]
    qtbot.keyClick(tree, Qt.Key.Key_M, Qt.KeyboardModifier.ControlModifier)
    assert order(window) == " | lamp mill"
    for _ in range(2):
        qtbot.keyClick(tree, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert window.desk.book == before


def test_every_line_of_a_scene_s_menu_does_something(window: MainWindow) -> None:
    contents, desk = window.contents, window.desk
    row = contents.model.row_of(contents.model.index_of("salt"))
    desk.show_scene("salt")
    contents.copies_wanted.emit(["salt"])
    window.page.editor.select(10, 10)
    for chosen in (["salt"], ["lamp", "salt"]):
        menu = menu_of(contents, row, chosen)
        lines = [a for a in menu.actions() if not a.isSeparator() and not a.menu()]
        lines += [a for sub in menu.actions() if sub.menu() for a in sub.menu().actions()]  # type: ignore[attr-defined]
        for line in lines:
            before = desk.book
            line.trigger()
            if line.text().startswith("Rename"):
                assert contents.tree.viewport().findChild(QLineEdit) is not None
                continue
            assert desk.book != before, line.text()
            while desk.last_arrangement() not in ("", "Keep another version"):
                desk.undo_arrangement()
            if len(desk.book.offcuts) != 1:
                desk.undo_arrangement()
            desk.show_scene("salt")
            window.page.editor.select(10, 10)
            row = contents.model.row_of(contents.model.index_of("salt"))


def test_another_version_takes_the_place_and_gives_it_back(window: MainWindow) -> None:
    contents, desk = window.contents, window.desk
    contents.copies_wanted.emit(["salt"])
    ((offcut_id, _),) = contents.model.versions_of("salt")
    before = desk.book
    contents.version_wanted.emit(offcut_id)
    scene = desk.scene
    assert scene is not None
    assert scene.id != "salt"
    assert scene.passage == before.scene("salt").passage
    desk.undo_arrangement()
    assert desk.book == before
