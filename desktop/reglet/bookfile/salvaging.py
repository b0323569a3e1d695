"""What can still be read of a damaged book file."""

from __future__ import annotations

import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass, replace
from pathlib import Path

from reglet.bookfile import store
from reglet.bookfile.connecting import beyond_salvage, connect, copied, version_of
from reglet.bookfile.encoding import (
    Unreadable,
    book_from_json,
    paragraph_from,
    scene_from_json,
    scene_ids,
)
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.paragraph import Paragraph
from reglet.manuscript.passage import Passage
from reglet.manuscript.picture import Picture
from reglet.manuscript.scene import Scene

_HEADER, _PAGE_SIZE_AT, _PAGES_AT = 100, 16, 28
"""Where an SQLite file states its page size and length (sqlite.org/fileformat2.html, 1.3)."""

_LONGEST = 2**32
"""The most bytes to fill a file up to: four thousand million, in case the length is torn too."""

_BROKEN = (sqlite3.Error, Unreadable)


@dataclass(frozen=True)
class Salvaged:
    """A book as far as it could be read, and a sentence for each thing that is not as it was."""

    book: Book
    losses: tuple[str, ...]


def salvage(path: Path) -> Salvaged:
    """Read what can be read of the book at `path`, which is left as it is.

    Each scene is read for itself; one that cannot be is taken from the latest snapshot that can,
    or from those of its paragraphs that can. Where even the order of the book is lost, the scenes
    stand in one chapter; paragraphs that belong to nothing readable come last. The history is not
    taken along. Raises DamagedBookFile if nothing can be read.
    """
    version_of(path)
    with tempfile.TemporaryDirectory(prefix="reglet-") as folder:
        copy = _filled_up(path, Path(folder))
        try:
            with closing(connect(copy, read_only=True)) as connection:
                found = _salvaged(connection)
        except sqlite3.Error as error:
            raise beyond_salvage(path, f"Nothing in it can be read any more ({error})") from error
    if not found.book.texts and found.losses:
        raise beyond_salvage(path, "Not one paragraph in it can be read any more")
    return found


def _filled_up(path: Path, folder: Path) -> Path:
    """A copy to read from. A file that was cut short is filled up to the length that it states:
    SQLite would read nothing of it else.
    """
    copy = copied(path, folder)
    with copy.open("r+b") as file:
        header = file.read(_HEADER)
        page = int.from_bytes(header[_PAGE_SIZE_AT : _PAGE_SIZE_AT + 2], "big")
        pages = int.from_bytes(header[_PAGES_AT : _PAGES_AT + 4], "big")
        length = page * pages
        if copy.stat().st_size < length <= _LONGEST:
            file.truncate(length)
    return copy


def _salvaged(connection: sqlite3.Connection) -> Salvaged:
    try:
        return Salvaged(store.read_book(connection, store.read_now(connection)[0]).book, ())
    except _BROKEN:
        pass
    losses: list[str] = []
    try:
        outline, facts, rows = _order(connection)
        scenes = [
            _scene(connection, name, row, losses)
            for name, row in zip(scene_ids(outline), rows, strict=True)
        ]
        book = book_from_json(outline, facts, iter(scenes))
        book = replace(book, cover=_cover(connection, outline, losses))
    except (*_BROKEN, ValueError):
        losses.append("The order of the book cannot be read; its scenes stand in one chapter.")
        latest: dict[str, int] = {}
        for row in _rows(connection, "scene_state"):
            for (name,) in _read(connection, "SELECT scene FROM scene_state WHERE id = ?", row):
                latest[str(name)] = row
        scenes = [_scene(connection, name, row, losses) for name, row in latest.items()]
        chapter = Chapter("chapter-salvaged", "Salvaged scenes", tuple(scenes))
        book = Book(parts=(Part("part-salvaged", chapters=(chapter,)),))
    placed = {
        row
        for each in _rows(connection, "scene_state")
        for row in _paragraph_rows(connection, each)
    }
    loose = tuple(_paragraphs(connection, sorted(set(_rows(connection, "paragraph")) - placed)))
    if loose:
        losses.append(
            f"{len(loose)} paragraphs whose place in the book or its history is not known stand at "
            "the end, under “Loose paragraphs”."
        )
        scene = Scene("scene-loose", "Loose paragraphs", Passage(loose))
        book = replace(book, back=(*book.back, scene))
    return Salvaged(book, tuple(losses))


