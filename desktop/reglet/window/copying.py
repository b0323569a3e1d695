"""A copy of the whole book somewhere else: asked for, or where its own disk takes no more."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QFileDialog, QMessageBox, QWidget

from reglet.bookfile.naming import ENDING, called_book
from reglet.errors import RegletError
from reglet.window.background import Background
from reglet.window.saving import Saved, Saver

_WITHOUT_HISTORY = (
    "The book’s own file could not be read any more, so the copy has all its text but none of its "
    "snapshots."
)

BOOKS = f"Books (*{ENDING})"
"""The files that a dialog for books shows."""

Ask = Callable[[str, str], Path | None]
"""Asks the writer where the copy is to lie, given a sentence and a name for it; None for nowhere.
"""


class Copying(QObject):
    """Copies the book that lies on the desk, whose `saver` it asks for."""

    told = Signal(str)
    """A sentence for the writer."""
    moved = Signal(object)
    """The book could not be saved where it is, and is to be worked on in its copy: the `Path`."""

    def __init__(
        self,
        saver: Callable[[], Saver | None],
        background: Background,
        parent: QWidget,
        ask: Ask | None = None,
    ) -> None:
        super().__init__(parent)
        self._saver, self._background, self._window = saver, background, parent
        self.ask = ask or self._ask_in_a_dialog

    def copy(self) -> None:
        """Ask where a copy of the book is to lie, and make it."""
        saver = self._saver()
        path = self._place(saver, "Where the copy is to lie") if saver is not None else None
        if saver is not None and path is not None:
            self._background.do(
                f"copying to {path}",
                lambda: saver.copy_to(path),
                lambda with_history: self._copied(path, with_history),
            )

    def _copied(self, path: Path, with_history: bool) -> None:
        told = [f"A copy of the book with its whole history is in {path}."]
        if not with_history:
            told = [f"A copy of the book is in {path}.", _WITHOUT_HISTORY]
        saver = self._saver()
        if saver is not None and saver.state is Saved.NOT_SAVED:
            self.moved.emit(path)
            told.append("You are working in this copy now.")
        self.told.emit(" ".join(told))

    def may_close(self, why: str) -> bool:
        """Where the book cannot be saved, for the reason `why`: have the writer choose between a
        copy elsewhere, going without what is unsaved, and staying. Whether the window may close.
        """
        while True:
            box = QMessageBox(self._window)
            box.setText(why)
            box.setInformativeText("What was typed since the last saving is on the page alone.")
            copy = box.addButton("Keep a copy elsewhere …", QMessageBox.ButtonRole.AcceptRole)
            lose = box.addButton("Close without it", QMessageBox.ButtonRole.DestructiveRole)
            stay = box.addButton("Stay here", QMessageBox.ButtonRole.RejectRole)
            box.setDefaultButton(copy)
            box.setEscapeButton(stay)
            box.exec()
            if box.clickedButton() is lose:
                return True
            saver = self._saver()
            if box.clickedButton() is not copy or saver is None:
                return False
            path = self._place(saver, "Where the copy is to lie")
            if path is None:
                continue
            try:
                saver.copy_to(path)
            except RegletError as error:
                why = str(error)
            else:
                return True

    def _place(self, saver: Saver, sentence: str) -> Path | None:
        own = saver.file.path
        chosen = self.ask(sentence, f"{own.stem} copy{own.suffix}")
        return None if chosen is None else called_book(chosen)

    def _ask_in_a_dialog(self, sentence: str, name: str) -> Path | None:
        saver = self._saver()
        folder = saver.file.path.parent if saver is not None else Path.home()
        chosen, _ = QFileDialog.getSaveFileName(self._window, sentence, str(folder / name), BOOKS)
        return Path(chosen) if chosen else None
