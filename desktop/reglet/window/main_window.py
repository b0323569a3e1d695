"""The window: stages on top, Contents left, paper in the middle, Slip right, status at the foot."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtGui import QCloseEvent, QResizeEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QMainWindow,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from reglet.bookfile.file import BookFile
from reglet.bookfile.snapshot import Reason
from reglet.errors import RegletError
from reglet.manuscript.editing import set_sheet
from reglet.manuscript.scene import SceneSheet
from reglet.manuscript.stage import Stage
from reglet.window import dressing, tab_order
from reglet.window.background import Background
from reglet.window.by_ear import ByEar
from reglet.window.choosing import Choosing
from reglet.window.contents import Contents
from reglet.window.contents_work import ContentsWork
from reglet.window.copying import Copying
from reglet.window.desk import Desk
from reglet.window.examining import Examining
from reglet.window.figures import Figures
from reglet.window.following import Following
from reglet.window.header import Header
from reglet.window.lettering import dress_all
from reglet.window.line_work import LineWork
from reglet.window.listening_slip import ListeningSlip
from reglet.window.listening_work import ListeningWork
from reglet.window.notes_work import NotesWork
from reglet.window.page.page import Page
from reglet.window.page_work import PageWork
from reglet.window.paper import Paper
from reglet.window.rooms.listening import ListeningRoom
from reglet.window.rooms.notes import NotesRoom
from reglet.window.rooms.queries import QueriesRoom
from reglet.window.rooms.send_out import SendOutRoom
from reglet.window.rooms.sheet import SheetRoom
from reglet.window.saving import Saved, Saver
from reglet.window.sending import Sending
from reglet.window.settling import Settling
from reglet.window.slip import Slip
from reglet.window.status_line import StatusLine
from reglet.window.story_work import StoryWork
from reglet.window.taking_back import TakingBack
from reglet.window.theme import GRID, LIGHT, Theme
from reglet.window.views import Views

_CONTENTS_WIDTH = 33 * GRID
_SLIP_WIDTH = 40 * GRID
_NARROW = 1360
_WIDE = 1600
_WIDE_ZOOM = 1.12
_READING_ONLY = "This book was opened for reading only. Nothing was changed."
ZOOMS = (0.8, 0.9, 1.0, 1.12, 1.25, 1.4, 1.6, 1.8, 2.0)


class MainWindow(QMainWindow):
    """One book on its desk."""

    closed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = self._worn = LIGHT
        self._zoom = 1.0
        self._saver: Saver | None = None
        self.desk = Desk(self)
        self.examining = Examining(self)
        self.header = Header()
        self.contents = Contents()
        self.page = Page()
        self.paper = Paper()
        self.slip = Slip()
        self.status_line = StatusLine()
        self.rooms = {
            Stage.STRUCTURE: QueriesRoom(Stage.STRUCTURE, "Structure"),
            Stage.LINE: QueriesRoom(Stage.LINE, "Line"),
            Stage.PROOF: QueriesRoom(Stage.PROOF, "To settle"),
        }
        self.sheet_room, self.notes_room = SheetRoom(), NotesRoom()
        self.send_out_room, self.listening_room = SendOutRoom(), ListeningRoom()
        self.background = Background(self)
        self._lay_out()
        self.page_work = PageWork(self.desk, self.page, self.examining, self.rooms, self)
        self.views = Views(
            self.desk,
            self.paper,
            self.page,
            self.keep,
            lambda: self.file,
            self.background,
            self,
        )
        Choosing(self.desk, self.rooms, self)
        self.settling = Settling(
            self.desk, self.page, tuple(self.rooms.values()), self.views, self.background, self
        )
        self.line_work = LineWork(
            self.desk,
            self.page,
            self.examining,
            self.rooms[Stage.LINE],
            self.views,
            self.background,
            lambda: self.file,
            self,
        )
        for room in self.line_work.rooms:
            self.slip.add_room(room, (Stage.LINE,))
        self.story_work = StoryWork(
            self.desk,
            self.page,
            self.examining,
            self.sheet_room,
            self.views,
            self.background,
            self,
        )
        for story_room, stage in self.story_work.rooms:
            self.slip.add_room(story_room, (stage,))
        self.listening_work = ListeningWork(
            self.desk, self.background, self.page_work.cursor_place, self
        )
        self.following = Following(self.desk, self.page, self.listening_work, self.views, self)
        ListeningSlip(self.desk, self.listening_work, self.listening_room, self)
        self.by_ear = ByEar(
            self.desk,
            self.listening_work,
            self.views,
            self.background,
            self.page_work.cursor_place,
            self._folder,
            self,
        )
        self.send_out_room.sound_wanted.connect(self.by_ear.away.show_view)
        self.slip.add_room(self.by_ear.room, (Stage.PROOF,))
        self.slip.add_room(self.notes_room, tuple(Stage))
        self.notes_work = NotesWork(self.desk, self.page, self.notes_room, self)
        self.copying = Copying(lambda: self._saver, self.background, self)
        self.copying.told.connect(self.status_line.say)
        self.sending = Sending(
            self.desk, self.send_out_room, self.background, self._folder, self, keep=self.keep
        )
        self.taking_back = TakingBack(
            self.desk,
            self.send_out_room,
            self.background,
            lambda: self.file,
            self.keep,
            self,
        )
        self.figures = Figures(
            self.desk, self.header, self.status_line, self.background, lambda: self.file, self
        )
        self.by_ear.hearing.counted.connect(self.figures.show_hearings)
        self.line_work.pages_counted.connect(self.figures.show_pages)
        ContentsWork(self.desk, self.contents, self)
        self._connect()

    def _lay_out(self) -> None:
        self.slip.add_room(self.sheet_room, (Stage.STRUCTURE,))
        self.slip.add_room(self.listening_room, (Stage.PROOF,))
        for stage, room in self.rooms.items():
            self.slip.add_room(room, (stage,))
        self.slip.add_room(self.send_out_room, (Stage.SEND_OUT,))
        self._bench = QWidget()
        middle = QHBoxLayout()
        middle.setContentsMargins(0, 0, 0, 0)
        middle.setSpacing(0)
        middle.addWidget(self.contents)
        middle.addWidget(self.paper, 1)
        middle.addWidget(self.slip)
        column = QVBoxLayout(self._bench)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.header)
        column.addLayout(middle, 1)
        column.addWidget(self.status_line)
        self.root = QStackedWidget()
        self.root.addWidget(self._bench)
        self.setCentralWidget(self.root)
        # The card may reach over the edge of the paper, so it lies on the whole bench.
        self.page.card.setParent(self._bench)
        self.setMinimumSize(120 * GRID, 80 * GRID)

    def _connect(self) -> None:
        desk = self.desk
        self.header.stages.chosen.connect(self.enter)
        self.header.history_wanted.connect(self.views.show_history)
        self.contents.offcuts_wanted.connect(self.views.show_offcuts)
        self.contents.split_wanted.connect(self.page_work.split_here)
        self.notes_work.going.connect(self.views.show_page)
        self.notes_room.pointed.connect(self.slip.bring_into_sight)
        self.background.failed.connect(self.status_line.say)
        self.sheet_room.changed.connect(self._sheet_changed)
        desk.book_changed.connect(self._book_changed)
        desk.stage_changed.connect(self._stage_changed)
        desk.scene_shown.connect(self._show_sheet)
        desk.arranged.connect(self._arranged)
        desk.facts_changed.connect(self._facts_changed)
        desk.refused.connect(self.status_line.say)
        self.listening_work.told.connect(self.status_line.say)

    # The book

    @property
    def saver(self) -> Saver | None:
        """What writes the book's file."""
        return self._saver

    @property
    def file(self) -> BookFile | None:
        """The book's file."""
        return self._saver.file if self._saver else None

    def _folder(self) -> Path:
        """Where files of the book go, unless the writer says otherwise: beside it."""
        return self.file.path.parent if self.file else Path.home()

    def open_book(self, file: BookFile, scene_id: str = "") -> None:
        """Put the book of a file on the desk, in the stage it was left in, with a scene open."""
        self.put_book_away()
        self._saver = Saver(file, self)
        self._saver.state_changed.connect(self._saved)
        self._saver.failed.connect(self.status_line.keep_saying)
        self._saver.filed.connect(self.figures.show_snapshots)
        self._saver.filed.connect(self.line_work.look_back)
        self._saved(self._saver.state)
        self.setWindowTitle(f"{file.book.title or file.path.stem} – Reglet")
        self.header.set_book(file.book.title, file.book.author)
        self.page_work.set_writable(not file.read_only)
        self.examining.forget()
        refusal = file.notice or _READING_ONLY if file.read_only else ""
        self.desk.lay_out(file.book, scene_id, file.stage, refusal)
        self.show_bench()
        self.figures.show_snapshots()
        self.page.setFocus()
        if file.notice:
            self.status_line.say(file.notice)

    def _saved(self, state: Saved) -> None:
        self.status_line.set_saved(state.value)
        if state is not Saved.NOT_SAVED:
            self.status_line.say_no_more()

    def show_bench(self) -> None:
        """Show the book that lies on the desk."""
        self.root.setCurrentWidget(self._bench)
        self.views.show_page()

    def put_book_away(self) -> None:
        """Save what is unsaved and let the file go. Raises BookFileError if it cannot be saved;
        then the book stays on the desk, and saving is tried again as ever.
        """
        if self._saver is not None:
            self._saver.close()
            self.let_go()

    def let_go(self) -> None:
        """Let the file go, with what is unsaved left aside."""
        saver, self._saver = self._saver, None
        if saver is not None:
            saver.give_up()
            saver.deleteLater()

    def keep(self, label: str, scene_id: str, reason: Reason = Reason.BY_HAND) -> None:
        """Take a snapshot of a scene ("" for the whole book) as it is now. Raises RegletError."""
        if self._saver is not None:
            self._saver.flush()
            self._saver.file.snapshot(label, reason, [scene_id] if scene_id else None)
            self.figures.show_snapshots()

    def enter(self, stage: Stage) -> None:
        """Work in a stage; the book is kept as it is on entering."""
        self.desk.enter(stage)
        self.story_work.entered(stage)
        if self._saver is not None:
            now = datetime.now().astimezone()
            self._saver.after_saving(lambda file: file.enter_stage(stage, now))

    def closeEvent(self, event: QCloseEvent) -> None:
        try:
            self.put_book_away()
        except RegletError as error:
            if not self.copying.may_close(str(error)):
                event.ignore()
                return
            self.let_go()
        self.examining.close()
        self.listening_work.close()
        self.by_ear.close()
        self.line_work.close()
        self.story_work.close()
        self.sending.close()
        self.background.close()
        self.closed.emit()
        event.accept()

    # What the desk tells

    def _book_changed(self, book: object) -> None:
        if self._saver is not None:
            self._saver.save(self.desk.book)
        self.examining.follow(self.desk.book)

    def _stage_changed(self, stage: Stage) -> None:
        self.header.stages.set_stage(stage)
        self.slip.set_stage(stage)
        self.page.close_card(focus=self.page.card.hasFocus())
        scene = self.desk.scene
        self.examining.look_at(self.desk.book, stage, scene.id if scene else "")
        self.page_work.show_queries()

    def _arranged(self) -> None:
        scene = self.desk.scene
        self.examining.look_at(self.desk.book, self.desk.stage, scene.id if scene else "")
        self.header.set_book(self.desk.book.title, self.desk.book.author)
        self._show_sheet()

    def _facts_changed(self, scene_id: str) -> None:
        self.examining.facts_changed(self.desk.book, scene_id)
        self.page_work.show_queries()
        self._show_sheet()

    def _show_sheet(self) -> None:
        scene = self.desk.scene
        if scene is not None:
            self.sheet_room.show_sheet(scene.title, scene.sheet)

    def _sheet_changed(self, sheet: SceneSheet) -> None:
        scene = self.desk.scene
        if scene is not None:
            self.desk.amend(scene.id, lambda book: set_sheet(book, scene.id, sheet))

    # Looks

    def dress(self, theme: Theme) -> None:
        """Put on a theme."""
        self.theme = theme
        self._wear()

    def zoom(self, by: int) -> None:
        """Type that is read larger (1) or smaller (-1), or as it comes (0)."""
        at = ZOOMS.index(self._zoom)
        self._zoom = ZOOMS[max(0, min(len(ZOOMS) - 1, at + by))] if by else 1.0
        self._fit()

    def _wear(self) -> None:
        """Put the theme on all that there is, its type as large as is chosen and as there is room
        for.
        """
        worn = self._worn = self.theme.zoomed(self._zoom * self._wide_zoom())
        self.setPalette(dressing.palette(worn))
        dress_all(self, worn)
        self.views.dress(worn)
        self.story_work.dress(worn)
        self.page_work.dress(worn)
        self._fit()

    def _wide_zoom(self) -> float:
        return _WIDE_ZOOM if self.width() >= _WIDE else 1.0

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def focusNextPrevChild(self, forward: bool) -> bool:
        regions = (self.header, self.contents, self.paper, self.page.card, self.slip)
        return tab_order.step(regions, 1 if forward else -1) or super().focusNextPrevChild(forward)

    def _fit(self) -> None:
        """Share the width out, so that the text keeps its measure as long as it can."""
        step = -1 if self.width() < _NARROW else int(self.width() >= _WIDE)
        left = _CONTENTS_WIDTH + step * 3 * GRID
        right = _SLIP_WIDTH + step * 5 * GRID
        self.contents.setFixedWidth(left)
        self.slip.setFixedWidth(right)
        self.header.set_sides(left, right)
        self.line_work.reader_view.fit(self.height())
        if self._worn.zoom != self._zoom * self._wide_zoom():
            self._wear()
        self.paper.set_wanted_width(self.page.wanted_width())
