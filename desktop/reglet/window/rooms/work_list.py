"""The work list on the Slip: what is left to do, what it takes, and the days until it is done."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QColor, QFontMetrics, QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QInputDialog, QSizePolicy, QVBoxLayout, QWidget

from reglet.numbers import counted, hours
from reglet.story.work_list import Day, Item, WorkList, day_by_day
from reglet.window import dressing
from reglet.window.controls import Act, Entry, Tick
from reglet.window.flow import empty
from reglet.window.lettering import Caption, Lines, dress_all
from reglet.window.theme import GRID, LIGHT, Theme

_SHOWN = 12
_DAYS_SHOWN = 14
_SPAN = re.compile(r"(?:(\d+)\s*h)?\s*(?:(\d+)\s*(?:m|min)?)?")


class WorkListRoom(QWidget):
    """Shows the work list and tells what the writer makes of it."""

    wanted = Signal(object)
    """An `Item` to be gone to."""
    book_wanted = Signal()
    """The whole book is to be seen, scene by scene."""
    struck = Signal(str, bool)
    """An item is done, or is not: its id."""
    estimated = Signal(str, object)
    """An item takes that many minutes, or (None) what is usual."""
    due_chosen = Signal(object)
    """The date by which all is to be done, or None."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = LIGHT
        self._work = WorkList(())
        self._names: Mapping[str, str] = {}
        self._due: date | None = None
        self._words_to_go = 0
        self._caption = Caption("Work list")
        self._rows = QVBoxLayout()
        self._rows.setSpacing(0)
        self._more = Tick("All of it")
        self._days_too = Tick("Day by day")
        self._day = Entry("Day by which all is to be done", "done by: a date, as 2027-03-31")
        self._told = Lines(quiet=True, scale=0.93)
        self._plan = Lines(quiet=True, scale=0.93)
        choices = QHBoxLayout()
        choices.setSpacing(2 * GRID)
        choices.addWidget(self._more)
        choices.addWidget(self._days_too)
        choices.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        self._book = Act("The book, scene by scene")
        self._book.clicked.connect(self.book_wanted)
        column.addWidget(self._book)
        column.addSpacing(GRID)
        column.addWidget(self._caption)
        column.addLayout(self._rows)
        column.addLayout(choices)
        for widget in (self._told, self._day, self._plan):
            column.addWidget(widget)
        self._more.toggled.connect(self._show_again)
        self._days_too.toggled.connect(self._show_again)
        self._day.editingFinished.connect(self._choose_day)
        self._show_again()

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        dress_all(self, theme)

    def show_work(
        self, work: WorkList, names: Mapping[str, str], due: date | None, words_to_go: int
    ) -> None:
        """Show this work, due on a day, with the words not yet passed in the stage. `names` are
        those of the scenes, by id.
        """
        shown = (self._work, self._names, self._due, self._words_to_go)
        if (work, names, due, words_to_go) != shown:
            self._work, self._names = work, names
            self._due, self._words_to_go = due, words_to_go
            self._day.setText(due.isoformat() if due else "")
            self._show_again()

    def _show_again(self) -> None:
        focused = next((row.item.id for row in self.findChildren(_Row) if row.hasFocus()), "")
        empty(self._rows)
        listed = (*self._work.open, *(each for each in self._work.items if each.done))
        before = ""
        for item in listed if self._more.isChecked() else listed[:_SHOWN]:
            if item.scene != before and item.scene in self._names:
                name = Lines(self._names[item.scene], quiet=True, scale=0.86)
                name.setContentsMargins(0, GRID, 0, 0)
                name.dress(self._theme)
                self._rows.addWidget(name)
                name.show()
            before = item.scene
            row = _Row(item, self._theme)
            row.wanted.connect(lambda item=item: self.wanted.emit(item))
            row.struck.connect(lambda item=item: self.struck.emit(item.id, not item.done))
            row.estimate_wanted.connect(lambda item=item: self._ask(item))
            self._rows.addWidget(row)
            row.show()
            if item.id == focused:
                row.setFocus()
        self._more.setVisible(len(listed) > _SHOWN)
        self._more.setText(f"All {len(listed)}")
        self._told.setText(self._summary())
        planning = self._days_too.isChecked()
        self._day.setVisible(planning)
        self._plan.setVisible(planning and self._due is not None)
        if planning and self._due is not None:
            self._plan.setText(self._days(self._due))

    def _summary(self) -> str:
        notes = [each for each in self._work.items if each.id.startswith("note:")]
        answered = sum(each.done for each in notes)
        said = []
        if notes:
            said.append(f"{counted(len(notes), 'note')}, {answered} answered")
        said.append(f"{hours(self._work.minutes)} of work left" if self._work.open else "all done")
        if self._words_to_go:
            said.append(f"{counted(self._words_to_go, 'word')} to go")
        return " · ".join(said)

    def _days(self, due: date) -> str:
        days = day_by_day(self._work.items, date.today(), due)
        lines = [
            f"{each.day:%a} {each.day.day} {each.day:%b}: {_of_day(each)}"
            for each in days[:_DAYS_SHOWN]
        ]
        if len(days) > _DAYS_SHOWN:
            lines.append(f"and {len(days) - _DAYS_SHOWN} days more")
        return "\n".join(lines)

    def _choose_day(self) -> None:
        said = self._day.text().strip()
        try:
            day = date.fromisoformat(said) if said else None
        except ValueError:
            self._plan.setText("A date is written as 2027-03-31: year, month, day.")
            self._plan.show()
            return
        if day != self._due:
            self.due_chosen.emit(day)

    def _ask(self, item: Item) -> None:
        said, taken = QInputDialog.getText(
            self,
            "What it will take",
            f"{item.text}\n\nAs “2 h”, “40 min” or “1 h 30”; empty: as usual.",
            text=hours(item.minutes),
        )
        if taken:
            self.estimated.emit(item.id, minutes_in(said))


