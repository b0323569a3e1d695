"""What is remembered between runs, on this machine and outside every book."""

from __future__ import annotations

import json
from pathlib import Path

from PySide6.QtCore import QByteArray, QSettings

from reglet.window.theme import LIGHT, THEMES, Theme

_MOST_BOOKS = 8


class Memory:
    """The theme, the window's place, the books opened lately and where each was left."""

    def __init__(self, settings: QSettings | None = None) -> None:
        """`settings`: where it is kept; the application's own unless given."""
        self._settings = settings or QSettings()

    @property
    def theme(self) -> Theme:
        """The theme that was worn last."""
        name = self._settings.value("theme")
        return next((theme for theme in THEMES if theme.name == name), LIGHT)

    def wore(self, theme: Theme) -> None:
        """Remember a theme."""
        self._settings.setValue("theme", theme.name)

    @property
    def geometry(self) -> QByteArray:
        """The window's size and place, for `restoreGeometry`; empty if it had none yet."""
        kept = self._settings.value("geometry")
        return kept if isinstance(kept, QByteArray) else QByteArray()

    def stood(self, geometry: QByteArray) -> None:
        """Remember the window's size and place."""
        self._settings.setValue("geometry", geometry)

    def recent(self) -> list[Path]:
        """The books opened lately, the latest first."""
        return [Path(name) for name in reversed(self._places())]

    def place(self, book: Path) -> str:
        """The id of the scene that lay open last in a book; "" if none is known."""
        return self._places().get(str(book), "")

    def lay_open(self, book: Path, scene_id: str) -> None:
        """Remember that a scene lies open in a book, which so becomes the latest."""
        places = self._places()
        places.pop(str(book), None)
        places[str(book)] = scene_id
        kept = dict(list(places.items())[-_MOST_BOOKS:])
        self._settings.setValue("books", json.dumps(kept))

    def _places(self) -> dict[str, str]:
        try:
            places = json.loads(str(self._settings.value("books", "{}")))
        except ValueError:
            return {}
        return places if isinstance(places, dict) else {}
