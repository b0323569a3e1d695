"""White space: the whole book as its pages or screens, each as a shape, with the share of white."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFont,
    QHideEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from reglet.manuscript.stage import Stage
from reglet.numbers import counted
from reglet.setting import Medium, Sheet
from reglet.setting.reader_copy import PageShape, PieceShape
from reglet.window import dressing, sheet_drawing
from reglet.window.controls import Act
from reglet.window.laid_sheet import foot, named, set_out
from reglet.window.lettering import Caption, Label, dress_all
from reglet.window.scrolled import Scrolled
from reglet.window.theme import GRID, LIGHT, Theme

_PAGE_HEIGHT = 12 * GRID
_FOOT = 2 * GRID + 4
_GAP = 10
_INSET = 3
"""Room for the frame of the page that is chosen."""
_HEADING = 4 * GRID
_TYPE = 150
"""How strong the shapes of lines are, of 255."""
_NOTHING = "No pages yet: there is no scene in the book."


@dataclass(frozen=True)
class ChapterShape:
    """A chapter's name and its pages."""

    name: str
    pages: tuple[PageShape, ...]


@dataclass(frozen=True)
class _Cell:
    """One page where it is drawn; `number` counts from 1 through the book."""

    box: QRectF
    number: int
    chapter: int
    page: PageShape


class WhiteSpaceView(QWidget):
    """Takes the place of the page."""

    closed = Signal()
    place_wanted = Signal(str, int, int)
    """A scene's id, a paragraph's index in it and a code point in that: to be gone to."""
    place_pointed = Signal(str, int, int)
    """The same, of the page that is looked at."""
    put_away = Signal()
    """It lies on the paper no more."""
    medium_changed = Signal()
    """Pages are wanted in the place of screens, or the other way about: see `on_phone`."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.on_phone = False
        self._sheet: Sheet | None = None
        self._chapters: list[ChapterShape] = []
        self._title = Label(page_face=True, scale=0.87)
        self._told = Label()
        self._hint = Label(quiet=True, scale=0.93)
        self._other = Act("On a phone")
        self._back = Act("Back to the page")
        self._there = Act("Go there", chief=True)
        self._strip = _Strip()
        self._scrolled = Scrolled(self._strip)
        self._lay_out()
        self._other.clicked.connect(self._change_medium)
        self._back.clicked.connect(self.closed)
        self._there.clicked.connect(self._go)
        self._strip.pointed.connect(self._point)
        self._strip.opened.connect(self._go)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        dress_all(self, theme)

    def begin(self, title: str, sheet: Sheet, blocks: frozenset[tuple[str, int]]) -> None:
        """Make ready for the chapters of a book set on a sheet. `blocks` are the paragraphs to
        mark: a scene's id and the paragraph's index.
        """
        self._sheet, self._chapters = sheet, []
        self._title.setText(title or "Untitled book")
        self._strip.begin(sheet, blocks)
        self._told.setText("Being set …")
        self._hint.setText("")
        self._there.setEnabled(False)
        self._strip.setFocus()

    def add(self, chapter: ChapterShape) -> None:
        """The next chapter, in order."""
        self._chapters.append(chapter)
        self._strip.add(chapter)
        self._tell()

    def end(self) -> None:
        """No chapter is to come."""
        if not any(chapter.pages for chapter in self._chapters):
            self._told.setText(_NOTHING)

    def mark(self, blocks: frozenset[tuple[str, int]]) -> None:
        """Other paragraphs are blocks now."""
        self._strip.mark(blocks)
        self._tell()

    def look_at(self, scene: str, index: int) -> None:
        """Point to the page where a paragraph begins."""
        self._strip.look_at(scene, index)

    def hideEvent(self, event: QHideEvent) -> None:
        self.put_away.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
        else:
            super().keyPressEvent(event)

    def _lay_out(self) -> None:
        head = named(Caption("White space"), self._title, self._other, self._back)
        set_out(self, (head,), self._scrolled, foot((self._told, self._hint), self._there))

    def _tell(self) -> None:
        pages = [page for chapter in self._chapters for page in chapter.pages]
        if not pages or self._sheet is None:
            return
        of = "screens" if self._sheet.medium is not Medium.PRINT else "pages"
        white = sum(page.white for page in pages) / len(pages)
        blocks = self._strip.blocks_shown()
        said = f"{len(pages):,} {of} of {self._sheet.name} · {white:.0%} white on average"
        if blocks:
            said += f" · {counted(blocks, 'block')}"
        self._told.setText(said)

    def _change_medium(self) -> None:
        self.on_phone = not self.on_phone
        self._other.setText("In print" if self.on_phone else "On a phone")
        self.medium_changed.emit()

    def _point(self, cell: _Cell) -> None:
        self._scrolled.ensureVisible(
            round(cell.box.center().x()), round(cell.box.center().y()), 0, _PAGE_HEIGHT
        )
        of = "Screen" if self._sheet and self._sheet.medium is not Medium.PRINT else "Page"
        name = self._chapters[cell.chapter].name
        self._hint.setText(f"{of} {cell.number:,} · {cell.page.white:.0%} white · {name}")
        self._strip.setAccessibleDescription(self._hint.text())
        piece = _first(cell)
        self._there.setEnabled(piece is not None)
        if piece is not None:
            self.place_pointed.emit(piece.scene, piece.index, piece.start)

    def _go(self) -> None:
        cell = self._strip.chosen
        piece = _first(cell) if cell else None
        if piece is not None:
            self.place_wanted.emit(piece.scene, piece.index, piece.start)


def _first(cell: _Cell) -> PieceShape | None:
    """The first of the writer's own paragraphs on a page."""
    return next((piece for piece in cell.page.pieces if piece.scene), None)


