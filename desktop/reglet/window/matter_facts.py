"""Front and back matter among the facts of the book: the pieces there are, and those to be made."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from reglet.manuscript.book import Book
from reglet.manuscript.front_and_back import add_matter, kind_of, missing
from reglet.manuscript.matter import CAUTION, Matter
from reglet.manuscript.scene import Scene
from reglet.window.chips import Chips
from reglet.window.contents_model import name_of, shown_title
from reglet.window.desk import Desk
from reglet.window.lettering import Lines
from reglet.window.theme import GRID

_TOLD = (
    "Each is written by you, stands in its usual place in the e-book and in the pages to print, "
    "and is left out there as long as it has no words. To add:"
)


class MatterFacts(QWidget):
    """Lays a piece open on the page, or makes it first."""

    opened = Signal()
    """A piece lies open on the page."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._there = Chips("Opens it on the page")
        self._to_add = Chips("Adds it, and opens it on the page")
        self._told = Lines(_TOLD, quiet=True, scale=0.93)
        self._there.pressed.connect(self._open)
        self._to_add.pressed.connect(self._add)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        for widget in (
            self._there,
            self._told,
            self._to_add,
            Lines(CAUTION, quiet=True, scale=0.93),
        ):
            column.addWidget(widget)

    def show_pieces(self) -> None:
        """Show the pieces that the book has now."""
        book = self._desk.book
        pieces = {each.id: _name(each, book) for each in _pieces(book)}
        kinds = {kind.value: kind.label for kind in missing(book)}
        self._there.show_words(pieces)
        self._there.setVisible(bool(pieces))
        self._to_add.show_words(kinds)
        self._told.setVisible(bool(kinds))

    def _open(self, scene_id: str) -> None:
        self._desk.show_scene(scene_id)
        self.opened.emit()

    def _add(self, kind: str) -> None:
        before = {each.id for each in _pieces(self._desk.book)}
        wanted = Matter(kind)
        if self._desk.perform(wanted.label, lambda book: add_matter(book, wanted)[0]):
            self._open(next(each.id for each in _pieces(self._desk.book) if each.id not in before))


def _name(piece: Scene, book: Book) -> str:
    kind = kind_of(piece, book)
    return shown_title(piece.title) or (kind.label if kind else name_of(piece))


def _pieces(book: Book) -> tuple[Scene, ...]:
    return (*book.front, *book.back)
