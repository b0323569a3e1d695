"""Commands on what stands around the story: the cover, front and back matter."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from reglet.bookfile import BookFile
from reglet.cli.telling import answer, answer_json, on_one_line, remark
from reglet.errors import UnknownThing, WriterError
from reglet.exchange.cover import advice, read_cover, told
from reglet.manuscript.book import Book
from reglet.manuscript.editing import rewrite
from reglet.manuscript.front_and_back import add_matter, kind_of, remove_matter
from reglet.manuscript.matter import CAUTION, Matter
from reglet.manuscript.paragraph import Style
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.numbers import counted

Command = Callable[..., ArgumentParser]
"""Makes the parser of a command that is about a book: its name, its work, what it does."""


def add_commands(command: Command) -> None:
    """Make the parsers of these commands."""
    each = command("cover", cover, "Tell or set the picture on the cover of the e-book.", json=True)
    each.add_argument("picture", nargs="?", type=Path, metavar="PICTURE", help="a .png or .jpg")
    each.add_argument("--none", action="store_true", help="have no cover")

    told_of = "List the pieces before and after the story, or write one of them."
    each = command("matter", matter, told_of, json=True)
    each.add_argument(
        "kind",
        nargs="?",
        choices=[kind.value for kind in Matter],
        metavar="KIND",
        help=f"the piece that is meant: {', '.join(kind.value for kind in Matter)}",
    )
    each.add_argument(
        "--from", dest="source", type=Path, metavar="FILE", help="your words for it (.txt, .md …)"
    )
    each.add_argument("--remove", action="store_true", help="take out a piece without words")


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


def matter(asked: Namespace) -> int:
    """List the pieces of front and back matter; before that, write one, or take it out."""
    kind = Matter(asked.kind) if asked.kind else None
    if kind is None and (asked.source is not None or asked.remove):
        raise WriterError("Name the piece that is meant. Your book is as it was.")
    if asked.source is not None and asked.remove:
        raise WriterError("“--from” and “--remove” do not go together. Your book is as it was.")
    words = None if asked.source is None or kind is None else _words(asked.source, kind)
    with BookFile.open(asked.book, read_only=kind is None) as file:
        if kind is not None:
            piece = _piece(file.book, kind)
            if asked.remove:
                if piece is None:
                    raise UnknownThing(f"The book has no {kind.label.lower()}. It is as it was.")
                file.save(remove_matter(file.book, piece.id))
            elif piece is None or words is not None:
                if piece is not None and piece.passage.text.strip():
                    file.snapshot(f"Before rewriting: {kind.label}", scene_ids=[piece.id])
                file.save(_with(file.book, kind, piece, words))
        book = file.book
    pieces = [*((each, "front") for each in book.front), *((each, "back") for each in book.back)]
    if asked.json:
        answer_json([_facts(each, side, book) for each, side in pieces])
    else:
        answer(_line(each, side, book) for each, side in pieces)
    if kind is Matter.COPYRIGHT:
        remark(CAUTION)
    return 0


def _piece(book: Book, kind: Matter) -> Scene | None:
    pieces = (*book.front, *book.back)
    return next((each for each in pieces if kind_of(each, book) is kind), None)


def _with(book: Book, kind: Matter, piece: Scene | None, words: Passage | None) -> Book:
    if piece is None:
        book, scene_id = add_matter(book, kind)
        piece = book.scene(scene_id)
    return book if words is None else rewrite(book, piece.id, words)


def _words(source: Path, kind: Matter) -> Passage:
    """The words in a file; plain paragraphs are set as the piece usually is."""
    from reglet.exchange import read_draft  # no other command waits for it to load

    read = (each.paragraph for each in read_draft(source).paragraphs)
    return Passage.of(
        replace(each, style=kind.style) if each.style in (Style.BODY, Style.FIRST) else each
        for each in read
    )


def _facts(piece: Scene, side: str, book: Book) -> dict[str, object]:
    return {
        "id": piece.id,
        "side": side,
        "kind": kind_of(piece, book),
        "title": piece.title,
        "words": piece.passage.word_count,
    }


def _line(piece: Scene, side: str, book: Book) -> str:
    kind = kind_of(piece, book)
    name = on_one_line(piece.title) or (kind.label if kind else "Untitled")
    return f"{piece.id}  {side}  {name}, {counted(piece.passage.word_count, 'word')}"
