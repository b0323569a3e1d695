"""The process that plays: a busy moment of the window is not heard, and a sound system that breaks
down takes nothing of the book with it.

It is sent samples ahead and tells, some twenty times a second, how many have been heard.
"""

from __future__ import annotations

import sys
import time
from collections import deque
from contextlib import suppress
from dataclasses import dataclass
from multiprocessing.connection import Connection
from typing import Any

from PySide6.QtCore import QCoreApplication

from reglet.voice.sound import BYTES_A_SAMPLE
from reglet.window.beside import HUNG_UP, print_no_errors

_BUFFER = 0.2
"""Seconds of sound that the system holds; the rest waits here."""
_STEP = 0.008
"""Seconds between two looks at the device while it plays."""
_TELL = 0.05
"""Seconds between two words on how far it has come."""
_STUCK = 3.0
"""Seconds without a sample heard after which the device is taken for gone."""


@dataclass(frozen=True, slots=True)
class Start:
    """A new stream of samples under a `number` of its own, at `rate` to the second."""

    number: int
    rate: int


@dataclass(frozen=True, slots=True)
class Samples:
    """What is to be played behind what was sent before: see `SoundDevice.write`."""

    number: int
    samples: bytes


@dataclass(frozen=True, slots=True)
class Run:
    """Play, or fall silent and keep what has not been heard."""

    number: int
    on: bool


@dataclass(frozen=True, slots=True)
class Stop:
    """Fall silent and forget the stream."""

    number: int


@dataclass(frozen=True, slots=True)
class Clock:
    """So many samples of a stream had been heard at the time `at`, by `time.perf_counter`, which is
    the same for all processes; `running` says whether more are being heard.
    """

    number: int
    at: float
    heard: int
    running: bool


@dataclass(frozen=True, slots=True)
class Gone:
    """There is no device (any more); `installed` is False where Qt's part for sound is missing."""

    number: int
    begun: bool
    installed: bool = True


Order = Start | Samples | Run | Stop
Report = Clock | Gone


def work(pipe: Connection) -> None:
    """Play what comes through the pipe until it closes."""
    print_no_errors()
    application = QCoreApplication(sys.argv[:1])
    streams: dict[int, _Stream] = {}
    with suppress(*HUNG_UP):
        while True:
            playing = any(stream.running for stream in streams.values())
            while pipe.poll(_STEP if playing else None):
                _obey(pipe.recv(), streams, pipe)
                playing = True
            application.processEvents()
            for number, stream in list(streams.items()):
                report = stream.look()
                if report is not None:
                    pipe.send(report)
                if isinstance(report, Gone):
                    streams.pop(number).close()


def _obey(order: Order, streams: dict[int, _Stream], pipe: Connection) -> None:
    if isinstance(order, Start):
        try:
            streams[order.number] = _Stream(order.number, order.rate)
        except ImportError:
            pipe.send(Gone(order.number, begun=False, installed=False))
        except _NoDevice:
            pipe.send(Gone(order.number, begun=False))
        return
    stream = streams.get(order.number)
    if stream is None:
        return
    if isinstance(order, Samples):
        stream.add(order.samples)
    elif isinstance(order, Run):
        stream.run(order.on)
    else:
        streams.pop(order.number).close()


class _NoDevice(Exception):
    """There is nothing to play on."""


class _Stream:
    """Samples on their way to the device."""

    def __init__(self, number: int, rate: int) -> None:
        """Raises ImportError where Qt's sound is not installed, and _NoDevice."""
        from PySide6.QtMultimedia import QAudio, QAudioFormat, QAudioSink, QMediaDevices

        device = QMediaDevices.defaultAudioOutput()
        if device.isNull():
            raise _NoDevice
        form = QAudioFormat()
        form.setSampleRate(rate)
        form.setChannelCount(1)
        form.setSampleFormat(QAudioFormat.SampleFormat.Int16)
        self._sink: Any = QAudioSink(device, form)
        self._sink.setBufferSize(round(_BUFFER * rate) * BYTES_A_SAMPLE)
        self._into = self._sink.start()
        if self._into is None:
            raise _NoDevice
        self._broken = (QAudio.Error.FatalError, QAudio.Error.IOError)
        self.running = True
        self._number, self._rate = number, rate
        self._waiting: deque[bytes] = deque()
        self._written = self._heard = 0
        self._moved = self._told = time.perf_counter()

    def add(self, samples: bytes) -> None:
        self._waiting.append(samples)

    def run(self, on: bool) -> None:
        if on != self.running:
            self.running = on
            self._moved = time.perf_counter()
            (self._sink.resume if on else self._sink.suspend)()
            self._told = 0.0

    def look(self) -> Report | None:
        """Feed the device; what there is to tell."""
        room = self._sink.bytesFree() if self.running else 0
        while room > 0 and self._waiting:
            samples = self._waiting.popleft()
            taken = max(0, self._into.write(samples[:room]))
            self._written += taken // BYTES_A_SAMPLE
            room -= taken
            if taken < len(samples):
                self._waiting.appendleft(samples[taken:])
            if not taken:
                break
        now = time.perf_counter()
        told = int(self._sink.processedUSecs() * self._rate // 1_000_000)
        heard = max(self._heard, min(self._written, told))
        if heard != self._heard or not self.running:
            self._moved = now
        elif not self._waiting and now - self._moved > 2 * _BUFFER:
            # All was given to the system, which counts the last of it in parts or not at all.
            heard, self._moved = self._written, now
        self._heard = heard
        if self._sink.error() in self._broken or now - self._moved > _STUCK:
            return Gone(self._number, begun=True)
        if now - self._told < _TELL:
            return None
        self._told = now
        return Clock(self._number, now, heard, self.running and heard < self._written)

    def close(self) -> None:
        self._sink.reset()
