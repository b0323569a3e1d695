"""The tables of a book file, and the way from each earlier form of them to the present one."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping

APPLICATION_ID = int.from_bytes(b"RGLT", "big")
"""Marks an SQLite file as a book of Reglet (SQLite's `application_id`)."""

VERSION = 2
"""The form of the tables below, kept in SQLite's `user_version`."""

_PICTURES = """
-- A picture that belongs to the book, stored once: an outline names its cover by the hash.
CREATE TABLE picture (
    id INTEGER PRIMARY KEY,
    hash BLOB NOT NULL UNIQUE,              -- of the data
    media_type TEXT NOT NULL,               -- image/png, image/jpeg
    width INTEGER NOT NULL,                 -- in pixels
    height INTEGER NOT NULL,
    data BLOB NOT NULL
) STRICT;
"""

TABLES = f"""
-- A paragraph, stored once however often it stands in the book or its history.
CREATE TABLE paragraph (
    id INTEGER PRIMARY KEY,
    hash BLOB NOT NULL UNIQUE,              -- of style, text, spans
    style TEXT NOT NULL,
    text TEXT NOT NULL,
    spans TEXT NOT NULL                     -- [[start, end, kind, value], …], in code points
) STRICT;

-- The text of a scene: paragraphs in order.
CREATE TABLE passage (
    id INTEGER PRIMARY KEY,
    hash BLOB NOT NULL UNIQUE               -- of the paragraphs' hashes, in hexadecimal
) STRICT;

CREATE TABLE passage_paragraph (
    passage INTEGER NOT NULL REFERENCES passage,
    number INTEGER NOT NULL,
    paragraph INTEGER NOT NULL REFERENCES paragraph,
    PRIMARY KEY (passage, number)
) STRICT, WITHOUT ROWID;
CREATE INDEX passages_of_paragraph ON passage_paragraph (paragraph);

-- Anything else of a book, as JSON.
CREATE TABLE document (
    id INTEGER PRIMARY KEY,
    hash BLOB NOT NULL UNIQUE,              -- of the body
    body TEXT NOT NULL
) STRICT;

-- A scene in one state: its text, and its other facts (title, sheet, notes, stets) as a document.
CREATE TABLE scene_state (
    id INTEGER PRIMARY KEY,
    scene TEXT NOT NULL,
    passage INTEGER NOT NULL REFERENCES passage,
    facts INTEGER NOT NULL REFERENCES document,
    words INTEGER NOT NULL,
    UNIQUE (passage, facts)
) STRICT;
CREATE INDEX states_of_facts ON scene_state (facts);

-- A state of the book, or of some scenes of it: then it has no outline and no facts.
CREATE TABLE state (
    id INTEGER PRIMARY KEY,
    outline INTEGER REFERENCES document,    -- title, author, parts, chapters, scenes, cover
    facts INTEGER REFERENCES document       -- plan, cast, threads, style sheet
) STRICT;

-- Its scenes: front matter, body and back matter in order, then the Offcuts.
CREATE TABLE state_scene (
    state INTEGER NOT NULL REFERENCES state,
    place INTEGER NOT NULL,
    scene_state INTEGER NOT NULL REFERENCES scene_state,
    PRIMARY KEY (state, place)
) STRICT, WITHOUT ROWID;
CREATE INDEX states_of_scene_state ON state_scene (scene_state);

-- The book as it stands: one row.
CREATE TABLE now (
    state INTEGER NOT NULL REFERENCES state,
    stage TEXT NOT NULL
) STRICT;

CREATE TABLE snapshot (
    id INTEGER PRIMARY KEY AUTOINCREMENT,   -- never given twice
    state INTEGER NOT NULL REFERENCES state,
    label TEXT NOT NULL,
    reason TEXT NOT NULL,
    stage TEXT NOT NULL,
    made TEXT NOT NULL,                     -- ISO 8601 with the zone
    words INTEGER NOT NULL
) STRICT;

{_PICTURES}
-- What a scene's text went through between the snapshots at the starts of two stages.
CREATE TABLE stage_difference (
    earlier INTEGER NOT NULL REFERENCES snapshot,
    later INTEGER NOT NULL REFERENCES snapshot,
    scene TEXT NOT NULL,
    steps TEXT NOT NULL,                    -- JSON, see stage_difference.py
    PRIMARY KEY (earlier, later, scene)
) STRICT, WITHOUT ROWID;

-- Where each scene stands in each state's order of parts and chapters.
CREATE VIEW division AS
SELECT state.id AS state,
       json_extract(part.value, '$.title') AS part,
       json_extract(chapter.value, '$.title') AS chapter,
       scene.value AS scene
FROM state
JOIN document ON document.id = state.outline,
     json_each(document.body, '$.parts') AS part,
     json_each(part.value, '$.chapters') AS chapter,
     json_each(chapter.value, '$.scenes') AS scene;

-- Every word of every state, one paragraph a row. Offcuts, front and back matter have no chapter.
CREATE VIEW every_word AS
SELECT state_scene.state, state_scene.place, passage_paragraph.number,
       division.part, division.chapter, scene_state.scene,
       json_extract(facts.body, '$.title') AS title,
       paragraph.style, paragraph.text, paragraph.spans
FROM state_scene
JOIN scene_state ON scene_state.id = state_scene.scene_state
JOIN document AS facts ON facts.id = scene_state.facts
JOIN passage_paragraph ON passage_paragraph.passage = scene_state.passage
JOIN paragraph ON paragraph.id = passage_paragraph.paragraph
LEFT JOIN division ON division.state = state_scene.state AND division.scene = scene_state.scene;

-- Every word of the book as it stands.
CREATE VIEW every_word_now AS
SELECT * FROM every_word WHERE state = (SELECT state FROM now) ORDER BY place, number;
"""

MIGRATIONS: Mapping[int, str] = {1: _PICTURES}
"""For each earlier version, the SQL that leads from it to the next."""


def create_tables(connection: sqlite3.Connection) -> None:
    """The tables of an empty book file."""
    connection.executescript(
        f"PRAGMA application_id = {APPLICATION_ID}; PRAGMA user_version = {VERSION};"
        f"BEGIN; {TABLES} COMMIT;"
    )


def migrate(connection: sqlite3.Connection, version: int) -> None:
    """Lead the tables from `version` to `VERSION`, all the way or not at all.

    Raises sqlite3.Error, with nothing changed.
    """
    steps = [MIGRATIONS[each] for each in range(version, VERSION)]
    try:
        connection.executescript(
            "BEGIN IMMEDIATE;" + ";".join([*steps, f"PRAGMA user_version = {VERSION}", "COMMIT"])
        )
    except sqlite3.Error:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise
