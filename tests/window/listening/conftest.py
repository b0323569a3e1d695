"""The window with a voice that is always ready and a loudspeaker without sound."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from pytestqt.qtbot import QtBot
from reglet.window.listening_work import ListeningWork
from reglet.window.main_window import MainWindow

from tests.window.listening.fakes import QuickVoice, SilentSpeaker, VoicesInTest
from tests.window.listening.hearing import LONG, word

_STEP_S = 0.02
"""A word lasts three of these, so that none is over before it was looked for."""


@pytest.fixture
def device() -> SilentSpeaker:
    return SilentSpeaker(step_s=_STEP_S)


@pytest.fixture
def voice() -> QuickVoice:
    return QuickVoice(word_s=3 * _STEP_S)


@pytest.fixture
def work(window: MainWindow, device: SilentSpeaker, voice: QuickVoice) -> ListeningWork:
    work = window.listening_work
    work.loading.at_hand = VoicesInTest(voice)
    work.loading.new_device = lambda: device
    return work


@pytest.fixture
def told(work: ListeningWork) -> list[str]:
    """The sentences that the writer is told."""
    told: list[str] = []
    work.told.connect(told.append)
    return told


@pytest.fixture
def until(work: ListeningWork, window: MainWindow, qtbot: QtBot) -> Callable[[str], None]:
    """Listen until this word is heard."""

    def wait(wanted: str) -> None:
        qtbot.waitUntil(lambda: word(window.desk.book, work.moment) == wanted, timeout=LONG)

    return wait
