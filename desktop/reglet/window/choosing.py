"""Overlays shown or hidden, lenient or strict: chosen on the Slip, kept in the style sheet."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QObject

from reglet.manuscript.book import Book
from reglet.manuscript.editing import restyle
from reglet.manuscript.stage import Stage
from reglet.overlays.house import Strictness, strictness_in, with_strictness
from reglet.overlays.register import of_stage
from reglet.window.desk import Desk
from reglet.window.rooms.queries import QueriesRoom


class Choosing(QObject):
    """Joins the rooms of the overlays to the book's style sheet."""

    def __init__(self, desk: Desk, rooms: dict[Stage, QueriesRoom], parent: QObject) -> None:
        super().__init__(parent)
        self._desk, self._rooms = desk, rooms
        self._following = False
        desk.replaced.connect(self._follow)
        for stage, room in rooms.items():
            room.shown_changed.connect(lambda stage=stage: self._switched(stage))
            room.strictness_chosen.connect(self._choose_strictness)

    def _follow(self) -> None:
        """Show what the style sheet of the book says that now lies on the desk."""
        sheet = self._desk.book.style_sheet
        self._following = True
        for room in self._rooms.values():
            room.switch_off(sheet.off)
            room.set_strictness(strictness_in(sheet))
        self._following = False

    def _switched(self, stage: Stage) -> None:
        if self._following:
            return
        here = {overlay.name for overlay in of_stage(stage)}
        off = frozenset(self._rooms[stage].off)

        def switch(book: Book) -> Book:
            sheet = book.style_sheet
            now = (sheet.off - here) | off
            return book if now == sheet.off else restyle(book, replace(sheet, off=now))

        self._desk.remember(switch)

    def _choose_strictness(self, overlay: str, wanted: Strictness) -> None:
        self._desk.remember(
            lambda book: restyle(book, with_strictness(book.style_sheet, overlay, wanted))
        )
        for room in self._rooms.values():
            room.set_strictness(strictness_in(self._desk.book.style_sheet))
