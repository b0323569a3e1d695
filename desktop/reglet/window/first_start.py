"""What is on the desk before any book is: three ways to begin, and the books opened lately."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import Qt, Signal, SignalInstance
from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from reglet.window import dressing
from reglet.window.lettering import Caption, Hairline, Label
from reglet.window.theme import GRID

_WIDTH = 68 * GRID
_MOST_RECENT = 5


class FirstStart(QWidget):
    """The first screen."""

    demo_wanted = Signal()
    """Open a copy of the demo book."""
    draft_wanted = Signal()
    """Bring in a draft from a file."""
    book_wanted = Signal()
    """Open a book from a file."""
    recent_wanted = Signal(object)
    """Open the book at this `Path`."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        column = QVBoxLayout()
        column.setSpacing(2 * GRID)
        column.addWidget(Label("Reglet", scale=1.6, weight=dressing.SEMIBOLD, page_face=True))
        lead = Label(
            "From a finished first draft to a book fit to sell: read it, set its structure right, "
            "go through it line by line, proof it by eye and ear, send it out. Every earlier "
            "state is kept.",
            scale=1.1,
        )
        lead.setWordWrap(True)
        column.addWidget(lead)
        column.addSpacing(GRID)
        for title, told, wanted in (
            (
                "Bring in a draft",
                "A .docx, .txt or .md file. It is read and left as it is; the book is a file of "
                "its own beside it.",
                self.draft_wanted,
            ),
            ("Open a book", "A .reglet file that you made before.", self.book_wanted),
            (
                "Look around in the demo book",
                "A short novel in its first draft, in a copy that you may spoil.",
                self.demo_wanted,
            ),
        ):
            column.addWidget(Hairline())
            column.addWidget(_Way(title, told, wanted))
        self._recent = QVBoxLayout()
        self._recent.setSpacing(GRID // 2)
        column.addWidget(Hairline())
        column.addLayout(self._recent)
        frame = QFrame()
        frame.setLayout(column)
        frame.setFixedWidth(_WIDTH)
        outer = QVBoxLayout(self)
        outer.addStretch(2)
        outer.addWidget(frame, 0, Qt.AlignmentFlag.AlignHCenter)
        outer.addStretch(3)

    def show_recent(self, paths: Sequence[Path]) -> None:
        """Name the books opened lately, the latest first."""
        while (item := self._recent.takeAt(0)) is not None:
            if widget := item.widget():
                widget.deleteLater()
        if not paths:
            return
        self._recent.addWidget(Caption("Lately on the desk"))
        for path in paths[:_MOST_RECENT]:
            button = QPushButton(path.stem)
            button.setToolTip(str(path))
            button.setAccessibleDescription(f"Opens {path}")
            button.clicked.connect(lambda _=False, path=path: self.recent_wanted.emit(path))
            self._recent.addWidget(button, 0, Qt.AlignmentFlag.AlignLeft)


class _Way(QWidget):
    """One way to begin: a button and what it does."""

    def __init__(self, title: str, told: str, wanted: SignalInstance) -> None:
        super().__init__()
        button = QPushButton(title)
        button.setAccessibleDescription(told)
        button.setMinimumWidth(28 * GRID)
        button.clicked.connect(wanted)
        text = Label(told, quiet=True)
        text.setWordWrap(True)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, GRID // 2, 0, GRID // 2)
        row.setSpacing(3 * GRID)
        row.addWidget(button, 0, Qt.AlignmentFlag.AlignTop)
        row.addWidget(text, 1)
