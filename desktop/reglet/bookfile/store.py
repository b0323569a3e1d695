"""Reading and writing states of the book in the tables of `schema`. Knows no files and no locks.

Each thing is stored once, under the hash of what it says, and taken away when no state holds it any
more. The caller opens and commits the transaction.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from reglet.bookfile.encoding import (
    Unreadable,
    book_from_json,
    cover_key,
    facts_to_json,
    hash_of,
    outline_to_json,
    paragraph_from,
    scene_from_json,
    scene_ids,
    scene_to_json,
    scenes_in_order,
    spans_to_json,
    storable,
)
from reglet.manuscript.book import Book
from reglet.manuscript.paragraph import Paragraph
from reglet.manuscript.passage import Passage
from reglet.manuscript.picture import Picture
from reglet.manuscript.scene import Scene
from reglet.manuscript.stage import Stage


@dataclass(frozen=True)
class Stored:
    """A book and the rows that hold it: what the next save compares with."""

    book: Book
    outline: int
    facts: int
    scene_states: tuple[int, ...]


@dataclass(frozen=True)
class Document:
    """A stored document."""

    row: int
    body: str


def write_new_state(connection: sqlite3.Connection, book: Book) -> tuple[int, Stored]:
    """A first state of the book, and its row."""
    _keep_cover(connection, book)
    outline = _document(connection, outline_to_json(book))
    facts = _document(connection, facts_to_json(book))
    state = _inserted(
        connection, "INSERT INTO state (outline, facts) VALUES (?, ?)", (outline, facts)
    )
    rows = tuple(_scene_state(connection, scene) for scene in scenes_in_order(book))
    _fill(connection, state, rows)
    return state, Stored(book, outline, facts, rows)


def update_state(connection: sqlite3.Connection, state: int, old: Stored, book: Book) -> Stored:
    """`state`, which holds `old`, made to hold `book`. Only what changed is written."""
    known = {
        scene.id: (scene, row)
        for scene, row in zip(scenes_in_order(old.book), old.scene_states, strict=True)
    }
    rows: list[int] = []
    for scene in scenes_in_order(book):
        before, row = known.get(scene.id, (None, 0))
        same = before is scene or before == scene
        rows.append(row if same else _scene_state(connection, scene))
    if book.cover != old.book.cover:
        _keep_cover(connection, book)
    outline = _document(connection, outline_to_json(book))
    facts = _document(connection, facts_to_json(book))
    if (outline, facts) != (old.outline, old.facts):
        connection.execute(
            "UPDATE state SET outline = ?, facts = ? WHERE id = ?", (outline, facts, state)
        )
    if len(rows) == len(old.scene_states):
        connection.executemany(
            "UPDATE state_scene SET scene_state = ? WHERE state = ? AND place = ?",
            [
                (row, state, place)
                for place, (row, before) in enumerate(zip(rows, old.scene_states, strict=True))
                if row != before
            ],
        )
    else:
        connection.execute("DELETE FROM state_scene WHERE state = ?", (state,))
        _fill(connection, state, rows)
    _forget_scene_states(connection, set(old.scene_states) - set(rows))
    _forget_documents(connection, {old.outline, old.facts} - {outline, facts})
    if book.cover != old.book.cover:
        _forget_pictures(connection)
    return Stored(book, outline, facts, tuple(rows))


def copy_state(connection: sqlite3.Connection, state: int) -> int:
    """Another state that holds what `state` holds."""
    copy = _inserted(
        connection,
        "INSERT INTO state (outline, facts) SELECT outline, facts FROM state WHERE id = ?",
        (state,),
    )
    connection.execute(
        "INSERT INTO state_scene SELECT ?, place, scene_state FROM state_scene WHERE state = ?",
        (copy, state),
    )
    return copy


def holds_the_same(connection: sqlite3.Connection, one: int, other: int) -> bool:
    """Whether two states of the book are the same in everything."""
    first, second = (
        (
            connection.execute("SELECT outline, facts FROM state WHERE id = ?", (each,)).fetchone(),
            list(scene_states_of(connection, each)),
        )
        for each in (one, other)
    )
    return first == second


def copy_scenes(connection: sqlite3.Connection, scene_states: Sequence[int]) -> int:
    """A state of these scenes alone."""
    state = _inserted(connection, "INSERT INTO state (outline, facts) VALUES (NULL, NULL)", ())
    _fill(connection, state, scene_states)
    return state


def read_now(connection: sqlite3.Connection) -> tuple[int, Stage]:
    """The state that is the book as it stands, and the stage it is in.

    Raises Unreadable, sqlite3.Error.
    """
    rows = connection.execute("SELECT state, stage FROM now").fetchall()
    if len(rows) != 1:
        raise Unreadable("it does not say which state of the book is the present one")
    try:
        return int(rows[0][0]), Stage(rows[0][1])
    except ValueError as error:
        raise Unreadable(str(error)) from error


def documents_of(connection: sqlite3.Connection, state: int) -> tuple[Document, Document]:
    """The outline and the facts of a state of the whole book. Raises Unreadable, sqlite3.Error."""
    found = connection.execute(
        "SELECT outline.id, outline.body, facts.id, facts.body FROM state"
        " JOIN document AS outline ON outline.id = state.outline"
        " JOIN document AS facts ON facts.id = state.facts WHERE state.id = ?",
        (state,),
    ).fetchone()
    if found is None:
        raise Unreadable("a state of the book has no outline")
    return Document(*found[:2]), Document(*found[2:])


def read_book(connection: sqlite3.Connection, state: int) -> Stored:
    """The book that `state` holds. Raises Unreadable, sqlite3.Error."""
    outline, facts = documents_of(connection, state)
    passages = _passages(connection, state)
    rows: list[int] = []
    scenes: list[Scene] = []
    for row, passage, body in connection.execute(
        "SELECT scene_state.id, scene_state.passage, document.body FROM state_scene"
        " JOIN scene_state ON scene_state.id = state_scene.scene_state"
        " JOIN document ON document.id = scene_state.facts WHERE state = ? ORDER BY place",
        (state,),
    ):
        rows.append(row)
        scenes.append(_scene(body, passages.get(passage)))
    if [scene.id for scene in scenes] != scene_ids(outline.body):
        raise Unreadable("the scenes stored are not those that the outline names")
    book = book_from_json(outline.body, facts.body, iter(scenes))
    book = replace(book, cover=read_cover(connection, outline.body))
    return Stored(book, outline.row, facts.row, tuple(rows))


def read_cover(connection: sqlite3.Connection, outline: str) -> Picture | None:
    """The cover that an outline names, if any. Raises Unreadable, sqlite3.Error."""
    key = cover_key(outline)
    if key is None:
        return None
    found = connection.execute(
        "SELECT media_type, width, height, data FROM picture WHERE hash = ?", (key,)
    ).fetchone()
    if found is None:
        raise Unreadable("the picture of its cover is not stored")
    return Picture(*found)


def read_scene(connection: sqlite3.Connection, scene_state: int) -> Scene:
    """One stored scene. Raises Unreadable, sqlite3.Error."""
    found = connection.execute(
        "SELECT passage, body FROM scene_state JOIN document ON document.id = facts"
        " WHERE scene_state.id = ?",
        (scene_state,),
    ).fetchone()
    if found is None:
        raise Unreadable("a state names a scene that is not stored")
    return _scene(found[1], read_passage(connection, found[0]))


def read_passage(connection: sqlite3.Connection, passage: int) -> Passage:
    """One stored text. Raises Unreadable, sqlite3.Error."""
    rows = connection.execute(
        "SELECT style, text, spans FROM passage_paragraph"
        " JOIN paragraph ON paragraph.id = paragraph WHERE passage = ? ORDER BY number",
        (passage,),
    ).fetchall()
    if not rows:
        raise Unreadable("a text holds no paragraph")
    return Passage(tuple(paragraph_from(*row) for row in rows))


def paragraph_hash(style: str, text: str, spans: str) -> bytes:
    """What a paragraph is stored under."""
    return hash_of(style, text, spans)


def passage_hash(paragraphs: Iterable[bytes]) -> bytes:
    """What a text is stored under, from its paragraphs' hashes in order."""
    return hash_of(*(each.hex() for each in paragraphs))


