"""The history of the whole book: what became of each scene between two of its snapshots."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QRect, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QPainter
from PySide6.QtWidgets import QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from reglet.bookfile import NOW, BookFile, Reason
from reglet.errors import RegletError
from reglet.manuscript.book import Book
from reglet.manuscript.comparison import BookComparison, Fate, SceneComparison, compare_books
from reglet.manuscript.passage import Passage
from reglet.numbers import counted
from reglet.overlays.query import ProofMark
from reglet.window import dressing, proof_marks
from reglet.window.background import Background
from reglet.window.comparing import ComparisonPage
from reglet.window.contents_model import name_of
from reglet.window.controls import Act
from reglet.window.desk import Desk
from reglet.window.history import Keep
from reglet.window.laid_sheet import foot, set_out
from reglet.window.lettering import Caption, Label, dress_all
from reglet.window.rows import RowDrawing, RowList
from reglet.window.snapshot_line import SnapshotLine
from reglet.window.theme import GRID, LIGHT, Theme

_FIGURES = 24 * GRID
_MARKS = {Fate.ADDED: ProofMark.INSERT, Fate.CUT: ProofMark.DELETE, Fate.CHANGED: ProofMark.REPLACE}
_SAID = {Fate.SAME: "as it was", Fate.CHANGED: "changed", Fate.ADDED: "added", Fate.CUT: "cut"}


class BookHistoryView(QWidget):
    """Takes the place of the page: the snapshots of the book on a line, its scenes beneath."""

    closed = Signal()
    """Back to the page."""
    scene_wanted = Signal(str)
    """The history of this scene."""

    def __init__(
        self, desk: Desk, keep: Keep, background: Background, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._desk, self._keep, self._background = desk, keep, background
        self._file: BookFile | None = None
        self._theme = LIGHT
        self._comparison = BookComparison(())
        self._open_id = ""
        self._caption = Caption("History of the book")
        self._title = Label(page_face=True, scale=0.87)
        self._told = Label()
        self._line = SnapshotLine()
        self._list = SceneList()
        self._page = ComparisonPage()
        self._views = QStackedWidget()
        self._list_again = Act("All scenes")
        self._scene = Act("History of this scene")
        self._take = Act("Take a snapshot")
        self._back = Act("Back to the page")
        self._lay_out()

        self._line.chosen.connect(self._compare)
        self._list.opened.connect(self._open)
        self._list_again.clicked.connect(self._show_list)
        self._scene.clicked.connect(lambda: self.scene_wanted.emit(self._open_id))
        self._take.clicked.connect(self._take_snapshot)
        self._back.clicked.connect(self.closed)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        dress_all(self, theme)

    def show_history(self, file: BookFile) -> None:
        """Show the snapshots that hold the whole book. The present is compared with the latest of
        them that reads otherwise, or with the latest where none does.
        """
        self._file = file
        snapshots = tuple(each for each in file.snapshots() if each.scenes is None)
        self._line.show_snapshots(snapshots)
        self._take.setEnabled(not file.read_only)
        self._comparison = BookComparison(())
        self._show_list()
        self._list.show_things(())
        self._line.setFocus(Qt.FocusReason.OtherFocusReason)
        if not snapshots:
            self._told.setText("No snapshot of the book has been taken yet.")
            return
        self._told.setText("Comparing …")
        now = _texts(self._desk.book)

        def latest_other() -> str:
            ids = (each.id for each in reversed(snapshots))
            return next((each for each in ids if _texts(file.state(each)) != now), "")

        def begin(earlier: str) -> None:
            self._line.show_snapshots(snapshots, earlier)
            self._compare()

        self._background.do("comparison", latest_other, begin)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        reading = self._views.currentWidget() is self._page
        match event.key():
            case Qt.Key.Key_Escape if reading:
                self._show_list()
            case Qt.Key.Key_Escape:
                self.closed.emit()
            case Qt.Key.Key_J if reading:
                self._page.step(1)
            case Qt.Key.Key_K if reading:
                self._page.step(-1)
            case _:
                super().keyPressEvent(event)

    def _lay_out(self) -> None:
        acts = QHBoxLayout()
        acts.setSpacing(3 * GRID)
        acts.addWidget(self._caption, 1)
        for act in (self._take, self._back):
            acts.addWidget(act)
        head = QVBoxLayout()
        head.setSpacing(GRID // 2)
        head.addLayout(acts)
        head.addWidget(self._title)
        self._views.addWidget(self._list)
        self._views.addWidget(self._page)
        below = foot((self._told,), self._scene, self._list_again)
        set_out(self, (head, self._line), self._views, below)

    def _compare(self) -> None:
        """Compare the two chosen states, off the interface thread."""
        file, now = self._file, self._desk.book
        if file is None:
            return
        earlier, later = self._line.states()
        self._told.setText("Comparing …")
        self._show_list()

        def compared() -> BookComparison:
            new = now if later == NOW else file.state(later)
            found = compare_books(file.state(earlier), new)
            found.words_added  # noqa: B018 - compares every scene, here and not while painting
            return found

        self._background.do("comparison", compared, self._arrived)

    def _arrived(self, comparison: BookComparison) -> None:
        self._comparison = comparison
        self._list.show_things(comparison.scenes)
        counts = [
            f"{len(comparison.of(fate))} {_SAID[fate]}"
            for fate in (Fate.CHANGED, Fate.ADDED, Fate.CUT, Fate.SAME)
            if comparison.of(fate)
        ]
        moved = sum(each.moved for each in comparison.scenes)
        if moved:
            counts.append(f"{moved} moved")
        self._told.setText(
            f"+{comparison.words_added:,} −{comparison.words_cut:,} words · {', '.join(counts)}"
        )

    def _open(self, compared: SceneComparison) -> None:
        self._open_id = compared.scene.id
        self._page.show_difference(compared.difference, self._theme.pencil(self._desk.stage))
        self._title.setText(name_of(compared.scene))
        self._told.setText(
            f"{counted(compared.words_added, 'word')} added, {compared.words_cut:,} cut · "
            "J and K step from place to place"
        )
        self._list_again.show()
        self._scene.setVisible(self._desk.book.has_scene(self._open_id))
        self._views.setCurrentWidget(self._page)
        self._page.setFocus()

    def _show_list(self) -> None:
        self._title.setText(self._desk.book.title or "This book")
        self._list_again.hide()
        self._scene.hide()
        if self._views.currentWidget() is self._page:
            self._views.setCurrentWidget(self._list)
            self._arrived(self._comparison)
            self._list.setFocus()

    def _take_snapshot(self) -> None:
        if self._file is None:
            return
        try:
            self._keep("", "", Reason.BY_HAND)
        except RegletError as error:
            self._desk.refused.emit(str(error))
            return
        self.show_history(self._file)


class _SceneDrawing(RowDrawing[SceneComparison]):
    """One scene: what became of it as a proof mark and in words, and its words added and cut."""

    def say(self, thing: SceneComparison) -> str:
        return f"{name_of(thing.scene)}, {_said(thing)}"

    def draw(self, painter: QPainter, rect: QRect, thing: SceneComparison) -> None:
        theme, fate = self.theme, thing.fate
        if fate in _MARKS:
            y = rect.center().y() - proof_marks.SIZE / 2 + 1
            proof_marks.draw(painter, _MARKS[fate], rect.left() + 12, y, theme.graphite)
        same = fate is Fate.SAME
        font = dressing.font(theme.control)
        font.setStrikeOut(fate is Fate.CUT)
        painter.setFont(font)
        painter.setPen(QColor(theme.quiet if same or fate is Fate.CUT else theme.ink))
        left = rect.left() + 5 * GRID
        room = QRect(left, rect.top(), rect.right() - left - _FIGURES - 2 * GRID, rect.height())
        title = painter.fontMetrics().elidedText(
            name_of(thing.scene), Qt.TextElideMode.ElideRight, room.width()
        )
        painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, title)
        figures = QRect(rect.right() - _FIGURES, rect.top(), _FIGURES - GRID, rect.height())
        painter.setFont(dressing.font(theme.control, 0.93))
        painter.setPen(QColor(theme.quiet))
        painter.drawText(figures, Qt.AlignmentFlag.AlignVCenter, _said(thing))
        if not same:
            painter.setPen(QColor(theme.ink))
            painter.drawText(
                figures,
                Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight,
                f"+{thing.words_added:,} −{thing.words_cut:,}",
            )


class SceneList(RowList[SceneComparison]):
    """The scenes of a comparison; one is opened by Enter or a click."""

    opened = Signal(object)
    """A `SceneComparison` to be read."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(_SceneDrawing(), "What became of each scene", parent=parent)
        self.setUniformItemSizes(True)
        self.clicked.connect(self._open)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.currentIndex().isValid():
            self._open(self.currentIndex())
            return
        super().keyPressEvent(event)

    def _open(self, index: QModelIndex) -> None:
        self.opened.emit(self.thing(index.row()))


def _texts(book: Book) -> list[tuple[str, Passage]]:
    return [(scene.id, scene.passage) for scene in book.texts]


def _said(compared: SceneComparison) -> str:
    said = _SAID[compared.fate]
    return f"{said}, moved" if compared.moved else said
