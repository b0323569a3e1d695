"""Listening in the window, by a voice that is always ready and a loudspeaker without sound."""

from __future__ import annotations

import pytest
from pytestqt.qtbot import QtBot
from reglet.manuscript.stage import Stage
from reglet.voice.listening import END_OF_BOOK, Moment, State
from reglet.window.listening_work import ListeningWork
from reglet.window.main_window import MainWindow

from tests.window.conftest import LAMP
from tests.window.listening_fakes import SilentSpeaker, VoicesInTest


@pytest.fixture
def work(window: MainWindow) -> ListeningWork:
    work = window.listening_work
    work.loading.at_hand.close()
    work.loading.at_hand = VoicesInTest()
    device = SilentSpeaker()
    work.loading.new_device = lambda: device
    window.enter(Stage.PROOF)
    return work


def words_said(work: ListeningWork, window: MainWindow) -> list[str]:
    said: list[str] = []

    def note(moment: Moment) -> None:
        if moment.end > moment.start:
            text = window.desk.book.scene(moment.scene).passage.text
            said.append(text[moment.start : moment.end])

    work.word_said.connect(note)
    return said


def test_the_book_is_read_from_the_cursor_to_its_end(
    work: ListeningWork, window: MainWindow, qtbot: QtBot
) -> None:
    said, told = words_said(work, window), []
    work.told.connect(told.append)
    window.page.editor.select(LAMP.index("was was"), LAMP.index("was was"))
    work.set_pace(2.0)
    work.play()
    qtbot.waitUntil(lambda: bool(told), timeout=20_000)
    assert told == [END_OF_BOOK]
    assert work.state is State.STOPPED
    assert said[:9] == "Nobody had lit it was was the trouble Well".split()
    assert said[-3:] == "turned all night".split()
