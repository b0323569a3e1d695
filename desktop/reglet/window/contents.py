"""Contents: parts, chapters and scenes beside the page, to open, order, name and divide."""

from __future__ import annotations

from PySide6.QtCore import QItemSelectionModel, QModelIndex, QPoint, QRect, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QDragLeaveEvent,
    QDragMoveEvent,
    QDropEvent,
    QKeyEvent,
    QKeySequence,
    QPainter,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QPushButton,
    QTreeView,
    QVBoxLayout,
    QWidget,
)

from reglet.manuscript.book import Book
from reglet.manuscript.scene import Scene
from reglet.manuscript.stage import Stage
from reglet.numbers import counted
from reglet.window import dressing
from reglet.window.contents_drawing import ContentsDrawing
from reglet.window.contents_menu import menu_of
from reglet.window.contents_model import ContentsModel, Index, Kind
from reglet.window.contents_wishes import Wishes
from reglet.window.lettering import Caption, Hairline
from reglet.window.theme import GRID, LIGHT, Theme

_CTRL = Qt.KeyboardModifier.ControlModifier


class ContentsTree(QTreeView):
    """The rows, with a hairline where a dragged scene would land, and keys to move them."""

    moved = Signal(int)
    """What is chosen is wanted one place up (-1) or down (1)."""
    cut_wanted = Signal()
    merge_wanted = Signal()

    def __init__(self, model: ContentsModel, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = LIGHT
        self.setModel(model)
        self.drawing = ContentsDrawing(model, self)
        self.setItemDelegate(self.drawing)
        self.setHeaderHidden(True)
        self.setRootIsDecorated(False)
        self.setIndentation(0)
        self.setFrameStyle(0)
        self.setUniformRowHeights(False)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setEditTriggers(
            QAbstractItemView.EditTrigger.EditKeyPressed
            | QAbstractItemView.EditTrigger.DoubleClicked
        )
        self.setExpandsOnDoubleClick(False)
        self.setDragDropMode(QAbstractItemView.DragDropMode.InternalMove)
        self.setDropIndicatorShown(False)
        self.setAccessibleName("Contents")
        self._landing: QPoint | None = None

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        self.drawing.dress(theme)
        colours = self.palette()
        colours.setColor(colours.ColorRole.Base, QColor(theme.desk))
        self.setPalette(colours)
        self.viewport().update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.modifiers() == Qt.KeyboardModifier.AltModifier and event.key() in (
            Qt.Key.Key_Up,
            Qt.Key.Key_Down,
        ):
            self.moved.emit(-1 if event.key() == Qt.Key.Key_Up else 1)
            return
        if event.key() == Qt.Key.Key_Delete and not event.modifiers():
            self.cut_wanted.emit()
            return
        if event.key() == Qt.Key.Key_M and event.modifiers() == _CTRL:
            self.merge_wanted.emit()
            return
        super().keyPressEvent(event)

    def drawBranches(self, painter: QPainter, rect: QRect, index: Index) -> None:
        """Nothing: rows say by their lettering what they are."""

    def dragMoveEvent(self, event: QDragMoveEvent) -> None:
        super().dragMoveEvent(event)
        self._landing = event.position().toPoint()
        self.viewport().update()

    def dragLeaveEvent(self, event: QDragLeaveEvent) -> None:
        super().dragLeaveEvent(event)
        self._landing = None
        self.viewport().update()

    def dropEvent(self, event: QDropEvent) -> None:
        self._landing = None
        super().dropEvent(event)
        self.viewport().update()

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if self._landing is None:
            return
        index = self.indexAt(self._landing)
        if not index.isValid():
            return
        rect = self.visualRect(index)
        y = rect.top() if self._landing.y() < rect.center().y() else rect.bottom()
        painter = QPainter(self.viewport())
        painter.setPen(QPen(QColor(self._theme.ink), 2))
        painter.drawLine(rect.left() + GRID, y, rect.right() - GRID, y)


class Contents(Wishes):
    """The tree with its caption above and the Offcuts at its foot."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.tree = ContentsTree(self.model, self)
        self._caption = Caption("Contents")
        self._rule = Hairline()
        self._offcuts = QPushButton("Offcuts")
        self._offcuts.setFlat(True)
        self._offcuts.clicked.connect(self.offcuts_wanted)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(2 * GRID, GRID, GRID, GRID)
        layout.setSpacing(GRID)
        caption_row = QHBoxLayout()
        caption_row.setContentsMargins(4, 0, 0, 0)
        caption_row.addWidget(self._caption)
        layout.addLayout(caption_row)
        layout.addWidget(self.tree, 1)
        layout.addWidget(self._rule)
        layout.addWidget(self._offcuts)
        self._connect()

    def _connect(self) -> None:
        model, tree = self.model, self.tree
        model.renamed.connect(self.renamed)
        model.scenes_dropped.connect(self.scenes_wanted_at)
        model.chapter_dropped.connect(self.chapter_wanted_at)
        self.title_wanted.connect(lambda thing_id: tree.edit(model.index_of(thing_id)))
        tree.moved.connect(self._move)
        tree.cut_wanted.connect(self._cut)
        tree.merge_wanted.connect(self._merge)
        tree.selectionModel().currentChanged.connect(self._choose_scene)
        tree.clicked.connect(self._choose_scene)
        tree.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)
        tree.customContextMenuRequested.connect(self._open_menu)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self.tree.dress(theme)
        self._caption.dress(theme)
        self._rule.dress(theme)
        self._offcuts.setStyleSheet(
            f"QPushButton {{ border: 0; padding: 4px; text-align: left; color: {theme.quiet}; }}"
            f"QPushButton:hover, QPushButton:focus {{ color: {theme.ink}; }}"
        )
        self._offcuts.setFont(dressing.font(theme.control, 0.93))

    # What is shown

    def show_book(self, book: Book, open_id: str) -> None:
        """Show a book, or what its order has become; the view stays where it was."""
        scrolled, chosen = self.tree.verticalScrollBar().value(), self._selected_scenes()
        self.model.show(book)
        self.tree.expandAll()
        self.tree.verticalScrollBar().setValue(scrolled)
        self.show_open(open_id)
        if len(chosen) > 1:
            self._choose(chosen)
        pieces = len(book.offcuts)
        words = counted(sum(each.scene.passage.word_count for each in book.offcuts), "word")
        self._offcuts.setText(f"Offcuts    {pieces} · {words}" if pieces else "Offcuts")
        self._offcuts.setAccessibleName(f"Offcuts, {counted(pieces, 'piece')} · {words}")

    def show_scene(self, scene: Scene) -> None:
        """Show what one scene has become."""
        self.model.refresh(scene)

    def show_open(self, scene_id: str) -> None:
        """Show which scene lies open."""
        self.tree.drawing.set_open(scene_id)
        index = self.model.index_of(scene_id)
        selection = self.tree.selectionModel()
        if index.isValid() and selection.currentIndex() != index:
            blocked = selection.blockSignals(True)
            selection.setCurrentIndex(index, QItemSelectionModel.SelectionFlag.ClearAndSelect)
            selection.blockSignals(blocked)
            self.tree.scrollTo(index)
        self.tree.viewport().update()

    def set_stage(self, stage: Stage) -> None:
        """The stage whose pencil marks the scene that lies open."""
        self.tree.drawing.set_stage(stage)
        self.tree.viewport().update()

    # What is wanted

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.matches(QKeySequence.StandardKey.Undo):
            self.undo_wanted.emit()
        elif event.matches(QKeySequence.StandardKey.Redo):
            self.redo_wanted.emit()
        else:
            super().keyPressEvent(event)

    def _choose_scene(self, index: QModelIndex) -> None:
        row = self.model.row_of(index)
        if row.kind in (Kind.SCENE, Kind.MATTER):
            self.scene_chosen.emit(row.id)

    def _move(self, by: int) -> None:
        row = self.model.row_of(self.tree.currentIndex())
        if row.kind is Kind.CHAPTER:
            self.moved.emit(row.id, by)
        elif chosen := self._selected_scenes():
            self.scenes_moved.emit(chosen, by)

    def _cut(self) -> None:
        if chosen := self._selected_scenes():
            self.cut_wanted.emit(chosen)

    def _merge(self) -> None:
        chosen, ids = self._selected_scenes(), self.model.scene_ids()
        if len(chosen) == 1:
            chosen = ids[ids.index(chosen[0]) :][:2]
        if len(chosen) > 1:
            self.merge_wanted.emit(chosen)

    def _selected_scenes(self) -> list[str]:
        """The scenes chosen, in the book's order."""
        rows = [self.model.row_of(index) for index in self.tree.selectedIndexes()]
        chosen = {row.id for row in rows if row.kind is Kind.SCENE}
        return [scene_id for scene_id in self.model.scene_ids() if scene_id in chosen]

    def _choose(self, ids: list[str]) -> None:
        """Have scenes chosen, those that are there."""
        flag = QItemSelectionModel.SelectionFlag.Select
        selection = self.tree.selectionModel()
        blocked = selection.blockSignals(True)
        for scene_id in ids:
            index = self.model.index_of(scene_id)
            if index.isValid():
                selection.select(index, flag)
        selection.blockSignals(blocked)
        self.tree.viewport().update()

    def _open_menu(self, at: QPoint) -> None:
        row = self.model.row_of(self.tree.indexAt(at))
        if row.kind is Kind.ROOT:
            return
        menu = menu_of(self, row, self._selected_scenes())
        menu.popup(self.tree.viewport().mapToGlobal(at))
        menu.aboutToHide.connect(menu.deleteLater)
