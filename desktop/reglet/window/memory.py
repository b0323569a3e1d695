"""What is remembered between runs, on this machine and outside every book."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from PySide6.QtCore import QByteArray, QSettings

from reglet.window import listening_choices
from reglet.window.listening_choices import ListeningChoices
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
        self._keep("books", book, scene_id)

    def spots(self, book: Path) -> dict[str, int]:
        """Where the writer was in the scenes of a book: code points by the scenes' ids."""
        kept = self._kept("spots").get(str(book))
        if not isinstance(kept, dict):
            return {}
        return {scene: at for scene, at in kept.items() if isinstance(at, int)}

    def stopped_at(self, book: Path, spots: Mapping[str, int]) -> None:
        """Remember where the writer was in the scenes of a book."""
        self._keep("spots", book, dict(spots))

    @property
    def rhythm(self) -> bool:
        """Whether the lengths of sentences were shown last."""
        return bool(self._settings.value("rhythm", True, bool))

    def showed_rhythm(self, shown: bool) -> None:
        """Remember whether the lengths of sentences are shown."""
        self._settings.setValue("rhythm", shown)

    @property
    def listening(self) -> ListeningChoices:
        """How the writer listens."""
        return listening_choices.from_json(str(self._settings.value("listening", "{}")))

    def listens(self, choices: ListeningChoices) -> None:
        """Remember how the writer listens."""
        self._settings.setValue("listening", listening_choices.to_json(choices))

    def sound_files(self, book: Path) -> Path | None:
        """The folder that sound files of a book were last written to, if it is still there."""
        kept = self._kept("sound files").get(str(book))
        folder = Path(kept) if isinstance(kept, str) else None
        return folder if folder is not None and folder.is_dir() else None

    def wrote_sound_files(self, book: Path, folder: Path) -> None:
        """Remember the folder that sound files of a book were written to."""
        self._keep("sound files", book, str(folder))

    def _keep(self, name: str, book: Path, value: object) -> None:
        kept = self._kept(name)
        kept.pop(str(book), None)
        kept[str(book)] = value
        self._settings.setValue(name, json.dumps(dict(list(kept.items())[-_MOST_BOOKS:])))

    def _places(self) -> dict[str, str]:
        return self._kept("books")

    def _kept(self, name: str) -> dict[str, Any]:
        """What is kept under a name, book by book."""
        try:
            kept = json.loads(str(self._settings.value(name, "{}")))
        except ValueError:
            return {}
        return kept if isinstance(kept, dict) else {}
