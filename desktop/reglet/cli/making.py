"""Commands on a whole book: make it, send it out, check its file."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from reglet.bookfile import BookFile, salvage
from reglet.bookfile.naming import called_book, is_called_book
from reglet.cli.telling import Progress, answer, answer_json, on_one_line, remark
from reglet.errors import DamagedBookFile, WriterError
from reglet.manuscript.book import Book, Chapter, Part, fresh_id
from reglet.manuscript.scene import Scene
from reglet.numbers import counted


def new(asked: Namespace) -> int:
    """Make a book file from a draft, or from what can be read of another book file."""
    path = called_book(asked.book)
    source: Path | None = asked.source
    if path.exists():  # said before a long draft is read for nothing
        raise WriterError(f"{path} is there already and was left as it is. Choose another name.")
    if source is None:
        book = _blank()
    elif is_called_book(source):
        book = _from_book_file(source)
    else:
        book = _from_draft(source)
    given = {"title": asked.title, "author": asked.author}
    with BookFile.create(path, _named(book, **given)) as file:
        book = file.book
    answer(
        [
            f"{path}: {counted(len(book.scenes), 'scene')} in "
            f"{counted(len(book.chapters), 'chapter')}, {counted(book.word_count, 'word')}."
        ]
    )
    return 0


def export(asked: Namespace) -> int:
    """Write the book as a manuscript; the kind of file is told by its name."""
    from reglet.exchange import write_docx, write_epub, write_markdown
    from reglet.exchange.print_out import write_pdf

    out: Path = asked.out
    kind = out.suffix.lower()
    writers: dict[str, Callable[..., str | None]] = {
        ".docx": write_docx,
        ".epub": write_epub,
        ".md": write_markdown,
        ".pdf": write_pdf,
    }
    if kind not in writers:
        raise WriterError(
            f"“{out.name}” is not a kind of file that Reglet writes: .docx, .epub, .pdf or .md."
        )
    with BookFile.open(asked.book, read_only=True) as file:
        book = file.book
    missing = writers[kind](book, out, overwrite=asked.overwrite)
    if missing:
        remark(f"No face here has “{missing}”; empty boxes are printed in their place.")
    answer([f"{out}: {counted(sum(s.passage.word_count for s in book.texts), 'word')}."])
    return 0


def verify(asked: Namespace) -> int:
    """Check everything that a book file promises."""
    progress = Progress(f"Checking {asked.book.name}")
    try:
        with BookFile.open(asked.book, read_only=True) as file:
            problems = file.verify(lambda done, of: progress(done / of))
    except DamagedBookFile as damage:
        problems = [str(damage)]
    progress.end()
    if asked.json:
        answer_json({"sound": not problems, "problems": problems})
    elif problems:
        answer(problems)
    else:
        answer(
            [
                f"{asked.book.name} is sound: the file is whole, every text is as it was saved, "
                "every snapshot can be read and every stored difference leads where it should."
            ]
        )
    if problems:
        remark(
            f"{asked.book.name} has {counted(len(problems), 'problem')}. It was left as it is; the "
            "copies beside it, or “reglet new” from what can be read of it, lead on."
        )
    return 2 if problems else 0


def _blank() -> Book:
    scene = Scene(fresh_id("scene"))
    chapter = Chapter(fresh_id("chapter"), "", (scene,))
    return Book(parts=(Part(fresh_id("part"), "", (chapter,)),))


def _named(book: Book, title: str | None, author: str | None) -> Book:
    book = book if title is None else replace(book, title=title)
    return book if author is None else replace(book, author=author)


def _from_draft(source: Path) -> Book:
    from reglet.exchange import read_draft  # no other command waits for it to load

    progress = Progress(f"Reading {source.name}")
    proposal = read_draft(source, progress)
    progress.end()
    for finding in proposal.report:
        where = proposal.where(finding)
        remark(f"{finding.sentence} ({on_one_line(where)})" if where else finding.sentence)
    return proposal.book()


def _from_book_file(source: Path) -> Book:
    found = salvage(source)
    for loss in found.losses:
        remark(loss)
    return found.book
