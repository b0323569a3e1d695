"""The command that puts one way through the whole book, where it goes two."""

from __future__ import annotations

from argparse import Namespace
from collections import Counter
from collections.abc import Collection
from dataclasses import replace
from typing import TYPE_CHECKING

from reglet.bookfile import BookFile
from reglet.cli.telling import answer, on_one_line
from reglet.errors import UnknownThing
from reglet.manuscript.stage import Stage
from reglet.numbers import counted

if TYPE_CHECKING:
    from reglet.overlays.query import Choice, Query


def settle(asked: Namespace) -> int:
    """Put the ways that an overlay proposes through the book and into its style sheet, after a
    snapshot; with `--list`, only say what they are.
    """
    from reglet.overlays.examine import Examiner  # no other command waits for these to load
    from reglet.overlays.register import named
    from reglet.overlays.settle import settle as settled

    with BookFile.open(asked.book, read_only=asked.list) as file:
        examiner = Examiner()
        overlay = named(asked.overlay)
        found = examiner.examine(file.book, Stage.PROOF, overlays=[overlay.name])
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
            choices = {
                _other(choice, asked.to, examiner.ways(overlay, choice.question, file.book))
                for choice in choices
            }
        done = settled(file.book, asked.overlay, choices, examiner)
        taken = file.snapshot(f"Before settling: {asked.overlay}")
        file.save(done.book)
    places = counted(len(done.queries), "place")
    answer([f"{places} settled. Snapshot {taken.id} has it as it was."])
    return 0


def _other(choice: Choice, wanted: str, ways: Collection[str]) -> Choice:
    """The way that is wanted, of those the book has, in place of the one proposed."""
    for way in ways:
        if wanted in (way, way.strip("“”")):
            return replace(choice, way=way)
    raise UnknownThing(
        f"The book never has “{wanted}” here. It has: {', '.join(sorted(ways))}. Nothing was "
        "changed."
    )


def _lines(queries: list[Query]) -> list[str]:
    places = Counter((query.text, query.choice.way) for query in queries if query.choice)
    return [
        f"“{on_one_line(text)}” → {way}: {counted(number, 'place')}"
        for (text, way), number in places.items()
    ] or ["There is nothing to settle."]
