"""From a file to a book on the desk: the first screen, bringing in a draft, opening a book."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path
from threading import Event

from platformdirs import user_data_path
from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFileDialog, QMessageBox, QVBoxLayout, QWidget

import reglet
from reglet.bookfile.backups import backups
from reglet.bookfile.file import BookFile
from reglet.bookfile.naming import ENDING, called_book, is_called_book
from reglet.bookfile.salvaging import Salvaged, salvage
from reglet.errors import BookFileInUse, DamagedBookFile, DraftError, RegletError
from reglet.exchange.proposal import Proposal
from reglet.exchange.reading import read_draft
from reglet.manuscript.book import Book
from reglet.window.background import Background
from reglet.window.controls import Act
from reglet.window.copying import BOOKS
from reglet.window.first_start import FirstStart
from reglet.window.import_desk import ImportDesk
from reglet.window.lettering import Label, dress_all
from reglet.window.main_window import MainWindow
from reglet.window.memory import Memory
from reglet.window.theme import GRID

_DEMO = Path(reglet.__file__).resolve().parents[2] / "demo_book" / "draft.docx"
_DRAFTS = "Drafts (*.docx *.docm *.odt *.md *.markdown *.txt)"


class Stopped(DraftError):
    """The writer did not want to wait for a draft to be read."""


class Opening(QObject):
    """Leads from whatever was asked for to a book on the desk of a window."""

    opened = Signal(object)
    """The `Path` of a book that lies on the desk now."""
    proposed = Signal()
    """A draft has been read, and lies there to be looked at."""
    told = Signal(str)
    """Something could not be opened: the sentence that the writer is told."""
    _progressed = Signal(float)

    def __init__(self, window: MainWindow, memory: Memory) -> None:
        super().__init__(window)
        self._window, self._memory = window, memory
        self._draft = Path()
        self._book_path: Path | None = None
        self._stop = Event()
        self._reader = Background(self)
        self.first_start, self.import_desk, self._reading = FirstStart(), ImportDesk(), _Reading()
        for screen in (self.first_start, self.import_desk, self._reading):
            window.root.addWidget(screen)
        self.first_start.demo_wanted.connect(self.open_demo)
        self.first_start.draft_wanted.connect(self.choose_draft)
        self.first_start.book_wanted.connect(self.choose_book)
        self.first_start.recent_wanted.connect(self.open)
        self.import_desk.agreed.connect(self._make_book)
        self.import_desk.left.connect(self._back)
        self._progressed.connect(lambda share: self._reading.say(self._draft.name, share))
        self._reader.failed.connect(self._refuse)
        self._reading.stopped.connect(self._stop_reading)
        window.copying.moved.connect(self._go_on_in)
        window.closed.connect(self._close)

    def begin(self) -> None:
        """Show the first screen, with the books opened lately that are still there."""
        self.first_start.show_recent([path for path in self._memory.recent() if path.exists()])
        dress_all(self.first_start, self._window.theme)
        self._window.root.setCurrentWidget(self.first_start)

    def open(self, path: Path) -> None:
        """Open a book, or bring in a draft, by the name of its file."""
        if is_called_book(path):
            self._open_book(path)
        else:
            self.read(path)

    def open_demo(self) -> None:
        """Open the writer's own copy of the demo book, made from its draft the first time."""
        path = user_data_path("reglet", appauthor=False) / f"demo book{ENDING}"
        if path.exists():
            self._open_book(path)
        else:
            self.read(_DEMO, path)

    def choose_draft(self) -> None:
        """Ask for a draft's file and bring it in."""
        name, _ = QFileDialog.getOpenFileName(self._window, "Bring in a draft", "", _DRAFTS)
        if name:
            self.read(Path(name))

    def choose_book(self) -> None:
        """Ask for a book's file and open it."""
        name, _ = QFileDialog.getOpenFileName(self._window, "Open a book", "", BOOKS)
        if name:
            self._open_book(Path(name))

    def read(self, draft: Path, book_path: Path | None = None) -> None:
        """Read a draft off the interface thread, then show how it falls into scenes. The book is
        made at `book_path`, or beside the draft.
        """
        self._draft, self._book_path = draft, book_path
        self._reading.say(draft.name, 0.0)
        dress_all(self._reading, self._window.theme)
        self._window.root.setCurrentWidget(self._reading)

        self._reading.setFocus()
        stop = self._stop = Event()

        def progress(share: float) -> None:
            if stop.is_set():
                raise Stopped("Stopped. Nothing was changed.")
            self._progressed.emit(share)

        self._reader.do("reading", lambda: read_draft(draft, progress), self._show_proposal)

    def _stop_reading(self) -> None:
        self._stop.set()
        self._reader.forget("reading")
        self._back()

    def _show_proposal(self, proposal: Proposal) -> None:
        self.import_desk.show_proposal(proposal)
        self.import_desk.dress(self._window.theme)
        self._window.root.setCurrentWidget(self.import_desk)
        self.proposed.emit()

    def _make_book(self, book: Book) -> None:
        path = self._book_path or self._draft.with_suffix(ENDING)
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            file = BookFile.create(path, book)
        except (RegletError, OSError) as error:
            # There already, say, or a folder that cannot be written: asked for anew until it goes.
            self._ask_for_place(path, str(error), book)
            return
        self._lay_out(file)

    def _ask_for_place(self, path: Path, why: str, book: Book) -> None:
        name, _ = QFileDialog.getSaveFileName(
            self._window, f"Where to keep the book. {why}", str(path), BOOKS
        )
        if name:
            self._book_path = called_book(Path(name))
            self._make_book(book)

    def _open_book(self, path: Path, read_only: bool = False) -> None:
        lying = self._window.file
        if lying is not None and lying.path == path.resolve():
            self._back()
            return
        try:
            file = BookFile.open(path, read_only)
        except BookFileInUse as error:
            self._refuse(str(error), {"Open it for reading only": partial(self._read_only, path)})
        except DamagedBookFile as error:
            self._refuse(str(error), self._ways_out_of_damage(path))
        except RegletError as error:
            self._refuse(str(error))
        else:
            self._lay_out(file)

    def _read_only(self, path: Path) -> None:
        self._open_book(path, read_only=True)

    def _ways_out_of_damage(self, path: Path) -> dict[str, Callable[[], None]]:
        """What the writer can have done about a damaged book, by what the button for it says."""
        ways: dict[str, Callable[[], None]] = {
            "Bring what can be read into a new book …": partial(self._salvage, path)
        }
        copies = backups(path)
        if copies:
            # The copies themselves are not written to.
            ways["Read the newest copy"] = partial(self._read_only, copies[0])
        return ways

    def _salvage(self, path: Path) -> None:
        self._book_path = path.with_name(f"{path.stem} salvaged{path.suffix}")

        def made(found: Salvaged) -> None:
            self._make_book(found.book)
            if found.losses:
                self._tell("\n\n".join(found.losses))

        self._reader.do("salvaging", lambda: salvage(path), made)

    def _go_on_in(self, copy: Path) -> None:
        """Work on in a copy, as the book's own file takes nothing more."""
        desk = self._window.desk
        scene = desk.scene
        try:
            file = BookFile.open(copy)
            file.save(desk.book)  # with what was typed while it was copied
        except RegletError as error:
            self._tell(str(error))
            return
        self._window.let_go()
        self._window.open_book(file, scene.id if scene else "")
        self.opened.emit(file.path)

    def _lay_out(self, file: BookFile) -> None:
        try:
            self._window.open_book(file, self._memory.place(file.path))
        except RegletError as error:
            file.close()
            self._refuse(str(error))
            return
        self.opened.emit(file.path)

    def _refuse(self, sentence: str, ways: Mapping[str, Callable[[], None]] | None = None) -> None:
        self._back()
        self._tell(sentence, ways)

    def _back(self) -> None:
        """Back to the book that lies on the desk, or to the first screen."""
        if self._window.file is not None:
            self._window.show_bench()
        else:
            self._window.root.setCurrentWidget(self.first_start)

    def _tell(self, sentence: str, ways: Mapping[str, Callable[[], None]] | None = None) -> None:
        """Tell the writer something, and what they can have done about it."""
        self.told.emit(sentence)
        box = QMessageBox(self._window)
        box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        box.setText(sentence)
        for says, way in (ways or {}).items():
            box.addButton(says, QMessageBox.ButtonRole.ActionRole).clicked.connect(way)
        if ways:
            box.addButton("Not now", QMessageBox.ButtonRole.RejectRole)
        box.open()

    def _close(self) -> None:
        self._stop.set()
        self._reader.close()


class _Reading(QWidget):
    """What is on the desk while a draft is read."""

    stopped = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._said = Label(page_face=True)
        self._act = Act("Stop")
        self._act.clicked.connect(self.stopped)
        self.setFocusProxy(self._act)
        column = QVBoxLayout(self)
        column.addStretch(2)
        column.addWidget(self._said, 0, Qt.AlignmentFlag.AlignHCenter)
        column.addSpacing(2 * GRID)
        column.addWidget(self._act, 0, Qt.AlignmentFlag.AlignHCenter)
        column.addStretch(3)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.stopped.emit()
        else:
            super().keyPressEvent(event)

    def say(self, name: str, share: float) -> None:
        """How much of a draft has been read, from 0 to 1."""
        self._said.setText(f"Reading {name} … {share:.0%}")
