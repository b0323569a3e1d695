"""Keys and clicks on a page that is read aloud, and how the writer chooses to listen."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QInputMethodEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from reglet.voice.flags import Spot
from reglet.voice.moment import State
from reglet.voice.reading_order import Place
from reglet.window.listening_work import ListeningWork
from reglet.window.main_window import MainWindow

from tests.window.conftest import LAMP
from tests.window.listening.fakes import QuickVoice
from tests.window.listening.hearing import read_from, words_said


def test_pace_is_kept_within_its_bounds_and_heard(
    work: ListeningWork, window: MainWindow, until: Callable[[str], None]
) -> None:
    read_from(window, "lamp")
    until("lamp")
    for _ in range(20):
        work.change_pace(1)
    assert work.choices.pace == 2.0
    for _ in range(20):
        work.change_pace(-1)
    assert work.choices.pace == 0.6
    assert work.state is State.PLAYING


# Keys on the page


def test_the_keys_of_the_page_are_the_voices_while_it_is_followed(
    work: ListeningWork,
    window: MainWindow,
    until: Callable[[str], None],
    voice: QuickVoice,
    told: list[str],
) -> None:
    editor, key = window.page.editor, Qt.Key
    read_from(window, "Nobody")
    until("lit")
    for typed in (key.Key_X, key.Key_Q, key.Key_Backspace, key.Key_Delete):
        QTest.keyClick(editor, typed)
    QApplication.clipboard().setText("pasted")
    QTest.keyClick(editor, key.Key_V, Qt.KeyboardModifier.ControlModifier)
    composed = QInputMethodEvent()
    composed.setCommitString("é")
    QApplication.sendEvent(editor, composed)
    assert window.desk.book.scene("lamp").passage.text == LAMP
    assert len(told) == 1 and "nothing is typed" in told[0]
    QTest.keyClick(editor, key.Key_Space)
    assert work.state is State.PAUSED
    QTest.keyClick(editor, key.Key_Space)
    assert work.state is State.PLAYING
    QTest.keyClick(editor, key.Key_Plus)
    assert work.choices.pace == 1.1
    QTest.keyClick(editor, key.Key_B, Qt.KeyboardModifier.ShiftModifier)
    assert work.place == Place("lamp", 0)
    assert window.desk.book.scene("lamp").passage.text == LAMP


def test_the_mending_key_puts_the_cursor_on_the_word_and_reading_goes_on_with_the_new_text(
    work: ListeningWork,
    window: MainWindow,
    until: Callable[[str], None],
    voice: QuickVoice,
    qtbot: QtBot,
) -> None:
    editor = window.page.editor
    read_from(window, "Nobody")
    until("the")
    QTest.keyClick(editor, Qt.Key.Key_Return)
    at = LAMP.index("the trouble")
    assert work.state is State.PAUSED
    assert editor.span_selected() == (at, at)
    assert not editor.following
    for _ in range(4):
        QTest.keyClick(editor, Qt.Key.Key_Backspace)
    assert editor.said is None  # what was marked may not stand there any more
    mended = LAMP.replace("was was", "was")
    assert window.desk.book.scene("lamp").passage.text == mended
    work.play()
    until("Nobody")
    assert voice.spoken.count("Nobody had lit it was the trouble.") == 1
    assert editor.following


def test_without_a_change_reading_goes_on_from_the_sentences_start_too(
    work: ListeningWork, window: MainWindow, until: Callable[[str], None]
) -> None:
    said = words_said(work, window)
    read_from(window, "Nobody")
    until("lit")
    work.mend()
    said.clear()
    work.play()
    until("Nobody")
    assert said[0] == "Nobody"


def test_a_click_in_the_text_stops_the_voice_there(
    work: ListeningWork, window: MainWindow, until: Callable[[str], None]
) -> None:
    editor = window.page.editor
    read_from(window, "Nobody")
    until("lit")
    place = editor.cursorRect(editor.textCursor()).center()
    QTest.mouseClick(editor.viewport(), Qt.MouseButton.LeftButton, pos=QPoint(place.x(), place.y()))
    assert work.state is State.PAUSED
    assert not editor.following
    QTest.keyClick(editor, Qt.Key.Key_Y)
    assert window.desk.book.scene("lamp").passage.text != LAMP


def test_going_back_in_a_pause_shows_where_reading_will_go_on(
    work: ListeningWork, window: MainWindow, until: Callable[[str], None]
) -> None:
    read_from(window, "Nobody")
    until("lit")
    QTest.keyClick(window.page.editor, Qt.Key.Key_Space)
    QTest.keyClick(window.page.editor, Qt.Key.Key_B)
    assert work.state is State.PAUSED
    assert window.page.editor.said == Spot("lamp", 0, 3)
    QTest.keyClick(window.page.editor, Qt.Key.Key_Return)
    assert window.page.editor.span_selected() == (0, 0)


def test_other_choices_leave_what_lies_on_the_paper_and_the_keys_where_they_are(
    work: ListeningWork, window: MainWindow, until: Callable[[str], None]
) -> None:
    read_from(window, "Nobody")
    until("lit")
    window.views.show_offcuts()
    work.choose(replace(work.choices, ruler=True, aim=2))
    assert window.paper.views.currentWidget() is window.views.offcuts
    assert window.page.editor.following
