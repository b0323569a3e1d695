"""Commands on what stands around the story: the cover."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from reglet.bookfile import BookFile
from reglet.cli.telling import answer, answer_json, remark
from reglet.errors import WriterError
from reglet.exchange.cover import advice, read_cover, told

Command = Callable[..., ArgumentParser]
"""Makes the parser of a command that is about a book: its name, its work, what it does."""


def add_commands(command: Command) -> None:
    """Make the parsers of these commands."""
    each = command("cover", cover, "Tell or set the picture on the cover of the e-book.", json=True)
    each.add_argument("picture", nargs="?", type=Path, metavar="PICTURE", help="a .png or .jpg")
    each.add_argument("--none", action="store_true", help="have no cover")


def cover(asked: Namespace) -> int:
    """Tell what the cover is; before that, take in a picture for it, or take it away."""
    if asked.none and asked.picture is not None:
        raise WriterError("A picture and “--none” do not go together. Your book is as it was.")
    changes = asked.none or asked.picture is not None
    picture = None if asked.picture is None else read_cover(asked.picture)
    with BookFile.open(asked.book, read_only=not changes) as file:
        if changes:
            file.save(replace(file.book, cover=picture))
        now = file.book.cover
    sentences = advice(now) if now else []
    if asked.json:
        facts = now and {
            "media_type": now.media_type,
            "width": now.width,
            "height": now.height,
            "bytes": len(now.data),
            "advice": sentences,
        }
        answer_json({"cover": facts})
        return 0
    answer([told(now) if now else "The book has no cover."])
    for sentence in sentences:
        remark(sentence)
    return 0
