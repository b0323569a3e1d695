"""The process that sets and writes the pages to print, which would be felt in the typing. Knows no
Qt.
"""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass
from multiprocessing.connection import Connection
from pathlib import Path

from reglet.errors import RegletError
from reglet.exchange.print_out import write_pdf
from reglet.manuscript.book import Book
from reglet.window.beside import HUNG_UP, give_way


@dataclass(frozen=True)
class Printed:
    """What came of it: a sentence where it failed, else the letters that no face has."""

    path: Path
    missing: str = ""
    failed: str = ""


def work(pipe: Connection) -> None:
    """Write what is asked for, a book and a path, until the pipe closes."""
    give_way()
    with suppress(*HUNG_UP):
        while True:
            asked: tuple[Book, Path] = pipe.recv()
            book, path = asked
            try:
                pipe.send(Printed(path, write_pdf(book, path, overwrite=True)))
            except RegletError as error:
                pipe.send(Printed(path, failed=str(error)))
