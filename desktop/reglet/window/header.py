"""The head of the window: the book's name, the path of stages, its snapshots."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QHBoxLayout, QMenu, QPushButton, QVBoxLayout, QWidget

from reglet.window import dressing
from reglet.window.lettering import Label
from reglet.window.stages import HEIGHT, Stages
from reglet.window.theme import GRID, LIGHT, Theme


class Header(QWidget):
    """The book's name opens its menu, the snapshots open the history."""

    history_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = LIGHT
        self._title = ""
        self._figures: tuple[str, ...] = ("Snapshots",)
        self.setFixedHeight(HEIGHT)
        self.stages = Stages(self)
        self.book_menu = QMenu(self)
        self._book = QPushButton(self)
        self._book.setFlat(True)
        self._book.clicked.connect(self.open_menu)
        self._book.setAccessibleDescription("Opens the menu of the book. F10")
        self._author = Label(quiet=True, scale=0.86)
        self._snapshots = QPushButton(self)
        self._snapshots.setFlat(True)
        self._snapshots.clicked.connect(self.history_wanted)
        self._left, self._right = QWidget(self), QWidget(self)
        names = QVBoxLayout(self._left)
        names.setContentsMargins(20, 12, 0, 8)
        names.setSpacing(0)
        names.addWidget(self._book, 0, Qt.AlignmentFlag.AlignLeft)
        names.addWidget(self._author, 0, Qt.AlignmentFlag.AlignLeft)
        figures = QHBoxLayout(self._right)
        figures.setContentsMargins(0, 0, 20, 0)
        figures.addStretch()
        figures.addWidget(self._snapshots)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(self._left)
        row.addStretch()
        row.addWidget(self.stages)
        row.addStretch()
        row.addWidget(self._right)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        self.stages.dress(theme)
        self._author.dress(theme)
        plain = (
            "QPushButton {{ border: 0; padding: 0; color: {}; text-align: left; }}"
            "QPushButton:hover, QPushButton:focus {{ text-decoration: underline; }}"
        )
        self._book.setStyleSheet(plain.format(theme.ink))
        self._snapshots.setStyleSheet(plain.format(theme.quiet))
        # After the stylesheet, which would put the application's face in the place of these.
        self._book.setFont(dressing.font(theme.title, 0.74, dressing.SEMIBOLD))
        self._snapshots.setFont(dressing.font(theme.control, 0.93))
        self._show_title()
        self._show_snapshots()

    def set_sides(self, left: int, right: int) -> None:
        """The widths of what stands beside the path: those of Contents and the Slip."""
        self._left.setFixedWidth(left)
        self._right.setFixedWidth(right)
        self._show_title()
        self._show_snapshots()

    def set_book(self, title: str, author: str) -> None:
        """The book's title, and who writes it."""
        self._title = title or "Untitled book"
        self._author.setText(author)
        self._author.setVisible(bool(author))
        self._show_title()

    def set_snapshots(self, *said: str) -> None:
        """How many snapshots there are, and what was written since: in full, then in fewer words,
        for where there is less room.
        """
        self._figures = said
        self._show_snapshots()

    def open_menu(self) -> None:
        """Open the menu of the book."""
        self.book_menu.popup(self._book.mapToGlobal(self._book.rect().bottomLeft()))

    def _show_snapshots(self) -> None:
        metrics = QFontMetrics(self._snapshots.font())
        room = self._right.width() - 20
        fitting = (said for said in self._figures if metrics.horizontalAdvance(said) <= room)
        self._snapshots.setText(next(fitting, self._figures[-1]))
        self._snapshots.setToolTip(self._figures[0])
        self._snapshots.setAccessibleName(f"History. {self._figures[0]}")

    def _show_title(self) -> None:
        metrics = QFontMetrics(self._book.font())
        room = self._left.width() - 24 - GRID
        self._book.setText(metrics.elidedText(self._title, Qt.TextElideMode.ElideRight, room))
        self._book.setToolTip(self._title)
        self._book.setAccessibleName(f"Book: {self._title}")
