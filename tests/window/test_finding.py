"""Find counts what is there; replacing all can be taken back, and a snapshot holds what was."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot
from reglet.bookfile.snapshot import Reason
from reglet.errors import BookFileError
from reglet.manuscript.passage import Passage
from reglet.manuscript.search import Place
from reglet.window.desk import Desk
from reglet.window.finding import FindBar
from reglet.window.lettering import Label
from reglet.window.main_window import MainWindow

from tests.window.conftest import small_book
from tests.window.reaching import button, press, write


def told(bar: FindBar) -> list[str]:
    return [label.text() for label in bar.findChildren(Label) if not label.isHidden()]


@pytest.mark.parametrize(
    ("sought", "choices", "said"),
    [
        ("lit", (), "2 found"),
        ("LIT", (), "2 found"),
        ("LIT", ("Match case",), "not in this scene"),
        ("the", (), "2 found"),
        ("the", ("Whole book",), "4 found"),
        ("the", ("Whole book", "Match case"), "2 found"),
        ("he", ("Whole book",), "5 found"),
        ("he", ("Whole book", "Whole words"), "not found"),
        ("was was", ("Whole words",), "1 found"),
        ('"Well', (), "1 found"),
        ("🐚", ("Whole book",), "1 found"),
        ("", (), ""),
    ],
)
def test_counts(window: MainWindow, sought: str, choices: tuple[str, ...], said: str) -> None:
    window.views.find()
    bar = window.views.find_bar
    for choice in choices:
        press(bar, choice)
    write(bar, "Words to find", sought)
    assert said in told(bar)


def test_steps_round_and_says_where_it_is(window: MainWindow, qtbot: QtBot) -> None:
    window.views.find()
    bar = window.views.find_bar
    press(bar, "Whole book")
    write(bar, "Words to find", "the")
    seen: list[Place] = []
    bar.place_shown.connect(seen.append)
    for _ in range(5):
        press(bar, "Next")
    assert [place.scene for place in seen] == ["lamp", "lamp", "salt", "mill", "lamp"]
    assert seen[0] != seen[1] and seen[4] == seen[0]
    assert "1 of 4" in told(bar)
    press(bar, "Previous")
    assert seen[-1] == seen[3]
    assert window.desk.scene is not None and window.desk.scene.id == "mill"
    assert window.page.editor.span_selected() == (seen[3].start, seen[3].end)


def test_replaces_one_and_goes_to_the_next(window: MainWindow) -> None:
    window.views.find(replacing=True)
    bar = window.views.find_bar
    write(bar, "Words to find", "was")
    write(bar, "Words to replace them with", "wasn’t")
    press(bar, "Next")
    press(bar, "Replace")
    scene = window.desk.book.scene("lamp")
    assert scene.passage.text.startswith("The lamp wasn’t lit.\nNobody had lit it was was")
    assert window.page.editor.passage == scene.passage
    assert "2 of 3" in told(bar)  # what was set in is not met with again
    window.desk.undo_text()
    assert window.desk.book.scene("lamp").passage == small_book().scene("lamp").passage


def test_the_preview_changes_nothing(window: MainWindow) -> None:
    before = window.desk.book
    window.views.find(replacing=True)
    bar = window.views.find_bar
    press(bar, "Whole book")
    write(bar, "Words to find", "the")
    write(bar, "Words to replace them with", "a")
    press(bar, "Replace all …")
    assert button(bar, "Replace 4 in 3 scenes").isEnabled()
    press(bar, "Leave as it is")
    assert window.desk.book is before
    assert window.file is not None
    assert not [s for s in window.file.snapshots() if s.reason is Reason.BEFORE_REPLACE_ALL]


def test_replaces_all_after_a_snapshot_and_takes_it_back_in_one_step(window: MainWindow) -> None:
    before = window.desk.book
    window.views.find(replacing=True)
    bar = window.views.find_bar
    press(bar, "Whole book")
    write(bar, "Words to find", "the")
    write(bar, "Words to replace them with", "this")
    press(bar, "Replace all …")
    press(bar, "Replace 4 in 3 scenes")
    texts = [scene.passage.text for scene in window.desk.book.texts]
    assert texts == [
        "this lamp was lit.\nNobody had lit it was was this trouble.\n“Well?” said Dorrel.",
        "Salt lay on this sill 🐚 in a line.\nShe did not sweep it up.",
        "this mill turned all night.",
    ]
    assert "4 replaced" in told(bar)
    assert window.file is not None
    (taken,) = [s for s in window.file.snapshots() if s.reason is Reason.BEFORE_REPLACE_ALL]
    assert taken.scenes is None and "“the” was replaced by “this”" in taken.label
    assert window.file.state(taken.id) == before
    window.desk.undo_text()
    assert window.desk.book == before
    window.desk.redo_text()
    assert [scene.passage.text for scene in window.desk.book.texts] == texts


def test_replacing_in_scenes_out_of_sight_is_taken_back_from_the_bar(window: MainWindow) -> None:
    before = window.desk.book
    window.views.find(replacing=True)
    bar = window.views.find_bar
    press(bar, "Whole book")
    write(bar, "Words to find", "mill")
    write(bar, "Words to replace them with", "wheel")
    press(bar, "Replace all …")
    press(bar, "Replace 1 in one scene")
    assert window.desk.book.scene("mill").passage.text == "The wheel turned all night."
    press(bar, "Undo")
    assert window.desk.book == before
    assert "1 found" in told(bar)


def test_what_was_written_since_the_preview_is_shown_before_it_is_replaced(
    window: MainWindow,
) -> None:
    window.views.find(replacing=True)
    bar = window.views.find_bar
    write(bar, "Words to find", "lit")
    write(bar, "Words to replace them with", "out")
    press(bar, "Replace all …")
    agree = button(bar, "Replace 2 in one scene")
    written = Passage.plain("Split, and lit, and unlit.")
    window.desk.rewrite("lamp", written)
    agree.click()
    assert window.desk.book.scene("lamp").passage == written
    press(bar, "Replace 3 in one scene")
    assert window.desk.book.scene("lamp").passage.text == "Spout, and out, and unout."


def test_nothing_is_replaced_where_no_snapshot_can_be_taken(qtbot: QtBot) -> None:
    def no_snapshot(label: str) -> None:
        raise BookFileError("The disk is full. Nothing was changed; make room.")

    desk = Desk()
    desk.lay_out(small_book())
    bar = FindBar(desk, no_snapshot)
    qtbot.addWidget(bar)
    bar.start("lit", replacing=True)
    write(bar, "Words to replace them with", "out")
    said: list[str] = []
    desk.refused.connect(said.append)
    press(bar, "Replace all …")
    press(bar, "Replace 2 in one scene")
    assert desk.book == small_book()
    assert said == ["The disk is full. Nothing was changed; make room."]


def test_escape_leaves_the_preview_first_then_the_bar(window: MainWindow, qtbot: QtBot) -> None:
    window.views.find(replacing=True)
    bar = window.views.find_bar
    write(bar, "Words to find", "lit")
    press(bar, "Replace all …")
    qtbot.keyClick(bar, Qt.Key.Key_Escape)
    assert bar.isVisible()
    qtbot.keyClick(bar, Qt.Key.Key_Escape)
    assert not bar.isVisible()
