"""What a command says: its answer on standard output, all else on standard error."""

from __future__ import annotations

import json
import sys
import time
from collections.abc import Iterable

from reglet.manuscript.paragraph import LINE_BREAK

_PATIENCE = 1.0
_STEP = 0.5
"""Seconds until progress is first shown, and between one showing and the next."""


def answer_json(value: object) -> None:
    """`value` on standard output as JSON."""
    print(json.dumps(value, ensure_ascii=False, indent=2))


def answer(lines: Iterable[str]) -> None:
    """Lines on standard output."""
    for line in lines:
        print(line)


def remark(sentence: str) -> None:
    """A sentence on standard error."""
    print(sentence, file=sys.stderr, flush=True)


def on_one_line(text: str) -> str:
    """A text whose lines follow one another, and its paragraphs with a ¶ between them."""
    return text.replace(LINE_BREAK, " ").replace("\n", " ¶ ")


class Progress:
    """How far a long work has come, on standard error; silent while it takes less than a second.

    On a terminal one line is written over and over; elsewhere each showing has a line of its own.
    """

    def __init__(self, work: str) -> None:
        self._work = work
        self._next = time.monotonic() + _PATIENCE
        self._shown = False

    def __call__(self, done: float) -> None:
        """Tell that `done`, from 0.0 to 1.0, is done."""
        now = time.monotonic()
        if now < self._next:
            return
        self._next = now + _STEP
        self._shown = True
        end = "\r" if sys.stderr.isatty() else "\n"
        print(f"{self._work}: {done:4.0%}", end=end, file=sys.stderr, flush=True)

    def end(self) -> None:
        """Leave the terminal's line clear for what comes next."""
        if self._shown and sys.stderr.isatty():
            print(" " * (len(self._work) + 6), end="\r", file=sys.stderr, flush=True)