def _order(connection: sqlite3.Connection) -> tuple[str, str, list[int]]:
    state, _ = store.read_now(connection)
    outline, facts = store.documents_of(connection, state)
    rows = [row for _, row, _ in store.scene_states_of(connection, state)]
    return outline.body, facts.body, rows


def _scene(connection: sqlite3.Connection, name: str, row: int, losses: list[str]) -> Scene:
    """A scene of the book as it stood, or the nearest to it that can be read."""
    for each in _states(connection, name, row):
        try:
            scene = store.read_scene(connection, each)
        except _BROKEN:
            continue
        if each != row:
            losses.append(f"“{scene.title or name}” is as an earlier snapshot has it.")
        return scene
    facts = _read(
        connection,
        "SELECT body FROM document JOIN scene_state ON document.id = facts"
        " WHERE scene_state.id = ?",
        row,
    )
    try:
        scene = scene_from_json(str(facts[0][0]))
    except (Unreadable, IndexError):
        scene = Scene(name)
    kept = tuple(_paragraphs(connection, _paragraph_rows(connection, row)))
    losses.append(f"“{scene.title or name}” is not whole: {len(kept)} paragraphs could be read.")
    return Scene(scene.id, scene.title, Passage.of(kept), scene.sheet, scene.passed)


def _cover(connection: sqlite3.Connection, outline: str, losses: list[str]) -> Picture | None:
    try:
        return store.read_cover(connection, outline)
    except _BROKEN:
        losses.append("The picture of the cover cannot be read; choose it again.")
        return None


def _states(connection: sqlite3.Connection, name: str, row: int) -> Iterator[int]:
    """This state of a scene, then every other there is of it, latest first."""
    yield row
    for other in reversed(_rows(connection, "scene_state")):
        named = _read(connection, "SELECT scene FROM scene_state WHERE id = ?", other)
        if other != row and named == [(name,)]:
            yield other


def _paragraph_rows(connection: sqlite3.Connection, scene_state: int) -> list[int]:
    found = _read(
        connection,
        "SELECT paragraph FROM passage_paragraph JOIN scene_state USING (passage)"
        " WHERE scene_state.id = ? ORDER BY number",
        scene_state,
    )
    return [int(str(row)) for (row,) in found]


def _paragraphs(connection: sqlite3.Connection, rows: list[int]) -> Iterator[Paragraph]:
    for row in rows:
        for stored in _read(
            connection, "SELECT style, text, spans FROM paragraph WHERE id = ?", row
        ):
            try:
                yield paragraph_from(*map(str, stored))
            except Unreadable:
                yield Paragraph(" ".join(str(stored[1]).split()))


def _rows(connection: sqlite3.Connection, table: str) -> list[int]:
    """The rows of a table, through its own pages or, where those are torn, through an index."""
    found: set[int] = set()
    for hint in ("NOT INDEXED", ""):
        try:
            for (row,) in connection.execute(f"SELECT id FROM {table} {hint}"):
                found.add(row)
        except sqlite3.Error:
            continue
    return sorted(found)


def _read(connection: sqlite3.Connection, statement: str, row: int) -> list[tuple[object, ...]]:
    """The rows of a statement as far as they can be read."""
    found: list[tuple[object, ...]] = []
    try:
        for each in connection.execute(statement, (row,)):
            found.append(each)
    except sqlite3.Error:
        pass
    return found
