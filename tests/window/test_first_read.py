"""First read and Rest in the window: the book is read, noted, and not touched."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QLabel, QMessageBox
from pytestqt.qtbot import QtBot
from reglet.manuscript.anchored import Answer
from reglet.manuscript.book import Book
from reglet.manuscript.passage import Passage
from reglet.manuscript.stage import Stage
from reglet.window.first_read_view import FirstReadView
from reglet.window.main_window import MainWindow
from reglet.window.theme import DARK

from tests.window.conftest import LAMP, SALT, small_book
from tests.window.reaching import button, control, enter, write


@pytest.fixture
def reading(window: MainWindow, qtbot: QtBot) -> MainWindow:
    window.story_work.show_first_read()
    qtbot.waitUntil(view(window).text.is_whole)
    return window


def view(window: MainWindow) -> FirstReadView:
    return window.story_work.first_read


def press(window: MainWindow, key: Qt.Key) -> None:
    QTest.keyClick(view(window).text, key)


def test_the_whole_book_is_one_text_that_nothing_changes(reading: MainWindow) -> None:
    text = view(reading).text.toPlainText()
    assert text.index(LAMP) < text.index(SALT) < text.index("The mill turned")
    for key in (Qt.Key.Key_A, Qt.Key.Key_Delete, Qt.Key.Key_Return, Qt.Key.Key_Backspace):
        press(reading, key)
    assert view(reading).text.toPlainText() == text
    assert reading.desk.book.texts == small_book().texts


def test_the_passage_with_the_mark_is_seen_whole(window: MainWindow, qtbot: QtBot) -> None:
    window.resize(1280, 800)
    window.desk.rewrite("lamp", Passage.plain("\n".join(40 * [12 * "It was dark. "])))
    window.story_work.show_first_read()
    text = view(window).text
    qtbot.waitUntil(text.is_whole)

    def is_seen_whole() -> bool:
        whole = text.document().documentLayout().blockBoundingRect(text.textCursor().block())
        seen = text.verticalScrollBar().value()
        return seen <= whole.top() and whole.bottom() <= seen + text.viewport().height()

    for _ in range(12):
        press(window, Qt.Key.Key_J)
        assert is_seen_whole()
    press(window, Qt.Key.Key_N)
    assert view(window)._entry.isVisible() and is_seen_whole()


def test_a_key_makes_a_note_of_a_kind_on_the_passage(reading: MainWindow) -> None:
    press(reading, Qt.Key.Key_J)
    press(reading, Qt.Key.Key_J)
    press(reading, Qt.Key.Key_2)
    noted = [(s.id, n.words, n.kind) for s in reading.desk.book.texts for n in s.notes]
    assert len(noted) == 1
    scene, words, kind = noted[0]
    assert kind == "slow"
    (note,) = reading.desk.book.scene(scene).notes
    passage = reading.desk.book.scene(scene).passage.text
    assert passage[note.start : note.end] == words
    assert words in LAMP.split("\n")


def test_a_note_is_typed_and_escape_leaves_none(reading: MainWindow) -> None:
    press(reading, Qt.Key.Key_J)
    press(reading, Qt.Key.Key_N)
    entry = control(view(reading), type(view(reading)._entry), "Note on the passage read")
    QTest.keyClicks(entry, "who lit it")
    QTest.keyClick(entry, Qt.Key.Key_Return)
    notes = [note.text for scene in reading.desk.book.texts for note in scene.notes]
    assert notes == ["who lit it"]
    press(reading, Qt.Key.Key_N)
    QTest.keyClick(entry, Qt.Key.Key_Escape)
    assert not entry.isVisible()
    assert [n.text for s in reading.desk.book.texts for n in s.notes] == notes


def test_emoji_do_not_shift_a_note(reading: MainWindow) -> None:
    text = view(reading).text
    cursor = text.document().find("She did not")
    text.setTextCursor(cursor)
    press(reading, Qt.Key.Key_1)
    (note,) = reading.desk.book.scene("salt").notes
    assert note.words == "She did not"
    assert SALT[note.start : note.end] == "She did not"


def test_notes_stand_in_order_with_counts_and_are_answered(reading: MainWindow) -> None:
    press(reading, Qt.Key.Key_J)
    press(reading, Qt.Key.Key_1)
    press(reading, Qt.Key.Key_3)
    button(view(reading), "Notes in order").click()
    said = [label.text() for label in view(reading)._listed.findChildren(QLabel)]
    assert "1 doubt · 1 lovely · 2 open" in said
    placed = view(reading)._listed
    buttons = placed.findChildren(QAbstractButton)
    next(each for each in buttons if each.text() == "done").click()
    answers = [n.answer for s in reading.desk.book.texts for n in s.notes]
    assert answers.count(Answer.DONE) == 1


def test_the_place_is_kept_between_sittings(
    reading: MainWindow, stored: Callable[[], Book]
) -> None:
    text = view(reading).text
    text._go_to("mill", 4)
    reading.views.show_page()
    kept = reading.desk.book.reading
    assert kept.scene in {scene.id for scene in reading.desk.book.texts}
    reading.put_book_away()
    assert stored().reading == kept


def test_phone_and_page(reading: MainWindow) -> None:
    frame = view(reading).text.document().rootFrame()
    wide = frame.frameFormat().leftMargin()
    press(reading, Qt.Key.Key_P)
    assert frame.frameFormat().leftMargin() > wide
    press(reading, Qt.Key.Key_P)
    assert frame.frameFormat().leftMargin() == wide


@pytest.fixture
def resting(window: MainWindow) -> MainWindow:
    window.story_work.reading_room.rest_wanted.emit(date.today() + timedelta(days=7))
    return window


@pytest.mark.parametrize("changes", [False, True])
def test_a_draft_at_rest_asks_once(
    resting: MainWindow, monkeypatch: pytest.MonkeyPatch, changes: bool
) -> None:
    asked: list[str] = []
    buttons = QMessageBox.StandardButton

    def answer(box: QMessageBox) -> int:
        asked.append(box.text())
        return buttons.Yes if changes else buttons.No

    monkeypatch.setattr(QMessageBox, "exec", answer)
    before = resting.desk.book.scene("lamp").passage.text
    QTest.keyClicks(resting.page.editor, "xy")
    after = resting.desk.book.scene("lamp").passage.text
    if changes:
        assert len(asked) == 1
        assert len(after) == len(before) + 2
        assert resting.desk.book.rest is not None
        assert resting.desk.book.rest.overruled
    else:
        assert after == before
        assert "7 more days" in asked[0]


def test_a_day_gone_by_is_no_day_to_rest_until(window: MainWindow, qtbot: QtBot) -> None:
    room = window.story_work.reading_room
    for wrong, said in (("2001-01-01", "a day to come"), ("Easter", "year, month, day")):
        write(room, "Day until which the draft rests", wrong)
        enter(room, "Day until which the draft rests")
        assert any(said in label.text() for label in room.findChildren(QLabel))
    assert window.desk.book.rest is None


def test_a_draft_at_rest_is_read_and_noted(resting: MainWindow, qtbot: QtBot) -> None:
    resting.story_work.show_first_read()
    qtbot.waitUntil(view(resting).text.is_whole)
    press(resting, Qt.Key.Key_J)
    press(resting, Qt.Key.Key_1)
    assert sum(len(scene.notes) for scene in resting.desk.book.texts) == 1
    resting.story_work.reading_room.wake_wanted.emit()
    assert resting.desk.book.rest is None


def test_a_note_made_by_a_slip_is_taken_back(reading: MainWindow) -> None:
    press(reading, Qt.Key.Key_J)
    press(reading, Qt.Key.Key_1)
    press(reading, Qt.Key.Key_2)
    press(reading, Qt.Key.Key_Backspace)
    kinds = [n.kind for s in reading.desk.book.texts for n in s.notes]
    assert kinds == ["doubt"]
    press(reading, Qt.Key.Key_Backspace)
    press(reading, Qt.Key.Key_Backspace)
    assert not any(s.notes for s in reading.desk.book.texts)


def test_the_beginning_and_the_end_of_the_book(reading: MainWindow) -> None:
    press(reading, Qt.Key.Key_End)
    assert view(reading).text.at_end()
    press(reading, Qt.Key.Key_Home)
    assert view(reading).text.verticalScrollBar().value() == 0


def test_the_keys_come_back_with_the_text(reading: MainWindow, qtbot: QtBot) -> None:
    button(view(reading), "Notes in order").click()
    assert not view(reading)._keys.isVisible()
    reading.views.show_page()
    reading.story_work.show_first_read()
    qtbot.waitUntil(view(reading).text.is_whole)
    assert view(reading)._keys.isVisible()


def test_another_theme_is_not_the_end_of_the_book(reading: MainWindow, qtbot: QtBot) -> None:
    text, told = view(reading).text, view(reading)._told
    press(reading, Qt.Key.Key_Home)
    qtbot.waitUntil(lambda: "read" in told.text())
    reading.dress(DARK)
    assert not text.is_whole()
    assert "The end" not in told.text()


def test_the_stage_opens_the_book_to_read_and_another_closes_it(
    window: MainWindow, qtbot: QtBot
) -> None:
    window.enter(Stage.LINE)
    assert window.views.shown is window.page
    window.enter(Stage.FIRST_READ)
    assert window.views.shown is view(window)
    window.enter(Stage.FIRST_READ)
    assert window.views.shown is view(window)
    window.enter(Stage.LINE)
    assert window.views.shown is window.page


def test_a_kind_of_the_writer_s_own_gets_a_key(reading: MainWindow) -> None:
    press(reading, Qt.Key.Key_J)
    press(reading, Qt.Key.Key_N)
    entry = control(view(reading), type(view(reading)._entry), "Note on the passage read")
    QTest.keyClicks(entry, "#too clever: a lamp that knows")
    QTest.keyClick(entry, Qt.Key.Key_Return)
    press(reading, Qt.Key.Key_J)
    press(reading, Qt.Key.Key_6)
    notes = [(n.kind, n.text) for s in reading.desk.book.texts for n in s.notes]
    assert notes == [("too clever", "a lamp that knows"), ("too clever", "")]
    assert button(view(reading), "too clever").isVisible()
