"""Where a draft is looked at before it becomes a book: how it falls into parts, chapters and
scenes, what was found while reading it, and the writer's corrections. It is laid out as the window
is: the divisions left, the text on paper, what can be done about it right.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from reglet.errors import CannotArrange
from reglet.exchange.proposal import Division, Kind, Proposal
from reglet.manuscript.book import Book
from reglet.manuscript.paragraph import LINE_BREAK
from reglet.numbers import counted
from reglet.window.controls import Act, Chip, Entry
from reglet.window.division_list import KIND_NAMES, DivisionList
from reglet.window.draft_page import DraftPage
from reglet.window.flow import FlowLayout, empty
from reglet.window.lettering import Caption, Hairline, Label, Lines, dress_all
from reglet.window.paper import Paper
from reglet.window.scrolled import Scrolled
from reglet.window.theme import GRID, Theme

_LEFT, _RIGHT = 37 * GRID, 38 * GRID
_PAPER = 96 * GRID
_LINES_OF_TITLE = " / "


class ImportDesk(QWidget):
    """Shows a proposal, and takes the writer's corrections until a book is made of it."""

    agreed = Signal(object)
    """The `Book` that the writer wants."""
    left = Signal()
    """The writer does not want this draft now."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._proposal = Proposal((), ())
        self._past: list[Proposal] = []
        self._divisions = DivisionList()
        self._text = DraftPage()
        self._title, self._author = Entry("The book's title"), Entry("The author's name")
        self._kinds = {kind: Chip(name.lower()) for kind, name in KIND_NAMES.items()}
        self._name = Entry("What it is called", "no title")
        self._join = Act("Join to what is before it")
        self._here = {
            "Begin a scene here": lambda p, at: p.split(at),
            "Begin a chapter here": lambda p, at: p.split(at, Kind.CHAPTER),
            "Take this line for a chapter’s title": lambda p, at: p.head(at, Kind.CHAPTER),
            "Leave this line out": lambda p, at: p.leave_out(at),
        }
        self._undo = Act("Undo")
        self._make = Act("Make the book", chief=True)
        self._leave = Act("Not now")
        self._counts = Label(quiet=True)
        self._told = Lines()
        self._findings = QVBoxLayout()
        self._findings.setSpacing(GRID)
        self._paper = Paper()
        self._paper.set_wanted_width(_PAPER)
        self._paper.lay(self._text)
        self._theme: Theme | None = None
        self._lay_out()
        self._divisions.setAccessibleName("Parts, chapters and scenes of the draft")

        self._divisions.row_chosen.connect(self._show_division)
        for kind, chip in self._kinds.items():
            chip.clicked.connect(lambda _=False, kind=kind: self._change_kind(kind))
        self._name.editingFinished.connect(self._rename)
        self._join.clicked.connect(lambda: self._correct(lambda p, at: p.join(at)))
        self._undo.clicked.connect(self._take_back)
        self._make.clicked.connect(self._agree)
        self._leave.clicked.connect(self.left)
        QShortcut(QKeySequence.StandardKey.Undo, self, self._take_back)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        dress_all(self, theme)

    def show_proposal(self, proposal: Proposal) -> None:
        """Begin with a draft as Reglet would divide it."""
        self._past = []
        self._title.setText(proposal.title)
        self._author.setText(proposal.author)
        self._show_findings(proposal)
        self._put(proposal, 0)
        self._divisions.setFocus(Qt.FocusReason.OtherFocusReason)

    def _lay_out(self) -> None:
        left = QVBoxLayout()
        left.setContentsMargins(2 * GRID + 4, 0, GRID, 0)
        left.setSpacing(GRID)
        left.addWidget(Caption("How the draft falls"))
        left.addWidget(self._divisions, 1)
        left.addWidget(Hairline())
        left.addWidget(self._counts)
        contents = QWidget()
        contents.setLayout(left)
        contents.setFixedWidth(_LEFT)
        head = QVBoxLayout()
        head.setContentsMargins(2 * GRID + 4, 2 * GRID, 20, 2 * GRID)
        head.setSpacing(2)
        head.addWidget(Label("A draft on the desk", page_face=True, scale=0.8))
        head.addWidget(
            Label(
                "The file stays as it is. Put right how it falls, then make the book.", quiet=True
            )
        )
        middle = QHBoxLayout()
        middle.setSpacing(0)
        middle.addWidget(contents)
        middle.addWidget(self._paper, 1)
        middle.addWidget(self._slip())
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 2 * GRID)
        column.setSpacing(0)
        column.addLayout(head)
        column.addLayout(middle, 1)

    def _slip(self) -> QWidget:
        column = QVBoxLayout()
        column.setContentsMargins(GRID, 0, 0, GRID)
        column.setSpacing(GRID)
        column.addWidget(Caption("What begins here"))
        column.addWidget(self._name)
        kinds = FlowLayout(GRID)
        for chip in self._kinds.values():
            kinds.addWidget(chip)
        column.addLayout(kinds)
        column.addWidget(self._join)
        column.addSpacing(2 * GRID)
        column.addWidget(Caption("Where the cursor stands"))
        for says, correct in self._here.items():
            act = Act(says)
            act.clicked.connect(lambda _=False, correct=correct: self._correct_here(correct))
            column.addWidget(act)
        column.addWidget(self._told)
        column.addSpacing(2 * GRID)
        column.addWidget(Caption("The book"))
        for name, field in (("Title", self._title), ("Author", self._author)):
            column.addWidget(Label(name, quiet=True, scale=0.86))
            column.addWidget(field)
        column.addSpacing(2 * GRID)
        column.addWidget(Caption("Found while reading the draft"))
        column.addLayout(self._findings)
        column.addStretch(1)
        inside = QWidget()
        inside.setLayout(column)
        ends = QHBoxLayout()
        ends.setContentsMargins(GRID, 0, 0, 0)
        ends.setSpacing(2 * GRID)
        ends.addWidget(self._undo)
        ends.addStretch(1)
        ends.addWidget(self._leave)
        ends.addWidget(self._make)
        slip = QWidget()
        slip.setFixedWidth(_RIGHT)
        outer = QVBoxLayout(slip)
        outer.setContentsMargins(GRID, 0, 20, 0)
        outer.setSpacing(GRID)
        outer.addWidget(Scrolled(inside), 1)
        outer.addWidget(Hairline())
        outer.addLayout(ends)
        return slip

    def _show_findings(self, proposal: Proposal) -> None:
        empty(self._findings)
        if not proposal.report:
            self._findings.addWidget(
                Lines(
                    "Everything in the draft was read; nothing was set aside.",
                    quiet=True,
                    scale=0.93,
                )
            )
        for finding in proposal.report:
            where = proposal.where(finding)
            self._findings.addWidget(Lines(finding.sentence))
            if where and finding.at is not None:
                act = Act("Go there")
                act.setAccessibleDescription(where)
                act.setToolTip(where)
                act.clicked.connect(lambda _=False, at=finding.at: self._go_to(at))
                self._findings.addWidget(act)
        self._findings.addStretch(1)
        if self._theme is not None:
            dress_all(self, self._theme)

    def _put(self, proposal: Proposal, at: int) -> None:
        """Show a proposal, with the division that holds paragraph `at` chosen."""
        self._proposal = proposal
        row = sum(division.at <= at for division in proposal.divisions) - 1
        self._divisions.show_divisions(proposal.divisions, max(0, row))
        self._count()
        self._undo.setEnabled(bool(self._past))
        self._show_division(max(0, row))

    def _count(self) -> None:
        kinds = [division.kind for division in self._proposal.divisions]
        words = sum(division.words for division in self._proposal.divisions)
        told = [counted(words, "word")]
        for kind, name in ((Kind.PART, "part"), (Kind.CHAPTER, "chapter")):
            count = kinds.count(kind)
            if count:
                told.append(counted(count, name))
        self._counts.setText(" · ".join(told))

    def _division(self) -> Division | None:
        row = self._divisions.row()
        divisions = self._proposal.divisions
        return divisions[row] if 0 <= row < len(divisions) else None

    def _show_division(self, row: int) -> None:
        division = self._division()
        self._join.setEnabled(division is not None and row > 0)
        self._tell("")
        for kind, chip in self._kinds.items():
            chip.setChecked(division is not None and kind is division.kind)
        if division is None:
            self._text.show_paragraphs(self._proposal, range(len(self._proposal.paragraphs)))
            return
        self._name.setText(division.title.replace(LINE_BREAK, _LINES_OF_TITLE))
        self._text.show_paragraphs(self._proposal, self._span(row))

    def _span(self, row: int) -> range:
        divisions = self._proposal.divisions
        last = row + 1 >= len(divisions)
        end = len(self._proposal.paragraphs) if last else divisions[row + 1].at
        return range(divisions[row].at, end)

    def _tell(self, sentence: str) -> None:
        self._told.setText(sentence)
        self._told.setVisible(bool(sentence))

    def _go_to(self, at: int) -> None:
        """Show the paragraph at `at`."""
        row = sum(division.at <= at for division in self._proposal.divisions) - 1
        if row >= 0:
            self._divisions.choose(row)
            self._text.go_to(at)

    def _correct(self, correct: Callable[[Proposal, int], Proposal], at: int | None = None) -> None:
        division = self._division()
        place = at if at is not None else division.at if division else 0
        try:
            proposal = correct(self._proposal, place)
        except CannotArrange as error:
            self._tell(str(error))
            return
        self._past.append(self._proposal)
        self._put(proposal, place)
        self._text.go_to(place)

    def _correct_here(self, correct: Callable[[Proposal, int], Proposal]) -> None:
        at = self._text.paragraph_at_cursor()
        if at is not None:
            self._correct(correct, at)

    def _change_kind(self, kind: Kind) -> None:
        division = self._division()
        if division and division.kind is not kind:
            self._correct(lambda proposal, at: proposal.change_kind(at, kind))
        for each, chip in self._kinds.items():
            chip.setChecked(each is kind)

    def _rename(self) -> None:
        division, name = self._division(), self._name.text().strip()
        if division and name != division.title.replace(LINE_BREAK, _LINES_OF_TITLE):
            title = name.replace(_LINES_OF_TITLE, LINE_BREAK)
            self._correct(lambda proposal, at: proposal.rename(at, title))

    def _take_back(self) -> None:
        if self._past:
            division = self._division()
            self._put(self._past.pop(), division.at if division else 0)

    def book(self) -> Book:
        """The book as it would be made now."""
        return self._proposal.book(self._title.text().strip(), self._author.text().strip())

    def _agree(self) -> None:
        self.agreed.emit(self.book())
