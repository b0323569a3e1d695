"""The application: one window, the theme it wears, and what it was asked to open."""

from __future__ import annotations

import sys
from pathlib import Path

from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QApplication

from reglet.window import dressing
from reglet.window.bookmarks import Bookmarks
from reglet.window.commands import Commands
from reglet.window.main_window import MainWindow
from reglet.window.memory import Memory
from reglet.window.opening import Opening
from reglet.window.sweeping import Sweeping
from reglet.window.theme import Theme

_TURN_S = 0.0005
"""How long a thread beside the interface's, which saves or reads, keeps Python to itself when the
interface wants it: Python's own 5 ms, several times for one key, would be seen in the typing.
"""


def run(path: Path | None = None) -> int:
    """Open the window on a book, a draft to bring in, or (None) the first screen; the exit status.

    Returns when the window is closed.
    """
    app = QApplication(sys.argv[:1])
    application = Application(app)
    application.start(path)
    return app.exec()


class Application:
    """Holds the window and what is remembered between runs."""

    def __init__(self, app: QApplication, settings: QSettings | None = None) -> None:
        sys.setswitchinterval(_TURN_S)
        app.setApplicationName("Reglet")
        app.setOrganizationName("Reglet")
        app.setStyle("Fusion")
        dressing.load_faces()
        self._app = app
        self.memory = Memory(settings)
        theme = self.memory.theme
        self._style(theme)  # before there are widgets, each of which would be styled once more
        self.window = MainWindow()
        Sweeping(app, self.window)
        if not self.window.restoreGeometry(self.memory.geometry):
            self.window.resize(1280, 800)
        self.opening = Opening(self.window, self.memory)
        self.commands = Commands(self.window, self.opening, self.dress)
        Bookmarks(self.window, self.memory)
        self.window.listening_work.choose(self.memory.listening)
        self.window.listening_work.chosen.connect(self.memory.listens)
        self.window.by_ear.hearing.files_found.connect(self._sound_files)
        self.window.desk.replaced.connect(self._know_sound_files)
        line = self.window.line_work
        line.show_rhythm(self.memory.rhythm)
        line.figures_room.rhythm_wanted.connect(self.memory.showed_rhythm)
        self.window.desk.scene_shown.connect(self._lies_open)
        self.window.closed.connect(lambda: self.memory.stood(self.window.saveGeometry()))
        self.window.dress(theme)

    def dress(self, theme: Theme) -> None:
        """Put a theme on the window, and remember it."""
        self._style(theme)
        self.window.dress(theme)
        self.memory.wore(theme)

    def start(self, path: Path | None) -> None:
        """Show the window on what was asked for."""
        self.window.show()
        self.opening.begin()
        if path is not None:
            self.opening.open(path)

    def _style(self, theme: Theme) -> None:
        self._app.setPalette(dressing.palette(theme))
        self._app.setFont(dressing.font(theme.control))
        self._app.setStyleSheet(dressing.stylesheet(theme))

    def _lies_open(self, scene_id: str) -> None:
        file = self.window.file
        if file is not None and scene_id:
            self.memory.lay_open(file.path, scene_id)

    def _sound_files(self, folder: Path) -> None:
        file = self.window.file
        if file is not None:
            self.memory.wrote_sound_files(file.path, folder)

    def _know_sound_files(self) -> None:
        file = self.window.file
        folder = self.memory.sound_files(file.path) if file is not None else None
        if folder is not None:
            self.window.by_ear.hearing.set_files(folder)
