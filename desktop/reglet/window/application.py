"""The application: one window, the theme it wears, and what it was asked to open."""

from __future__ import annotations

import sys
from pathlib import Path

from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QApplication

from reglet.bookfile.file import BookFile
from reglet.errors import RegletError
from reglet.window import dressing
from reglet.window.commands import Commands
from reglet.window.main_window import MainWindow
from reglet.window.theme import LIGHT, THEMES, Theme


def run(path: Path | None = None) -> int:
    """Open the window on a book, a draft to bring in, or (None) the first screen; the exit status.

    Returns when the window is closed.
    """
    app = QApplication.instance() or QApplication(sys.argv[:1])
    application = Application(app)  # type: ignore[arg-type]
    application.start(path)
    return app.exec()


class Application:
    """Holds the window and what is remembered between runs."""

    def __init__(self, app: QApplication, settings: QSettings | None = None) -> None:
        app.setApplicationName("Reglet")
        app.setOrganizationName("Reglet")
        app.setStyle("Fusion")
        dressing.load_faces()
        self._app = app
        self._settings = settings or QSettings()
        self.window = MainWindow()
        self.commands = Commands(self.window, self)
        wanted = self._settings.value("theme", LIGHT.name)
        self.dress(next((theme for theme in THEMES if theme.name == wanted), LIGHT))
        geometry = self._settings.value("geometry")
        if geometry is None or not self.window.restoreGeometry(geometry):
            self.window.resize(1280, 800)
        self.window.closed.connect(self._remember)

    def dress(self, theme: Theme) -> None:
        """Put a theme on the window, and remember it."""
        self._app.setPalette(dressing.palette(theme))
        self._app.setFont(dressing.font(theme.control))
        self._app.setStyleSheet(dressing.stylesheet(theme))
        self.window.dress(theme)
        self._settings.setValue("theme", theme.name)

    def start(self, path: Path | None) -> None:
        """Show the window on what was asked for."""
        self.window.show()
        if path is not None:
            self.open(path)

    def open(self, path: Path) -> None:
        """Open a book."""
        try:
            self.window.open_book(BookFile.open(path))
        except RegletError as error:
            self.window.desk.refused.emit(str(error))

    def _remember(self) -> None:
        self._settings.setValue("geometry", self.window.saveGeometry())