class _Strip(QWidget):
    """The pages in rows, chapter by chapter. The arrows move the choice."""

    pointed = Signal(object)
    opened = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = LIGHT
        self._sheet: Sheet | None = None
        self._blocks: frozenset[tuple[str, int]] = frozenset()
        self._chapters: list[ChapterShape] = []
        self._cells: list[_Cell] = []
        self._headings: list[tuple[float, str]] = []
        self._chosen = -1
        self._wanted: tuple[str, int] | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setAccessibleName("Pages")
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)

    @property
    def chosen(self) -> _Cell | None:
        """The page that is chosen."""
        return self._cells[self._chosen] if 0 <= self._chosen < len(self._cells) else None

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        self.update()

    def begin(self, sheet: Sheet, blocks: frozenset[tuple[str, int]]) -> None:
        """No pages yet, of this sheet."""
        self._sheet, self._blocks = sheet, blocks
        self._chapters, self._chosen = [], -1
        self._place()

    def add(self, chapter: ChapterShape) -> None:
        """The next chapter."""
        self._chapters.append(chapter)
        self._place()
        if self._wanted is not None:
            self.look_at(*self._wanted)

    def mark(self, blocks: frozenset[tuple[str, int]]) -> None:
        """The paragraphs that are blocks."""
        self._blocks = blocks
        self.update()

    def blocks_shown(self) -> int:
        """How many of them stand on these pages."""
        there = {(p.scene, p.index) for cell in self._cells for p in cell.page.pieces}
        return len(there & self._blocks)

    def look_at(self, scene: str, index: int) -> None:
        """Choose the page where a paragraph begins, now or when it comes."""
        self._wanted = (scene, index)
        for at, cell in enumerate(self._cells):
            if any((p.scene, p.index) == self._wanted for p in cell.page.pieces):
                self._wanted = None
                self._choose(at)
                return

    def resizeEvent(self, event: object) -> None:
        self._place()

    def sizeHint(self) -> QSize:
        return QSize(300, self.minimumHeight())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        row = self._in_row()
        by = {
            Qt.Key.Key_Left: -1,
            Qt.Key.Key_Right: 1,
            Qt.Key.Key_K: -1,
            Qt.Key.Key_J: 1,
            Qt.Key.Key_Up: -row,
            Qt.Key.Key_Down: row,
        }.get(Qt.Key(event.key()))
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.opened.emit()
        elif by is None or not self._cells:
            super().keyPressEvent(event)
        else:
            self._choose(max(0, min(len(self._cells) - 1, self._chosen + by)))

    def mousePressEvent(self, event: QMouseEvent) -> None:
        for at, cell in enumerate(self._cells):
            if cell.box.adjusted(0, 0, _GAP, _FOOT).contains(event.position()):
                self._choose(at)
                return

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        self.opened.emit()

    def _choose(self, at: int) -> None:
        self._chosen = at
        self.update()
        self.pointed.emit(self._cells[at])

    def _page_size(self) -> tuple[float, float]:
        if self._sheet is None:
            return 60.0, float(_PAGE_HEIGHT)
        size = sheet_drawing.size_for(self._sheet, _PAGE_HEIGHT)
        return round(size.width()), float(_PAGE_HEIGHT)

    def _in_row(self) -> int:
        width, _ = self._page_size()
        return max(1, int((self.width() - 2 * GRID - _INSET + _GAP) // (width + _GAP)))

    def _place(self) -> None:
        width, height = self._page_size()
        in_row = self._in_row()
        self._cells, self._headings = [], []
        y, number = 0.0, 0
        for index, chapter in enumerate(self._chapters):
            self._headings.append((y, chapter.name))
            y += _HEADING
            for at, page in enumerate(chapter.pages):
                number += 1
                row, column = divmod(at, in_row)
                box = QRectF(
                    _INSET + column * (width + _GAP), y + row * (height + _FOOT), width, height
                )
                self._cells.append(_Cell(box, number, index, page))
            rows = -(-len(chapter.pages) // in_row)
            y += rows * (height + _FOOT) + GRID
        self.setMinimumHeight(round(y))
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        if self._sheet is None:
            return
        painter, theme = QPainter(self), self._theme
        exposed = QRectF(event.rect())
        painter.setFont(dressing.font(theme.title, 0.68))
        painter.setPen(QColor(theme.ink))
        for y, name in self._headings:
            if y - _HEADING < exposed.bottom() and y + _HEADING > exposed.top():
                box = QRectF(_INSET, y, self.width(), _HEADING - 6)
                painter.drawText(box, Qt.AlignmentFlag.AlignVCenter, name)
        for at, cell in enumerate(self._cells):
            if cell.box.adjusted(-4, -4, 4, _FOOT).intersects(exposed):
                self._paint_page(painter, cell, chosen=at == self._chosen)

    def _paint_page(self, painter: QPainter, cell: _Cell, *, chosen: bool) -> None:
        theme, sheet, box = self._theme, self._sheet, cell.box
        assert sheet is not None
        sheet_drawing.draw_ground(painter, box, sheet, theme)
        if chosen:
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(QColor(theme.ink), 2))
            painter.drawRect(box.adjusted(-2, -2, 2, 2))
        scale = box.height() / sheet.height
        left, top = box.left() + sheet.inner * scale, box.top() + sheet.top * scale
        quiet, pencil = QColor(theme.ink), QColor(theme.pencil(Stage.LINE))
        quiet.setAlpha(_TYPE)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for piece in cell.page.pieces:
            block = bool(piece.scene) and (piece.scene, piece.index) in self._blocks
            thick = piece.leading * scale * 0.5
            for at, (start, width) in enumerate(piece.lines):
                y = top + (piece.top + (at + 0.3) * piece.leading) * scale
                bar = QRectF(left + start * scale, y, width * scale, thick)
                painter.fillRect(bar, pencil if block else quiet)
            if block:
                height = len(piece.lines) * piece.leading * scale
                painter.fillRect(QRectF(left - 4, top + piece.top * scale, 2, height), pencil)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        face: QFont = dressing.font(theme.control, 0.76)
        painter.setFont(face)
        painter.setPen(QColor(theme.ink if chosen else theme.quiet))
        foot = QRectF(box.left(), box.bottom() + 1, box.width(), _FOOT - 4)
        painter.drawText(foot, Qt.AlignmentFlag.AlignCenter, f"{cell.page.white:.0%}")
