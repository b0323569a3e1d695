"""What gestures on the page do to the desk, and what the desk and the examiner show on it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from PySide6.QtCore import QObject, QPoint
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QMenu

from reglet.errors import WriterError
from reglet.manuscript.anchored import Answer
from reglet.manuscript.arranging import retitle, split_scene
from reglet.manuscript.book import Book
from reglet.manuscript.change import Change
from reglet.manuscript.editing import pass_stage
from reglet.manuscript.matter import Matter
from reglet.manuscript.offcuts import cut_passage
from reglet.manuscript.paragraph import SpanKind, Style
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.manuscript.stage import Stage
from reglet.overlays.answer import Reach, stet, take
from reglet.overlays.proof import marked_while_listening
from reglet.overlays.query import Query
from reglet.voice.reading_order import Place
from reglet.window.contents_model import shown_title
from reglet.window.desk import Desk
from reglet.window.examining import Examining
from reglet.window.page.page import Page
from reglet.window.rooms.queries import QueriesRoom
from reglet.window.theme import Theme

_SPANS = (
    (SpanKind.EMPHASIS, "Emphasis", "Ctrl+I"),
    (SpanKind.STRONG, "Strong", "Ctrl+B"),
    (SpanKind.SMALL_CAPITALS, "Small capitals", "Ctrl+Shift+K"),
    (SpanKind.UNDERLINE, "Underline", "Ctrl+U"),
    (SpanKind.STRIKE, "Strike through", "Ctrl+Shift+X"),
)
_WAY_ON = "Offcuts has what was cut; the menu of a chapter in Contents begins a new scene."


class PageWork(QObject):
    """Joins the page to the desk."""

    def __init__(
        self,
        desk: Desk,
        page: Page,
        examining: Examining,
        rooms: dict[Stage, QueriesRoom],
        parent: QObject,
    ) -> None:
        super().__init__(parent)
        self._desk, self._page, self._examining, self._rooms = desk, page, examining, rooms
        self._theme: Theme | None = None
        self._writable = True
        page.edited.connect(self._edited)
        page.undo_wanted.connect(desk.undo_text)
        page.redo_wanted.connect(desk.redo_text)
        page.renamed.connect(self._renamed)
        page.query_taken.connect(self._take)
        page.query_stood.connect(self.let_stand)
        page.query_stood_everywhere.connect(lambda query: self.let_stand(query, Reach.BOOK))
        page.query_mended.connect(lambda query: self._answer_note(query, Answer.DONE))
        page.ran_out_of_queries.connect(self._step_beyond)
        page.scene_wanted.connect(self.step_scene)
        page.scene_done.connect(self._scene_done)
        page.menu_wanted.connect(self._open_menu)
        desk.scene_shown.connect(self._show_scene)
        desk.replaced.connect(self._show_scene)
        desk.text_changed.connect(self._text_changed)
        desk.arranged.connect(self._show_heading)
        examining.arrived.connect(self._queries_arrived)
        for room in rooms.values():
            room.shown_changed.connect(self.show_queries)
            room.stood.connect(self.let_stand)
            room.taken.connect(self._take)
        self.formats = self._make_formats()

    def dress(self, theme: Theme) -> None:
        """Put on the theme's pencils."""
        self._theme = theme
        self.show_queries()

    def set_writable(self, writable: bool) -> None:
        """Whether the page takes what is typed: not in a book that can only be read."""
        self._writable = writable
        self._page.editor.setReadOnly(not writable)

    # From the page

    def _edited(self, passage: Passage, change: Change) -> None:
        scene = self._desk.scene
        if scene is not None:
            self._desk.typed(scene.id, passage, change)

    def _renamed(self, title: str) -> None:
        scene = self._desk.scene
        if scene is not None and title != scene.title:
            self._desk.perform("Rename a scene", lambda book: retitle(book, scene.id, title))

    def split_here(self) -> None:
        """Part the scene that lies open in two where the cursor stands."""
        scene = self._desk.scene
        if scene is not None:
            at, _ = self._page.editor.span_selected()
            self._desk.perform("Split a scene", lambda book: split_scene(book, scene.id, at))

    def cut_selection(self) -> None:
        """Take the selected words out of the scene and keep them among the Offcuts."""
        scene = self._desk.scene
        if scene is None:
            return
        start, end = self._page.editor.span_selected()

        def cut(book: Book) -> Book:
            return cut_passage(book, scene.id, start, end, datetime.now().astimezone())

        self._desk.perform("Cut to Offcuts", cut)

    def cursor_place(self) -> Place | None:
        """Where the cursor stands in the book."""
        scene = self._desk.scene
        return Place(scene.id, self._page.editor.span_selected()[0]) if scene else None

    # Queries

    def _take(self, query: Query) -> None:
        try:
            book = take(self._desk.book, query)
        except WriterError as error:
            self._desk.refused.emit(str(error))
            return
        if query.chapter:
            self._desk.perform("Title of a chapter", lambda _: book)
            return
        places = self._page.places()
        at = places.index(query) if query in places else 0
        self._desk.rewrite(query.scene, book.scene(query.scene).passage)
        self._go_on(at)

    def let_stand(self, query: Query, reach: Reach = Reach.HERE) -> None:
        """Stet: the words of a query stand as they are."""
        if query.overlay == marked_while_listening.OVERLAY.name:
            self._answer_note(query, Answer.STET)
        else:
            self._answer(query, lambda book: stet(book, query, reach), reach is not Reach.HERE)

    def _answer_note(self, query: Query, answer: Answer) -> None:
        """Answer the note that a query stands for: what was marked while listening."""
        self._answer(query, lambda book: marked_while_listening.answered(book, query, answer))

    def _answer(
        self, query: Query, operation: Callable[[Book], Book], everywhere: bool = False
    ) -> None:
        places = self._page.places()
        at = places.index(query) if query in places else 0
        if self._desk.amend(query.scene, operation):
            self._examining.answered(query, everywhere=everywhere)
            if not query.about_the_scene:
                self._go_on(at)

    def _go_on(self, at: int) -> None:
        """Open the query that now stands where the answered one stood."""
        self.show_queries()
        places = self._page.places()
        if at < len(places):
            self._page.open_card(places[at])
        else:
            self._page.open_end()

    def _scene_done(self) -> None:
        """The scene has passed the stage; on to the next that has queries."""
        scene, stage = self._desk.scene, self._desk.stage
        if scene is not None:
            self._desk.amend(scene.id, lambda book: pass_stage(book, scene.id, stage, True))
            self.step_scene(1)

    def step_scene(self, by: int) -> None:
        """To the next scene with queries (1), or the one before (-1), and its first or last."""
        scene, room = self._desk.scene, self._rooms.get(self._desk.stage)
        if scene is None or room is None:
            return
        ids = [each.id for each in self._desk.book.texts]
        at = ids.index(scene.id)
        for scene_id in ids[at + 1 :] if by > 0 else reversed(ids[:at]):
            known = room.shown(self._examining.queries(scene_id))
            if any(not query.about_the_scene for query in known):
                self._desk.show_scene(scene_id)
                self._page.open_card(self._page.places()[0 if by > 0 else -1])
                return
            if self._examining.is_waiting_for(scene_id):
                self._page.open_end("The scenes beyond are still being examined.")
                return
        end = "the last" if by > 0 else "the first"
        self._page.open_end(f"That was {end} query of the book.")

    def _step_beyond(self, by: int) -> None:
        """On to another scene, unless this one's queries are still to come."""
        scene = self._desk.scene
        if self._desk.stage not in self._rooms:
            self._desk.refused.emit("There are queries in Structure, Line and Proof.")
        elif scene is not None and self._is_waited_for(scene.id):
            self._page.await_query("This scene is being examined; its queries come in a moment.")
        else:
            self.step_scene(by)

    def _is_waited_for(self, scene_id: str) -> bool:
        """Whether nothing is known of a scene, as it is still to be examined."""
        return not self._examining.knows(scene_id) and self._examining.is_waiting_for(scene_id)

    def _queries_arrived(self, scene_id: str) -> None:
        scene = self._desk.scene
        if scene is not None and scene.id == scene_id:
            self.show_queries()

    def show_queries(self) -> None:
        """Mark the queries of the scene that lies open, and count them on the Slip."""
        scene, stage = self._desk.scene, self._desk.stage
        room = self._rooms.get(stage)
        if room is not None and scene is None:
            room.show_queries((), "")
        if scene is None or room is None or self._theme is None:
            self._page.set_queries((), "#000000")
            return
        known = self._examining.queries(scene.id)
        room.show_queries(None if self._is_waited_for(scene.id) else known, scene.id)
        self._page.set_queries(room.shown(known), self._theme.pencil(stage))
        if self._page.awaits_query and not self._is_waited_for(scene.id):
            self._page.open_end("No query in this scene.")

    # What the desk shows

    def _show_scene(self) -> None:
        scene = self._desk.scene
        if scene is None:
            self._page.show_scene(_WAY_ON, "", "There is no scene in the book", Passage())
        else:
            self._examining.put_first(scene.id)
            self._page.show_scene(*self._heading(scene), scene.passage)
        self._page.editor.setReadOnly(scene is None or not self._writable)
        self.show_queries()

    def _show_heading(self) -> None:
        scene = self._desk.scene
        if scene is not None:
            self._page.set_heading(*self._heading(scene))

    def _text_changed(self, scene_id: str, change: Change) -> None:
        before = len(self._examining.queries(scene_id))
        self._examining.text_changed(self._desk.book, scene_id, change)
        scene = self._desk.scene
        if scene is None or scene.id != scene_id:
            return
        if scene.passage is not self._page.editor.passage:
            self._page.follow(scene.passage)
        known, room = self._examining.queries(scene_id), self._rooms.get(self._desk.stage)
        if room is not None and len(known) == before:
            # The usual key stroke: nothing to count anew, and Qt paints what has moved.
            self._page.move_queries(room.shown(known))
        else:
            self.show_queries()

    def _heading(self, scene: Scene) -> tuple[str, str, str]:
        """What stands above a scene, its title, and what stands in the place of one."""
        book, title = self._desk.book, shown_title(scene.title)
        chapter = book.chapter_of(scene.id)
        if chapter is None:
            side = "Front matter" if scene in book.front else "Back matter"
            if scene.matter is Matter.COPYRIGHT:
                side += " · local law and a licensed adviser say what must stand here"
            return side, title, scene.matter.label if scene.matter else "Untitled"
        part = book.part_of(chapter.id)
        name = shown_title(chapter.title) or f"Chapter {book.chapters.index(chapter) + 1}"
        if not title and len(chapter.scenes) == 1:
            return shown_title(part.title or book.title), title, name
        eyebrow = f"{shown_title(part.title)} · {name}" if part.title else name
        place = [each.id for each in chapter.scenes].index(scene.id) + 1
        return eyebrow, title, f"Scene {place} of {len(chapter.scenes)}"

    # The menu

    def _make_formats(self) -> list[QAction]:
        """The actions that set spans and styles, with their keys."""
        made = []
        editor = self._page.editor
        for kind, label, keys in _SPANS:
            action = QAction(label, editor)
            action.setShortcut(QKeySequence(keys))
            action.triggered.connect(lambda _=False, kind=kind: editor.switch(kind))
            made.append(action)
        for number, style in enumerate(Style, start=1):
            action = QAction(style.replace("_", " ").capitalize(), editor)
            action.setShortcut(QKeySequence(f"Ctrl+Alt+{number}"))
            action.triggered.connect(lambda _=False, style=style: editor.set_style(style))
            made.append(action)
        for action in made:
            editor.addAction(action)
        return made

    def _open_menu(self, at: QPoint) -> None:
        editor = self._page.editor
        menu = QMenu(editor)
        selected = editor.textCursor().hasSelection()
        for label, act, usable in (
            ("Cut", editor.cut, selected),
            ("Copy", editor.copy, selected),
            ("Paste", editor.paste, editor.canPaste()),
        ):
            menu.addAction(label, act).setEnabled(usable)
        menu.addSeparator()
        menu.addAction("Cut to Offcuts", self.cut_selection).setEnabled(selected)
        menu.addAction("Split the scene here\tCtrl+Alt+Return", self.split_here)
        menu.addSeparator()
        menu.addActions(self.formats[: len(_SPANS)])
        styles = menu.addMenu("Paragraph")
        styles.addActions(self.formats[len(_SPANS) :])
        menu.popup(at)
        menu.aboutToHide.connect(menu.deleteLater)
