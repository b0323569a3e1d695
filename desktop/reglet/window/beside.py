"""Processes beside the window: how one is started, and what each does at its end of the pipe.
Knows no Qt.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from multiprocessing import get_context
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess

HUNG_UP = (EOFError, OSError, KeyboardInterrupt)
"""What a process meets at its pipe when the window has ended, in order or not."""


def start(work: Callable[..., None], *given: object) -> tuple[BaseProcess, Connection]:
    """Start a process that calls `work` with its end of a pipe and what is given; the process, and
    the other end.
    """
    context = get_context("spawn")
    ours, theirs = context.Pipe()
    process = context.Process(target=work, args=(theirs, *given), daemon=True)
    process.start()
    theirs.close()
    return process, ours


def give_way() -> None:
    """Let the window, and all else that somebody waits for, go before this process."""
    if hasattr(os, "nice"):  # Windows has it not
        os.nice(10)


def print_no_errors() -> None:
    """Keep to itself what the system's libraries print when something is not there, which is no
    news to the writer, who is told in a sentence.
    """
    os.dup2(os.open(os.devnull, os.O_WRONLY), 2)