def _scene(body: str, passage: Passage | None) -> Scene:
    scene = scene_from_json(body)
    if passage is None:
        raise Unreadable(f"the text of scene {scene.id} is not stored")
    return replace(scene, passage=passage)  # whatever fields a scene has, none is forgotten


def _passages(connection: sqlite3.Connection, state: int) -> dict[int, Passage]:
    """Every text that a state holds, by its row."""
    paragraphs: dict[int, Paragraph] = {}
    found: dict[int, list[Paragraph]] = {}
    for passage, row, *stored in connection.execute(
        "SELECT passage_paragraph.passage, paragraph.id, style, text, spans"
        " FROM (SELECT DISTINCT passage FROM state_scene"
        "  JOIN scene_state ON scene_state.id = scene_state WHERE state = ?) AS held"
        " JOIN passage_paragraph ON passage_paragraph.passage = held.passage"
        " JOIN paragraph ON paragraph.id = passage_paragraph.paragraph"
        " ORDER BY passage_paragraph.passage, number",
        (state,),
    ):
        if row not in paragraphs:
            paragraphs[row] = paragraph_from(*stored)
        found.setdefault(passage, []).append(paragraphs[row])
    return {passage: Passage(tuple(each)) for passage, each in found.items()}


def _scene_state(connection: sqlite3.Connection, scene: Scene) -> int:
    passage = _passage(connection, scene.passage)
    facts = _document(connection, scene_to_json(scene))
    connection.execute(
        "INSERT OR IGNORE INTO scene_state (scene, passage, facts, words) VALUES (?, ?, ?, ?)",
        (storable(scene.id), passage, facts, scene.passage.word_count),
    )
    return _found(
        connection, "SELECT id FROM scene_state WHERE passage = ? AND facts = ?", (passage, facts)
    )


