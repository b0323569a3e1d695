"""The command that takes a copy back in with what an editor or a reader wrote into it."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path

from reglet.bookfile import BookFile, Reason
from reglet.cli.telling import Progress, answer, remark


def take_back(asked: Namespace) -> int:
    """Make notes of the comments and changes in a returned copy, after a snapshot."""
    from reglet.exchange import read_draft, read_returned, take_back  # no other command waits

    source: Path = asked.copy
    progress = Progress(f"Reading {source.name}")
    returned = read_draft(source, progress).book()
    progress.end()
    with BookFile.open(asked.book) as file:
        found = read_returned(file.whole_states(), returned, source.name)
        done = take_back(file.book, found)
        if done.comments or done.changes:
            file.snapshot(f"Before taking back {source.name}", Reason.BEFORE_IMPORT)
            file.save(done.book)
    answer([done.said])
    if found.aside:
        remark(found.aside)
    return 0
