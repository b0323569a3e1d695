"""One way through the book: from a query of Proof to the bar that shows it, and to the desk."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QObject

from reglet.overlays.query import Choice, Query
from reglet.window.background import Background
from reglet.window.desk import Desk
from reglet.window.page.page import Page
from reglet.window.rooms.queries import QueriesRoom
from reglet.window.settlement import Prepared, prepared
from reglet.window.views import Views


class Settling(QObject):
    """Joins the queries that have a choice to make to the bar of the views and to the desk."""

    def __init__(
        self,
        desk: Desk,
        page: Page,
        rooms: Iterable[QueriesRoom],
        views: Views,
        background: Background,
        parent: QObject,
    ) -> None:
        super().__init__(parent)
        self._desk, self._views, self._background = desk, views, background
        self._bar = views.settle_bar
        self._prepared: Prepared | None = None
        page.query_settled.connect(self.ask)
        for room in rooms:
            room.settled.connect(self.ask)
        self._bar.way_wanted.connect(self._ask_for)
        self._bar.agreed.connect(self._put_through)
        self._bar.refused.connect(desk.refused)

    def ask(self, query: Query) -> None:
        """Show what the way that a query proposes would change in the whole book."""
        if query.choice is not None:
            self._prepare(query.overlay, query.choice)

    def _ask_for(self, way: str) -> None:
        if self._prepared is not None:
            self._prepare(self._prepared.overlay, Choice(self._prepared.choice.question, way))

    def _prepare(self, overlay: str, choice: Choice) -> None:
        book = self._desk.book
        self._background.do("settling", lambda: prepared(book, overlay, choice), self._show)

    def _show(self, found: Prepared) -> None:
        if found.book is not self._desk.book:  # it was written in meanwhile
            self._prepare(found.overlay, found.choice)
            return
        self._prepared = found
        if not self._bar.isVisible():
            self._views.settle()
        self._bar.show_prepared(found)

    def _put_through(self) -> None:
        found = self._prepared
        if found is None:
            return
        if found.book is not self._desk.book:
            self._prepare(found.overlay, found.choice)
            self._desk.refused.emit("The text was written in since. Look through the places again.")
            return
        label = found.said[:1].upper() + found.said[1:]
        if self._desk.perform(label, lambda _: found.settlement.book):
            self._views.close_bars()
