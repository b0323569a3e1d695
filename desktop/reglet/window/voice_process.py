"""The process that speaks, so that neither typing nor the sound itself ever waits for the voice.

Each message asks for one sentence; the answer is its sound, or a sentence on why there is none.
Knows no Qt.
"""

from __future__ import annotations

from dataclasses import dataclass
from multiprocessing.connection import Connection

from reglet.errors import RegletError
from reglet.voice.sound import Spoken
from reglet.voice.speaking import speaker
from reglet.voice.voices import Voice
from reglet.window.beside import HUNG_UP


@dataclass(frozen=True, slots=True)
class Ready:
    """The voice is loaded: see `Speaker`."""

    mark: str
    rate: int


@dataclass(frozen=True, slots=True)
class Ask:
    """What to speak: see `Speaker.speak`."""

    text: str
    pace: float
    said_as: dict[str, str]


@dataclass(frozen=True, slots=True)
class Silent:
    """The voice cannot speak; `why` is for the writer."""

    why: str


Answer = Ready | Spoken | Silent


def work(pipe: Connection, voice: Voice) -> None:
    """Load the voice, say that it is there, and speak until the pipe closes."""
    try:
        # One thread speaks some nine times as fast as it is heard, and leaves the window the rest.
        loaded = speaker(voice, threads=1)
        pipe.send(Ready(loaded.mark, loaded.rate))
        while True:
            ask = pipe.recv()
            try:
                pipe.send(loaded.speak(ask.text, ask.pace, ask.said_as))
            except RegletError as error:
                pipe.send(Silent(str(error)))
    except RegletError as error:
        pipe.send(Silent(str(error)))
    except HUNG_UP:
        pass
