"""Snapshots in the tables: taking them, listing them, reading what they hold.

The caller opens and commits the transaction.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from reglet.bookfile import store
from reglet.bookfile.encoding import Unreadable, scenes_in_order, storable
from reglet.bookfile.snapshot import Reason, Snapshot
from reglet.bookfile.store import Stored
from reglet.errors import UnknownThing
from reglet.manuscript.book import Book
from reglet.manuscript.scene import Scene
from reglet.manuscript.stage import Stage


def take(
    connection: sqlite3.Connection,
    now: int,
    stored: Stored,
    label: str,
    reason: Reason,
    stage: Stage,
    scene_ids: Sequence[str] | None,
    when: datetime,
) -> str:
    """A snapshot of `now`, which holds `stored`, or of these scenes of it; its id.

    Raises UnknownThing for a scene that is not in the book.
    """
    if scene_ids is None:
        state = store.copy_state(connection, now)
        counted = {scene.id for scene in stored.book.scenes}
    else:
        rows = {
            scene.id: row
            for scene, row in zip(scenes_in_order(stored.book), stored.scene_states, strict=True)
        }
        counted = {stored.book.scene(each).id for each in scene_ids}
        state = store.copy_scenes(connection, [rows[each] for each in scene_ids])
    held = store.scene_states_of(connection, state)
    words = sum(count for scene, _, count in held if scene in counted)
    row = connection.execute(
        "INSERT INTO snapshot (state, label, reason, stage, made, words) VALUES (?, ?, ?, ?, ?, ?)",
        (state, storable(label), reason, stage, when.isoformat(), words),
    ).lastrowid
    return str(row)


def listed(connection: sqlite3.Connection, scene_id: str | None = None) -> tuple[Snapshot, ...]:
    """All snapshots, or those that hold this scene, oldest first."""
    if scene_id is None:
        rows = connection.execute(f"{_SNAPSHOTS} ORDER BY snapshot.id").fetchall()
    else:
        rows = connection.execute(
            "SELECT snapshot.id, label, reason, stage, made, scene_state.words, snapshot.state,"
            " outline IS NULL FROM snapshot JOIN state ON state.id = snapshot.state"
            " JOIN state_scene ON state_scene.state = snapshot.state"
            " JOIN scene_state ON scene_state.id = scene_state"
            " WHERE scene = ? GROUP BY snapshot.id ORDER BY snapshot.id",
            (scene_id,),
        ).fetchall()
    return tuple(_snapshot(connection, row) for row in rows)


def find(connection: sqlite3.Connection, snapshot_id: str) -> tuple[Snapshot, int]:
    """The snapshot of this id, and the row of its state. Raises UnknownThing."""
    row = None
    if snapshot_id.isascii() and snapshot_id.isdecimal():
        row = connection.execute(
            f"{_SNAPSHOTS} WHERE snapshot.id = ?", (min(int(snapshot_id), 2**62),)
        ).fetchone()
    if row is None:
        raise UnknownThing(
            f"There is no snapshot “{snapshot_id}” of this book. Its history lists those there are."
        )
    return _snapshot(connection, row), int(row[6])


def book_at(connection: sqlite3.Connection, snapshot_id: str) -> Book:
    """The book as a snapshot holds it. Raises UnknownThing, also where it holds scenes only."""
    snapshot, state = find(connection, snapshot_id)
    if snapshot.scenes is not None:
        raise UnknownThing(
            f"Snapshot {snapshot_id} holds {_named(snapshot.scenes)} and not the whole book. "
            "Ask for a scene of it."
        )
    return store.read_book(connection, state).book


def scene_at(connection: sqlite3.Connection, snapshot_id: str, scene_id: str) -> Scene:
    """A scene as a snapshot holds it. Raises UnknownThing."""
    _, state = find(connection, snapshot_id)
    for found, row, _ in store.scene_states_of(connection, state):
        if found == scene_id:
            return store.read_scene(connection, row)
    raise UnknownThing(
        f"Snapshot {snapshot_id} does not hold the scene “{scene_id}”. The scene's own history "
        "lists those that do."
    )


def same_entrance(connection: sqlite3.Connection, stage: Stage, now: int) -> str | None:
    """The latest snapshot taken on entering this stage, if the book has not changed since."""
    row = connection.execute(
        "SELECT id, state FROM snapshot WHERE reason = ? AND stage = ? ORDER BY id DESC LIMIT 1",
        (Reason.ENTERING_STAGE, stage),
    ).fetchone()
    if row is None:
        return None
    return str(row[0]) if store.holds_the_same(connection, row[1], now) else None


@dataclass(frozen=True)
class MissingDifference:
    """A scene whose text changed between two entrances to stages, its two texts, by their rows."""

    earlier: int
    later: int
    scene: str
    old: int
    new: int


def missing_differences(connection: sqlite3.Connection) -> tuple[MissingDifference, ...]:
    """What is still to be stored: after an entrance, and where a crash came between.

    Scenes that only one of two states holds are told by the states themselves.
    """
    rows = connection.execute(
        "WITH entrance AS ("
        " SELECT id AS later, state, lag(id) OVER (ORDER BY id) AS earlier,"
        " lag(state) OVER (ORDER BY id) AS state_before FROM snapshot WHERE reason = ?)"
        " SELECT earlier, later, new.scene, old.passage, new.passage FROM entrance"
        " JOIN state_scene AS there ON there.state = state_before"
        " JOIN scene_state AS old ON old.id = there.scene_state"
        " JOIN state_scene AS here ON here.state = entrance.state"
        " JOIN scene_state AS new ON new.id = here.scene_state AND new.scene = old.scene"
        " WHERE old.passage <> new.passage AND NOT EXISTS (SELECT 1 FROM stage_difference AS known"
        "  WHERE known.earlier = entrance.earlier AND known.later = entrance.later"
        "  AND known.scene = new.scene)",
        (Reason.ENTERING_STAGE,),
    )
    return tuple(MissingDifference(*row) for row in rows)


def store_difference(
    connection: sqlite3.Connection, missing: MissingDifference, steps: str
) -> None:
    """Keep the steps that have been proved to lead from the one text to the other."""
    connection.execute(
        "INSERT OR IGNORE INTO stage_difference VALUES (?, ?, ?, ?)",
        (missing.earlier, missing.later, missing.scene, steps),
    )


_SNAPSHOTS = (
    "SELECT snapshot.id, label, reason, stage, made, words, snapshot.state, outline IS NULL"
    " FROM snapshot JOIN state ON state.id = snapshot.state"
)


def _snapshot(connection: sqlite3.Connection, row: tuple[object, ...]) -> Snapshot:
    number, label, reason, stage, made, words, state, of_scenes = row
    scenes = None
    if of_scenes:
        scenes = tuple(each[0] for each in store.scene_states_of(connection, int(str(state))))
    try:
        return Snapshot(
            str(number),
            str(label),
            Reason(str(reason)),
            Stage(str(stage)),
            datetime.fromisoformat(str(made)),
            scenes,
            int(str(words)),
        )
    except ValueError as error:
        raise Unreadable(f"snapshot {number}: {error}") from error


def _named(scenes: Sequence[str]) -> str:
    return f"the scene “{scenes[0]}”" if len(scenes) == 1 else f"{len(scenes)} scenes"
