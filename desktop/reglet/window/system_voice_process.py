"""The process that speaks with the system's own voices, through Qt: an engine that hangs or breaks
down takes nothing of the book with it.

It is sent one sentence at a time and tells each word as it is said.
"""

from __future__ import annotations

import sys
import time
from contextlib import suppress
from dataclasses import dataclass
from multiprocessing.connection import Connection
from typing import Any

from PySide6.QtCore import QCoreApplication

from reglet.window.beside import HUNG_UP, print_no_errors

_STEP = 0.008
"""Seconds between two looks at the pipe while something is said."""
_FOR_TESTS = "mock"


@dataclass(frozen=True, slots=True)
class SystemVoice:
    """A voice of an engine; `language` is a BCP 47 tag."""

    engine: str
    name: str
    language: str


@dataclass(frozen=True, slots=True)
class Which:
    """What voices are there? Answered by a tuple of `SystemVoice`."""

    tests: bool = False


@dataclass(frozen=True, slots=True)
class Say:
    """Say a text with a voice, at a rate as Qt has it: -1 to 1, 0 the voice's own."""

    number: int
    voice: SystemVoice
    text: str
    rate: float


@dataclass(frozen=True, slots=True)
class Hush:
    """Fall silent at once."""


@dataclass(frozen=True, slots=True)
class Begun:
    """A text is being said since `at`; `by_words` says whether the engine tells its words."""

    number: int
    at: float
    by_words: bool


@dataclass(frozen=True, slots=True)
class Word:
    """The word at UTF-16 unit `start` of a text is begun, at the time `at` (`perf_counter`)."""

    number: int
    start: int
    length: int
    at: float


@dataclass(frozen=True, slots=True)
class Done:
    """A text has been said to its end."""

    number: int


@dataclass(frozen=True, slots=True)
class Failed:
    """A text cannot be said: no Qt for it, no engine, no such voice, or the engine broke down."""

    number: int


Order = Which | Say | Hush
Report = Begun | Word | Done | Failed


def work(pipe: Connection) -> None:
    """Say what comes through the pipe until it closes."""
    print_no_errors()
    application = QCoreApplication(sys.argv[:1])
    engines = _Engines(pipe)
    with suppress(*HUNG_UP):
        while True:
            while pipe.poll(_STEP if engines.speaking else None):
                engines.obey(pipe.recv())
                application.processEvents()
            application.processEvents()


class _Engines:
    """Qt's engines, made when first asked for."""

    def __init__(self, pipe: Connection) -> None:
        self._pipe = pipe
        self._made: dict[str, Any] = {}
        self._number = 0
        self.speaking = False

    def obey(self, order: Order) -> None:
        if isinstance(order, Which):
            self._pipe.send(self._voices(order.tests))
        elif isinstance(order, Hush):
            self._hush()
        else:
            self._hush()
            try:
                self._say(order)
            except (ImportError, LookupError):
                self._pipe.send(Failed(order.number))

    def _voices(self, tests: bool) -> tuple[SystemVoice, ...]:
        try:
            from PySide6.QtTextToSpeech import QTextToSpeech
        except ImportError:
            return ()
        found = []
        for name in QTextToSpeech.availableEngines():
            if tests != (name == _FOR_TESTS):
                continue
            engine = self._engine(name)
            for locale in engine.availableLocales():
                if locale.bcp47Name().partition("-")[0] == "en":
                    engine.setLocale(locale)
                    found += [
                        SystemVoice(name, each.name(), locale.bcp47Name())
                        for each in engine.availableVoices()
                    ]
        return tuple(dict.fromkeys(found))

    def _engine(self, name: str) -> Any:
        """Raises ImportError."""
        from PySide6.QtTextToSpeech import QTextToSpeech

        if name not in self._made:
            made = QTextToSpeech(name)
            made.sayingWord.connect(self._word)
            made.stateChanged.connect(self._state)
            self._made[name] = made
        return self._made[name]

    def _say(self, order: Say) -> None:
        """Raises ImportError, LookupError."""
        from PySide6.QtCore import QLocale
        from PySide6.QtTextToSpeech import QTextToSpeech

        engine = self._engine(order.voice.engine)
        engine.setLocale(QLocale(order.voice.language))
        known = {each.name(): each for each in engine.availableVoices()}
        engine.setVoice(known[order.voice.name])
        engine.setRate(order.rate)
        self._number, self.speaking = order.number, True
        by_words = engine.engineCapabilities() & QTextToSpeech.Capability.WordByWordProgress
        self._pipe.send(Begun(order.number, time.perf_counter(), bool(by_words)))
        engine.say(order.text)

    def _hush(self) -> None:
        self._number, self.speaking = 0, False
        if not self._made:
            return  # and nothing that would be needed to make any may be installed
        from PySide6.QtTextToSpeech import QTextToSpeech

        for engine in self._made.values():
            if engine.state() is not QTextToSpeech.State.Ready:
                engine.stop(QTextToSpeech.BoundaryHint.Immediate)

    def _word(self, word: str, utterance: int, start: int, length: int) -> None:
        if self._number and length > 0:
            self._pipe.send(Word(self._number, start, length, time.perf_counter()))

    def _state(self, state: Any) -> None:
        from PySide6.QtTextToSpeech import QTextToSpeech

        number = self._number
        if not number:
            return
        if state is QTextToSpeech.State.Ready:
            self._number, self.speaking = 0, False
            self._pipe.send(Done(number))
        elif state is QTextToSpeech.State.Error:
            self._number, self.speaking = 0, False
            self._pipe.send(Failed(number))
