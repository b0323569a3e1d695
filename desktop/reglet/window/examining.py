"""Queries for the page, computed in another process and kept true while the writer types on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from PySide6.QtCore import QObject, QTimer, Signal

from reglet.manuscript.book import Book, StyleSheet
from reglet.manuscript.change import Change
from reglet.manuscript.passage import Passage
from reglet.manuscript.stage import Stage
from reglet.overlays.query import Query
from reglet.overlays.register import of_stage
from reglet.window.examiner_process import Request, Result, shell_of, work
from reglet.window.side_process import SideProcess

SOON_MS = 350
"""From an edit to asking about its scene."""
FIRST_MS = 60
"""From laying a scene open that is not examined yet to asking for it before the others."""
IDLE_MS = 2500
"""From the last edit to asking about the whole book, as an edit can matter to other scenes."""


class Examining(QObject):
    """Asks for queries as the book changes, and keeps those it has in their place."""

    arrived = Signal(str)
    """The queries of a scene are there, or are others now."""
    finished = Signal()
    """All that was asked for is answered."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._book = Book()
        self._stage = Stage.FIRST_READ
        self._scene_id = ""
        self._number = 0
        self._asked = 0
        self._known: dict[str, Passage] = {}
        self._queries: dict[str, tuple[Query, ...]] = {}
        self._missing: set[str] = set()
        self._asked_again = False
        self._soon = QTimer(self, singleShot=True, interval=SOON_MS)
        self._soon.timeout.connect(self._ask)
        self._first = QTimer(self, singleShot=True, interval=FIRST_MS)
        self._first.timeout.connect(self._ask)
        self._idle = QTimer(self, singleShot=True, interval=IDLE_MS)
        self._idle.timeout.connect(self._ask_all)
        self.examiner = SideProcess(work, self)
        self.examiner.answered.connect(self._take_in)
        self.examiner.lost.connect(self._lose)

    # What there is

    def queries(self, scene_id: str) -> tuple[Query, ...]:
        """The queries of a scene that are known now, by place; those let stand are among them."""
        return self._queries.get(scene_id, ())

    def knows(self, scene_id: str) -> bool:
        """Whether a scene was examined in this stage, be it before its last change."""
        return scene_id in self._queries

    def is_waiting_for(self, scene_id: str) -> bool:
        """Whether a scene is still to be examined."""
        return scene_id in self._missing

    # What changes

    def look_at(self, book: Book, stage: Stage, scene_id: str) -> None:
        """Examine a book, or its new stage, from the beginning; the scene named comes first."""
        if stage is not self._stage or not self._queries:
            self._queries = {}
        self._book, self._stage, self._scene_id = book, stage, scene_id
        self._missing = {scene.id for scene in book.texts}
        self._ask()

    def follow(self, book: Book) -> None:
        """Take up what the book keeps of the work on it. A style sheet that lets overlays find
        something else has the whole book looked at again.
        """
        before, self._book = self._book.style_sheet, book
        if not _finds_as(book.style_sheet, before):
            self._ask_all()

    def forget(self) -> None:
        """Let all that is known of one book go before another is looked at."""
        self._queries, self._missing = {}, set()
        self._known.clear()
        self._number += 1

    def put_first(self, scene_id: str) -> None:
        """The scene whose queries are wanted first from now on."""
        if scene_id != self._scene_id and scene_id in self._missing:
            self._first.start()
        self._scene_id = scene_id

    def text_changed(self, book: Book, scene_id: str, change: Change) -> None:
        """Keep the queries of a scene in place through a change, and ask about it soon."""
        self._book = book
        if scene_id in self._queries:
            self._queries[scene_id] = tuple(carried(self._queries[scene_id], change))
        self._missing.add(scene_id)
        self._number += 1  # what was asked about the older text comes too late
        self._soon.start()
        self._idle.start()

    def facts_changed(self, book: Book, scene_id: str) -> None:
        """Ask soon about a scene whose sheet or stets are others now."""
        self._missing.add(scene_id)
        self._soon.start()
        self.follow(book)

    def answered(self, query: Query, *, everywhere: bool = False) -> None:
        """Leave out a query that was just answered, before the examiner has said so too; with
        `everywhere`, all of its overlay about the same words in the scene.
        """
        kept = tuple(
            each
            for each in self.queries(query.scene)
            if each != query
            and not (everywhere and (each.overlay, each.text) == (query.overlay, query.text))
        )
        self._queries[query.scene] = kept
        self.arrived.emit(query.scene)

    def close(self) -> None:
        """End the process."""
        self._soon.stop()
        self._first.stop()
        self._idle.stop()
        self.examiner.close()

    # The other process

    def _ask_all(self) -> None:
        self._missing = {scene.id for scene in self._book.texts}
        self._ask()

    def _ask(self) -> None:
        if not of_stage(self._stage):
            self.finished.emit()
            return
        self._number += 1
        self._asked = self._number
        order = [scene.id for scene in self._book.texts if scene.id in self._missing]
        if self._scene_id in self._missing:
            order.remove(self._scene_id)
            order.insert(0, self._scene_id)
        changed = tuple(
            scene for scene in self._book.texts if self._known.get(scene.id) is not scene.passage
        )
        self._known.update((scene.id, scene.passage) for scene in changed)
        self.examiner.send(
            Request(
                self._number,
                self._stage,
                shell_of(self._book),
                changed,
                tuple(order),
            )
        )

    def _lose(self) -> None:
        """Ask another process what the one that ended has not answered; but one after another that
        says nothing could go on for ever, and waits for the book's next change.
        """
        self._known.clear()
        if self._missing and not self._asked_again:
            self._asked_again = True
            self._ask()

    def _take_in(self, result: Result) -> None:
        self._asked_again = False
        if result.number != self._asked or self._asked != self._number:
            return
        if not result.scene:
            self.finished.emit()
            return
        # Until now nothing could mean that nothing is known.
        settled = result.scene in self._missing and not result.queries
        self._missing.discard(result.scene)
        if settled or self._queries.get(result.scene) != result.queries:
            self._queries[result.scene] = result.queries
            self.arrived.emit(result.scene)


def _finds_as(sheet: StyleSheet, other: StyleSheet) -> bool:
    """Whether overlays find the same with either style sheet."""
    return sheet is other or sheet == replace(
        other, said_as=sheet.said_as, off=sheet.off, aim=sheet.aim
    )


def carried(queries: Sequence[Query], change: Change) -> Iterator[Query]:
    """Queries where they stand after a change, without those whose words it touched.

    A key stroke is one replacement: what ends before it is the same query still, what starts
    behind it is shifted, and only what it falls into needs a closer look.
    """
    if not change.replacements:
        yield from queries
        return
    first, last = change.replacements[0], change.replacements[-1]
    shift = sum(each.length - (each.end - each.start) for each in change.replacements)
    for query in queries:
        if query.end <= first.start or query.about_the_scene:
            yield query
        elif query.start >= last.end:
            yield _moved(query, query.start + shift, query.end + shift)
        elif not change.touches(query.start, query.end):
            yield _moved(query, *change.carry_span(query.start, query.end))


def _moved(query: Query, start: int, end: int) -> Query:
    # Written out, as `dataclasses.replace` takes ten times as long, at every key stroke.
    return Query(
        query.overlay,
        query.stage,
        query.scene,
        start,
        end,
        query.text,
        query.message,
        query.mark,
        query.proposal,
        query.stet,
        query.choice,
        query.dress,
        query.chapter,
    )
