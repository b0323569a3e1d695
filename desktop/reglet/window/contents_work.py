"""What gestures in Contents do to the desk, and what of the desk Contents shows."""

from __future__ import annotations

from datetime import datetime
from functools import partial

from PySide6.QtCore import QObject, QTimer

from reglet.manuscript import arranging
from reglet.manuscript.book import Book
from reglet.manuscript.editing import pass_stage, set_verdicts
from reglet.manuscript.front_and_back import remove_matter
from reglet.manuscript.offcuts import cut_scenes, keep_alternatives, swap_alternative
from reglet.manuscript.scene import Verdict
from reglet.manuscript.stage import Stage
from reglet.window.contents import Contents
from reglet.window.desk import Desk, Operation
from reglet.window.scene_moves import stepped

_BARS_EVERY_MS = 250


class ContentsWork(QObject):
    """Joins Contents to the desk."""

    def __init__(self, desk: Desk, contents: Contents, parent: QObject) -> None:
        super().__init__(parent)
        self._desk, self._contents = desk, contents
        self._stale: set[str] = set()
        self._refresh_soon = QTimer(self, singleShot=True, interval=_BARS_EVERY_MS)
        self._refresh_soon.timeout.connect(self._refresh)
        contents.scene_chosen.connect(desk.show_scene)
        contents.renamed.connect(self._rename)
        contents.scenes_wanted_at.connect(self._move_scenes)
        contents.chapter_wanted_at.connect(self._move_chapter)
        contents.moved.connect(
            lambda chapter_id, by: self._perform(
                "Move a chapter", lambda book: _chapter_moved(book, chapter_id, by)
            )
        )
        contents.scenes_moved.connect(
            lambda ids, by: self._perform("Move scenes", lambda book: stepped(book, ids, by))
        )
        contents.merge_wanted.connect(self._merge)
        contents.cut_wanted.connect(self._cut)
        contents.copies_wanted.connect(self._keep_copies)
        contents.version_wanted.connect(lambda offcut_id: put_version(desk, offcut_id))
        contents.verdict_wanted.connect(self._judge)
        contents.scene_wanted.connect(self._add_scene)
        contents.chapter_start_wanted.connect(
            lambda scene_id: self._perform(
                "Start a chapter", lambda book: arranging.start_chapter(book, scene_id)
            )
        )
        contents.chapter_join_wanted.connect(
            lambda chapter_id: self._perform(
                "Join a chapter", lambda book: arranging.join_chapter(book, chapter_id)
            )
        )
        contents.matter_out_wanted.connect(
            lambda scene_id: self._perform("Take out", lambda book: remove_matter(book, scene_id))
        )
        contents.passed.connect(self._pass)
        contents.undo_wanted.connect(lambda: desk.undo_arrangement())
        contents.redo_wanted.connect(lambda: desk.redo_arrangement())
        desk.replaced.connect(self._show)
        desk.arranged.connect(self._show)
        desk.scene_shown.connect(contents.show_open)
        desk.stage_changed.connect(contents.set_stage)
        desk.text_changed.connect(lambda scene_id, _: self._scene_changed(scene_id))
        desk.facts_changed.connect(self._scene_changed)

    def _perform(self, label: str, operation: Operation) -> None:
        self._desk.perform(label, operation)

    def _show(self) -> None:
        scene = self._desk.scene
        self._contents.show_book(self._desk.book, scene.id if scene else "")

    def _scene_changed(self, scene_id: str) -> None:
        self._stale.add(scene_id)
        self._refresh_soon.start()

    def _refresh(self) -> None:
        for scene_id in self._stale:
            if self._desk.book.has_scene(scene_id):
                self._contents.show_scene(self._desk.book.scene(scene_id))
        self._stale.clear()

    def _rename(self, thing_id: str, title: str) -> None:
        self._perform("Rename", lambda book: arranging.retitle(book, thing_id, title))

    def _move_scenes(self, ids: list[str], chapter_id: str, at: int) -> None:
        self._perform("Move scenes", lambda book: arranging.move_scenes(book, ids, chapter_id, at))

    def _move_chapter(self, chapter_id: str, part_id: str, at: int) -> None:
        self._perform(
            "Move a chapter", lambda book: arranging.move_chapter(book, chapter_id, part_id, at)
        )

    def _merge(self, ids: list[str]) -> None:
        self._perform("Merge scenes", lambda book: arranging.merge_scenes(book, ids))

    def _cut(self, ids: list[str]) -> None:
        now = datetime.now().astimezone()
        self._perform("Cut to Offcuts", lambda book: cut_scenes(book, ids, now))

    def _keep_copies(self, ids: list[str]) -> None:
        now = datetime.now().astimezone()
        self._perform("Keep another version", lambda book: keep_alternatives(book, ids, now))

    def _judge(self, ids: list[str], verdict: Verdict) -> None:
        for scene_id in ids:
            self._desk.amend(scene_id, partial(set_verdicts, scene_ids=[scene_id], verdict=verdict))

    def _add_scene(self, chapter_id: str, at: int) -> None:
        def add(book: Book) -> Book:
            return arranging.add_scene(book, chapter_id, at)

        if self._desk.perform("New scene", add):
            self._desk.show_scene(self._desk.book.chapter(chapter_id).scenes[at].id)

    def _pass(self, ids: list[str], stage: Stage, on: bool) -> None:
        for scene_id in ids:
            self._desk.amend(
                scene_id, partial(pass_stage, scene_id=scene_id, stage=stage, passed=on)
            )


def put_version(desk: Desk, offcut_id: str) -> None:
    """Set another version of a scene in its place, and lay it open where that one lay."""
    version = desk.book.offcut(offcut_id).scene.id
    if desk.perform("Put in another version", lambda book: swap_alternative(book, offcut_id)):
        desk.show_scene(version)


def _chapter_moved(book: Book, chapter_id: str, by: int) -> Book:
    part = book.part_of(chapter_id)
    at = [chapter.id for chapter in part.chapters].index(chapter_id) + by
    if 0 <= at < len(part.chapters):
        return arranging.move_chapter(book, chapter_id, part.id, at + (by > 0))
    number = book.parts.index(part) + by
    if not 0 <= number < len(book.parts):
        return book
    other = book.parts[number]
    place = 0 if by > 0 else len(other.chapters)
    return arranging.move_chapter(book, chapter_id, other.id, place)
