"""The command that puts one way through the whole book, where it goes two."""

from __future__ import annotations

from argparse import Namespace

from reglet.bookfile import BookFile
from reglet.cli.telling import answer, counted
from reglet.manuscript.stage import Stage
from reglet.overlays.examine import Examiner
from reglet.overlays.settle import settle as settled

OVERLAYS = ("name_form", "variety", "compound")
"""The overlays whose proposals are the book's own commoner way."""


def settle(asked: Namespace) -> int:
    """Take what an overlay of the whole book proposes, after a snapshot."""
    with BookFile.open(asked.book) as file:
        found = list(Examiner().examine(file.book, Stage.PROOF, overlays=[asked.overlay]))
        wanted = [
            query
            for query in found
            if not query.stet and query.proposal is not None and asked.words in (None, query.text)
        ]
        if not wanted:
            answer(["There is nothing to settle. The book is as it was."])
            return 0
        taken = file.snapshot(f"Before settling: {asked.overlay}")
        file.save(settled(file.book, wanted))
    answer([f"{counted(len(wanted), 'place')} settled. Snapshot {taken.id} has it as it was."])
    return 0
