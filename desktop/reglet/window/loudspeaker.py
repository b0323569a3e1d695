"""The computer's loudspeaker, through Qt."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from PySide6.QtCore import QLoggingCategory, qInstallMessageHandler

from reglet.voice.device import NoSoundDevice
from reglet.voice.sound import BYTES_A_SAMPLE

_BUFFER = 0.5
"""Seconds of sound given ahead to the system, so that a busy moment of the window is not heard."""
_PULLED_OUT = (
    "The sound stopped: the loudspeaker or headphones are not there any more. Nothing is lost; "
    "connect them and go on."
)
_NONE = (
    "There is nothing to play sound on. Connect a loudspeaker or headphones, or see that the "
    "system’s sound works, and try again. Everything else works without."
)
_NO_LIBRARY = (
    "The part of Qt that plays sound is not installed (the package PySide6-Addons, or a library of "
    "the system’s that it needs). Everything else works without."
)


class Loudspeaker:
    """A `SoundDevice`. Qt's sound is loaded when it is first started."""

    def __init__(self) -> None:
        self._sink: Any = None
        self._writes_to: Any = None
        self._rate = 1
        self._written = 0

    def start(self, rate: int) -> None:
        """See `SoundDevice`."""
        self.stop()
        try:
            with _without_chatter():
                QLoggingCategory.setFilterRules("qt.multimedia.*=false")
                from PySide6.QtMultimedia import QAudioFormat, QAudioSink, QMediaDevices

                device = QMediaDevices.defaultAudioOutput()
        except ImportError as error:
            raise NoSoundDevice(_NO_LIBRARY) from error
        if device.isNull():
            raise NoSoundDevice(_NONE)
        form = QAudioFormat()
        form.setSampleRate(rate)
        form.setChannelCount(1)
        form.setSampleFormat(QAudioFormat.SampleFormat.Int16)
        self._sink = QAudioSink(device, form)
        self._sink.setBufferSize(round(_BUFFER * rate) * BYTES_A_SAMPLE)
        self._writes_to = self._sink.start()
        self._rate, self._written = rate, 0
        if self._writes_to is None:
            self.stop()
            raise NoSoundDevice(_NONE)

    def room(self) -> int:
        """See `SoundDevice`."""
        return int(self._there().bytesFree()) // BYTES_A_SAMPLE

    def write(self, samples: bytes) -> None:
        """See `SoundDevice`."""
        self._there()
        self._writes_to.write(samples)
        self._written += len(samples) // BYTES_A_SAMPLE

    def heard(self) -> int:
        """See `SoundDevice`."""
        played = self._there().processedUSecs() * self._rate // 1_000_000
        return min(self._written, int(played))

    def pause(self) -> None:
        """See `SoundDevice`."""
        self._there().suspend()

    def resume(self) -> None:
        """See `SoundDevice`."""
        self._there().resume()

    def stop(self) -> None:
        """See `SoundDevice`."""
        sink, self._sink, self._writes_to = self._sink, None, None
        if sink is not None:
            sink.reset()
            sink.deleteLater()

    def _there(self) -> Any:
        if self._sink is None:
            raise NoSoundDevice(_NONE)
        if self._sink.error().name in ("FatalError", "IOError"):
            self.stop()
            raise NoSoundDevice(_PULLED_OUT)
        return self._sink


@contextmanager
def _without_chatter() -> Iterator[None]:
    """Keep to itself what Qt says on a machine without sound: the writer is told in a sentence."""
    before = qInstallMessageHandler(lambda *_: None)
    try:
        yield
    finally:
        qInstallMessageHandler(before)
