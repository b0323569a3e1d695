"""Where a draft is looked at before it becomes a book: how it falls into parts, chapters and
scenes, what was found while reading it, and the writer's corrections.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRect, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFont, QPainter, QTextCursor
from PySide6.QtWidgets import (
    QComboBox,
    QFormLayout,
    QHBoxLayout,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QPlainTextEdit,
    QPushButton,
    QSplitter,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QVBoxLayout,
    QWidget,
)

from reglet.errors import CannotArrange
from reglet.exchange.proposal import Division, Kind, Proposal
from reglet.manuscript.paragraph import LINE_BREAK
from reglet.window import dressing
from reglet.window.lettering import Caption, Label
from reglet.window.theme import GRID, LIGHT, Theme

_DIVISION = Qt.ItemDataRole.UserRole
_INDENTS = {Kind.PART: 0, Kind.FRONT: 0, Kind.BACK: 0, Kind.CHAPTER: 1, Kind.SCENE: 3}
_KIND_NAMES = {
    Kind.PART: "Part",
    Kind.CHAPTER: "Chapter",
    Kind.SCENE: "Scene",
    Kind.FRONT: "Front matter",
    Kind.BACK: "Back matter",
}


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
        self._divisions = QListWidget()
        self._delegate = _DivisionLine(self._divisions)
        self._text = QPlainTextEdit(readOnly=True)
        self._report = QListWidget()
        self._title, self._author = QLineEdit(), QLineEdit()
        self._kind = QComboBox()
        self._name = QLineEdit(placeholderText="Title")
        self._join = QPushButton("Join to the one before")
        self._split = QPushButton("Begin a scene at the cursor")
        self._undo = QPushButton("Undo")
        self._make = QPushButton("Make the book")
        self._leave = QPushButton("Not now")
        self._counts = Label(quiet=True)
        self._told = Label(quiet=True)
        self._lay_out()
        self._name_controls()

        self._divisions.currentRowChanged.connect(self._show_division)
        self._report.currentRowChanged.connect(self._show_finding)
        self._kind.activated.connect(self._change_kind)
        self._name.editingFinished.connect(self._rename)
        self._join.clicked.connect(lambda: self._correct(lambda p, at: p.join(at)))
        self._split.clicked.connect(self._split_at_cursor)
        self._undo.clicked.connect(self._take_back)
        self._make.clicked.connect(self._agree)
        self._leave.clicked.connect(self.left)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._delegate.theme = theme
        self._text.setFont(dressing.font(theme.page, 0.9))
        self._divisions.viewport().update()

    def show_proposal(self, proposal: Proposal) -> None:
        """Begin with a draft as Reglet would divide it."""
        self._past = []
        self._title.setText(proposal.title)
        self._author.setText(proposal.author)
        self._report.clear()
        for finding in proposal.report:
            where = proposal.where(finding)
            self._report.addItem(f"{finding.sentence} ({where})" if where else finding.sentence)
        if not proposal.report:
            self._report.addItem("Everything in the draft was read; nothing was set aside.")
        self._put(proposal, 0)
        self._divisions.setFocus(Qt.FocusReason.OtherFocusReason)

    def _lay_out(self) -> None:
        for kind, name in _KIND_NAMES.items():
            self._kind.addItem(name, kind)
        left = QVBoxLayout()
        left.addWidget(Caption("How the draft falls"))
        left.addWidget(self._divisions, 1)
        left.addWidget(self._counts)

        row = QHBoxLayout()
        row.addWidget(self._kind)
        row.addWidget(self._name, 1)
        acts = QHBoxLayout()
        for button in (self._join, self._split, self._undo):
            acts.addWidget(button)
        acts.addStretch(1)
        middle = QVBoxLayout()
        middle.addWidget(Caption("What begins here"))
        middle.addLayout(row)
        middle.addWidget(self._text, 1)
        middle.addLayout(acts)
        middle.addWidget(self._told)

        form = QFormLayout()
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        form.addRow(Label("Title"), self._title)
        form.addRow(Label("Author"), self._author)
        right = QVBoxLayout()
        right.addWidget(Caption("The book"))
        right.addLayout(form)
        right.addSpacing(2 * GRID)
        right.addWidget(Caption("Found while reading the draft"))
        right.addWidget(self._report, 1)
        ends = QHBoxLayout()
        ends.addStretch(1)
        ends.addWidget(self._leave)
        ends.addWidget(self._make)
        right.addLayout(ends)
        self._report.setWordWrap(True)
        self._make.setDefault(True)

        splitter = QSplitter()
        for layout, stretch in ((left, 4), (middle, 5), (right, 3)):
            layout.setContentsMargins(2 * GRID, 0, 2 * GRID, 0)
            layout.setSpacing(GRID)
            column = QWidget()
            column.setLayout(layout)
            splitter.addWidget(column)
            splitter.setStretchFactor(splitter.count() - 1, stretch)
        splitter.setChildrenCollapsible(False)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(GRID, 3 * GRID, GRID, 2 * GRID)
        outer.addWidget(splitter)
        self._divisions.setItemDelegate(self._delegate)
        self._divisions.setFrameShape(QListWidget.Shape.NoFrame)
        self._report.setFrameShape(QListWidget.Shape.NoFrame)

    def _name_controls(self) -> None:
        self._divisions.setAccessibleName("Parts, chapters and scenes of the draft")
        self._text.setAccessibleName("Text of the chosen part, chapter or scene")
        self._report.setAccessibleName("Found while reading the draft")
        self._kind.setAccessibleName("What it is")
        self._name.setAccessibleName("What it is called")
        self._title.setAccessibleName("The book's title")
        self._author.setAccessibleName("The author's name")

    def _put(self, proposal: Proposal, at: int) -> None:
        """Show a proposal, with the division that holds paragraph `at` chosen."""
        self._proposal = proposal
        self._divisions.blockSignals(True)
        self._divisions.clear()
        row = 0
        for index, division in enumerate(proposal.divisions):
            item = QListWidgetItem(_told_of(division))
            item.setData(_DIVISION, division)
            self._divisions.addItem(item)
            if division.at <= at:
                row = index
        self._divisions.blockSignals(False)
        self._count()
        self._undo.setEnabled(bool(self._past))
        if proposal.divisions:
            self._divisions.setCurrentRow(row)
            self._show_division(row)

    def _count(self) -> None:
        kinds = [division.kind for division in self._proposal.divisions]
        words = sum(division.words for division in self._proposal.divisions)
        told = [f"{words:,} words"]
        for kind, name in ((Kind.PART, "part"), (Kind.CHAPTER, "chapter")):
            count = kinds.count(kind)
            if count:
                told.append(f"{count} {name}{'s' if count > 1 else ''}")
        self._counts.setText(" · ".join(told))

    def _division(self) -> Division | None:
        item = self._divisions.currentItem()
        return item.data(_DIVISION) if item else None

    def _show_division(self, row: int) -> None:
        division = self._division()
        if division is None:
            return
        self._kind.setCurrentIndex(self._kind.findData(division.kind))
        self._name.setText(division.title.replace(LINE_BREAK, " / "))
        texts = [self._proposal.paragraphs[at].text for at in self._span(row)]
        self._text.setPlainText("\n".join(texts))
        self._join.setEnabled(row > 0)
        self._told.setText("")

    def _span(self, row: int) -> range:
        divisions = self._proposal.divisions
        last = row + 1 >= len(divisions)
        end = len(self._proposal.paragraphs) if last else divisions[row + 1].at
        return range(divisions[row].at, end)

    def _show_finding(self, row: int) -> None:
        if not 0 <= row < len(self._proposal.report):
            return
        at = self._proposal.report[row].at
        if at is None:
            return
        rows = [i for i, each in enumerate(self._proposal.divisions) if each.at <= at]
        if rows:
            self._divisions.setCurrentRow(rows[-1])
            cursor = QTextCursor(
                self._text.document().findBlockByNumber(at - self._span(rows[-1]).start)
            )
            self._text.setTextCursor(cursor)

    def _correct(self, correct: Callable[[Proposal, int], Proposal], at: int | None = None) -> None:
        division = self._division()
        place = at if at is not None else division.at if division else 0
        try:
            proposal = correct(self._proposal, place)
        except CannotArrange as error:
            self._told.setText(str(error))
            return
        self._past.append(self._proposal)
        self._put(proposal, place)

    def _change_kind(self) -> None:
        kind = self._kind.currentData()
        division = self._division()
        if division and division.kind is not kind:
            self._correct(lambda proposal, at: proposal.change_kind(at, kind))

    def _rename(self) -> None:
        division, name = self._division(), self._name.text().strip()
        if division and name != division.title.replace(LINE_BREAK, " / "):
            title = name.replace(" / ", LINE_BREAK)
            self._correct(lambda proposal, at: proposal.rename(at, title))

    def _split_at_cursor(self) -> None:
        row = self._divisions.currentRow()
        if row >= 0:
            at = self._span(row).start + self._text.textCursor().blockNumber()
            self._correct(lambda proposal, place: proposal.split(place), at)

    def _take_back(self) -> None:
        division = self._division()
        self._put(self._past.pop(), division.at if division else 0)

    def _agree(self) -> None:
        self.agreed.emit(self._proposal.book(self._title.text(), self._author.text()))


class _DivisionLine(QStyledItemDelegate):
    """Draws one part, chapter or scene on a line of its own."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.theme = LIGHT

    def sizeHint(
        self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> QSize:
        division: Division = index.data(_DIVISION)
        return QSize(0, 4 * GRID if division.kind is Kind.CHAPTER else 3 * GRID + 2)

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:
        division: Division = index.data(_DIVISION)
        theme, rect = self.theme, option.rect
        painter.save()
        if option.state & QStyle.StateFlag.State_Selected:
            painter.fillRect(rect, QColor(theme.card))
            painter.fillRect(QRect(rect.left(), rect.top(), 3, rect.height()), QColor(theme.ink))
        left = rect.left() + 12 + _INDENTS[division.kind] * GRID
        count = f"{division.words:,}" if division.words else ""
        painter.setFont(dressing.font(theme.control, 0.9))
        painter.setPen(QColor(theme.quiet))
        right = QRect(left, rect.top(), rect.right() - left - GRID, rect.height())
        painter.drawText(right, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight, count)
        title = division.title.replace(LINE_BREAK, " · ")
        font, colour = dressing.font(theme.control), theme.ink
        if division.kind is not Kind.SCENE:
            font = dressing.font(theme.control, 1.0, dressing.SEMIBOLD)
            title = title or _KIND_NAMES[division.kind]
        elif not title:
            title, colour = f"{division.begins}…", theme.quiet
            font = QFont(font)
            font.setItalic(True)
        painter.setFont(font)
        painter.setPen(QColor(colour))
        room = QRect(left, rect.top(), right.width() - 8 * GRID, rect.height())
        elided = painter.fontMetrics().elidedText(title, Qt.TextElideMode.ElideRight, room.width())
        painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, elided)
        painter.restore()


def _told_of(division: Division) -> str:
    """What a screen reader says of a line."""
    title = division.title or f"begins “{division.begins}”"
    return f"{_KIND_NAMES[division.kind]}, {title}, {division.words} words"
