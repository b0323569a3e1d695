"""The process that writes the book as sound files, so that the window never waits for it.

It is sent one order; it tells how far it has come, and at the end what was written or why not.
Knows no Qt.
"""

from __future__ import annotations

import time
from contextlib import suppress
from dataclasses import dataclass
from multiprocessing.connection import Connection
from pathlib import Path

from reglet.errors import RegletError
from reglet.manuscript.book import Book
from reglet.voice.sound_files import Wanted, write_sound
from reglet.voice.speaking import speaker
from reglet.voice.voices import voice_named
from reglet.window.beside import HUNG_UP, give_way

_TELL_S = 0.25


@dataclass(frozen=True, slots=True)
class Order:
    """What is to be written, where, and by which voice: see `voice_named`."""

    book: Book
    folder: Path
    wanted: Wanted
    voice: str
    files: tuple[Path, ...]


@dataclass(frozen=True, slots=True)
class Halt:
    """Stop before the next sentence; the chapters that are whole stay."""


@dataclass(frozen=True, slots=True)
class Done:
    """So much of the work is done, 0.0 to 1.0."""

    part: float


@dataclass(frozen=True, slots=True)
class Written:
    """All is written: so many files, and the seconds they last together."""

    folder: Path
    files: int
    seconds: float


@dataclass(frozen=True, slots=True)
class Ended:
    """It came to no end, as the writer stopped it or it could not: a sentence on that."""

    why: str


Answer = Done | Written | Ended


def work(pipe: Connection) -> None:
    """Carry out orders until the pipe closes."""
    give_way()
    with suppress(*HUNG_UP):
        while True:
            order = pipe.recv()
            if isinstance(order, Order):
                pipe.send(_carried_out(order, pipe))


def _carried_out(order: Order, pipe: Connection) -> Answer:
    told_at = 0.0

    def progress(part: float) -> None:
        nonlocal told_at
        now = time.monotonic()
        if now - told_at >= _TELL_S:
            told_at = now
            pipe.send(Done(part))

    def stopped() -> bool:
        return pipe.poll() and isinstance(pipe.recv(), Halt)

    try:
        language = order.book.style_sheet.language
        voice = speaker(voice_named(order.voice, language, order.files))
        cues = write_sound(order.book, order.folder, voice, order.wanted, progress, stopped)
    except RegletError as error:
        return Ended(str(error))
    seconds = sum(chapter.seconds for chapter in cues.chapters)
    return Written(order.folder, len(cues.chapters), seconds)
