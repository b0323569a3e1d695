"""What can go wrong while the book is read, and the sentence that it ends in."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot
from reglet.bookfile.file import BookFile
from reglet.manuscript.change import Change
from reglet.manuscript.offcuts import cut_scene
from reglet.manuscript.passage import Passage
from reglet.voice.flags import Spot
from reglet.voice.moment import State
from reglet.voice.voices import VoiceMissing
from reglet.window.listening_work import ListeningWork
from reglet.window.main_window import MainWindow

from tests.window.conftest import LAMP
from tests.window.listening.fakes import QuickVoice, SilentSpeaker, VoicesInTest
from tests.window.listening.hearing import LONG, read_from


def test_a_scene_taken_out_under_the_voice_ends_in_a_sentence(
    work: ListeningWork, window: MainWindow, until: Callable[[str], None], told: list[str]
) -> None:
    read_from(window, "Nobody")
    until("lit")
    now = datetime.now().astimezone()
    window.desk.perform("Cut", lambda book: cut_scene(book, "lamp", now))
    assert work.state is State.STOPPED
    work.play_or_pause()  # and goes on elsewhere
    until("Salt")
    assert any("not in the book any more" in each for each in told)


def test_words_changed_under_the_voice_are_read_anew_and_others_are_not(
    work: ListeningWork,
    window: MainWindow,
    until: Callable[[str], None],
    voice: QuickVoice,
) -> None:
    read_from(window, "Nobody")
    until("lit")
    text = LAMP.replace("The lamp was lit.", "The lamps were lit.")
    passage = Passage.plain(text)
    window.desk.typed("lamp", passage, Change.between(LAMP, text))
    until("trouble")
    at = text.index("trouble")
    assert window.page.editor.said == Spot("lamp", at, at + len("trouble"))
    assert voice.spoken.count("Nobody had lit it was was the trouble.") == 1


@pytest.mark.parametrize("when", ["at the start", "while it reads"])
def test_no_device_ends_in_a_sentence_and_nothing_is_lost(
    work: ListeningWork,
    window: MainWindow,
    device: SilentSpeaker,
    until: Callable[[str], None],
    told: list[str],
    qtbot: QtBot,
    when: str,
) -> None:
    if when == "at the start":
        device.gone = True
        work.play()
    else:
        read_from(window, "Nobody")
        until("lit")
        device.gone = True
    qtbot.waitUntil(lambda: bool(told), timeout=LONG)
    assert told == ["The loudspeaker was pulled out. Nothing is lost."]
    assert work.state is State.STOPPED
    assert not work.waiting
    assert not window.page.editor.following
    device.gone = False
    window.page.editor.select(0, 0)
    work.play()  # goes on where it broke off, wherever the cursor is
    until("Nobody")


@pytest.mark.parametrize("when", ["when it is loaded", "when it speaks"])
def test_a_voice_that_is_missing_ends_in_a_sentence(
    work: ListeningWork,
    voice: QuickVoice,
    told: list[str],
    qtbot: QtBot,
    when: str,
) -> None:
    failure = VoiceMissing("The voice is gone. Nothing is lost.")
    at_hand = VoicesInTest(voice)
    work.loading.at_hand = at_hand
    if when == "when it is loaded":
        at_hand.fails = failure
    else:
        voice.fails = failure
    work.play()
    qtbot.waitUntil(lambda: bool(told), timeout=LONG)
    assert told == [str(failure)]
    assert work.state is State.STOPPED and not work.waiting


def test_another_book_on_the_desk_ends_the_reading_of_this_one(
    work: ListeningWork, window: MainWindow, until: Callable[[str], None], tmp_path: Path
) -> None:
    read_from(window, "lamp")
    until("lamp")
    other = BookFile.create(tmp_path / "other.reglet", window.desk.book)
    window.open_book(other)
    assert work.state is State.STOPPED
    assert window.page.editor.said is None
