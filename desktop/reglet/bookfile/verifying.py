"""Everything a book file promises, checked from the ground up."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator

from reglet.bookfile import store
from reglet.bookfile.encoding import Unreadable, book_from_json, hash_of, scene_ids
from reglet.bookfile.history import listed
from reglet.bookfile.stage_difference import follow
from reglet.manuscript.picture import Picture
from reglet.manuscript.scene import Scene

Progress = Callable[[int, int], None]
"""Told how many of how many steps are done."""


def problems(connection: sqlite3.Connection, progress: Progress | None = None) -> list[str]:
    """A sentence for each promise that does not hold; none if the file is sound.

    SQLite's own integrity check; the hash of every paragraph, text, document and picture taken
    again; every scene read and its words counted; every snapshot read; every stored difference
    followed.
    """
    checks: tuple[Callable[[sqlite3.Connection], Iterator[str]], ...] = (
        _pages,
        _paragraphs,
        _passages,
        _documents,
        _pictures,
        _scenes,
        _states,
        _differences,
    )
    found: list[str] = []
    for done, check in enumerate(checks):
        if progress:
            progress(done, len(checks))
        try:
            found += check(connection)
        except sqlite3.Error as error:
            found.append(f"The file cannot be read on: {error}.")
    if progress:
        progress(len(checks), len(checks))
    return list(dict.fromkeys(found))


def _pages(connection: sqlite3.Connection) -> Iterator[str]:
    for (line,) in connection.execute("PRAGMA integrity_check(20)"):
        if line != "ok":
            yield f"SQLite reports: {line}."
    for table, row, parent, _ in connection.execute("PRAGMA foreign_key_check"):
        yield f"Row {row} of “{table}” stands for something in “{parent}” that is not there."


def _paragraphs(connection: sqlite3.Connection) -> Iterator[str]:
    for row, key, *stored in connection.execute(
        "SELECT id, hash, style, text, spans FROM paragraph"
    ):
        if store.paragraph_hash(*stored) != key:
            yield f"Paragraph {row} is not what was saved{_place(connection, row)}."


def _passages(connection: sqlite3.Connection) -> Iterator[str]:
    for row, key in connection.execute("SELECT id, hash FROM passage").fetchall():
        stored = connection.execute(
            "SELECT number, hash FROM passage_paragraph"
            " JOIN paragraph ON paragraph.id = paragraph WHERE passage = ? ORDER BY number",
            (row,),
        ).fetchall()
        in_order = [number for number, _ in stored] == list(range(len(stored)))
        if not in_order or store.passage_hash(each for _, each in stored) != key:
            yield f"Text {row} does not have the paragraphs it was saved with."


def _documents(connection: sqlite3.Connection) -> Iterator[str]:
    for row, key, body in connection.execute("SELECT id, hash, body FROM document"):
        if hash_of(body) != key:
            yield f"Document {row} is not what was saved."


def _pictures(connection: sqlite3.Connection) -> Iterator[str]:
    for row, key, data in connection.execute("SELECT id, hash, data FROM picture"):
        if Picture("", 0, 0, data).digest != key:
            yield f"Picture {row} is not what was saved."
    for (named,) in connection.execute(
        "SELECT json_extract(body, '$.cover') AS named FROM state"
        " JOIN document ON document.id = state.outline WHERE named IS NOT NULL"
        " AND NOT EXISTS (SELECT 1 FROM picture WHERE lower(hex(hash)) = named)"
    ):
        yield f"The picture {named}, a cover of the book, is not there."


def _scenes(connection: sqlite3.Connection) -> Iterator[str]:
    for row, name, words in connection.execute(
        "SELECT id, scene, words FROM scene_state"
    ).fetchall():
        try:
            scene = store.read_scene(connection, row)
        except Unreadable as error:
            yield f"A state of the scene “{name}” cannot be read: {error}."
            continue
        if scene.id != name:
            yield f"A state of the scene “{name}” says that it is of “{scene.id}”."
        if scene.passage.word_count != words:
            yield f"A state of the scene “{name}” does not have the {words} words noted for it."


def _states(connection: sqlite3.Connection) -> Iterator[str]:
    """Their scenes have been read by `_scenes`; here, whether each state is whole."""
    named = []
    try:
        named.append(("The book as it stands", store.read_now(connection)[0]))
    except Unreadable as error:
        yield f"The book cannot be opened: {error}."
    try:
        for snapshot in listed(connection):
            if snapshot.scenes is None:
                (row,) = connection.execute(
                    "SELECT state FROM snapshot WHERE id = ?", (int(snapshot.id),)
                ).fetchone()
                named.append((f"Snapshot {snapshot.id}", row))
            elif not snapshot.scenes:
                yield f"Snapshot {snapshot.id} holds nothing."
    except Unreadable as error:
        yield f"The list of snapshots cannot be read: {error}."
    read: dict[tuple[int, int], list[str]] = {}
    for name, row in named:
        try:
            outline, facts = store.documents_of(connection, row)
            key = outline.row, facts.row
            if key not in read:
                read[key] = scene_ids(outline.body)
                book_from_json(outline.body, facts.body, map(Scene, read[key]))
            if [scene for scene, _, _ in store.scene_states_of(connection, row)] != read[key]:
                raise Unreadable("it does not hold the scenes that its outline names")
        except Unreadable as error:
            yield f"{name} cannot be read: {error}."


def _differences(connection: sqlite3.Connection) -> Iterator[str]:
    of_scene = (
        "SELECT scene_state FROM snapshot JOIN state_scene ON state_scene.state = snapshot.state"
        " JOIN scene_state ON scene_state.id = scene_state WHERE snapshot.id = ? AND scene = ?"
    )
    for earlier, later, scene, steps in connection.execute(
        "SELECT earlier, later, scene, steps FROM stage_difference"
    ).fetchall():
        rows = [connection.execute(of_scene, (each, scene)).fetchone() for each in (earlier, later)]
        try:
            if None in rows:
                raise Unreadable("one of them does not hold the scene")
            old, new = (store.read_scene(connection, row[0]).passage for row in rows)
            if follow(old, steps) != new:
                raise Unreadable("it leads to another text")
        except Unreadable as error:
            yield (
                f"The difference of the scene “{scene}” between snapshots {earlier} and {later} "
                f"does not hold: {error}."
            )


def _place(connection: sqlite3.Connection, paragraph: int) -> str:
    found = connection.execute(
        "SELECT scene FROM passage_paragraph JOIN scene_state USING (passage) WHERE paragraph = ?",
        (paragraph,),
    ).fetchone()
    return f", in the scene “{found[0]}”" if found else ""
