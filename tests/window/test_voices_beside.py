"""The processes that speak and play beside the window: what comes from them, and what when they
break down. The sound system is kept from them, so nothing is heard.
"""

from __future__ import annotations

import os
import sys
import threading
import time
from collections.abc import Callable, Iterator

import pytest
from reglet.voice.device import NoSoundDevice, SoundDevice
from reglet.voice.moment import END_OF_BOOK, Moment, State
from reglet.voice.reading_order import Place
from reglet.voice.voices import Voice, VoiceKind, VoiceMissing, built_in
from reglet.window import loudspeaker, sound_process, system_voice_process
from reglet.window.far_speaker import FarSpeaker
from reglet.window.loaded_voices import LoadedVoices
from reglet.window.loudspeaker import Loudspeaker, Sound
from reglet.window.sound_process import Clock as Told
from reglet.window.sound_process import Gone, Order, Report, Run, Samples, Start
from reglet.window.system_listening import SystemListening
from reglet.window.system_voice_process import Failed, Say, SystemVoice
from reglet.window.system_voices import SystemVoices, as_voice, from_id, is_system_voice

from tests.window.conftest import SALT, small_book

LONG_S = 60.0


def wait_for(what: Callable[[], bool]) -> None:
    end = time.monotonic() + LONG_S
    while not what():
        assert time.monotonic() < end
        time.sleep(0.01)


# The voice in the box


def test_the_real_voice_speaks_from_its_process_and_is_missed_when_that_ends() -> None:
    voice = built_in()
    if voice is None:
        pytest.skip("the voice in the box is not installed")
    speaker = FarSpeaker(voice)
    try:
        speaker.load()
        spoken = speaker.speak("He was was late.", 1.0, {})
        marked = [(word.start, word.end) for word in spoken.words]
        assert marked == [(0, 2), (3, 6), (7, 10), (11, 15)]
        assert spoken.exact and 0.5 < spoken.seconds < 4
        assert speaker.alive
    finally:
        speaker.close()
    with pytest.raises(VoiceMissing, match="stopped working"):
        speaker.speak("Nobody said so.")
    assert not speaker.alive


def test_a_voice_that_cannot_be_loaded_says_so() -> None:
    with pytest.raises(VoiceMissing, match="has no file"):
        LoadedVoices().speaker(Voice("none", "None", "en-US", VoiceKind.PIPER))


def test_voices_that_are_let_go_while_one_loads_end_the_waiting() -> None:
    voices = LoadedVoices()
    failed: list[VoiceMissing] = []

    def load() -> None:
        try:
            voices.speaker(Voice("none", "None", "en-US", VoiceKind.PIPER))
        except VoiceMissing as error:
            failed.append(error)

    thread = threading.Thread(target=load)
    thread.start()
    wait_for(lambda: bool(voices._loaded))
    voices.close()
    thread.join(LONG_S)
    assert len(failed) == 1


# The loudspeaker


@pytest.fixture
def no_sound_system(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("PULSE_SERVER", "PIPEWIRE_REMOTE"):
        monkeypatch.setenv(name, "unix:/nonexistent")


@pytest.mark.skipif(os.name != "posix", reason="elsewhere the sound system cannot be kept away")
def test_a_machine_without_sound_is_told_of_in_a_sentence_and_nothing_is_printed(
    no_sound_system: None, capfd: pytest.CaptureFixture[str]
) -> None:
    sound = Sound()
    device = sound.new_device()
    try:
        for _ in range(2):
            device.start(22_050)
            said = refusal(device)
            assert "nothing to play sound on" in said
            assert "works without" in said
    finally:
        sound.close()
    assert capfd.readouterr() == ("", "")


def refusal(device: SoundDevice) -> str:
    end = time.monotonic() + LONG_S
    while time.monotonic() < end:
        try:
            device.heard()
        except NoSoundDevice as error:
            return str(error)
        time.sleep(0.01)
    return ""


class Reports:
    """An end of a pipe that keeps what is sent."""

    def __init__(self) -> None:
        self.sent: list[object] = []

    def send(self, report: object) -> None:
        self.sent.append(report)


def test_where_qts_sound_is_not_installed_that_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "PySide6.QtMultimedia", None)
    pipe = Reports()
    sound_process._obey(Start(7, 22_050), {}, pipe)  # type: ignore[arg-type]
    assert pipe.sent == [Gone(7, begun=False, installed=False)]


