"""What is read of the book, and what the page shows of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

import pytest
from PySide6.QtCore import QAbstractAnimation, Qt
from PySide6.QtGui import QPalette
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot
from reglet.manuscript.passage import Passage
from reglet.voice.flags import Spot
from reglet.voice.moment import END_OF_BOOK, State
from reglet.window.listening_choices import ListeningChoices
from reglet.window.listening_work import ListeningWork
from reglet.window.main_window import MainWindow
from reglet.window.theme import LIGHT

from tests.window.conftest import LAMP
from tests.window.listening.fakes import QuickVoice
from tests.window.listening.hearing import LONG, read_from, words_said

FRAME_MS = 16


def test_the_book_is_read_from_the_cursor_to_its_end(
    work: ListeningWork, window: MainWindow, qtbot: QtBot, told: list[str]
) -> None:
    said = words_said(work, window)
    work.set_pace(2.0)
    read_from(window, "was was")
    qtbot.waitUntil(lambda: bool(told), timeout=LONG)
    assert told == [END_OF_BOOK]
    assert work.state is State.STOPPED
    assert said[:9] == "Nobody had lit it was was the trouble Well".split()
    assert said[-3:] == "turned all night".split()
    assert window.desk.scene is not None and window.desk.scene.id == "mill"


def test_the_word_that_is_heard_is_marked_and_the_rest_of_the_page_is_quiet(
    work: ListeningWork, window: MainWindow, until: Callable[[str], None], qtbot: QtBot
) -> None:
    editor = window.page.editor
    read_from(window, "Nobody")
    until("lit")
    at = LAMP.index("lit it")
    assert editor.said == Spot("lamp", at, at + 3)
    assert editor.palette().color(QPalette.ColorRole.Text).name().upper() == LIGHT.quiet
    read = editor.extraSelections()
    assert [each.cursor.selectedText() for each in read] == [LAMP.split("\n")[1]]
    marked = window.page.editor.grab().toImage()
    work.pause()
    work.stop()
    assert editor.said is None
    assert editor.palette().color(QPalette.ColorRole.Text).name().upper() == LIGHT.ink
    assert editor.extraSelections() == []
    assert editor.grab().toImage() != marked


def test_a_page_that_does_not_follow_marks_the_word_and_is_written_on(
    work: ListeningWork, window: MainWindow, until: Callable[[str], None], qtbot: QtBot
) -> None:
    work.choose(ListeningChoices(follow=False))
    editor = window.page.editor
    read_from(window, "lamp")
    until("lamp")
    assert editor.said is not None
    assert editor.palette().color(QPalette.ColorRole.Text).name().upper() == LIGHT.ink
    editor.select(len(LAMP), len(LAMP))
    QTest.keyClick(editor, Qt.Key.Key_B)
    assert window.desk.book.scene("lamp").passage.text == LAMP + "b"
    assert work.state is State.PLAYING


def test_the_line_that_is_read_comes_to_reading_height_without_a_jump(
    work: ListeningWork, window: MainWindow, qtbot: QtBot, voice: QuickVoice
) -> None:
    voice.word_s = 0.12
    long = "\n".join(f"Line {each} of it all, and no more." for each in range(80))
    window.desk.rewrite("lamp", Passage.plain(long))
    editor = window.page.editor
    bar = editor.verticalScrollBar()
    read_at = long.index("Line 40")
    editor.select(read_at, read_at)

    def frame_by_frame() -> None:
        """Have the page move on at sixty frames a second, however busy the machine is."""
        if editor._moving.state() is QAbstractAnimation.State.Running:
            editor._moving.pause()
            for frame in range(1, 1 + -(-editor._moving.duration() // FRAME_MS)):
                editor._moving.setCurrentTime(FRAME_MS * frame)

    work.word_said.connect(frame_by_frame)
    work.play_from_cursor()
    qtbot.waitUntil(lambda: "Line 41" in long[slice(*work.moment.sentence)], timeout=LONG)
    values = [bar.value()]
    bar.valueChanged.connect(values.append)
    qtbot.waitUntil(lambda: "Line 43" in long[slice(*work.moment.sentence)], timeout=LONG)
    work.pause()
    top = editor.line_top()
    assert top is not None and abs(top / editor.viewport().height() - 0.38) < 0.06
    steps = [after - before for before, after in pairwise(values)]
    assert steps and min(steps) >= 0  # never back, and never a line at once
    assert max(steps) < 0.3 * editor.fontMetrics().height()


def test_the_ruler_stays_under_the_line_between_two_words(
    work: ListeningWork, window: MainWindow, until: Callable[[str], None], qtbot: QtBot
) -> None:
    work.choose(replace(work.choices, ruler=True))
    editor = window.page.editor
    read_from(window, "Nobody")
    until("lit")
    line = editor.line_top()
    qtbot.waitUntil(lambda: editor.said is None, timeout=LONG)
    assert line is not None and editor.line_top() == pytest.approx(line, abs=1)
