"""The command that puts one way through the whole book, where it goes two."""

from __future__ import annotations

from argparse import Namespace
from collections import Counter

from reglet.bookfile import BookFile
from reglet.cli.telling import answer, counted
from reglet.errors import UnknownThing
from reglet.manuscript.stage import Stage
from reglet.overlays.examine import Examiner
from reglet.overlays.query import Choice, Query
from reglet.overlays.register import named
from reglet.overlays.settle import settle as settled


def settle(asked: Namespace) -> int:
    """Put the ways that an overlay proposes through the book and into its style sheet, after a
    snapshot; with `--list`, only say what they are.
    """
    with BookFile.open(asked.book, read_only=asked.list) as file:
        examiner = Examiner()
        found = examiner.examine(file.book, Stage.PROOF, overlays=[named(asked.overlay).name])
        wanted = [
            query
            for query in found
            if query.choice and not query.stet and asked.words in (None, query.text)
        ]
        choices = {query.choice for query in wanted if query.choice}
        if asked.list:
            answer(_lines(wanted))
            return 0
        if not choices:
            answer(["There is nothing to settle. The book is as it was."])
            return 0
        if asked.to is not None:
            choices = {_other(choice, asked, examiner, file) for choice in choices}
        done = settled(file.book, asked.overlay, choices, examiner)
        taken = file.snapshot(f"Before settling: {asked.overlay}")
        file.save(done.book)
    places = counted(len(done.queries), "place")
    answer([f"{places} settled. Snapshot {taken.id} has it as it was."])
    return 0


def _other(choice: Choice, asked: Namespace, examiner: Examiner, file: BookFile) -> Choice:
    """The way asked for in place of the one proposed."""
    ways = examiner.ways(named(asked.overlay), choice.question, file.book)
    for way in ways:
        if asked.to in (way, way.strip("“”")):
            return Choice(choice.question, way)
    raise UnknownThing(
        f"The book never has “{asked.to}” here. It has: {', '.join(sorted(ways))}. Nothing was "
        "changed."
    )


def _lines(queries: list[Query]) -> list[str]:
    places = Counter(query.choice for query in queries if query.choice)
    return [
        f"{choice.question} → {choice.way}: {counted(number, 'place')}"
        for choice, number in places.items()
    ] or ["There is nothing to settle."]
