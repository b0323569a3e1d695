"""First read and Structure: what their views and rooms show of the desk, and what is done there."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from PySide6.QtCore import QObject, QTimer
from PySide6.QtWidgets import QWidget

from reglet.manuscript.arranging import merge_scenes
from reglet.manuscript.book import Book
from reglet.manuscript.offcuts import cut_scenes, keep_alternatives
from reglet.manuscript.stage import Stage
from reglet.overlays.query import Query
from reglet.story import cast, first_read
from reglet.story import work_list as work
from reglet.story.facts import Analyst, SceneFacts, StoryFacts, unread
from reglet.story.plan import Drift, confirm_match, drift, undecide_match
from reglet.window.background import Background, Teller
from reglet.window.book_drawing import BookPictures
from reglet.window.book_view import BookView
from reglet.window.contents_model import name_of
from reglet.window.desk import Desk, Operation
from reglet.window.examining import Examining
from reglet.window.first_read_view import FirstReadView
from reglet.window.page.page import Page
from reglet.window.resting import Resting
from reglet.window.rooms.cast import CastRoom
from reglet.window.rooms.notes import PlacedNote
from reglet.window.rooms.reading import ReadingRoom
from reglet.window.rooms.sheet import SheetRoom
from reglet.window.rooms.work_list import WorkListRoom
from reglet.window.scene_moves import moved_to, stepped
from reglet.window.story_files import StoryFiles
from reglet.window.theme import Theme
from reglet.window.trying import Trying
from reglet.window.views import Views

_SOON_MS, _WORK_MS = 15, 600
_PAUSE_MS = 2000
"""While the page is written on, the story is read again only in a pause: reading it takes turns at
Python's lock with the typing."""
_TELL_EVERY_S = 0.4
"""While a book is read for the first time, what is known of it is shown so often."""
_BLANK_SHEET = "sheet_to_fill"
"""The overlay that asks for what a sheet leaves blank: the sheets show that themselves."""
_ONLY_ORDER = "In a draft arrangement scenes are moved only. Take it or drop it first."


@dataclass(frozen=True)
class _Read:
    """What was read from a book, with all that is made of it off the interface thread."""

    facts: StoryFacts
    pictures: BookPictures
    drift: Drift
    to_read: int = 0
    """How many scenes are still to be read."""


def _read(facts: StoryFacts, scenes: int | None = None) -> _Read:
    book = facts.book
    to_read = len(book.scenes) - scenes if scenes is not None else 0
    return _Read(facts, BookPictures.of(facts), drift(book), to_read)


@dataclass(frozen=True)
class _Work:
    """What is left to do in a book, and the words of it that have not passed Structure."""

    book: Book
    listed: work.WorkList
    words_to_go: int


def _work_on(book: Book, asked: Sequence[Query]) -> _Work:
    queries = [
        work.OpenQuery(each.overlay, each.scene, each.start, each.end, each.message, False)
        for each in asked
    ]
    passed = next(each for each in work.stage_progress(book) if each.stage is Stage.STRUCTURE)
    return _Work(book, work.work_list(book, queries), passed.words_to_go)


