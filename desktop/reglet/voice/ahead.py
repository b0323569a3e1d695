"""Speaking ahead: sentences are made in the background, and no more of them than is bounded."""

from __future__ import annotations

import threading
from collections import deque
from collections.abc import Callable, Iterator

from reglet.voice.reading_order import Piece
from reglet.voice.sound import Spoken

AHEAD = 180.0
"""Seconds of sound that wait to be heard at most, a sentence more or less: some 8 MB. So much that
the voice may be slow for minutes, where the machine is busy with other things.
"""

_PATIENCE = 20.0
"""Seconds that closing waits for a sentence in the making; one takes one or two."""


class Ahead:
    """A thread that speaks pieces in order before they are asked for.

    `speak` is called on that thread, one piece at a time. All else may be called from any thread
    and never waits for the voice.
    """

    def __init__(self, speak: Callable[[Piece], Spoken], seconds: float = AHEAD) -> None:
        self._speak = speak
        self._seconds = seconds
        self._change = threading.Condition()
        self._pieces: Iterator[Piece] | None = None
        self._ready: deque[tuple[Piece, Spoken]] = deque()
        self._waiting = 0.0
        self._turn = 0
        self._finished = True
        self._closed = False
        self._failure: Exception | None = None
        self._thread = threading.Thread(target=self._work, name="voice", daemon=True)
        self._thread.start()

    def begin(self, pieces: Iterator[Piece]) -> None:
        """Drop all that waits, and speak these from now on."""
        with self._change:
            self._turn += 1
            self._pieces = pieces
            self._ready.clear()
            self._waiting = 0.0
            self._finished = False
            self._failure = None
            self._change.notify_all()

    def take(self) -> tuple[Piece, Spoken] | None:
        """The next piece, or None where it is not ready yet or there is none.

        Raises what `speak` raised, once what was spoken before that has been taken.
        """
        with self._change:
            if self._ready:
                piece, spoken = self._ready.popleft()
                self._waiting -= spoken.seconds
                self._change.notify_all()
                return piece, spoken
            if self._failure is not None:
                failure, self._failure = self._failure, None
                self._finished = True
                raise failure
            return None

    @property
    def finished(self) -> bool:
        """Whether everything has been spoken and taken."""
        with self._change:
            return self._finished and not self._ready and self._failure is None

    @property
    def all_spoken(self) -> bool:
        """Whether nothing more is being made, though some of it may wait to be taken."""
        with self._change:
            return self._finished

    @property
    def waiting(self) -> float:
        """Seconds of sound that wait to be taken."""
        with self._change:
            return self._waiting

    def close(self) -> None:
        """End the thread and wait for it, for as long as the sentence it is at may take.

        More than once does no harm. A program that ended in the middle of a sentence would be
        brought down by the voice's library, so the window closes this before it goes.
        """
        with self._change:
            self._closed = True
            self._turn += 1
            self._ready.clear()
            self._change.notify_all()
        self._thread.join(_PATIENCE)

    def _work(self) -> None:
        while True:
            with self._change:
                self._change.wait_for(self._has_work)
                if self._closed:
                    return
                turn, pieces = self._turn, self._pieces
            assert pieces is not None
            try:
                piece = next(pieces, None)
                spoken = None if piece is None else self._speak(piece)
                failure = None
            except Exception as error:  # told to whoever takes, on their own thread
                piece, spoken, failure = None, None, error
            with self._change:
                if turn != self._turn:
                    continue
                if piece is None or spoken is None:
                    self._pieces = None
                    self._finished = True
                    self._failure = failure
                else:
                    self._ready.append((piece, spoken))
                    self._waiting += spoken.seconds

    def _has_work(self) -> bool:
        return self._closed or (self._pieces is not None and self._waiting < self._seconds)
