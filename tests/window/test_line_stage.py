"""The Line stage in the window: what its rooms and views tell, and where they lead."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QAbstractButton, QApplication, QLabel, QWidget
from pytestqt.qtbot import QtBot
from reglet.bookfile.file import BookFile
from reglet.manuscript.book import Book
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.manuscript.stage import Stage
from reglet.overlays.house import Strictness
from reglet.setting import EREADERS
from reglet.window.application import Application
from reglet.window.bookmarks import Bookmarks
from reglet.window.main_window import MainWindow
from reglet.window.rooms.queries import OverlayRow, QueriesRoom
from reglet.window.theme import DARK, LIGHT

from tests.window.conftest import small_book
from tests.window.reaching import control, press

LONG = 30_000
SENTENCE = "The ledger had been kept by three hands, and the third was the worst of them. "
BLOCK = SENTENCE * 20
TEXT = f"It rained.\n{BLOCK}\nIt had been very, very dark. Nobody saw it."


def book() -> Book:
    small = small_book()
    return small.with_scene(Scene("lamp", "The lamp", Passage.plain(TEXT)))


@pytest.fixture
def book_path(tmp_path: Path) -> Path:
    path = tmp_path / "book.reglet"
    BookFile.create(path, book()).close()
    return path


@pytest.fixture
def line(window: MainWindow, qtbot: QtBot) -> MainWindow:
    with qtbot.waitSignals([window.examining.finished, window.saver.filed], timeout=LONG):
        window.enter(Stage.LINE)
    qtbot.waitUntil(lambda: "→" in said(window.line_work.tightening_room), timeout=LONG)
    return window


def said(inside: QWidget) -> str:
    return "\n".join(label.text() for label in inside.findChildren(QLabel))


def wait_for(qtbot: QtBot, inside: QWidget, words: str) -> None:
    qtbot.waitUntil(lambda: words in said(inside), timeout=LONG)


def cursor_to(window: MainWindow, paragraph: int) -> None:
    at = window.desk.book.scene("lamp").passage.starts[paragraph]
    window.page.editor.select(at, at)


def test_the_readers_view_follows_the_cursor(line: MainWindow, qtbot: QtBot) -> None:
    room = line.line_work.reader_view
    cursor_to(line, 1)
    wait_for(qtbot, room, "Paragraph 2")
    assert "of a phone screen" in said(room) and "on the page" in said(room)
    line.line_work.reader_view.sheet_chosen.emit(next(iter(EREADERS)))
    wait_for(qtbot, room, "on the e-reader")
    cursor_to(line, 2)
    wait_for(qtbot, room, "Paragraph 3")


def test_a_click_on_the_phone_goes_to_that_place(line: MainWindow, qtbot: QtBot) -> None:
    room = line.line_work.reader_view
    cursor_to(line, 0)
    wait_for(qtbot, room, "Paragraph 1")
    drawing = control(room, QWidget, "The phone’s screen and the page")
    qtbot.mouseClick(drawing, Qt.MouseButton.LeftButton, pos=QPoint(40, drawing.height() // 2))
    start, _ = line.page.editor.span_selected()
    assert line.desk.book.scene("lamp").passage.locate(start)[0] == 1


def test_every_page_is_shown_with_its_blocks_and_leads_back(line: MainWindow, qtbot: QtBot) -> None:
    view = line.line_work.white_space
    line.line_work.show_white_space()
    wait_for(qtbot, view, "white on average")
    qtbot.waitUntil(lambda: "1 block" in said(view), timeout=LONG)
    press(view, "On a phone")
    wait_for(qtbot, view, "screens")
    strip = control(view, QWidget, "Pages")
    qtbot.keyClick(strip, Qt.Key.Key_Right)
    assert strip.accessibleDescription().startswith("Screen 2 · ")
    qtbot.keyClick(strip, Qt.Key.Key_Left)
    qtbot.keyClick(strip, Qt.Key.Key_Return)
    assert line.paper.views.currentWidget() is line.page
    assert line.desk.scene is not None and line.desk.scene.id == "lamp"


def test_a_book_without_a_scene_has_no_pages_and_says_so(line: MainWindow, qtbot: QtBot) -> None:
    line.contents.cut_wanted.emit([scene.id for scene in line.desk.book.scenes])
    line.line_work.show_white_space()
    view = line.line_work.white_space
    wait_for(qtbot, view, "there is no scene in the book")
    assert "Being set" not in said(view)


def test_tightening_is_counted_from_the_entrance_into_the_stage(
    line: MainWindow, qtbot: QtBot
) -> None:
    room = line.line_work.tightening_room
    then = line.desk.book.scene("lamp").passage.word_count
    cursor_to(line, 2)
    editor = line.page.editor
    start = line.desk.book.scene("lamp").passage.starts[1]
    editor.select(start, start + len(SENTENCE) * 2)
    line.page_work.cut_selection()
    now = line.desk.book.scene("lamp").passage.word_count
    assert now == then - 32
    wait_for(qtbot, room, f"{then:,} → {now:,} words")
    assert "32 cut" in said(room) and "32 words kept in Offcuts" in said(room)
    assert "of an aim of −10%" in said(room)
    room.aim_chosen.emit(0)
    assert "aim" not in said(room).lower()
    press(room, "This scene")
    press(room, "This chapter")
    assert f"→ {line.desk.book.word_count:,} words" in said(room)


def test_the_difference_and_the_paragraph_again_are_a_key_away(
    line: MainWindow, qtbot: QtBot
) -> None:
    cursor_to(line, 0)
    qtbot.keyClicks(line.page.editor, "So ")
    line.line_work.show_again()
    view = line.line_work.read_again
    assert line.paper.views.currentWidget() is view
    assert "change 1 of 1" in said(view)
    assert "It rained." in said(view) and "So It rained." in said(view)
    qtbot.keyClick(view, Qt.Key.Key_Escape)
    assert line.paper.views.currentWidget() is line.page
    line.line_work.show_difference()
    assert line.paper.views.currentWidget() is line.views.history
    assert "1 word added, 0 cut" in said(line.views.history)


def test_figures_of_the_scene_stand_beside_the_books(line: MainWindow, qtbot: QtBot) -> None:
    room = line.line_work.figures_room
    named: Callable[[], list[str]] = lambda: [  # noqa: E731
        each.accessibleName() for each in room.findChildren(QWidget)
    ]
    qtbot.waitUntil(
        lambda: any(n.startswith("Dialogue: 0% in the scene") for n in named()), timeout=LONG
    )
    assert not any("…" in name for name in named())


def test_the_rhythm_is_drawn_beside_the_text_when_wanted(line: MainWindow) -> None:
    line.resize(1280, 800)

    def margin() -> object:
        viewport = line.page.editor.viewport()
        left = round(line.page.editor.title_rect().left())
        return viewport.grab().toImage().copy(0, 0, left - 8, viewport.height())

    line.line_work.figures_room.rhythm_wanted.emit(True)
    with_rhythm = margin()
    line.line_work.figures_room.rhythm_wanted.emit(False)
    assert margin() != with_rhythm
    line.line_work.figures_room.rhythm_wanted.emit(True)
    assert margin() == with_rhythm


# The overlays


def rows(room: QueriesRoom) -> dict[str, OverlayRow]:
    return {row.overlay.name: row for row in room.findChildren(OverlayRow)}


def test_overlays_with_nothing_here_fold_away_and_stay_while_a_scene_is_worked_at(
    line: MainWindow, qtbot: QtBot
) -> None:
    room = line.rooms[Stage.LINE]
    assert not rows(room)["block"].isHidden()
    folded = [row for row in rows(room).values() if row.isHidden()]
    assert folded
    line.desk.rewrite("lamp", Passage.plain("It rained."))
    qtbot.waitUntil(lambda: rows(room)["block"].count == 0, timeout=LONG)
    assert not rows(room)["block"].isHidden()
    press(room, f"{len(folded)} more, nothing here")
    assert not any(row.isHidden() for row in rows(room).values())


def test_an_overlay_is_switched_by_the_digits_of_its_number(line: MainWindow, qtbot: QtBot) -> None:
    room = line.rooms[Stage.LINE]
    by_number = list(rows(room).values())
    room.type_digit(9)
    assert not by_number[8].isChecked()
    room.type_digit(1)
    assert by_number[0].isChecked()  # a second digit may come
    room.type_digit(2)
    assert by_number[0].isChecked() and not by_number[11].isChecked()
    room.type_digit(1)
    qtbot.waitUntil(lambda: not by_number[0].isChecked(), timeout=2000)
    off = {by_number[at].overlay.name for at in (0, 8, 11)}
    assert line.desk.book.style_sheet.off == off


def test_a_stricter_overlay_asks_more(line: MainWindow, qtbot: QtBot) -> None:
    row = rows(line.rooms[Stage.LINE])["block"]
    assert row.count == 1
    line.desk.rewrite("lamp", Passage.plain(SENTENCE * 9))
    qtbot.waitUntil(lambda: row.count == 0, timeout=LONG)
    qtbot.keyClick(row, Qt.Key.Key_Right)
    assert row.strictness is Strictness.STRICT
    qtbot.waitUntil(lambda: row.count == 1, timeout=LONG)


# By keys alone

NONE, CONTROL, SHIFT, ALT = (
    Qt.KeyboardModifier.NoModifier,
    Qt.KeyboardModifier.ControlModifier,
    Qt.KeyboardModifier.ShiftModifier,
    Qt.KeyboardModifier.AltModifier,
)
WORKED = (
    "“Go away,” said Isaura angrily.\nIt had been a very cold night, and she was really tired.\n"
    "The bell was rung by Isaura at dusk."
)


def keys(qtbot: QtBot, key: Qt.Key, held: Qt.KeyboardModifier = NONE) -> None:
    """Press a key where the keys go now, as a writer without a mouse does."""
    where = QApplication.focusWidget()
    assert where is not None, "no control has the focus"
    qtbot.keyClick(where, key, held)


def test_a_scene_is_worked_through_by_keys_alone(line: MainWindow, qtbot: QtBot) -> None:
    line.activateWindow()
    line.page.setFocus()
    with qtbot.waitSignal(line.examining.finished, timeout=LONG):
        line.desk.rewrite("lamp", Passage.plain(WORKED))
    desk, card = line.desk, line.page.card
    keys(qtbot, Qt.Key.Key_Home, CONTROL)
    keys(qtbot, Qt.Key.Key_J, CONTROL)
    assert card.query is not None and card.query.overlay == "tag_adverb"
    keys(qtbot, Qt.Key.Key_T)
    assert desk.book.scene("lamp").passage.text.startswith("“Go away,” said Isaura.\n")
    assert card.query is not None and card.query.text == "very"
    keys(qtbot, Qt.Key.Key_J)
    assert card.query is not None and card.query.text == "really"
    keys(qtbot, Qt.Key.Key_K)
    keys(qtbot, Qt.Key.Key_S)
    assert len(desk.book.scene("lamp").stets) == 1
    keys(qtbot, Qt.Key.Key_S, SHIFT)
    assert [each.words for each in desk.book.style_sheet.allowances] == ["really"]
    keys(qtbot, Qt.Key.Key_S)
    assert card.query is None and card.hasFocus()
    keys(qtbot, Qt.Key.Key_D)
    assert Stage.LINE in desk.book.scene("lamp").passed
    assert control(line.header.stages, QAbstractButton, "Line, 1 of 3")
    keys(qtbot, Qt.Key.Key_Return)
    assert line.page.editor.hasFocus()
    keys(qtbot, Qt.Key.Key_Home, CONTROL)
    keys(qtbot, Qt.Key.Key_End, SHIFT)
    keys(qtbot, Qt.Key.Key_X, CONTROL | ALT)
    assert [each.scene.passage.text for each in desk.book.offcuts] == ["“Go away,” said Isaura."]
    for key, held, shown in (
        (Qt.Key.Key_R, CONTROL, line.line_work.read_again),
        (Qt.Key.Key_D, CONTROL, line.views.history),
        (Qt.Key.Key_W, CONTROL | ALT, line.line_work.white_space),
        (Qt.Key.Key_O, CONTROL | ALT, line.views.offcuts),
    ):
        keys(qtbot, key, held)
        qtbot.waitUntil(lambda view=shown: line.paper.views.currentWidget() is view, timeout=LONG)
        keys(qtbot, Qt.Key.Key_Escape)
        assert line.paper.views.currentWidget() is line.page
    keys(qtbot, Qt.Key.Key_PageDown, CONTROL)
    assert desk.scene is not None and desk.scene.id == "salt"


def test_the_pages_of_the_book_stand_at_the_foot(line: MainWindow, qtbot: QtBot) -> None:
    wait_for(qtbot, line.status_line, "pages of")
    line.line_work.reader_view.sheet_chosen.emit(next(iter(EREADERS)))
    wait_for(qtbot, line.status_line, "screens of")
    with qtbot.waitSignal(line.examining.finished, timeout=LONG):
        line.enter(Stage.STRUCTURE)
    assert "screens" not in said(line.status_line)


# Between sittings


def test_the_writer_comes_back_to_where_they_were(
    application: Application, line: MainWindow, book_path: Path, qtbot: QtBot
) -> None:
    cursor_to(line, 2)
    at, _ = line.page.editor.span_selected()
    marks = line.findChild(Bookmarks)
    qtbot.waitUntil(lambda: not marks._rests.isActive(), timeout=LONG)
    line.desk.show_scene("mill")
    line.desk.show_scene("lamp")
    assert line.page.editor.span_selected() == (at, at)
    line.rooms[Stage.LINE].toggle(3)
    off = line.rooms[Stage.LINE].off
    application.opening.open(book_path)
    assert line.page.editor.span_selected() == (at, at)
    assert len(off) == 1
    assert line.desk.book.style_sheet.off == set(off) == set(line.rooms[Stage.LINE].off)


def test_themes_are_put_on_every_room(line: MainWindow, application: Application) -> None:
    book = line.desk.book
    for theme in (DARK, LIGHT):
        application.dress(theme)
        assert not line.grab().isNull()
    assert line.desk.book is book