class StoryWork(QObject):
    """Joins them to the desk. The book is read beside the interface, and only while something of
    the Structure stage is seen.
    """

    def __init__(
        self,
        desk: Desk,
        page: Page,
        examining: Examining,
        sheet_room: SheetRoom,
        views: Views,
        background: Background,
        parent: QObject,
    ) -> None:
        super().__init__(parent)
        self._desk, self._page, self._examining = desk, page, examining
        self._sheet_room, self._views, self._background = sheet_room, views, background
        self._analyst = Analyst()
        self._read: _Read | None = None
        self._closed = False
        self.book_view, self.first_read = BookView(), FirstReadView(desk)
        self.reading_room, self.work_room, self.cast_room = (
            ReadingRoom(),
            WorkListRoom(),
            CastRoom(),
        )
        self.trying = Trying(desk, self)
        self.files = StoryFiles(desk, self.book_view)
        self.resting = Resting(desk, page.editor, self)
        desk.may_change = self.resting.may_change
        self._soon = self._timer(_SOON_MS, self._ask)
        self._work_soon = self._timer(_WORK_MS, self._show_rooms)
        self._connect()

    def _timer(self, ms: int, act: Callable[[], object]) -> QTimer:
        timer = QTimer(self, singleShot=True, interval=ms)
        timer.timeout.connect(act)
        return timer

    def _connect(self) -> None:
        desk, chart, plan = self._desk, self.book_view.chart, self.book_view.plan
        for view in (self.book_view, self.first_read):
            self._views.add(view)
        desk.replaced.connect(self._replaced)
        desk.stage_changed.connect(self._follow)
        desk.book_changed.connect(self._follow)
        desk.scene_shown.connect(self._scene_shown)
        self._examining.finished.connect(self._work_soon.start)
        chart.scene_wanted.connect(self._go)
        chart.step_wanted.connect(
            lambda ids, by: self._order("Move scenes", lambda book: stepped(book, ids, by))
        )
        chart.move_wanted.connect(
            lambda ids, slot: self._order("Move scenes", lambda book: moved_to(book, ids, slot))
        )
        chart.merge_wanted.connect(
            lambda ids: self._divide("Merge scenes", lambda book: merge_scenes(book, ids))
        )
        chart.cut_wanted.connect(self._cut)
        chart.copies_wanted.connect(self._keep_copies)
        chart.undo_wanted.connect(self._undo)
        chart.redo_wanted.connect(self._redo)
        plan.scene_wanted.connect(self._go)
        plan.decided.connect(self._decide)
        plan.undecided.connect(
            lambda planned: desk.perform("Plan", lambda book: undecide_match(book, planned))
        )
        self.book_view.plan_wanted.connect(self.files.choose_plan)
        self.book_view.file_wanted.connect(
            lambda: self.files.choose_drawing(self._read.facts if self._read else None)
        )
        self.book_view.trial_wanted.connect(self.trying.begin)
        self.book_view.taken.connect(self.trying.take)
        self.book_view.dropped.connect(self.trying.drop)
        self.trying.changed.connect(self._show_trial)
        self.first_read.note_wanted.connect(self._go_to_note)
        self.reading_room.read_wanted.connect(self.show_first_read)
        self.reading_room.rest_wanted.connect(self._rest)
        self.reading_room.wake_wanted.connect(lambda: desk.remember(first_read.woken))
        self.work_room.book_wanted.connect(self.show_book)
        self.work_room.wanted.connect(self._go_to_item)
        self.work_room.struck.connect(
            lambda item, done: desk.remember(lambda book: work.struck(book, item, done))
        )
        self.work_room.estimated.connect(
            lambda item, minutes: desk.remember(lambda book: work.estimated(book, item, minutes))
        )
        self.work_room.due_chosen.connect(
            lambda day: desk.remember(lambda book: work.due(book, day, book.schedule.minutes_a_day))
        )
        self.cast_room.joined.connect(
            lambda name, other: desk.perform("Join", lambda book: cast.join(book, name, other))
        )

    @property
    def rooms(self) -> tuple[tuple[QWidget, Stage], ...]:
        """The rooms of the Slip with their stages, from the top down."""
        return (
            (self.reading_room, Stage.FIRST_READ),
            (self.work_room, Stage.STRUCTURE),
            (self.cast_room, Stage.STRUCTURE),
        )

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self.files.theme = theme
        for view in (self.book_view, self.first_read):
            view.dress(theme)

    def close(self) -> None:
        """Ask for nothing more."""
        self._closed = True
        self._soon.stop()
        self._work_soon.stop()

    # Views

    def show_book(self) -> None:
        """The book, scene by scene; the page again, if it is shown already."""
        if self._views.lay(self.book_view):
            if self._read is None:
                self.book_view.wait()
            else:
                self._show_read()
            self._ask()
            self.book_view.chart.setFocus()
            if self._desk.scene is not None:
                self.book_view.chart.point_to(self._desk.scene.id)

    def entered(self, stage: Stage) -> None:
        """The writer has entered a stage: First read is there to be read, the others begin on the
        page, whatever was looked at in the stage before.
        """
        if stage is Stage.FIRST_READ:
            if self._views.shown is not self.first_read:
                self.show_first_read()
        elif self._views.shown is not self._page:
            self._views.show_page()

    def show_first_read(self) -> None:
        """The whole book to read; the page again, if it is shown already."""
        if self._views.lay(self.first_read):
            self.first_read.begin()

    @property
    def _wanted(self) -> bool:
        return self._desk.stage is Stage.STRUCTURE or self.book_view.isVisible()

    def _replaced(self) -> None:
        self._analyst, self._read = Analyst(), None
        self.trying.leave()

    def _follow(self) -> None:
        if self._closed:
            return
        self._work_soon.start()
        if self._wanted:
            self._soon.start(_SOON_MS if self.book_view.isVisible() else _PAUSE_MS)

    def _ask(self) -> None:
        book, analyst = self.trying.shaped(), self._analyst

        def read(teller: Teller[_Read]) -> _Read:
            first = not analyst.knows(book)
            told = time.monotonic()

            def on_the_way(scenes: Sequence[SceneFacts]) -> None:
                nonlocal told
                teller.go_on()
                if first and time.monotonic() - told > _TELL_EVERY_S:
                    rest = tuple(map(unread, book.scenes[len(scenes) :]))
                    teller.tell(_read(StoryFacts(book, (*scenes, *rest)), len(scenes)))
                    told = time.monotonic()

            return _read(analyst.read(book, on_the_way=on_the_way))

        self._background.do_telling("story", read, self._arrived)

    def _arrived(self, read: _Read) -> None:
        self._read = read
        if self.book_view.isVisible():
            self._show_read()
        if read.to_read:
            return
        self.cast_room.show_cast(read.facts.cast)
        self._propose()

    def _show_read(self) -> None:
        if self._read is not None:
            self.book_view.show_pictures(self._read.pictures)
            self.book_view.show_drift(self._read.drift)
            if self._read.to_read:
                self.book_view.wait(self._read.to_read)

    def _scene_shown(self) -> None:
        self._propose()

    def _propose(self) -> None:
        """Offer what the text of the scene says for the blanks of its sheet."""
        scene, read = self._desk.scene, self._read
        whole = read is not None and not read.to_read
        place = read.facts.places.get(scene.id) if scene and read and whole else None
        if scene is not None and read is not None and place is not None:
            self._sheet_room.propose(read.facts.proposed_sheet(place))
        else:
            self._sheet_room.propose(None)

    def _show_rooms(self) -> None:
        book, stage = self._desk.book, self._desk.stage
        if stage is Stage.FIRST_READ:
            self.reading_room.show_book(book)
        elif stage is Stage.STRUCTURE:
            asked = [
                query
                for scene in book.texts
                for query in self._examining.queries(scene.id)
                if query.overlay != _BLANK_SHEET
            ]
            self._background.do("work", lambda: _work_on(book, asked), self._show_work)

    def _show_work(self, found: _Work) -> None:
        book = found.book
        names = {each.id: name_of(each) for each in book.texts}
        self.work_room.show_work(found.listed, names, book.schedule.due, found.words_to_go)

    # Going there

    def _go(self, scene_id: str) -> None:
        self._views.show_page()
        self._desk.show_scene(scene_id)

    def _go_to_item(self, item: work.Item) -> None:
        if self._desk.book.has_scene(item.scene):
            self._go(item.scene)
            self._page.editor.select(item.start, item.end)
        elif not self.book_view.isVisible():
            self.show_book()

    def _go_to_note(self, placed: PlacedNote) -> None:
        self._go(placed.scene)
        self._page.editor.select(placed.note.start, placed.note.end)

    # Order and division

    def _order(self, label: str, operation: Operation) -> None:
        """Change the order of the book, or of the draft arrangement that is tried."""
        if self.trying.on:
            self.trying.order(operation)
        else:
            self._desk.perform(label, operation)

    def _divide(self, label: str, operation: Operation) -> None:
        if self.trying.on:
            self._desk.refused.emit(_ONLY_ORDER)
        else:
            self._desk.perform(label, operation)

    def _cut(self, ids: list[str]) -> None:
        now = datetime.now().astimezone()
        self._divide("Cut to Offcuts", lambda book: cut_scenes(book, ids, now))

    def _keep_copies(self, ids: list[str]) -> None:
        now = datetime.now().astimezone()
        self._desk.perform("Keep another version", lambda book: keep_alternatives(book, ids, now))

    def _undo(self) -> None:
        if self.trying.on:
            self.trying.undo()
        else:
            self._desk.undo_arrangement()

    def _redo(self) -> None:
        if self.trying.on:
            self.trying.redo()
        else:
            self._desk.redo_arrangement()

    def _show_trial(self, on: bool) -> None:
        self.book_view.show_trial(on)
        self._ask()
        self.book_view.chart.setFocus()

    # Plan and rest

    def _decide(self, planned: str, scene: str) -> None:
        self._desk.perform("Plan", lambda book: confirm_match(book, planned, scene or None))

    def _rest(self, until: date) -> None:
        self._desk.remember(lambda book: first_read.put_to_rest(book, date.today(), until))
