"""A whole book as one text to read: set paragraph under paragraph, never to be written in."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass

from PySide6.QtCore import QPoint, QRectF, Qt, QTimer, Signal
from PySide6.QtGui import (
    QColor,
    QFontMetricsF,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
    QTextCursor,
)
from PySide6.QtWidgets import QFrame, QTextEdit, QWidget

from reglet.manuscript.book import Book
from reglet.manuscript.words import count_words
from reglet.window import dressing
from reglet.window.page import formats
from reglet.window.page.positions import to_code_points, to_units
from reglet.window.reading_lines import Line, SetLine, set_lines
from reglet.window.theme import GRID, LIGHT, MEASURE, Theme

_PHONE_MEASURE = 38
"""Characters in a line of a phone's reading programme at its usual size (our own figure)."""
_AT_ONCE = 150
"""Paragraphs set in one go, so that keys are answered between."""


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of a scene, in code points."""

    scene: str
    start: int
    end: int
    text: str


class ReadingText(QTextEdit):
    """Space and the Page keys turn pages; J and K go from passage to passage."""

    moved = Signal()
    """Another place is read."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = LIGHT
        self._book = Book()
        self._lines: list[Line] = []
        self._waiting: Iterator[SetLine] = iter(())
        self._wanted: tuple[str, int] | None = None
        self._noted: frozenset[int] = frozenset()
        self.on_phone = False
        self._filling = QTimer(self, interval=0)
        self._filling.timeout.connect(self._fill)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setReadOnly(True)
        self.setUndoRedoEnabled(False)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName("The whole book, to read")
        self.document().setDocumentMargin(0)
        self.verticalScrollBar().valueChanged.connect(self.moved)
        self.verticalScrollBar().rangeChanged.connect(lambda *_: self.moved.emit())
        self.cursorPositionChanged.connect(self.moved)
        self.cursorPositionChanged.connect(self.viewport().update)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        place = self.place()
        dressing.dress_text(self, theme, dressing.font(theme.page))
        if self._lines:
            self.show_book(self._book, *(place or ("", 0)))

    def show_book(self, book: Book, scene: str, position: int) -> None:
        """Set the book and come to a place of it."""
        self._book, self._lines = book, []
        self._wanted = (scene, position)
        self._waiting = set_lines(book, self._theme)
        self._filling.start()  # before the text is cleared, which is not the end of a reading
        self.document().clear()
        self._fit()

    def is_whole(self) -> bool:
        """Whether all of the book is set."""
        return not self._filling.isActive()

    def finish(self) -> None:
        """Set what is not set yet, at once."""
        while self._filling.isActive():
            self._fill()

    def _fill(self) -> None:
        cursor = QTextCursor(self.document())
        cursor.movePosition(QTextCursor.MoveOperation.End)
        cursor.beginEditBlock()
        for _ in range(_AT_ONCE):
            found = next(self._waiting, None)
            if found is None:
                self._filling.stop()
                break
            found.insert(cursor, first=not self._lines)
            self._lines.append(found.line)
        cursor.endEditBlock()
        wanted = self._wanted
        if wanted is not None and (self._reached(wanted) or not self._filling.isActive()):
            self._wanted = None
            self._go_to(*wanted)
        if not self._filling.isActive():
            self.moved.emit()

    def _reached(self, wanted: tuple[str, int]) -> bool:
        scene, position = wanted
        return not scene or any(
            line.scene == scene and line.start + len(line.text) >= position for line in self._lines
        )

    def _go_to(self, scene: str, position: int) -> None:
        at = 0
        for number, each in enumerate(self._lines):
            if scene and each.scene == scene and each.start <= position:
                at = number
        block = self.document().findBlockByNumber(at)
        line = self._lines[at] if self._lines else None
        inside = 0
        if line is not None and line.scene == scene:
            inside = to_units(line.text, min(len(line.text), max(0, position - line.start)))
        cursor = QTextCursor(block)
        cursor.setPosition(block.position() + inside)
        self.setTextCursor(cursor)
        top = self.cursorRect(cursor).top()
        self.verticalScrollBar().setValue(self.verticalScrollBar().value() + top - 3 * GRID)

    # What is read

    def _line_of(self, cursor: QTextCursor) -> Line | None:
        number = cursor.blockNumber()
        return self._lines[number] if number < len(self._lines) else None

    def place(self) -> tuple[str, int] | None:
        """The scene and code point at the top of what is seen; None above the first text, and
        while the way there is still being set.
        """
        if self._wanted is not None:
            return self._wanted if self._wanted[0] else None
        cursor = self.cursorForPosition(QPoint(self.width() // 2, 2 * GRID))
        number = cursor.blockNumber()
        for line in self._lines[number:]:
            if line.scene:
                if line is not self._lines[number]:
                    return line.scene, line.start
                return line.scene, line.start + to_code_points(line.text, cursor.positionInBlock())
        return None

    def words_read(self) -> int:
        """The words of the book before what is seen."""
        place = self.place()
        if place is None:
            return 0
        starts = [n for n, line in enumerate(self._lines) if line.scene == place[0]]
        lines = [self._lines[number] for number in starts]
        if not lines:
            return 0
        line = lines[max(0, bisect_right([each.start for each in lines], place[1]) - 1)]
        return line.words_before + count_words(line.text[: place[1] - line.start])

    def at_end(self) -> bool:
        """Whether the last line is seen."""
        bar = self.verticalScrollBar()
        if not self.is_whole() or bar.value() < bar.maximum():
            return False
        # Until Qt has laid the lines out, there seems to be nothing to scroll.
        low = self.cursorForPosition(QPoint(self.width() // 2, self.viewport().height() - 1))
        return low.blockNumber() == self.document().blockCount() - 1

    def passage_read(self) -> Span | None:
        """The words selected, or else the passage with the mark."""
        cursor = self.textCursor()
        line = self._line_of(cursor)
        if cursor.hasSelection():
            first = QTextCursor(cursor)
            first.setPosition(cursor.selectionStart())
            line = self._line_of(first)
        if line is None or not line.scene:
            return None
        if not cursor.hasSelection():
            return Span(line.scene, line.start, line.start + len(line.text), line.text)
        offset = first.positionInBlock()
        length = cursor.selectionEnd() - cursor.selectionStart()
        start = to_code_points(line.text, offset)
        end = to_code_points(line.text, min(offset + length, first.block().length() - 1))
        return Span(line.scene, line.start + start, line.start + end, line.text[start:end])

    def show_notes(self, book: Book) -> None:
        """Mark the paragraphs that have notes."""
        noted = {(scene.id, note.start) for scene in book.texts for note in scene.notes}
        scenes = {scene for scene, _ in noted}
        self._noted = frozenset(
            number
            for number, line in enumerate(self._lines)
            if line.scene in scenes
            and any(
                s == line.scene and line.start <= p <= line.start + len(line.text) for s, p in noted
            )
        )
        self.viewport().update()

    # Gestures

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key, held = event.key(), event.modifiers()
        back = held & Qt.KeyboardModifier.ShiftModifier
        if key == Qt.Key.Key_Space:
            self.turn(-1 if back else 1)
        elif key in (Qt.Key.Key_PageDown, Qt.Key.Key_Right) and not held:
            self.turn(1)
        elif key in (Qt.Key.Key_PageUp, Qt.Key.Key_Left) and not held:
            self.turn(-1)
        elif key in (Qt.Key.Key_Home, Qt.Key.Key_End):
            self.finish()
            bar = self.verticalScrollBar()
            bar.setValue(bar.maximum() if key == Qt.Key.Key_End else 0)
            self._mark_first()
        elif key in (Qt.Key.Key_J, Qt.Key.Key_K):
            self.step(1 if key == Qt.Key.Key_J else -1)
        elif key in (Qt.Key.Key_Down, Qt.Key.Key_Up) and not held:
            bar = self.verticalScrollBar()
            line = round(QFontMetricsF(self.document().defaultFont()).lineSpacing())
            bar.setValue(bar.value() + (line if key == Qt.Key.Key_Down else -line))
            self._mark_first()
        else:
            event.ignore()

    def turn(self, by: int) -> None:
        """A page on (1) or back (-1): the last line seen whole is read on from."""
        bar = self.verticalScrollBar()
        if by > 0:
            low = self.cursorForPosition(QPoint(self.width() // 2, self.viewport().height() - GRID))
            step = self.cursorRect(low).top() - GRID
            bar.setValue(bar.value() + max(GRID, step))
        else:
            bar.setValue(bar.value() - self.viewport().height() + 6 * GRID)
        self._mark_first()

    def _mark_first(self) -> None:
        """The mark goes to the first passage that begins in sight."""
        cursor = self.cursorForPosition(QPoint(self.width() // 2, 3 * GRID))
        if cursor.positionInBlock() and cursor.block().next().isValid():
            below = QTextCursor(cursor.block().next())
            if self.cursorRect(below).top() < self.viewport().height() // 2:
                cursor = below
        self._mark(cursor)

    def _mark(self, cursor: QTextCursor) -> None:
        bar = self.verticalScrollBar()
        at = bar.value()
        cursor.movePosition(QTextCursor.MoveOperation.StartOfBlock)
        self.setTextCursor(cursor)
        bar.setValue(at)

    def step(self, by: int) -> None:
        """The mark a passage on (1) or back (-1)."""
        block = self.textCursor().block()
        while (block := block.next() if by > 0 else block.previous()).isValid():
            if self._lines[block.blockNumber()].scene:
                self._mark(QTextCursor(block))
                self.ensureCursorVisible()
                self.bring_into_sight()
                return

    def bring_into_sight(self) -> None:
        """Move on until the passage with the mark is seen to its end, or from its beginning."""
        bar, block = self.verticalScrollBar(), self.textCursor().block()
        whole = self.document().documentLayout().blockBoundingRect(block)
        foot = bar.value() + self.viewport().height() - GRID
        on = min(whole.bottom() - foot, whole.top() - GRID - bar.value())
        bar.setValue(bar.value() + max(0, round(on)))

    # Looks

    def _cover_cut_lines(self, painter: QPainter) -> None:
        """Lines at the edges that are not seen whole are not seen."""
        paper, height = QColor(self._theme.paper), self.viewport().height()
        for y in (0, height - 1):
            line = self.cursorRect(self.cursorForPosition(QPoint(self.width() // 2, y)))
            if line.top() < 0 < line.bottom() or line.top() < height < line.bottom():
                edge = QRectF(0, line.top() - 2, self.viewport().width(), line.height() + 5)
                painter.fillRect(edge, paper)

    def change_measure(self) -> None:
        """Lines as on a phone, or again as on a page."""
        place = self.place()
        self.on_phone = not self.on_phone
        self._fit()
        if place is not None:
            self._go_to(*place)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        characters = _PHONE_MEASURE if self.on_phone else MEASURE
        measure = dressing.width_of_prose(characters, dressing.font(self._theme.page))
        side = max(5 * GRID, (self.viewport().width() - measure) / 2)
        foot = self.viewport().height() * 0.5
        formats.set_margins(self.document(), side, 6 * GRID, side, foot)

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        painter = QPainter(self.viewport())
        self._cover_cut_lines(painter)
        layout, shift = self.document().documentLayout(), self.verticalScrollBar().value()
        now = self.textCursor().blockNumber()
        side = self.document().rootFrame().frameFormat().leftMargin()
        for number in {now, *self._noted}:
            block = self.document().findBlockByNumber(number)
            if not block.isValid() or number >= len(self._lines) or not self._lines[number].scene:
                continue
            box = layout.blockBoundingRect(block).translated(0, -shift)
            if box.bottom() < 0 or box.top() > self.viewport().height():
                continue
            if number == now:
                bar = QRectF(side - 2 * GRID, box.top() + 3, 2, box.height() - 6)
                painter.fillRect(bar, QColor(self._theme.graphite))
            if number in self._noted:
                painter.setRenderHint(QPainter.RenderHint.Antialiasing)
                painter.setPen(Qt.PenStyle.NoPen)
                painter.setBrush(QColor(self._theme.graphite))
                painter.drawEllipse(QRectF(side - 3.5 * GRID, box.top() + 10, 6, 6))
