"""The computer's loudspeaker, which a process of its own plays on: see `sound_process`."""

from __future__ import annotations

import threading
import time
from itertools import count
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess

from reglet.voice.device import NoSoundDevice
from reglet.voice.sound import BYTES_A_SAMPLE
from reglet.window import beside
from reglet.window.sound_process import Clock, Gone, Order, Report, Run, Samples, Start, Stop, work

_AHEAD = 1.0
"""Seconds of sound given ahead, so that a busy moment of the window is not heard."""
_LONGEST_GUESS = 0.3
"""Seconds that the clock is taken to run on after the last word on it."""
_NONE = (
    "There is nothing to play sound on. Connect a loudspeaker or headphones, or see that the "
    "system’s sound works, and try again. Everything else works without."
)
_PULLED_OUT = (
    "The sound stopped: the loudspeaker or headphones are not there any more. Nothing is lost; "
    "connect them and go on."
)
_NO_LIBRARY = (
    "The part of Qt that plays sound is not installed (the package PySide6-Addons, or a library of "
    "the system’s that it needs). Everything else works without."
)


class Sound:
    """The process that plays, started when first needed and again when it has ended."""

    def __init__(self) -> None:
        self._numbers = count(1)
        self._pipe: Connection | None = None
        self._process: BaseProcess | None = None
        self._reports: dict[int, Report | None] = {}
        self._lost = False
        self._turn = threading.Lock()

    def new_device(self) -> Loudspeaker:
        """A device that is played on there."""
        return Loudspeaker(self)

    def prepare(self) -> None:
        """Start the process, which takes a moment: any thread may do it beforehand."""
        with self._turn:
            if self._pipe is None or self._lost:
                self.close()
                self._begin()

    def start(self, rate: int) -> int:
        """A new stream of samples, and its number."""
        self.prepare()
        number = next(self._numbers)
        self._reports[number] = None
        self.send(Start(number, rate))
        return number

    def send(self, order: Order) -> None:
        """Have the process do something; nothing happens where it has ended."""
        try:
            if self._pipe is not None:
                self._pipe.send(order)
        except OSError:
            self._lost = True

    def report(self, number: int) -> Report | None:
        """What was told of a stream last."""
        return Gone(number, begun=True) if self._lost else self._reports.get(number)

    def forget(self, number: int) -> None:
        """End a stream."""
        self.send(Stop(number))
        self._reports.pop(number, None)

    def close(self) -> None:
        """End the process."""
        process, self._process = self._process, None
        if process is not None:
            process.terminate()
            process.join()
        self._pipe, self._lost = None, True

    def _begin(self) -> None:
        self._process, self._pipe = beside.start(work)
        self._lost = False
        threading.Thread(target=self._listen, args=(self._pipe,), daemon=True).start()

    def _listen(self, pipe: Connection) -> None:
        try:
            while True:
                report = pipe.recv()
                if report.number in self._reports:
                    self._reports[report.number] = report
        except (EOFError, OSError):
            if pipe is self._pipe:
                self._lost = True


class Loudspeaker:
    """A `SoundDevice`. That there is none is told by what is asked after `start`."""

    def __init__(self, sound: Sound) -> None:
        self._sound = sound
        self._number = 0
        self._rate = 1
        self._written = self._heard = 0
        self._paused = False

    def start(self, rate: int) -> None:
        """See `SoundDevice`."""
        self.stop()
        self._rate, self._written, self._heard, self._paused = rate, 0, 0, False
        self._number = self._sound.start(rate)

    def room(self) -> int:
        """See `SoundDevice`."""
        return max(0, round(_AHEAD * self._rate) - (self._written - self.heard()))

    def write(self, samples: bytes) -> None:
        """See `SoundDevice`."""
        self._sound.send(Samples(self._number, samples))
        self._written += len(samples) // BYTES_A_SAMPLE

    def heard(self) -> int:
        """See `SoundDevice`. Between two words of the process the time that has gone by tells."""
        if not self._number:
            raise NoSoundDevice(_NONE)
        report = self._sound.report(self._number)
        if isinstance(report, Gone):
            self.stop()
            if not report.installed:
                raise NoSoundDevice(_NO_LIBRARY)
            raise NoSoundDevice(_PULLED_OUT if report.begun else _NONE)
        if isinstance(report, Clock):
            heard = report.heard
            if report.running and not self._paused:
                gone_by = min(time.perf_counter() - report.at, _LONGEST_GUESS)
                heard += round(gone_by * self._rate)
            self._heard = max(self._heard, min(heard, self._written))
        return self._heard

    def pause(self) -> None:
        """See `SoundDevice`."""
        self.heard()
        self._paused = True
        self._sound.send(Run(self._number, False))

    def resume(self) -> None:
        """See `SoundDevice`."""
        self.heard()
        self._paused = False
        self._sound.send(Run(self._number, True))

    def stop(self) -> None:
        """See `SoundDevice`."""
        number, self._number = self._number, 0
        if number:
            self._sound.forget(number)
