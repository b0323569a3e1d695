"""Where the writer was in each scene, to come back to in this sitting or a later one."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QObject, QTimer

from reglet.window.main_window import MainWindow
from reglet.window.memory import Memory

_REST_MS = 300
"""So long the cursor has to rest for its place to be marked."""


class Bookmarks(QObject):
    """Marks places as the cursor rests, and goes back to them."""

    def __init__(self, window: MainWindow, memory: Memory) -> None:
        super().__init__(window)
        self._window, self._memory = window, memory
        self._path: Path | None = None
        self._spots: dict[str, int] = {}
        self._rests = QTimer(self, singleShot=True, interval=_REST_MS)
        self._rests.timeout.connect(self._mark)
        window.desk.replaced.connect(self._take_up)
        window.desk.scene_shown.connect(self._go_back)
        window.page.editor.cursorPositionChanged.connect(self._rests.start)
        window.closed.connect(self._keep)

    def _take_up(self) -> None:
        """The marks of the book that was just opened; those of the one before are kept."""
        self._rests.stop()
        if self._path is not None:
            self._memory.stopped_at(self._path, self._spots)
        file = self._window.file
        self._path = file.path if file is not None else None
        self._spots = self._memory.spots(self._path) if self._path is not None else {}

    def _go_back(self, scene_id: str) -> None:
        self._rests.stop()
        at = self._spots.get(scene_id, 0)
        scene = self._window.desk.scene
        if at and scene is not None:
            at = min(at, len(scene.passage))
            self._window.page.editor.select(at, at)

    def _mark(self) -> None:
        scene = self._window.desk.scene
        if scene is not None:
            self._spots[scene.id] = self._window.page.editor.span_selected()[0]

    def _keep(self) -> None:
        if self._path is not None:
            self._mark()
            book = self._window.desk.book
            there = {each: at for each, at in self._spots.items() if at and book.has_scene(each)}
            self._memory.stopped_at(self._path, there)
