"""What stands around the voice that reads: what was heard, the voices, names said, sound files."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QFileDialog, QWidget

from reglet.voice.reading_order import Place
from reglet.window.away_work import AwayWork
from reglet.window.background import Background
from reglet.window.desk import Desk
from reglet.window.hearing_work import HearingWork
from reglet.window.listening_work import ListeningWork
from reglet.window.names_said_work import NamesSaidWork
from reglet.window.rooms.heard import HeardRoom
from reglet.window.views import Views
from reglet.window.voices_work import VoicesWork


class ByEar(QObject):
    """Joins these to the desk, and the room Heard to them."""

    def __init__(
        self,
        desk: Desk,
        listening: ListeningWork,
        views: Views,
        background: Background,
        cursor: Callable[[], Place | None],
        folder: Callable[[], Path],
        parent: QWidget,
    ) -> None:
        """`cursor` gives the place of the cursor on the page, `folder` where the book's file is."""
        super().__init__(parent)
        self._folder, self._window = folder, parent
        self.room = HeardRoom()
        self.hearing = HearingWork(
            desk,
            listening,
            self.room,
            views,
            background,
            self._ask_for_sound_files,
            views.show_words,
            self,
        )
        self.voices = VoicesWork(desk, listening, views, cursor, parent)
        self.names = NamesSaidWork(desk, listening, views, background, self)
        self.away = AwayWork(desk, listening, views, folder, parent)
        self.room.voices_wanted.connect(self.voices.show_view)
        self.room.names_wanted.connect(self.names.show_view)
        self.room.files_wanted.connect(self.away.show_view)
        self.away.written.connect(self.hearing.set_files)

    def close(self) -> None:
        """End what runs beside the window."""
        self.hearing.close()
        self.away.close()

    def _ask_for_sound_files(self) -> Path | None:
        chosen = QFileDialog.getExistingDirectory(
            self._window, "The folder of the sound files", str(self._folder())
        )
        return Path(chosen) if chosen else None
