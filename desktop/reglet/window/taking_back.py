"""Taking a copy back in: what an editor or a reader wrote into it becomes notes."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QFileDialog, QWidget

from reglet.bookfile.file import BookFile
from reglet.bookfile.snapshot import Reason
from reglet.errors import RegletError
from reglet.exchange import ReturnedCopy, read_draft, read_returned, take_back
from reglet.manuscript.book import Book
from reglet.window.background import Background
from reglet.window.desk import Desk
from reglet.window.history import Keep
from reglet.window.rooms.send_out import SendOutRoom

_COPIES = "Copies (*.docx *.docm *.odt *.md *.markdown *.txt)"

Ask = Callable[[], Path | None]
"""Asks the writer for the copy; None for none."""


class TakingBack(QObject):
    """Joins the room of sending out to the desk. `keep` takes a snapshot, `file` gives the book's
    file, if any, in which the state that was sent is found.
    """

    def __init__(
        self,
        desk: Desk,
        room: SendOutRoom,
        background: Background,
        file: Callable[[], BookFile | None],
        keep: Keep,
        parent: QWidget,
        ask: Ask | None = None,
    ) -> None:
        super().__init__(parent)
        self._desk, self._room, self._background = desk, room, background
        self._file, self._keep, self._window = file, keep, parent
        self.ask = ask or self._ask_in_a_dialog
        room.back_wanted.connect(self.take_back)

    def take_back(self) -> None:
        """Ask for a copy, and make notes of what is found in it."""
        file, book = self._file(), self._desk.book
        path = self.ask() if file is not None else None
        if file is None or path is None:
            return
        self._room.show_taken_back(f"Reading {path.name} …")
        self._background.do(
            "taking back", lambda: _read(file, book, path), lambda copy: self._lay(path, copy)
        )

    def _lay(self, path: Path, found: ReturnedCopy | str) -> None:
        if isinstance(found, str):
            self._room.show_taken_back(found)
            return
        done = take_back(self._desk.book, found)
        new = done.comments or done.changes
        if new:
            try:
                self._keep(f"Before taking back {path.name}", "", Reason.BEFORE_IMPORT)
            except RegletError as error:
                self._room.show_taken_back(str(error))
                return
            before = {scene.id: scene for scene in self._desk.book.texts}
            for scene in done.book.texts:
                if scene is not before[scene.id]:
                    self._desk.amend(scene.id, partial(Book.with_scene, scene=scene))
        said = [done.said, *filter(None, [found.aside])]
        if new:
            said.append("With “Whole book”, Notes shows them all.")
        self._room.show_taken_back(" ".join(said))

    def _ask_in_a_dialog(self) -> Path | None:
        file = self._file()
        folder = file.path.parent if file is not None else Path.home()
        name, _ = QFileDialog.getOpenFileName(
            self._window, "Take a copy back in", str(folder), _COPIES
        )
        return Path(name) if name else None


def _read(file: BookFile, now: Book, path: Path) -> ReturnedCopy | str:
    """What is in a copy, or the sentence that says why it could not be read."""
    try:
        returned = read_draft(path).book()
        return read_returned((now, *file.whole_states()), returned, path.name)
    except RegletError as error:
        return str(error)
