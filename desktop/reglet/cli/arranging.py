"""Commands that change the book's order and division, its Offcuts, and its text throughout."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from reglet.bookfile import BookFile, Reason
from reglet.bookfile.naming import called_book
from reglet.cli.reading import read
from reglet.cli.telling import answer, answer_json, on_one_line
from reglet.errors import UnknownThing, WriterError
from reglet.manuscript import arranging
from reglet.manuscript.book import Book, Chapter
from reglet.manuscript.offcuts import cut_passage, cut_scenes, put_back
from reglet.manuscript.scene import Scene
from reglet.manuscript.search import Sought, find, find_in, replace_at
from reglet.numbers import counted

Command = Callable[..., ArgumentParser]
"""Makes the parser of a command that is about a book: its name, its work, what it does."""


def add_commands(command: Command) -> None:
    """Make the parsers of these commands."""
    each = command("add", add, "Add an empty scene.")
    _place(each)
    each.add_argument("--title", default="", help="its title")

    each = command("move", move, "Move scenes, in the order named.")
    _scenes(each)
    _place(each)

    each = command("split", split, "Split a scene in two.")
    each.add_argument("scene", metavar="SCENE", help="a scene's id")
    each.add_argument("words", metavar="WORDS", help="the words that the new scene begins with")

    each = command("merge", merge, "Merge scenes into the first one named.")
    _scenes(each)

    each = command("cut", cut, "Take scenes, or words of one, out of the book into the Offcuts.")
    _scenes(each)
    each.add_argument("--words", metavar="WORDS", help="only these words of the scene")

    each = command("offcuts", offcuts, "List what was taken out and kept.", json=True)

    each = command("put-back", put_it_back, "Put an offcut back where it was.")
    each.add_argument("offcut", metavar="OFFCUT", help="an offcut's id")

    each = command("rename", rename, "Give a scene, or a chapter, another title.")
    each.add_argument("thing", metavar="SCENE", help="a scene's id, or “chapter N”")
    each.add_argument("title", metavar="TITLE")

    each = command("replace", replace, "Replace words through the book, after a snapshot.")
    each.add_argument("words", metavar="WORDS", help="what to replace")
    each.add_argument("by", metavar="BY", help="what to set in its place")
    each.add_argument("--scene", metavar="ID", help="only in this scene")
    each.add_argument("--match-case", action="store_true", help="capitals as in WORDS only")
    each.add_argument("--whole-words", action="store_true", help="not inside longer words")
    each.add_argument("--list", action="store_true", help="only tell where they stand")

    each = command("copy", copy, "Make a copy of the book with its whole history.")
    each.add_argument("to", type=Path, metavar="TO", help="a book file to make (.reglet)")


def _scenes(each: ArgumentParser) -> None:
    each.add_argument("scenes", metavar="SCENE", nargs="+", help="a scene's id")


def _place(each: ArgumentParser) -> None:
    places = each.add_mutually_exclusive_group(required=True)
    places.add_argument("--after", metavar="ID", help="behind this scene")
    places.add_argument("--before", metavar="ID", help="before this scene")
    places.add_argument("--chapter", type=int, metavar="N", help="at the end of the Nth chapter")


def add(asked: Namespace) -> int:
    """Add an empty scene; the answer is its id."""

    def added(book: Book) -> Book:
        return arranging.add_scene(book, *_wanted_place(book, asked), asked.title)

    book, before = _done(asked, added)
    answer(scene.id for scene in book.scenes if not before.has_scene(scene.id))
    return 0


def move(asked: Namespace) -> int:
    """Move scenes."""
    _done(
        asked, lambda book: arranging.move_scenes(book, asked.scenes, *_wanted_place(book, asked))
    )
    answer([f"{counted(len(asked.scenes), 'scene')} moved."])
    return 0


def split(asked: Namespace) -> int:
    """Split a scene where certain words begin; the answer is the id of the second half."""

    def parted(book: Book) -> Book:
        start, _ = span_of(book.scene(asked.scene), asked.words)
        return arranging.split_scene(book, asked.scene, start)

    book, before = _done(asked, parted)
    answer(scene.id for scene in book.scenes if not before.has_scene(scene.id))
    return 0


def merge(asked: Namespace) -> int:
    """Merge scenes into the first one."""
    _done(asked, lambda book: arranging.merge_scenes(book, asked.scenes))
    answer([f"{counted(len(asked.scenes), 'scene')} merged into {asked.scenes[0]}."])
    return 0


def cut(asked: Namespace) -> int:
    """Cut scenes, or a passage, to the Offcuts; the answer is the ids they have there."""
    now = datetime.now().astimezone()
    if asked.words is not None and len(asked.scenes) != 1:
        raise WriterError("With --words, name the one scene they stand in. Nothing was changed.")

    def cut_out(book: Book) -> Book:
        if asked.words is None:
            return cut_scenes(book, asked.scenes, now)
        scene = book.scene(asked.scenes[0])
        return cut_passage(book, scene.id, *span_of(scene, asked.words), now)

    book, before = _done(asked, cut_out)
    there = {each.id for each in before.offcuts}
    answer(each.id for each in book.offcuts if each.id not in there)
    return 0


def offcuts(asked: Namespace) -> int:
    """List the Offcuts."""
    book = read(asked)
    if asked.json:
        answer_json(
            [
                {
                    "id": each.id,
                    "cut": each.cut_at.isoformat(),
                    "title": each.scene.title,
                    "words": each.scene.passage.word_count,
                    "text": each.scene.passage.text,
                    "alternative_of": (each.origin.alternative_of or None) if each.origin else None,
                }
                for each in book.offcuts
            ]
        )
        return 0
    for each in book.offcuts:
        opening = " ".join(each.scene.passage.text.split()[:8])
        title = on_one_line(each.scene.title) or f"{opening} …"
        answer([f"{each.id}  {each.scene.passage.word_count:>7,}  {each.cut_at:%Y-%m-%d}  {title}"])
    return 0


def put_it_back(asked: Namespace) -> int:
    """Put an offcut back."""
    _done(asked, lambda book: put_back(book, asked.offcut))
    answer([f"{asked.offcut} is back in the book."])
    return 0


def rename(asked: Namespace) -> int:
    """Give a scene or a chapter another title."""

    def named(book: Book) -> Book:
        kind, _, number = asked.thing.partition(" ")
        thing = asked.thing
        if kind == "chapter" and number.isdecimal():
            thing = _chapter(book, int(number)).id
        else:
            book.scene(thing)
        return arranging.retitle(book, thing, asked.title)

    _done(asked, named)
    answer([f"{asked.thing} is called “{asked.title}”."])
    return 0


def replace(asked: Namespace) -> int:
    """Replace words, after a snapshot; with `--list`, only tell where they stand."""
    sought = Sought(asked.words, asked.match_case, asked.whole_words)
    only = None if asked.scene is None else [asked.scene]
    with BookFile.open(asked.book, read_only=asked.list) as file:
        places = find(file.book, sought, only)
        if asked.list:
            answer(f"{each.scene} {each.start}-{each.end}" for each in places)
            return 0
        if places:
            label = f"Before replacing “{asked.words}” by “{asked.by}”"
            file.snapshot(label, Reason.BEFORE_REPLACE_ALL)
            file.save(replace_at(file.book, places, asked.by))
    answer([f"Replaced in {counted(len(places), 'place')}."])
    return 0


def copy(asked: Namespace) -> int:
    """Copy the whole book file."""
    to = called_book(asked.to)
    with BookFile.open(asked.book, read_only=True) as file:
        whole = file.copy_to(to)
    answer([f"{to} holds the book{' and its whole history' if whole else ''}."])
    return 0


def _done(asked: Namespace, operation: Callable[[Book], Book]) -> tuple[Book, Book]:
    """The book after an operation, saved, and before it."""
    with BookFile.open(asked.book) as file:
        before = file.book
        file.save(operation(before))
        return file.book, before


def _wanted_place(book: Book, asked: Namespace) -> tuple[str, int]:
    """The chapter, and the place in it, that was asked for."""
    if asked.chapter is not None:
        chapter = _chapter(book, asked.chapter)
        return chapter.id, len(chapter.scenes)
    scene = book.scene(asked.after or asked.before)
    holder = book.chapter_of(scene.id)
    if holder is None:
        raise WriterError("Front and back matter keep their place; name a scene of a chapter.")
    return holder.id, holder.scenes.index(scene) + (asked.before is None)


def _chapter(book: Book, number: int) -> Chapter:
    if not 1 <= number <= len(book.chapters):
        raise UnknownThing(
            f"There is no chapter {number}; the book has {counted(len(book.chapters), 'chapter')}. "
            "Nothing was changed."
        )
    return book.chapters[number - 1]


def span_of(scene: Scene, words: str) -> tuple[int, int]:
    """Where words stand in a scene. Raises UnknownThing unless they stand there once."""
    places = find_in(scene, Sought(words, match_case=True))
    if len(places) != 1:
        stand = "do not stand" if not places else f"stand {len(places)} times"
        raise UnknownThing(
            f"The words “{words}” {stand} in that scene. Nothing was changed; name more of them, "
            "just as they are written."
        )
    return places[0].start, places[0].end
