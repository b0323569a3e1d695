"""The first read on the Slip: how far it has come, and the rest that the draft is put to."""

from __future__ import annotations

from datetime import date, timedelta

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from reglet.manuscript.book import Book
from reglet.numbers import counted, hours
from reglet.story.first_read import days_of_rest_left, progress
from reglet.window.controls import Act, Entry
from reglet.window.flow import FlowLayout
from reglet.window.lettering import Caption, Lines, dress_all
from reglet.window.theme import GRID, Theme

_RESTS = ((7, "a week"), (14, "two weeks"), (28, "four weeks"))


class ReadingRoom(QWidget):
    """Shows both and tells what is wanted."""

    read_wanted = Signal()
    rest_wanted = Signal(object)
    """The draft is to rest until a date."""
    wake_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._told, self._rest_told = Lines(quiet=True), Lines(quiet=True)
        self._read, self._wake = Act("Read", chief=True), Act("End the rest")
        self._offers = QWidget()
        offers = FlowLayout(2 * GRID, self._offers)
        for days, said in _RESTS:
            act = Act(said)
            act.setAccessibleName(f"Put the draft to rest for {said}")
            act.clicked.connect(
                lambda _=False, days=days: self.rest_wanted.emit(
                    date.today() + timedelta(days=days)
                )
            )
            offers.addWidget(act)
        self._until = Entry("Day until which the draft rests", "or until: 2027-03-31")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        reading: tuple[QWidget, ...] = (Caption("First read"), self._told, self._read)
        for widget in reading:
            column.addWidget(widget)
        column.addSpacing(2 * GRID)
        for widget in (
            Caption("Rest"),
            self._rest_told,
            self._offers,
            self._until,
            self._wake,
        ):
            column.addWidget(widget)
        self._read.clicked.connect(self.read_wanted)
        self._wake.hide()
        self._wake.clicked.connect(self.wake_wanted)
        self._until.returnPressed.connect(self._choose)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        dress_all(self, theme)

    def show_book(self, book: Book) -> None:
        """Show how far a book was read, and its rest."""
        come = progress(book)
        begun = bool(book.reading.scene)
        left = hours(come.minutes)
        self._told.setText(
            f"{come.share:.0%} read; {left} left at {come.pace:.0f} words a minute."
            if begun
            else f"The whole book, in one piece: {left} at {come.pace:.0f} words a minute."
        )
        self._read.setText("Read on" if begun else "Read")
        days = days_of_rest_left(book, date.today())
        resting = bool(days)
        if book.rest and resting:
            end = book.rest.until
            said = f"The draft rests until {end.day} {end:%B}: {counted(days, 'day')} left."
            if book.rest.overruled:
                said += " You chose to change it before."
            self._rest_told.setText(f"{said} It can be read, and notes made.")
        else:
            self._rest_told.setText("Put the finished draft away for")
        for widget in (self._offers, self._until):
            widget.setVisible(not resting)
        self._wake.setVisible(resting)

    def _choose(self) -> None:
        try:
            day = date.fromisoformat(self._until.text().strip())
        except ValueError:
            self._rest_told.setText("A date is written as 2027-03-31: year, month, day.")
            return
        if day <= date.today():
            self._rest_told.setText("A draft rests until a day to come.")
            return
        self._until.clear()
        self.rest_wanted.emit(day)
