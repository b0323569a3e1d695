"""Every command with its key: what the menu of the book holds, and what works anywhere."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QObject
from PySide6.QtGui import QAction, QKeySequence

from reglet.manuscript.stage import Stage
from reglet.window.help_sheet import Section
from reglet.window.keys import OWN_KEYS
from reglet.window.main_window import MainWindow
from reglet.window.opening import Opening
from reglet.window.theme import DARK, EASY_READ, LIGHT, Theme

_DIGITS = range(10)
_ROWS = frozenset(
    (*(f"Ctrl+{each}" for each in range(1, 10)), *(f"Alt+{each}" for each in _DIGITS))
)


class Commands(QObject):
    """Makes the actions of a window. `dress` puts a theme on it."""

    def __init__(
        self, window: MainWindow, opening: Opening, dress: Callable[[Theme], None]
    ) -> None:
        super().__init__(window)
        self._window, self._opening, self._dress = window, opening, dress
        self._fill_menu()
        self._add_keys()

    def _fill_menu(self) -> None:
        window, opening, dress = self._window, self._opening, self._dress
        menu = window.header.book_menu
        self._add("Bring in a draft …", "Ctrl+Shift+O", opening.choose_draft, menu)
        self._add("Open a book …", QKeySequence.StandardKey.Open, opening.choose_book, menu)
        self._add("Keep a copy of the book …", "Ctrl+Shift+S", window.copying.copy, menu)
        menu.addSeparator()
        views = window.views
        self._add("Find", QKeySequence.StandardKey.Find, views.find, menu)
        self._add("Find and replace", "Ctrl+H", lambda: views.find(replacing=True), menu)
        self._add("Note on the words selected", "Ctrl+N", window.notes_work.write, menu)
        self._add("Take a snapshot …", "Ctrl+S", views.ask_for_snapshot, menu)
        self._add("History of the scene", "Ctrl+Shift+H", views.show_history, menu)
        self._add("History of the book", "Ctrl+Alt+H", views.show_book_history, menu)
        self._add("Offcuts", "Ctrl+Alt+O", views.show_offcuts, menu)
        self._add("The book and its style sheet", "Ctrl+Alt+B", views.show_facts, menu)
        menu.addSeparator()
        self._add("Light", "Ctrl+Alt+L", lambda: dress(LIGHT), menu)
        self._add("Dark", "Ctrl+Alt+D", lambda: dress(DARK), menu)
        self._add("Easy-read", "F7", self._easy_read, menu)
        menu.addSeparator()
        self._add("Larger type", QKeySequence.StandardKey.ZoomIn, lambda: window.zoom(1), menu)
        self._add("Smaller type", QKeySequence.StandardKey.ZoomOut, lambda: window.zoom(-1), menu)
        self._add("Type as it comes", "Ctrl+0", lambda: window.zoom(0), menu)
        menu.addSeparator()
        self._add("Every key", "F1", lambda: views.show_help(self.sections()), menu)
        self._add("Close", QKeySequence.StandardKey.Quit, window.close, menu)

    def _add_keys(self) -> None:
        window = self._window
        for number, stage in enumerate(Stage, start=1):
            self._add(stage.label, f"Ctrl+{number}", partial(window.enter, stage))
        for digit in _DIGITS:
            self._add(f"Overlay {digit}", f"Alt+{digit}", partial(self._toggle, digit))
        page, work = window.page, window.page_work
        for label, keys, act in (
            ("Next query", "Ctrl+J", partial(page.step_query, 1)),
            ("Query before", "Ctrl+Shift+J", partial(page.step_query, -1)),
            ("Next scene with queries", "Ctrl+Shift+PgDown", partial(work.step_scene, 1)),
            ("Scene with queries before", "Ctrl+Shift+PgUp", partial(work.step_scene, -1)),
            ("Cut the words selected to Offcuts", "Ctrl+Alt+X", work.cut_selection),
            ("Split the scene where the cursor stands", "Ctrl+Alt+Return", work.split_here),
            ("Rename the scene", "Shift+F2", page.rename),
        ):
            self._add(label, keys, partial(self._on_page, act))
        self._add("First read: the whole book", "F5", window.story_work.show_first_read)
        self._add("The book, scene by scene", "F6", window.story_work.show_book)
        line = window.line_work
        self._add("White space: every page", "Ctrl+Alt+W", line.show_white_space)
        self._add("What this stage has changed", "Ctrl+D", line.show_difference)
        self._add("Read it again: before and after", "Ctrl+R", line.show_again)
        listening = window.listening_work
        self._add("Listen, or pause", "F8", listening.play_or_pause)
        self._add("Listen from the cursor", "Shift+F8", listening.play_from_cursor)
        self._add("Listening: back a sentence", "Ctrl+F8", listening.back_a_sentence)
        self._add("Listening: back a paragraph", "Ctrl+Shift+F8", listening.back_a_paragraph)
        self._add("Listening: mark what was said", "F9", listening.flag)
        self._add("Listening: stop and mend the word", "Shift+F9", listening.mend)
        self._add("Listening: faster", "Alt+F8", lambda: listening.change_pace(1))
        self._add("Listening: slower", "Alt+Shift+F8", lambda: listening.change_pace(-1))
        by_ear = window.by_ear
        self._add("Heard, scene by scene", "Ctrl+Alt+E", by_ear.hearing.show_view)
        self._add("Voices", "Ctrl+Alt+V", by_ear.voices.show_view)
        self._add("How names are said", "Ctrl+Alt+N", by_ear.names.show_view)
        self._add("The book as sound files", "Ctrl+Alt+S", by_ear.away.show_view)
        self._add("A spot noted away from the desk", "Ctrl+Alt+T", self._note_spot)
        self._add("Next scene", "Ctrl+PgDown", lambda: window.desk.step_scene(1))
        self._add("Scene before", "Ctrl+PgUp", lambda: window.desk.step_scene(-1))
        self._add("Menu of the book", "F10", window.header.open_menu)
        self._add("To Contents", "Ctrl+Shift+C", window.contents.tree.setFocus)
        self._add("To the page", "Ctrl+Shift+P", window.page.setFocus)

    def _add(
        self,
        label: str,
        keys: str | QKeySequence.StandardKey,
        act: Callable[[], object],
        menu: QObject | None = None,
    ) -> QAction:
        action = QAction(label, self._window)
        if isinstance(keys, str):
            action.setShortcut(QKeySequence(keys))
        else:
            action.setShortcuts(keys)
        action.triggered.connect(lambda _=False: act())
        self._window.addAction(action)
        if menu is not None:
            menu.addAction(action)  # type: ignore[attr-defined]
        return action

    def sections(self) -> list[Section]:
        """Every key and what it does, for the writer to read."""
        anywhere = [
            action
            for action in self._window.actions()
            if not action.shortcut().isEmpty() and not _of_a_row(action)
        ]
        in_menu = self._window.header.book_menu.actions()
        return [
            ("The book", [_line(each) for each in anywhere if each in in_menu]),
            (
                "Going about",
                [
                    ("Ctrl+1 … Ctrl+5", "the stages, in their order"),
                    ("Alt+1, Alt+12 …", "show or hide the overlay of that number"),
                    *(_line(each) for each in anywhere if each not in in_menu),
                ],
            ),
            ("Writing", [_line(each) for each in self._window.page.editor.actions()]),
            *OWN_KEYS,
        ]

    def _on_page(self, act: Callable[[], object]) -> None:
        """Do what is done to the text before the writer's eyes; where a view lies on the page, lay
        the page open, and no more.
        """
        if self._window.page.isVisible():
            act()
        else:
            self._window.views.show_page()

    def _note_spot(self) -> None:
        self._window.enter(Stage.PROOF)
        self._window.by_ear.room.begin_spot()

    def _toggle(self, digit: int) -> None:
        room = self._window.rooms.get(self._window.desk.stage)
        if room is not None:
            room.type_digit(digit)

    def _easy_read(self) -> None:
        easy = self._window.theme is EASY_READ
        self._dress(LIGHT if easy else EASY_READ)


def _line(action: QAction) -> tuple[str, str]:
    """The key of an action, and what it does."""
    text = QKeySequence.SequenceFormat.PortableText
    return action.shortcut().toString(text), action.text().removesuffix(" …")


def _of_a_row(action: QAction) -> bool:
    """Whether it is one of a row of digits, which is told in one line."""
    return action.shortcut().toString() in _ROWS
