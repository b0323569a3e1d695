"""The application: one window, the theme it wears, and what it was asked to open."""

from __future__ import annotations

import sys
from pathlib import Path

from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QApplication

from reglet.window import dressing
from reglet.window.commands import Commands
from reglet.window.main_window import MainWindow
from reglet.window.opening import Opening
from reglet.window.theme import LIGHT, THEMES, Theme

_MOST_RECENT = 8


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
        app.setApplicationName("Reglet")
        app.setOrganizationName("Reglet")
        app.setStyle("Fusion")
        dressing.load_faces()
        self._app = app
        self._settings = settings or QSettings()
        wanted = self._settings.value("theme", LIGHT.name)
        theme = next((theme for theme in THEMES if theme.name == wanted), LIGHT)
        self._style(theme)  # before there are widgets, each of which would be styled once more
        self.window = MainWindow()
        geometry = self._settings.value("geometry")
        if geometry is None or not self.window.restoreGeometry(geometry):
            self.window.resize(1280, 800)
        self.opening = Opening(self.window)
        self.opening.opened.connect(self._opened)
        self.commands = Commands(self.window, self)
        self.window.closed.connect(self._remember)
        self.window.dress(theme)

    def dress(self, theme: Theme) -> None:
        """Put a theme on the window, and remember it."""
        self._style(theme)
        self.window.dress(theme)
        self._settings.setValue("theme", theme.name)

    def _style(self, theme: Theme) -> None:
        self._app.setPalette(dressing.palette(theme))
        self._app.setFont(dressing.font(theme.control))
        self._app.setStyleSheet(dressing.stylesheet(theme))

    def start(self, path: Path | None) -> None:
        """Show the window on what was asked for."""
        self.window.show()
        self.opening.begin(self.recent())
        if path is not None:
            self.opening.open(path)

    def recent(self) -> list[Path]:
        """The books opened lately, the latest first."""
        names = self._settings.value("recent", [], list)
        return [Path(name) for name in names] if isinstance(names, list) else []

    def _opened(self, path: Path) -> None:
        names = [str(each) for each in (path, *self.recent())]
        self._settings.setValue("recent", list(dict.fromkeys(names))[:_MOST_RECENT])

    def _remember(self) -> None:
        self._settings.setValue("geometry", self.window.saveGeometry())
