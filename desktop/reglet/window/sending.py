"""What the send-out room asks for: the book written as a file of another kind."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, QTimer
from PySide6.QtWidgets import QFileDialog, QWidget

from reglet.bookfile.snapshot import Reason
from reglet.errors import RegletError
from reglet.exchange import write_docx, write_epub, write_markdown
from reglet.manuscript.anchored import Answer
from reglet.manuscript.book import Book
from reglet.manuscript.stage import REVISING
from reglet.window.background import Background
from reglet.window.desk import Desk
from reglet.window.history import Keep
from reglet.window.print_process import Printed, work
from reglet.window.rooms.send_out import SendOutRoom
from reglet.window.side_process import SideProcess

_SOON_MS = 400
_KINDS = {
    ".docx": "Manuscripts (*.docx)",
    ".epub": "E-books (*.epub)",
    ".md": "Markdown (*.md)",
    ".pdf": "Pages to print (*.pdf)",
}
_WRITERS: dict[str, Callable[..., None]] = {
    ".docx": write_docx,
    ".epub": write_epub,
    ".md": write_markdown,
}

Ask = Callable[[str, str], Path | None]
"""Asks the writer where a file is to go, given a name for it and its ending; None for nowhere."""


class Sending(QObject):
    """Joins the send-out room to the desk. `keep` takes a snapshot of what is sent, with which a
    copy that comes back is compared.
    """

    def __init__(
        self,
        desk: Desk,
        room: SendOutRoom,
        background: Background,
        folder: Callable[[], Path],
        parent: QWidget,
        ask: Ask | None = None,
        keep: Keep | None = None,
    ) -> None:
        super().__init__(parent)
        self._keep = keep
        self._desk, self._room, self._background = desk, room, background
        self._folder, self._window, self.ask = folder, parent, ask or self._ask_in_a_dialog
        self._printer = SideProcess(work, self)
        self._printer.answered.connect(self._printed)
        self._soon = QTimer(self, singleShot=True, interval=_SOON_MS)
        self._soon.timeout.connect(self.show)
        room.wanted.connect(self.write)
        desk.book_changed.connect(self._soon.start)
        desk.replaced.connect(self.show)

    def show(self) -> None:
        """Show what would go out."""
        scenes = self._desk.book.scenes
        notes = sum(
            note.answer is Answer.OPEN for scene in self._desk.book.texts for note in scene.notes
        )
        unpassed = sum(not scene.passed.issuperset(REVISING) for scene in scenes)
        self._room.show_book(self._desk.book.word_count, notes, unpassed)

    def write(self, ending: str) -> None:
        """Write the book as a file of this kind, where the writer wants it."""
        book = self._desk.book
        path = self.ask(book.title or "Manuscript", ending)
        if path is None:
            return
        if path.suffix.lower() != ending:
            path = path.with_name(path.name + ending)
        if self._keep is not None:
            try:
                self._keep(f"Sent as {path.name}", "", Reason.BY_HAND)
            except RegletError as error:  # it can be sent all the same
                self._desk.refused.emit(str(error))
        if ending == ".pdf":
            self._room.show_writing(path.name)
            self._printer.send((book, path))
            return
        self._background.do(
            f"writing {path}", lambda: _written(book, path), self._room.show_written
        )

    def _printed(self, done: Printed) -> None:
        self._room.show_writing("")
        if done.failed:
            self._desk.refused.emit(done.failed)
        else:
            self._room.show_written(done.path, done.missing)

    def close(self) -> None:
        """End what is being printed."""
        self._printer.close()

    def _ask_in_a_dialog(self, name: str, ending: str) -> Path | None:
        at = str(self._folder() / f"{_file_name(name)}{ending}")
        chosen, _ = QFileDialog.getSaveFileName(
            self._window, "Where the file is to go", at, _KINDS[ending]
        )
        return Path(chosen) if chosen else None


def _written(book: Book, path: Path) -> Path:
    # The dialog has asked whether a file of that name may be replaced; it is kept as .bak as well.
    _WRITERS[path.suffix.lower()](book, path, overwrite=True)
    return path


def _file_name(title: str) -> str:
    """A title as every file system can hold it."""
    return "".join(
        " " if each in '<>:"/\\|?*' or ord(each) < 32 else each for each in title
    ).strip()
