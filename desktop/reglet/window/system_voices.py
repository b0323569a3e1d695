"""The system's own voices, each a `Voice`; a process of its own speaks with them."""

from __future__ import annotations

import threading
from itertools import count
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess

from reglet.voice.voices import Voice, VoiceKind
from reglet.window import beside
from reglet.window.system_voice_process import (
    Failed,
    Hush,
    Order,
    Report,
    Say,
    SystemVoice,
    Which,
    work,
)

_PATIENCE = 8.0
"""Seconds that the engines may take to name their voices."""
_PREFIX = "system"


def as_voice(voice: SystemVoice) -> Voice:
    """The voice as settings and lists have it."""
    found = f"{_PREFIX}:{voice.engine}:{voice.language}:{voice.name}"
    return Voice(found, voice.name, voice.language, VoiceKind.SYSTEM)


def is_system_voice(voice_id: str) -> bool:
    """Whether an id is that of a voice of the system's."""
    return voice_id.startswith(f"{_PREFIX}:")


def from_id(voice_id: str) -> SystemVoice:
    """The voice of an id that `is_system_voice`."""
    _, engine, language, name = (*voice_id.split(":", 3), "", "", "")[:4]
    return SystemVoice(engine, name, language)


class SystemVoices:
    """The process, started when it is first needed and again when it has ended."""

    def __init__(self, *, tests: bool = False) -> None:
        """`tests`: have Qt's engine for tests, which makes no sound, and no other."""
        self._tests = tests
        self._numbers = count(1)
        self._pipe: Connection | None = None
        self._process: BaseProcess | None = None
        self._turn = threading.Lock()
        self._news = threading.Condition()
        self._voices: tuple[SystemVoice, ...] | None = None
        self._reports: list[Report] = []
        self._lost = False

    def voices(self) -> tuple[Voice, ...]:
        """Those of the system's voices that speak English. Waits for their engines: not for the
        interface thread.
        """
        self._send(Which(self._tests))
        with self._news:
            self._news.wait_for(lambda: self._voices is not None or self._lost, _PATIENCE)
            return tuple(map(as_voice, self._voices or ()))

    def say(self, voice_id: str, text: str, rate: float) -> int:
        """Say a text, and nothing else; the number that reports on it bear."""
        number = next(self._numbers)
        self._send(Say(number, from_id(voice_id), text, rate))
        return number

    def hush(self) -> None:
        """Fall silent."""
        if self._pipe is not None:
            self._send(Hush())

    def reports(self, number: int) -> list[Report]:
        """What was told of a text since last asked."""
        with self._news:
            told, self._reports = self._reports, []
            lost = [Failed(number)] if self._lost else []
        return [report for report in told if report.number == number] + lost

    def close(self) -> None:
        """End the process."""
        process, self._process = self._process, None
        if process is not None:
            process.terminate()
            process.join()
        self._pipe = None

    def _send(self, order: Order) -> None:
        with self._turn:
            if self._pipe is None or self._lost:
                self.close()
                self._begin()
            assert self._pipe is not None
            try:
                self._pipe.send(order)
            except OSError:
                self._lost = True

    def _begin(self) -> None:
        self._process, self._pipe = beside.start(work)
        self._lost, self._voices, self._reports = False, None, []
        threading.Thread(target=self._listen, args=(self._pipe,), daemon=True).start()

    def _listen(self, pipe: Connection) -> None:
        while True:
            try:
                told = pipe.recv()
            except (EOFError, OSError):
                told = None
            with self._news:
                if told is None:
                    self._lost = self._lost or pipe is self._pipe
                elif isinstance(told, tuple):
                    self._voices = told
                else:
                    self._reports.append(told)
                self._news.notify_all()
            if told is None:
                return
