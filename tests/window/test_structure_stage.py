"""Structure in the window: the whole book as a drawing and what is done there, plan, work, cast."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot
from reglet.bookfile.file import BookFile
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene, SceneSheet, Verdict
from reglet.manuscript.stage import Stage
from reglet.numbers import hours
from reglet.window.main_window import MainWindow
from reglet.window.rooms.work_list import minutes_in
from reglet.window.scene_columns import SceneColumns
from reglet.window.scene_moves import moved_to, stepped
from reglet.window.theme import EASY_READ

from tests.window.reaching import button

LONG = 30_000


def scene(name: str) -> Scene:
    text = f"Isaura came to the {name} on Monday. Mrs. Tarrow said “No.” Isaura knew why.\n" * 3
    return Scene(name, f"The {name}", Passage.plain(text.strip()))


def book() -> Book:
    one = Chapter("one", "Chapter One: Slack", (scene("lamp"), scene("salt"), scene("ledger")))
    two = Chapter("two", "Chapter Two: Neap", (scene("mill"), scene("ferry")))
    return Book("The Tide Ledger", "L. Garrowby", (Part("part", "", (one, two)),))


def order(of: Book) -> list[list[str]]:
    return [[each.id for each in chapter.scenes] for chapter in of.chapters]


@pytest.fixture
def book_path(tmp_path: Path) -> Path:
    path = tmp_path / "book.reglet"
    BookFile.create(path, book()).close()
    return path


@pytest.fixture
def drawn(window: MainWindow, qtbot: QtBot) -> MainWindow:
    """The window with the drawing of the book on the paper."""
    window.resize(1280, 800)
    window.enter(Stage.STRUCTURE)
    window.story_work.show_book()
    qtbot.waitUntil(lambda: len(window.story_work.book_view.chart.chosen) == 1, timeout=LONG)
    window.story_work.book_view.chart.setFocus()
    return window


def key(window: MainWindow, *keys: Qt.Key, held: Qt.KeyboardModifier | None = None) -> None:
    for each in keys:
        chart = window.story_work.book_view.chart
        QTest.keyClick(chart, each, held or Qt.KeyboardModifier.NoModifier)


@pytest.mark.parametrize(
    ("ids", "by", "wanted"),
    [
        (["lamp"], 1, [["salt", "lamp", "ledger"], ["mill", "ferry"]]),
        (["ledger"], 1, [["lamp", "salt"], ["ledger", "mill", "ferry"]]),
        (["mill"], -1, [["lamp", "salt", "ledger", "mill"], ["ferry"]]),
        (["lamp"], -1, order(book())),
        (["ferry"], 1, order(book())),
        (["ledger", "lamp"], 1, [["salt"], ["lamp", "ledger", "mill", "ferry"]]),
        (["nobody"], 1, order(book())),
    ],
)
def test_scenes_go_one_place_on(ids: list[str], by: int, wanted: list[list[str]]) -> None:
    assert order(stepped(book(), ids, by)) == wanted


@pytest.mark.parametrize(
    ("ids", "slot", "wanted"),
    [
        (["ferry"], 0, [["ferry", "lamp", "salt", "ledger"], ["mill"]]),
        (["lamp"], 5, [["salt", "ledger"], ["mill", "ferry", "lamp"]]),
        (["lamp"], 3, [["salt", "ledger", "lamp"], ["mill", "ferry"]]),
        (["salt", "mill"], 1, [["lamp", "salt", "mill", "ledger"], ["ferry"]]),
    ],
)
def test_scenes_go_where_they_are_let_go(
    ids: list[str], slot: int, wanted: list[list[str]]
) -> None:
    assert order(moved_to(book(), ids, slot)) == wanted


@pytest.mark.parametrize("width", [300.0, 700.0, 1400.0])
def test_columns_stand_in_order_and_fill_the_width(drawn: MainWindow, width: float) -> None:
    read = drawn.story_work._read
    assert read is not None
    lengths = read.pictures.lengths
    columns = SceneColumns(lengths.scenes, lengths.words, 100, 100 + width)
    flat = [x for edges in columns.edges for x in edges]
    assert flat == sorted(flat)
    assert flat[0] == 100
    assert flat[-1] == pytest.approx(100 + width)
    assert [columns.at(columns.middle(at)) for at in range(5)] == list(range(5))
    assert columns.slot(0) == 0
    assert columns.slot(10_000) == 5


def test_keys_move_merge_and_cut_and_all_of_it_is_undone(drawn: MainWindow) -> None:
    desk = drawn.desk
    key(drawn, Qt.Key.Key_Right, held=Qt.KeyboardModifier.AltModifier)
    assert order(desk.book) == [["salt", "lamp", "ledger"], ["mill", "ferry"]]
    key(drawn, Qt.Key.Key_Right, held=Qt.KeyboardModifier.ShiftModifier)
    key(drawn, Qt.Key.Key_Z, held=Qt.KeyboardModifier.ControlModifier)
    assert desk.book == book()


def test_several_chosen_are_cut_at_once(drawn: MainWindow) -> None:
    key(drawn, Qt.Key.Key_Right, Qt.Key.Key_Right, held=Qt.KeyboardModifier.ShiftModifier)
    assert drawn.story_work.book_view.chart.chosen == ["lamp", "salt", "ledger"]
    key(drawn, Qt.Key.Key_X)
    assert order(drawn.desk.book) == [[], ["mill", "ferry"]]
    assert [each.scene.id for each in drawn.desk.book.offcuts] == ["lamp", "salt", "ledger"]
    drawn.desk.undo_arrangement()
    assert drawn.desk.book == book()


def test_several_chosen_are_merged(drawn: MainWindow) -> None:
    key(drawn, Qt.Key.Key_Right, held=Qt.KeyboardModifier.ShiftModifier)
    key(drawn, Qt.Key.Key_M)
    assert order(drawn.desk.book) == [["lamp", "ledger"], ["mill", "ferry"]]
    assert drawn.desk.book.scene("lamp").passage.text.count("Monday") == 6


def test_a_click_goes_there_and_a_drag_moves(drawn: MainWindow, qtbot: QtBot) -> None:
    chart = drawn.story_work.book_view.chart
    columns = chart._drawing.columns  # type: ignore[union-attr]
    start = QPoint(round(columns.middle(0)), 60)
    end = QPoint(round(columns.edges[2][1]) - 1, 60)
    qtbot.mousePress(chart, Qt.MouseButton.LeftButton, pos=start)
    qtbot.mouseMove(chart, end)
    qtbot.mouseRelease(chart, Qt.MouseButton.LeftButton, pos=end)
    assert order(drawn.desk.book) == [["salt", "ledger", "lamp"], ["mill", "ferry"]]
    place = QPoint(round(columns.middle(4)), 60)
    qtbot.mouseClick(chart, Qt.MouseButton.LeftButton, pos=place)
    assert drawn.desk.scene is not None
    assert drawn.desk.scene.id == "ferry"
    assert drawn.paper.views.currentWidget() is drawn.page


def test_a_draft_arrangement_leaves_the_book_alone_until_it_is_taken(drawn: MainWindow) -> None:
    view = drawn.story_work.book_view
    button(view, "Try another order").click()
    key(drawn, Qt.Key.Key_Right, held=Qt.KeyboardModifier.AltModifier)
    assert order(drawn.desk.book) == order(book())
    key(drawn, Qt.Key.Key_X)
    assert not drawn.desk.book.offcuts, "a draft arrangement moves scenes only"
    button(view, "Take this order").click()
    assert order(drawn.desk.book) == [["salt", "lamp", "ledger"], ["mill", "ferry"]]
    assert not drawn.desk.book.arrangements
    button(view, "Try another order").click()
    key(drawn, Qt.Key.Key_Right, held=Qt.KeyboardModifier.AltModifier)
    button(view, "Drop it").click()
    assert order(drawn.desk.book) == [["salt", "lamp", "ledger"], ["mill", "ferry"]]


def test_what_is_drawn_is_told_to_who_does_not_see_it(drawn: MainWindow) -> None:
    key(drawn, Qt.Key.Key_Right)
    chart = drawn.story_work.book_view.chart
    (scene,) = (drawn.desk.book.scene(each) for each in chart.chosen)
    said = chart.accessibleDescription()
    assert said.startswith(f"{scene.title} · {scene.passage.word_count} words")


def test_a_plan_is_brought_in_and_its_matches_are_the_writers(
    drawn: MainWindow, tmp_path: Path, qtbot: QtBot
) -> None:
    source = tmp_path / "plan.md"
    source.write_text("# One\n- The lamp is lit\n- The inquest\n", encoding="utf-8")
    work, desk = drawn.story_work, drawn.desk
    work.files.bring_in_plan(source)
    lit, inquest = desk.book.plan
    assert (lit.text, inquest.text) == ("The lamp is lit", "The inquest")
    work.book_view.plan.decided.emit(inquest.id, "ferry")
    assert desk.book.plan[1].scene == "ferry"
    qtbot.waitUntil(
        lambda: any(
            match.scene == "ferry" for match in (work._read.drift.matches if work._read else ())
        ),
        timeout=LONG,
    )
    QTest.keyClick(work.book_view.plan, Qt.Key.Key_Down)
    told = work.book_view.plan.accessibleDescription()
    assert told.startswith(desk.book.plan[1].text) and "written as “The ferry”" in told
    QTest.keyClick(work.book_view.plan, Qt.Key.Key_Delete)
    assert desk.book.plan[1].decided
    assert not desk.book.plan[1].scene
    QTest.keyClick(work.book_view.plan, Qt.Key.Key_Backspace)
    assert not desk.book.plan[1].decided


def test_a_plan_that_is_no_text_changes_nothing(drawn: MainWindow, tmp_path: Path) -> None:
    source = tmp_path / "plan.txt"
    source.write_bytes(b"\xff\xfe\x00\xd8")
    drawn.story_work.files.bring_in_plan(source)
    assert drawn.desk.book == book()


@pytest.mark.parametrize(("name", "begins"), [("a.svg", b"<svg"), ("a.png", b"\x89PNG")])
def test_the_drawing_goes_to_a_file(
    drawn: MainWindow, tmp_path: Path, name: str, begins: bytes
) -> None:
    work = drawn.story_work
    assert work._read is not None
    work.files.write_drawing(tmp_path / name, work._read.facts)
    assert (tmp_path / name).read_bytes().startswith(begins)


def test_it_is_drawn_in_every_dress_and_with_no_scene(drawn: MainWindow, qtbot: QtBot) -> None:
    drawn.dress(EASY_READ)
    drawn.grab()
    drawn.desk.perform("Empty", lambda each: replace(each, parts=()))
    work = drawn.story_work
    qtbot.waitUntil(lambda: work._read is not None and not work._read.facts.scenes, timeout=LONG)
    drawn.grab()


def test_what_the_text_says_is_offered_and_taken(drawn: MainWindow) -> None:
    room, desk = drawn.sheet_room, drawn.desk
    button(room, "Take what the text says").click()
    assert "Isaura" in desk.book.scene("lamp").sheet.who
    assert "Monday" in desk.book.scene("lamp").sheet.when
    assert desk.book.scene("salt").sheet == SceneSheet()


def test_two_names_become_one_person(
    drawn: MainWindow, qtbot: QtBot, stored: Callable[[], Book]
) -> None:
    room = drawn.story_work.cast_room
    room.joined.emit("Isaura", "Mrs. Tarrow")
    (person,) = drawn.desk.book.cast
    assert (person.name, person.forms) == ("Isaura", ("Mrs. Tarrow",))
    drawn.put_book_away()
    assert stored().cast == (person,)


@pytest.mark.parametrize(
    ("said", "minutes"),
    [("2 h", 120), ("40 min", 40), ("1 h 30", 90), ("25", 25), ("", None), ("soon", None)],
)
def test_an_estimate_is_read(said: str, minutes: int | None) -> None:
    assert minutes_in(said) == minutes
    if minutes is not None:
        assert minutes_in(hours(minutes)) == minutes


def test_the_work_list_is_struck_estimated_and_spread_over_days(
    drawn: MainWindow, qtbot: QtBot
) -> None:
    desk, room = drawn.desk, drawn.story_work.work_room
    sheet = SceneSheet(verdict=Verdict.REWORK)
    desk.amend("salt", lambda each: each.with_scene(replace(each.scene("salt"), sheet=sheet)))
    item = "verdict:salt:rework"

    def said() -> str:
        return "\n".join(label.text() for label in room.findChildren(QLabel))

    qtbot.waitUntil(lambda: "1 h 30 min" in said(), timeout=LONG)
    room.estimated.emit(item, 60)
    qtbot.waitUntil(lambda: "1 h of work left" in said(), timeout=LONG)
    due = date.today() + timedelta(days=3)
    room.due_chosen.emit(due)
    assert desk.book.schedule.due == due
    room.struck.emit(item, True)
    qtbot.waitUntil(lambda: "all done" in said(), timeout=LONG)