def _passage(connection: sqlite3.Connection, passage: Passage) -> int:
    rows = [(p.style.value, storable(p.text), spans_to_json(p)) for p in passage.paragraphs]
    hashes = [paragraph_hash(*row) for row in rows]
    whole = passage_hash(hashes)
    there = connection.execute("SELECT id FROM passage WHERE hash = ?", (whole,)).fetchone()
    if there:
        return int(there[0])
    connection.executemany(
        "INSERT OR IGNORE INTO paragraph (hash, style, text, spans) VALUES (?, ?, ?, ?)",
        [(each, *row) for each, row in zip(hashes, rows, strict=True)],
    )
    made = _inserted(connection, "INSERT INTO passage (hash) VALUES (?)", (whole,))
    connection.executemany(
        "INSERT INTO passage_paragraph SELECT ?, ?, id FROM paragraph WHERE hash = ?",
        [(made, number, each) for number, each in enumerate(hashes)],
    )
    return made


def _document(connection: sqlite3.Connection, body: str) -> int:
    key = hash_of(body)
    connection.execute("INSERT OR IGNORE INTO document (hash, body) VALUES (?, ?)", (key, body))
    return _found(connection, "SELECT id FROM document WHERE hash = ?", (key,))


def _keep_cover(connection: sqlite3.Connection, book: Book) -> None:
    if cover := book.cover:
        connection.execute(
            "INSERT OR IGNORE INTO picture (hash, media_type, width, height, data)"
            " VALUES (?, ?, ?, ?, ?)",
            (cover.digest, cover.media_type, cover.width, cover.height, cover.data),
        )


def _forget_pictures(connection: sqlite3.Connection) -> None:
    """Take away the pictures that no outline names."""
    connection.execute(
        "DELETE FROM picture WHERE NOT EXISTS"
        " (SELECT 1 FROM state JOIN document ON document.id = state.outline"
        "  WHERE json_extract(document.body, '$.cover') = lower(hex(picture.hash)))"
    )


def _fill(connection: sqlite3.Connection, state: int, scene_states: Iterable[int]) -> None:
    connection.executemany(
        "INSERT INTO state_scene VALUES (?, ?, ?)",
        [(state, place, row) for place, row in enumerate(scene_states)],
    )


def _forget_scene_states(connection: sqlite3.Connection, candidates: Iterable[int]) -> None:
    """Take away those of these scene states that no state holds, with what only they held."""
    for row in candidates:
        gone = connection.execute(
            "DELETE FROM scene_state WHERE id = ?1"
            " AND NOT EXISTS (SELECT 1 FROM state_scene WHERE scene_state = ?1)"
            " RETURNING passage, facts",
            (row,),
        ).fetchall()
        for passage, facts in gone:
            _forget_documents(connection, (facts,))
            _forget_passage(connection, passage)


def _forget_passage(connection: sqlite3.Connection, passage: int) -> None:
    held = "SELECT 1 FROM scene_state WHERE passage = ?"
    if connection.execute(held, (passage,)).fetchone():
        return
    paragraphs = connection.execute(
        "DELETE FROM passage_paragraph WHERE passage = ? RETURNING paragraph", (passage,)
    ).fetchall()
    connection.execute("DELETE FROM passage WHERE id = ?", (passage,))
    connection.executemany(
        "DELETE FROM paragraph WHERE id = ?1"
        " AND NOT EXISTS (SELECT 1 FROM passage_paragraph WHERE paragraph = ?1)",
        paragraphs,
    )


def _forget_documents(connection: sqlite3.Connection, candidates: Iterable[int]) -> None:
    connection.executemany(
        "DELETE FROM document WHERE id = ?1"
        " AND NOT EXISTS (SELECT 1 FROM scene_state WHERE facts = ?1)"
        " AND NOT EXISTS (SELECT 1 FROM state WHERE outline = ?1 OR facts = ?1)",
        [(row,) for row in candidates],
    )


def _inserted(connection: sqlite3.Connection, statement: str, values: tuple[object, ...]) -> int:
    row = connection.execute(statement, values).lastrowid
    assert row is not None
    return row


def _found(connection: sqlite3.Connection, statement: str, values: tuple[object, ...]) -> int:
    return int(connection.execute(statement, values).fetchone()[0])


def scene_states_of(connection: sqlite3.Connection, state: int) -> Iterator[tuple[str, int, int]]:
    """The scenes that a state holds, in order: id, row, words."""
    yield from connection.execute(
        "SELECT scene, scene_state.id, words FROM state_scene"
        " JOIN scene_state ON scene_state.id = scene_state WHERE state = ? ORDER BY place",
        (state,),
    )
