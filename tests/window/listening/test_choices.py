"""A sample is said while the book is silent; how the writer listens is remembered."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QSettings
from pytestqt.qtbot import QtBot
from reglet.voice.device import NoSoundDevice
from reglet.voice.moment import State
from reglet.window.listening_choices import ListeningChoices, from_json, to_json
from reglet.window.listening_work import ListeningWork
from reglet.window.main_window import MainWindow
from reglet.window.memory import Memory

from tests.window.listening.fakes import QuickVoice, SilentSpeaker
from tests.window.listening.hearing import LONG, read_from


def test_a_sample_is_said_while_the_book_is_silent(
    work: ListeningWork,
    window: MainWindow,
    until: Callable[[str], None],
    voice: QuickVoice,
    qtbot: QtBot,
) -> None:
    read_from(window, "lamp")
    until("lamp")
    with qtbot.waitSignal(work.sample.ended, timeout=LONG):
        work.sample.say("Isaura came.", said_as={"Isaura": "eye-sora"})
        assert work.state is State.PAUSED
    assert voice.spoken[-1] == "Isaura came."
    work.play()
    assert work.state is State.PLAYING


def test_what_cannot_be_said_as_a_sample_is_told(
    work: ListeningWork, device: SilentSpeaker, told: list[str], qtbot: QtBot
) -> None:
    device.gone = True
    with qtbot.waitSignal(work.sample.ended, timeout=LONG):
        work.sample.say("Nobody hears this.")
    assert told == [str(NoSoundDevice("The loudspeaker was pulled out. Nothing is lost."))]
    assert not work.sample.wanted


@pytest.mark.parametrize(
    ("kept", "wanted"),
    [
        ("{}", ListeningChoices()),
        ("no JSON", ListeningChoices()),
        ("[1]", ListeningChoices()),
        ('{"pace": 9, "aim": 77, "other": 1}', ListeningChoices(pace=2.0)),
        ('{"pace": "fast"}', ListeningChoices()),
        (
            '{"voice": "x", "ruler": true, "follow": false}',
            ListeningChoices("x", ruler=True, follow=False),
        ),
    ],
)
def test_choices_are_read_as_far_as_they_can_be(kept: str, wanted: ListeningChoices) -> None:
    assert from_json(kept) == wanted
    assert from_json(to_json(wanted)) == wanted


def test_how_the_writer_listens_is_remembered(tmp_path: Path) -> None:
    settings = QSettings(str(tmp_path / "settings.ini"), QSettings.Format.IniFormat)
    chosen = ListeningChoices("espeak-ng:en-gb", ("a.onnx",), 1.3, 2, True, False)
    Memory(settings).listens(chosen)
    assert Memory(settings).listening == chosen
