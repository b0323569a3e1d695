"""The Line stage: what its rooms and views show of the desk, and what is chosen in them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtWidgets import QWidget

from reglet.bookfile.file import BookFile
from reglet.language.readability import Readability
from reglet.manuscript.book import StyleSheet
from reglet.manuscript.editing import restyle
from reglet.manuscript.passage import Passage
from reglet.manuscript.stage import Stage
from reglet.overlays.house import page_of, phone_of
from reglet.overlays.line import tightening
from reglet.overlays.line.tightening import StageStart, Tightening
from reglet.setting import PHONES, Medium, Sheet
from reglet.window.background import Background
from reglet.window.contents_model import name_of, shown_title
from reglet.window.desk import Desk
from reglet.window.examining import Examining
from reglet.window.page.page import Page
from reglet.window.page.positions import to_code_points
from reglet.window.read_again import ReadAgainView
from reglet.window.rooms.figures import FiguresRoom
from reglet.window.rooms.queries import QueriesRoom
from reglet.window.rooms.reader_view import ReaderView
from reglet.window.rooms.tightening import Reach, TighteningRoom
from reglet.window.setter import Setter, chapter_texts
from reglet.window.setter_process import ChapterSet, PagesCounted, PlaceSet, SceneMeasured
from reglet.window.views import Views
from reglet.window.white_space import ChapterShape, WhiteSpaceView

_PLACE_MS = 120
_WORDS_MS = 400
_FIGURES_MS = 1500
_NOT_BEGUN = "There is nothing to compare with yet: the Line stage has not been entered."
_BLOCK = "block"
"""The overlay whose queries are marked among the pages."""


class LineWork(QObject):
    """Joins the rooms and views of the Line stage to the desk."""

    pages_counted = Signal(int, str)
    """How many pages the book has, and of what: "of 5.5 x 8.5 in"; 0 where that is not known."""

    def __init__(
        self,
        desk: Desk,
        page: Page,
        examining: Examining,
        room: QueriesRoom,
        views: Views,
        background: Background,
        file: Callable[[], BookFile | None],
        parent: QObject,
    ) -> None:
        super().__init__(parent)
        self._desk, self._page, self._examining, self._room = desk, page, examining, room
        self._views, self._background, self._file = views, background, file
        self._rhythm = True
        self.setter = Setter(self)
        self.tightening_room, self.reader_view = TighteningRoom(), ReaderView()
        self.figures_room = FiguresRoom()
        self.white_space, self.read_again = WhiteSpaceView(), ReadAgainView()
        self._start: StageStart | None = None
        self._figures: dict[str, tuple[Passage, Readability]] = {}
        self._asked_figures: dict[str, Passage] = {}
        self._place_soon = self._timer(_PLACE_MS, self._ask_place)
        self._words_soon = self._timer(_WORDS_MS, self._show_tightening)
        self._figures_soon = self._timer(_FIGURES_MS, self._measure)
        self._connect()

    def _timer(self, ms: int, act: Callable[[], object]) -> QTimer:
        timer = QTimer(self, singleShot=True, interval=ms)
        timer.timeout.connect(act)
        return timer

    def _connect(self) -> None:
        desk = self._desk
        desk.replaced.connect(self._replaced)
        desk.stage_changed.connect(self._refresh)
        desk.scene_shown.connect(self._refresh)
        desk.book_changed.connect(self._follow)
        self._page.editor.cursorPositionChanged.connect(self._cursor_moved)
        self._examining.arrived.connect(self._queries_arrived)
        self.setter.place_set.connect(self._place_set)
        self.setter.chapter_set.connect(self._chapter_set)
        self.setter.scene_measured.connect(self._scene_measured)
        self.setter.pages_counted.connect(self._pages_counted)
        self.reader_view.sheet_chosen.connect(self._choose_sheet)
        self.reader_view.place_wanted.connect(self.go_to)
        self.reader_view.book_wanted.connect(self.show_white_space)
        self.figures_room.rhythm_wanted.connect(self.show_rhythm)
        room = self.tightening_room
        room.reach_changed.connect(self._show_tightening)
        room.aim_chosen.connect(self._choose_aim)
        room.difference_wanted.connect(self.show_difference)
        room.again_wanted.connect(self.show_again)
        for view in (self.white_space, self.read_again):
            self._views.add(view)
        self.white_space.put_away.connect(self._place_soon.start)
        self.white_space.medium_changed.connect(self._ask_pages)
        self.white_space.place_wanted.connect(self.go_to)
        self.white_space.place_pointed.connect(self._set_place)
        self.read_again.place_wanted.connect(self._go_to_paragraph)

    @property
    def rooms(self) -> tuple[QWidget, ...]:
        """The rooms of the Slip, from the top down."""
        return self.tightening_room, self.reader_view, self.figures_room

    def close(self) -> None:
        """End the work beside the window."""
        self.setter.close()

    @property
    def _on(self) -> bool:
        return self._desk.stage is Stage.LINE and self._desk.scene is not None

    # What is chosen

    def _replaced(self) -> None:
        self._start, self._figures, self._asked_figures = None, {}, {}
        self._show_choices()

    def _choose(self, chosen: Callable[[StyleSheet], StyleSheet]) -> None:
        """Keep in the style sheet what is chosen: the aim, the phone, the page."""
        self._desk.remember(lambda book: restyle(book, chosen(book.style_sheet)))
        self._show_choices()

    def _show_choices(self) -> None:
        self.figures_room.show_rhythm(self._rhythm)
        self.reader_view.show_sheets(*self._sheets())
        self._refresh()

    def _choose_aim(self, aim: int) -> None:
        self._choose(lambda sheet: replace(sheet, aim=aim))

    def _choose_sheet(self, name: str) -> None:
        if name in PHONES:
            self._choose(lambda sheet: replace(sheet, phone=name))
        else:
            self._choose(lambda sheet: replace(sheet, page=name))

    def show_rhythm(self, shown: bool) -> None:
        """Show the lengths of sentences on the page, or hide them."""
        if shown != self._rhythm:
            self._rhythm = shown
            self._show_choices()

    def _sheets(self) -> tuple[Sheet, Sheet]:
        sheet = self._desk.book.style_sheet
        return (
            phone_of(sheet).in_language(sheet.language),
            page_of(sheet).in_language(sheet.language),
        )

    # What the desk tells

    def look_back(self) -> None:
        """Read the book as it was when the stage began, off this thread."""
        if self._desk.stage is Stage.LINE:
            self._read_start(self._show_tightening)

    def _read_start(self, then: Callable[[], object]) -> None:
        file, known = self._file(), self._start
        if file is None:
            return

        def began(start: StageStart | None) -> None:
            self._start = start
            then()

        self._background.do(
            "stage start", lambda: tightening.start_of(file, Stage.LINE, known), began
        )

    def _refresh(self) -> None:
        self._page.editor.show_rhythm(self._on and self._rhythm)
        if self._on:
            if self._start is None:
                self.look_back()
            self._show_tightening()
            self._show_figures()
            self._place_soon.start()
            self._figures_soon.start(0 if not self._figures else _FIGURES_MS)
        else:
            self.pages_counted.emit(0, "")

    def _follow(self) -> None:
        if self._on:
            self._place_soon.start()
            self._words_soon.start()
            self._figures_soon.start(_FIGURES_MS)

    def _cursor_moved(self) -> None:
        if self._on:
            self._place_soon.start()

    # The reader's view

    def _ask_place(self) -> None:
        scene = self._desk.scene
        if not self._on or scene is None or self.white_space.isVisible():
            return
        cursor = self._page.editor.textCursor()
        index = min(cursor.blockNumber(), len(scene.passage.paragraphs) - 1)
        offset = to_code_points(scene.passage.paragraphs[index].text, cursor.positionInBlock())
        self._set_place(scene.id, index, offset)

    def _set_place(self, scene_id: str, index: int, offset: int) -> None:
        self.setter.ask_place(self._desk.book, scene_id, index, offset, self._sheets())

    def _place_set(self, found: PlaceSet) -> None:
        if [each.sheet for each in found.around] == list(self._sheets()):
            self.reader_view.show_place(found)

    def go_to(self, scene_id: str, index: int, offset: int) -> None:
        """To a place on the page: `offset` code points into paragraph `index` of a scene."""
        if self._desk.book.has_scene(scene_id):
            self._desk.show_scene(scene_id)
            passage = self._desk.book.scene(scene_id).passage
            at = passage.starts[min(index, len(passage.starts) - 1)] + offset
            self._views.show_page()
            self._page.editor.select(min(at, len(passage)), min(at, len(passage)))

    def _go_to_paragraph(self, index: int) -> None:
        scene = self._desk.scene
        if scene is not None:
            self.go_to(scene.id, index, 0)

    # The whole book

    def show_white_space(self) -> None:
        """The whole book as pages; the page again, if that is shown already."""
        if self._views.lay(self.white_space):
            self._ask_pages()

    def _ask_pages(self) -> None:
        book, scene = self._desk.book, self._desk.scene
        sheet = self._sheets()[0 if self.white_space.on_phone else 1]
        self.white_space.begin(book.title, sheet, self._blocks())
        if scene is not None:
            index = min(
                self._page.editor.textCursor().blockNumber(), len(scene.passage.paragraphs) - 1
            )
            self.white_space.look_at(scene.id, index)
        self.setter.ask_pages(book, sheet)

    def _chapter_set(self, found: ChapterSet) -> None:
        if found.chapter is None:
            self.white_space.end()
        else:
            book = self._desk.book
            names = {each.id: shown_title(each.title) for each in chapter_texts(book)}
            front = {scene.id for scene in book.front}
            otherwise = "Front matter" if found.chapter in front else "Untitled"
            name = names.get(found.chapter) or otherwise
            self.white_space.add(ChapterShape(name, found.pages))

    def _blocks(self) -> frozenset[tuple[str, int]]:
        """The paragraphs that the overlay for blocks has marked, as far as it has come."""
        return frozenset(
            (scene.id, scene.passage.locate(query.start)[0])
            for scene in self._desk.book.texts
            for query in self._room.shown(self._examining.queries(scene.id))
            if query.overlay == _BLOCK and query.start <= len(scene.passage)
        )

    def _queries_arrived(self) -> None:
        if self.white_space.isVisible():
            self.white_space.mark(self._blocks())

    # Figures

    def _measure(self) -> None:
        """Ask for what takes the longest: the figures of the scenes, the pages of the book."""
        self._ask_figures()
        if self._on:
            self.setter.ask_count(self._desk.book, self._sheets()[1])

    def _pages_counted(self, found: PagesCounted) -> None:
        if self._on and found.sheet == self._sheets()[1] and found.pages is not None:
            screens = found.sheet.medium is Medium.EREADER
            what = f"{'screens' if screens else 'pages'} of {found.sheet.name}"
            self.pages_counted.emit(found.pages, what)

    def _ask_figures(self) -> None:
        scene = self._desk.scene
        if not self._on or scene is None:
            return
        stale = [
            each.id
            for each in self._desk.book.scenes
            if self._figures.get(each.id, (None,))[0] is not each.passage
        ]
        if scene.id in stale:
            stale.remove(scene.id)
            stale.insert(0, scene.id)
        if stale:
            book = self._desk.book
            self._asked_figures = {each: book.scene(each).passage for each in stale}
            self.setter.ask_figures(book, stale)

    def _scene_measured(self, found: SceneMeasured) -> None:
        if found.scene is not None and found.figures is not None:
            self._figures[found.scene] = (self._asked_figures[found.scene], found.figures)
        scene = self._desk.scene
        if found.scene is None or (scene is not None and found.scene == scene.id):
            self._show_figures()

    def _show_figures(self) -> None:
        book, scene = self._desk.book, self._desk.scene
        own = self._figures.get(scene.id) if scene is not None else None
        known = [self._figures[each.id][1] for each in book.scenes if each.id in self._figures]
        whole = sum(known, Readability()) if len(known) == len(book.scenes) else None
        self.figures_room.show_figures(own[1] if own else None, whole)

    # Tightening

    def _show_tightening(self) -> None:
        scene = self._desk.scene
        if self._on and scene is not None:
            found = self._tightening(scene.id)
            self.tightening_room.show_tightening(
                found, self._desk.book.style_sheet.aim, scene.passage.word_count
            )

    def _tightening(self, scene_id: str) -> Tightening | None:
        start, book = self._start, self._desk.book
        if start is None:
            return None
        chapter = book.chapter_of(scene_id)
        reach = self.tightening_room.reach
        if reach is Reach.BOOK:
            return tightening.of_book(start, book)
        if reach is Reach.CHAPTER and chapter is not None:
            return tightening.of_chapter(start, book, chapter.id)
        return tightening.of_scene(start, book, scene_id)

    def show_difference(self) -> None:
        """What was changed since the stage began, in what the Tightening counts."""
        if self._start is None:
            self._read_start(self._show_difference)
        else:
            self._show_difference()

    def _show_difference(self) -> None:
        if self._start is None:
            self._desk.refused.emit(_NOT_BEGUN)
        elif self.tightening_room.reach is Reach.SCENE:
            self._views.show_history(self._start.snapshot)
        else:
            self._views.show_book_history()

    def show_again(self) -> None:
        """The paragraph that is written in, before and after; the page again, if that is shown."""
        if self._start is None:
            self._read_start(self._show_again)
        else:
            self._show_again()

    def _show_again(self) -> None:
        scene, start = self._desk.scene, self._start
        if scene is None or start is None:
            self._desk.refused.emit(_NOT_BEGUN)
        elif not start.book.has_scene(scene.id):
            self._desk.refused.emit(
                "This scene was not in the book when the Line stage began; nothing to read again."
            )
        elif self._views.lay(self.read_again):
            at = self._page.editor.textCursor().blockNumber()
            index = min(at, len(scene.passage.paragraphs) - 1)
            old = start.book.scene(scene.id).passage
            title = name_of(scene)
            self.read_again.show_pair(title, old, scene.passage, index)
