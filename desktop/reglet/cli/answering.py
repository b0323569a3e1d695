"""Commands by which the writer answers: notes, queries, and the draft that is to rest."""

from __future__ import annotations

from argparse import ArgumentParser, ArgumentTypeError, Namespace
from dataclasses import replace
from datetime import date, datetime
from typing import TYPE_CHECKING

from reglet.bookfile import BookFile
from reglet.cli.arranging import Command, span_of
from reglet.cli.reading import read
from reglet.cli.telling import answer, answer_json, on_one_line
from reglet.errors import UnknownThing, WriterError
from reglet.manuscript.anchored import Answer, Note
from reglet.manuscript.book import Book, fresh_id
from reglet.manuscript.editing import add_note, replace_note
from reglet.story.first_read import put_to_rest, remark, woken

if TYPE_CHECKING:
    from reglet.overlays.query import Query


def add_commands(command: Command) -> None:
    """Make the parsers of these commands."""
    each = command("notes", notes, "List the notes, in order.", json=True)
    each.add_argument("--scene", metavar="ID", help="only those of this scene")

    each = command("note", note, "Make a note on words of a scene.")
    each.add_argument("scene", metavar="SCENE", help="a scene's id")
    each.add_argument("words", metavar="WORDS", help="the words it is about")
    each.add_argument("text", metavar="TEXT", help="what it says; “#cold: why?” is of a kind")

    each = command("answer", answer_note, "Answer a note.")
    each.add_argument("note", metavar="NOTE", help="a note's id")
    each.add_argument("said", metavar="ANSWER", choices=[each.value for each in Answer])

    each = command("take", take, "Take what a query proposes.")
    _query(each)

    each = command("stet", stet, "Let the words of a query stand.")
    _query(each)
    each.add_argument("--everywhere", action="store_true", help="wherever they stand in the book")

    each = command("rest", rest, "Put the draft to rest, or end its rest.")
    days = each.add_mutually_exclusive_group()
    days.add_argument("--until", type=_day, metavar="DATE", help="such as 2027-03-31")
    days.add_argument("--end", action="store_true", help="it has rested long enough")


def _query(each: ArgumentParser) -> None:
    each.add_argument("scene", metavar="SCENE", help="a scene's id")
    each.add_argument("overlay", metavar="OVERLAY", help="whose query it is")
    each.add_argument("at", type=int, metavar="START", help="where it starts, as “queries” tells")


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise ArgumentTypeError(f"“{text}” is no date such as 2027-03-31") from None


def notes(asked: Namespace) -> int:
    """List the notes."""
    book = read(asked)
    if asked.scene is not None:
        book.scene(asked.scene)
    found = [
        (scene.id, each)
        for scene in book.texts
        if asked.scene in (None, scene.id)
        for each in scene.notes
    ]
    if asked.json:
        answer_json(
            [
                {
                    "id": each.id,
                    "scene": scene_id,
                    "start": each.start,
                    "end": each.end,
                    "words": each.words,
                    "text": each.text,
                    "kind": each.kind,
                    "author": each.author,
                    "made": each.made.isoformat(),
                    "answer": each.answer,
                }
                for scene_id, each in found
            ]
        )
    else:
        answer(_line(*each) for each in found)
    return 0


def _line(scene_id: str, note: Note) -> str:
    said = ": ".join(filter(None, (note.kind, note.text)))
    line = f"{note.id}  {scene_id}  {note.answer:<4}  “{note.words}”  {said}"
    return on_one_line(line).rstrip()


def note(asked: Namespace) -> int:
    """Make a note; the answer is its id."""
    with BookFile.open(asked.book) as file:
        book = file.book
        start, end = span_of(book.scene(asked.scene), asked.words)
        words = book.scene(asked.scene).passage.text[start:end]
        kind, text = remark(asked.text)
        now = datetime.now().astimezone()
        made = Note(fresh_id("note"), start, end, words, text, now, book.author, kind)
        file.save(add_note(book, asked.scene, made))
    answer([made.id])
    return 0


def answer_note(asked: Namespace) -> int:
    """Answer a note."""
    with BookFile.open(asked.book) as file:
        scene_id, found = _note(file.book, asked.note)
        answered = replace(found, answer=Answer(asked.said))
        file.save(replace_note(file.book, scene_id, answered))
    answer([f"{asked.note} is answered: {asked.said}."])
    return 0


def _note(book: Book, note_id: str) -> tuple[str, Note]:
    for scene in book.texts:
        for each in scene.notes:
            if each.id == note_id:
                return scene.id, each
    raise UnknownThing(f"There is no note “{note_id}” in this book. “notes” lists those there are.")


def take(asked: Namespace) -> int:
    """Set what a query proposes in place of its words."""
    from reglet.overlays import answer as answers  # no other command waits for these to load

    with BookFile.open(asked.book) as file:
        query = _asked_query(file.book, asked)
        file.save(answers.take(file.book, query))
    answer([f"“{query.text}” → “{query.proposal}”"])
    return 0


def stet(asked: Namespace) -> int:
    """Let the words of a query stand, here or through the book."""
    from reglet.overlays import answer as answers

    with BookFile.open(asked.book) as file:
        query = _asked_query(file.book, asked)
        reach = answers.Reach.BOOK if asked.everywhere else answers.Reach.HERE
        file.save(answers.stet(file.book, query, reach))
    answer([f"“{query.text}” stands{' through the book' if asked.everywhere else ''}."])
    return 0


def _asked_query(book: Book, asked: Namespace) -> Query:
    from reglet.overlays.examine import Examiner
    from reglet.overlays.register import named

    stage = named(asked.overlay).stage
    for query in Examiner().examine(book, stage, [asked.scene], [asked.overlay]):
        if query.start == asked.at and not query.stet:
            return query
    raise UnknownThing(
        f"{asked.overlay} asks nothing at {asked.at} of {asked.scene}, or it was answered. Nothing "
        "was changed; “queries” lists what is asked."
    )


def rest(asked: Namespace) -> int:
    """Put the draft to rest, two weeks unless told otherwise, or end its rest."""
    today = date.today()
    if asked.until is not None and asked.until <= today:
        raise WriterError("A draft rests until a day to come. Nothing was changed.")
    with BookFile.open(asked.book) as file:
        rested = woken(file.book) if asked.end else put_to_rest(file.book, today, asked.until)
        file.save(rested)
    answer([f"The draft rests until {rested.rest.until}." if rested.rest else "It rests no more."])
    return 0