def test_where_qts_speech_is_not_installed_there_are_no_voices_of_the_systems(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setitem(sys.modules, "PySide6.QtTextToSpeech", None)
    pipe = Reports()
    engines = system_voice_process._Engines(pipe)  # type: ignore[arg-type]
    engines.obey(system_voice_process.Which())
    engines.obey(Say(3, SystemVoice("any", "One", "en"), "Nobody said so.", 0.0))
    assert pipe.sent == [(), Failed(3)]


class ToldSound(Sound):
    """Reports are what the test says; orders are kept."""

    def __init__(self) -> None:
        super().__init__()
        self.orders: list[Order] = []
        self.told: Report | None = None

    def start(self, rate: int) -> int:
        self.send(Start(1, rate))
        return 1

    def send(self, order: Order) -> None:
        self.orders.append(order)

    def report(self, number: int) -> Report | None:
        return self.told


class Clock:
    """The loudspeaker's clock, put forward by hand."""

    def __init__(self) -> None:
        self.now = 1000.0

    def perf_counter(self) -> float:
        return self.now


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> Clock:
    clock = Clock()
    monkeypatch.setattr(loudspeaker, "time", clock)
    return clock


def playing(rate: int = 1000) -> tuple[ToldSound, Loudspeaker]:
    sound = ToldSound()
    device = sound.new_device()
    device.start(rate)
    device.write(bytes(2 * device.room()))
    return sound, device


def test_between_two_reports_the_clock_runs_on_and_never_back_or_beyond_what_was_written(
    clock: Clock,
) -> None:
    sound, device = playing()
    assert (device.heard(), device.room()) == (0, 0)
    sound.told = Told(1, clock.now, 200, True)
    clock.now += 0.1
    assert device.heard() == 300
    sound.told = Told(1, clock.now, 250, True)  # later news of a slower clock
    assert device.heard() == 300
    clock.now += 0.1
    assert device.heard() == 350
    clock.now += 60  # no news for long: no wild guess
    assert device.heard() == 550
    sound.told = Told(1, clock.now, 990, True)
    clock.now += 60
    assert device.heard() == 1000
    assert [type(order) for order in sound.orders] == [Start, Samples]


def test_a_paused_clock_stands(clock: Clock) -> None:
    sound, device = playing()
    sound.told = Told(1, clock.now, 100, True)
    clock.now += 0.05
    device.pause()
    clock.now += 0.05
    assert device.heard() == 150
    device.resume()
    assert device.heard() == 200
    assert [order.on for order in sound.orders if isinstance(order, Run)] == [False, True]


@pytest.mark.parametrize(
    ("told", "words"),
    [
        (Gone(1, begun=True), "not there any more"),
        (Gone(1, begun=False), "nothing to play sound on"),
        (Gone(1, begun=False, installed=False), "PySide6-Addons"),
    ],
)
def test_a_device_that_is_gone_is_told_of_once_asked(told: Gone, words: str) -> None:
    sound, device = playing()
    sound.told = told
    with pytest.raises(NoSoundDevice, match=words):
        device.heard()
    with pytest.raises(NoSoundDevice):
        device.room()


def test_a_process_that_ends_is_a_device_that_is_gone(no_sound_system: None) -> None:
    sound = Sound()
    device = sound.new_device()
    device.start(1000)
    assert sound._process is not None
    sound._process.kill()
    assert "not there any more" in refusal(device)
    sound.close()
    device.start(1000)  # and another is begun
    assert sound._process.is_alive()
    sound.close()
    assert "not there any more" in refusal(device)


# The system's voices: Qt's own engine for tests tells words and makes no sound.


@pytest.fixture(scope="module")
def system() -> Iterator[SystemVoices]:
    voices = SystemVoices(tests=True)
    yield voices
    voices.close()


def test_the_systems_voices_are_found_and_named(system: SystemVoices) -> None:
    found = system.voices()
    assert found
    for voice in found:
        assert voice.kind is VoiceKind.SYSTEM
        assert voice.language.startswith("en")
        assert is_system_voice(voice.id)
        assert as_voice(from_id(voice.id)) == voice


def test_a_voice_of_the_systems_reads_word_by_word(system: SystemVoices) -> None:
    book = small_book()
    reader = SystemListening(system, system.voices()[0].id)
    reader.set_pace(2.0)
    reader.play(book, Place("salt", 0))
    said, heard, why = [], [], ""

    def read_on() -> bool:
        nonlocal why
        moment = reader.tick()
        heard.extend(moment.heard)
        why = moment.sentence_for_writer or why
        span = (moment.scene, moment.start, moment.end)
        if moment.end > moment.start and said[-1:] != [span]:
            said.append(span)
        return moment.state is State.STOPPED

    wait_for(lambda: read_on() or len(said) == 3)
    where = reader.flag()
    assert where is not None and where.scene == "salt" and where.start == 0
    wait_for(read_on)
    texts = [book.scene(scene).passage.text[start:end] for scene, start, end in said]
    # The engine may end before it has told the last word of a text.
    assert texts[:7] == "Salt lay on the sill in a".split()
    assert texts[-4:-1] == "mill turned all".split() or texts[-3:] == "mill turned all".split()
    assert [scene for scene, _ in heard] == ["salt", "salt", "mill"]
    assert why == END_OF_BOOK


def test_a_paused_voice_of_the_systems_begins_its_sentence_anew(system: SystemVoices) -> None:
    book = small_book()
    reader = SystemListening(system, system.voices()[0].id)
    reader.play(book, Place("salt", SALT.index("She")))
    moments: list[Moment] = []

    def heard(word: str) -> bool:
        moments.append(reader.tick())
        moment = moments[-1]
        text = book.scene(moment.scene).passage.text if moment.scene else ""
        return text[moment.start : moment.end] == word

    wait_for(lambda: heard("did"))
    assert reader.pause() == Place("salt", SALT.index("She"))
    assert reader.state is State.PAUSED
    reader.resume()
    wait_for(lambda: heard("She"))
    reader.back_a_sentence()
    assert reader.place == Place("salt", 0)
    reader.stop()
    assert reader.tick().state is State.STOPPED


def test_a_voice_of_the_systems_that_is_gone_ends_in_a_sentence(system: SystemVoices) -> None:
    reader = SystemListening(system, "system:mock:en-GB:Nobody")
    reader.play(small_book(), Place("salt", 0))
    moments: list[Moment] = []

    def stopped() -> bool:
        moments.append(reader.tick())
        return moments[-1].state is State.STOPPED

    wait_for(stopped)
    assert "choose another voice" in moments[-1].sentence_for_writer