def minutes_in(said: str) -> int | None:
    """The minutes that are said as `hours` writes them, or as a bare number; None for anything
    else.
    """
    match = _SPAN.fullmatch(said.strip().lower())
    if not match or not any(match.groups()):
        return None
    return int(match[1] or 0) * 60 + int(match[2] or 0)


def _of_day(day: Day) -> str:
    return f"{len(day.items)} · {hours(day.minutes)}" if day.items else "free"


class _Row(QWidget):
    """One thing to do: a click goes there, D strikes it, E says what it takes."""

    wanted = Signal()
    struck = Signal()
    estimate_wanted = Signal()

    def __init__(self, item: Item, theme: Theme) -> None:
        super().__init__()
        self.item = item
        self.dress(theme)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(f"{item.text}, {'done' if item.done else hours(item.minutes)}")
        self.setToolTip(f"{item.text}\nEnter goes there · D: done · E: what it takes")

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        self.setFixedHeight(QFontMetrics(dressing.font(theme.control)).height() + GRID)
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(100, self.minimumHeight())

    def paintEvent(self, event: QPaintEvent) -> None:
        painter, theme, item = QPainter(self), self._theme, self.item
        box = self.rect().adjusted(0, 0, 0, -1)
        if self.hasFocus():
            painter.fillRect(box, QColor(theme.paper))
        painter.fillRect(0, self.height() - 1, self.width(), 1, QColor(theme.line))
        face = dressing.font(theme.control)
        face.setStrikeOut(item.done)
        painter.setFont(face)
        told = "done" if item.done else hours(item.minutes)
        room = box.width() - painter.fontMetrics().horizontalAdvance(told) - GRID
        elide = Qt.TextElideMode.ElideRight
        said = painter.fontMetrics().elidedText(item.text.replace("\n", " "), elide, room)
        middle = Qt.AlignmentFlag.AlignVCenter
        painter.setPen(QColor(theme.quiet if item.done else theme.ink))
        painter.drawText(box, middle, said)
        face.setStrikeOut(False)
        painter.setFont(face)
        painter.setPen(QColor(theme.ink if item.estimated and not item.done else theme.quiet))
        painter.drawText(box, middle | Qt.AlignmentFlag.AlignRight, told)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        self.setFocus()
        self.wanted.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        act = {
            Qt.Key.Key_Return: self.wanted,
            Qt.Key.Key_Enter: self.wanted,
            Qt.Key.Key_D: self.struck,
            Qt.Key.Key_E: self.estimate_wanted,
        }.get(Qt.Key(event.key()))
        if act is None:
            super().keyPressEvent(event)
        else:
            act.emit()
