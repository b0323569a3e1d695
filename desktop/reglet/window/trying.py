"""Another order of the scenes, tried in the view of the book while the book stays as it is."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, Signal

from reglet.manuscript import draft_arrangement
from reglet.manuscript.book import Arrangement, Book
from reglet.window.desk import Desk, Operation


class Trying(QObject):
    """The draft arrangement that is tried, if one is, and each order it had on the way."""

    changed = Signal(bool)
    """Whether an order is tried now."""

    def __init__(self, desk: Desk, parent: QObject) -> None:
        super().__init__(parent)
        self._desk = desk
        self._id = ""
        self._past: list[Arrangement] = []
        self._future: list[Arrangement] = []

    @property
    def on(self) -> bool:
        """Whether an order is tried."""
        return bool(self._id) and any(each.id == self._id for each in self._desk.book.arrangements)

    def shaped(self) -> Book:
        """The book as it is, or as it would be in the order that is tried."""
        book = self._desk.book
        if self._id and not self.on:
            self.leave()
        return draft_arrangement.arranged(book, self._id) if self._id else book

    def begin(self) -> None:
        """Try another order: the one left lying, if there is one, else the book's own to start."""
        begun: list[str] = []

        def begin(book: Book) -> Book:
            if book.arrangements:
                begun.append(book.arrangements[-1].id)
                return book
            book, made = draft_arrangement.begun(book, "Another order")
            begun.append(made)
            return book

        self._desk.remember(begin)
        if begun:
            self.leave()
            self._id = begun[0]
            self.changed.emit(True)

    def leave(self) -> None:
        """Look at the book's own order again; the one that is tried is kept."""
        if self._id:
            self._id = ""
            self._past, self._future = [], []
            self.changed.emit(False)

    def order(self, operation: Operation) -> None:
        """Change the order that is tried."""
        before = draft_arrangement.named(self._desk.book, self._id)
        arrangement_id = self._id

        def kept(book: Book) -> Book:
            shaped = operation(draft_arrangement.arranged(book, arrangement_id))
            return draft_arrangement.kept(book, arrangement_id, shaped)

        if self._desk.remember(kept) and before not in self._desk.book.arrangements:
            self._past.append(before)
            self._future.clear()

    def undo(self) -> None:
        """Take back the last change of the order that is tried."""
        self._go(self._past, self._future)

    def redo(self) -> None:
        """Do again what `undo` took back."""
        self._go(self._future, self._past)

    def take(self) -> None:
        """The order that is tried becomes the book's."""
        self._end("Take a draft arrangement", draft_arrangement.taken)

    def drop(self) -> None:
        """Done with the order that is tried; the book stays as it is."""
        self._end("Drop a draft arrangement", draft_arrangement.dropped)

    def _end(self, label: str, end: Callable[[Book, str], Book]) -> None:
        arrangement_id = self._id
        self.leave()
        self._desk.perform(label, lambda book: end(book, arrangement_id))

    def _go(self, back: list[Arrangement], forth: list[Arrangement]) -> None:
        if not back:
            return
        now = draft_arrangement.named(self._desk.book, self._id)
        earlier = back[-1]
        if self._desk.remember(lambda book: draft_arrangement.put(book, earlier)):
            back.pop()
            forth.append(now)
