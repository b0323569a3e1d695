"""The Offcuts on the paper: what was taken out of the book, to read and to put back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRect, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QTextCursor
from PySide6.QtWidgets import QFrame, QHBoxLayout, QTextEdit, QWidget

from reglet.manuscript.book import Book, Offcut
from reglet.manuscript.offcuts import put_back_all, put_into
from reglet.numbers import counted
from reglet.window import dressing
from reglet.window.contents_model import name_of, opening_of, shown_title
from reglet.window.contents_work import put_version
from reglet.window.controls import Act
from reglet.window.desk import Desk
from reglet.window.laid_sheet import foot, named, set_out
from reglet.window.lettering import Caption, Label, dress_all
from reglet.window.page import conversion
from reglet.window.page.page import Page
from reglet.window.rows import RowDrawing, RowList
from reglet.window.theme import GRID, LIGHT, Theme

_LIST_SHARE, _TEXT_SHARE = 3, 5


class OffcutsView(QWidget):
    """Takes the place of the page. Words go back where they were, or in at the page's cursor."""

    closed = Signal()
    """Back to the page."""

    def __init__(self, desk: Desk, page: Page, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk, self._page = desk, page
        self._title = Label("Offcuts", page_face=True, scale=0.87)
        self._told = Label(quiet=True)
        self._told.setWordWrap(True)
        self._list = RowList(_OffcutDrawing(), "Offcuts")
        self._list.setSelectionMode(RowList.SelectionMode.ExtendedSelection)
        self._text = QTextEdit(readOnly=True)
        self._text.setFrameShape(QFrame.Shape.NoFrame)
        self._text.setAccessibleName("Text of the offcut")
        self._text.document().setDocumentMargin(0)
        self._text.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._theme = LIGHT
        self._back = Act("Back to the page")
        self._set_in = Act("Set in at the cursor")
        self._put_back = Act("Put back where it was", chief=True)
        self._lay_out()
        self._list.selectionModel().selectionChanged.connect(self._read)
        self._back.clicked.connect(self.closed)
        self._set_in.clicked.connect(self._set_in_here)
        self._put_back.clicked.connect(self._put_it_back)
        desk.arranged.connect(self._follow)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        dress_all(self, theme)
        dressing.dress_text(self._text, theme, dressing.font(theme.page, 0.94))
        self._read()

    def show_offcuts(self) -> None:
        """Show what has been taken out of the book, the latest first."""
        book = self._desk.book
        row = max(0, min(self._list.row(), len(book.offcuts) - 1))
        self._list.show_things(
            [_Kept(offcut, _came_from(book, offcut)) for offcut in reversed(book.offcuts)]
        )
        if book.offcuts:
            # The first is chosen, or the one that stands where the chosen one stood.
            self._list.choose(row)
        words = sum(offcut.scene.passage.word_count for offcut in book.offcuts)
        count = len(book.offcuts)
        self._told.setText(
            f"{counted(count, 'piece')}, {counted(words, 'word')}. Nothing here is "
            "counted or sent out with the book."
            if count
            else "Nothing has been taken out of the book yet. What you cut to Offcuts is kept here."
        )
        self._read()
        self._list.setFocus()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
            return
        super().keyPressEvent(event)

    def _lay_out(self) -> None:
        head = named(Caption("Taken out and kept"), self._title, self._back)
        sheet = QHBoxLayout()
        sheet.setSpacing(4 * GRID)
        sheet.addWidget(self._list, _LIST_SHARE)
        sheet.addWidget(self._text, _TEXT_SHARE)
        set_out(self, (head, self._told), sheet, foot((), self._set_in, self._put_back))

    def _follow(self) -> None:
        if self.isVisible():
            self.show_offcuts()

    def _chosen(self) -> list[Offcut]:
        return [kept.offcut for kept in self._list.all_chosen()]

    def _read(self) -> None:
        chosen = self._chosen()
        self._set_in.setEnabled(len(chosen) == 1)
        self._put_back.setEnabled(bool(chosen))
        self._put_back.setText(
            f"Put {len(chosen)} back where they were"
            if len(chosen) > 1
            else "Put in the place of the other"
            if self._is_version(chosen)
            else "Put back where it was"
        )
        if not chosen:
            self._text.clear()
            return
        conversion.show(self._text.document(), chosen[-1].scene.passage, self._theme.page)
        self._text.moveCursor(QTextCursor.MoveOperation.Start)

    def _is_version(self, chosen: Sequence[Offcut]) -> bool:
        """Whether one offcut is chosen, and that another version of a scene of the book."""
        return (
            len(chosen) == 1
            and chosen[0].origin is not None
            and self._desk.book.has_scene(chosen[0].origin.alternative_of)
        )

    def _put_it_back(self) -> None:
        chosen = self._chosen()
        if self._is_version(chosen):
            put_version(self._desk, chosen[0].id)
        elif chosen:
            ids = [each.id for each in chosen]
            label = "Put back an offcut" if len(ids) == 1 else "Put back offcuts"
            self._desk.perform(label, lambda book: put_back_all(book, ids))

    def _set_in_here(self) -> None:
        chosen, scene = self._chosen(), self._desk.scene
        if len(chosen) != 1 or scene is None:
            return
        (offcut,) = chosen
        at, _ = self._page.editor.span_selected()
        if self._desk.perform(
            "Set in an offcut", lambda book: put_into(book, offcut.id, scene.id, at)
        ):
            self.closed.emit()


@dataclass(frozen=True, slots=True)
class _Kept:
    """An offcut, and where it came from in words."""

    offcut: Offcut
    came_from: str


class _OffcutDrawing(RowDrawing[_Kept]):
    """What it begins with, its words, and where it came from."""

    height = 44

    def say(self, thing: _Kept) -> str:
        return f"{_name(thing.offcut)}, {thing.came_from}"

    def draw(self, painter: QPainter, rect: QRect, thing: _Kept) -> None:
        theme = self.theme
        inner = rect.adjusted(12, 5, -GRID, -5)
        words = f"{thing.offcut.scene.passage.word_count:,}"
        painter.setFont(dressing.font(theme.control, 0.93))
        painter.setPen(QColor(theme.quiet))
        top = Qt.AlignmentFlag.AlignTop
        painter.drawText(inner, top | Qt.AlignmentFlag.AlignRight, words)
        room = inner.width() - painter.fontMetrics().horizontalAdvance(words) - GRID
        painter.setFont(dressing.font(theme.control))
        painter.setPen(QColor(theme.ink))
        elide = Qt.TextElideMode.ElideRight
        name = painter.fontMetrics().elidedText(_name(thing.offcut), elide, room)
        painter.drawText(inner, top, name)
        painter.setFont(dressing.font(theme.control, 0.86))
        painter.setPen(QColor(theme.quiet))
        told = painter.fontMetrics().elidedText(thing.came_from, elide, inner.width())
        painter.drawText(inner, Qt.AlignmentFlag.AlignBottom, told)


def _name(offcut: Offcut) -> str:
    """What it is called: a scene by its title, a passage by its first words."""
    if offcut.origin is not None and offcut.scene.title:
        return shown_title(offcut.scene.title)
    return opening_of(offcut.scene)


def _came_from(book: Book, offcut: Offcut) -> str:
    """Where an offcut stood, and when it was cut."""
    when = offcut.cut_at.astimezone()
    day = f"{when.day} {when:%b %Y}"
    if offcut.origin is not None:
        chapter = next((each for each in book.chapters if each.id == offcut.origin.chapter), None)
        name = shown_title(chapter.title) if chapter else "a chapter that is gone"
        of = offcut.origin.alternative_of
        if of and book.has_scene(of):
            other = book.scene(of)
            return f"another version of “{name_of(other)}” · {day}"
        return f"scene of {name or 'an untitled chapter'} · {day}"
    for scene in book.texts:
        if any(cut.offcut == offcut.id for cut in scene.cuts):
            return f"from “{name_of(scene)}” · {day}"
    return f"from a scene that is not in the book · {day}"
