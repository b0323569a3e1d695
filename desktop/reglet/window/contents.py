"""Contents: parts, chapters and scenes beside the page, to open, order, name and divide."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QItemSelectionModel, QModelIndex, QPoint, QRect, Qt, Signal
from PySide6.QtGui import QColor, QDropEvent, QKeyEvent, QKeySequence, QPainter, QPen
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QMenu,
    QPushButton,
    QTreeView,
    QVBoxLayout,
    QWidget,
)

from reglet.manuscript.book import Book
from reglet.manuscript.scene import Scene
from reglet.manuscript.stage import REVISING, Stage
from reglet.window import dressing
from reglet.window.contents_drawing import ContentsDrawing
from reglet.window.contents_model import ContentsModel, Index, Kind
from reglet.window.counting import words_of
from reglet.window.lettering import Caption, Hairline
from reglet.window.theme import GRID, LIGHT, Theme


class ContentsTree(QTreeView):
    """The rows, with a hairline where a dragged scene would land, and keys to move them."""

    moved = Signal(int)
    """The scene or chapter in hand is wanted one place up (-1) or down (1)."""

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
        super().keyPressEvent(event)

    def drawBranches(self, painter: QPainter, rect: QRect, index: Index) -> None:
        """Nothing: rows say by their lettering what they are."""

    def dragMoveEvent(self, event: object) -> None:
        super().dragMoveEvent(event)  # type: ignore[arg-type]
        self._landing = event.position().toPoint()  # type: ignore[attr-defined]
        self.viewport().update()

    def dragLeaveEvent(self, event: object) -> None:
        super().dragLeaveEvent(event)  # type: ignore[arg-type]
        self._landing = None
        self.viewport().update()

    def dropEvent(self, event: QDropEvent) -> None:
        self._landing = None
        super().dropEvent(event)
        self.viewport().update()

    def paintEvent(self, event: object) -> None:
        super().paintEvent(event)  # type: ignore[arg-type]
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


class Contents(QWidget):
    """The tree with its caption above and the Offcuts at its foot. Every signal is a wish."""

    scene_chosen = Signal(str)
    renamed = Signal(str, str)
    scenes_wanted_at = Signal(list, str, int)
    chapter_wanted_at = Signal(str, str, int)
    moved = Signal(str, int)
    """A scene or chapter, and one place up (-1) or down (1)."""
    split_wanted = Signal(str)
    merge_wanted = Signal(list)
    cut_wanted = Signal(str)
    scene_wanted = Signal(str, int)
    """A new scene: the chapter, and its place there."""
    chapter_start_wanted = Signal(str)
    chapter_join_wanted = Signal(str)
    passed = Signal(str, object, bool)
    offcuts_wanted = Signal()
    undo_wanted = Signal()
    redo_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.model = ContentsModel(self)
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
        tree.moved.connect(self._move)
        tree.selectionModel().currentChanged.connect(self._current_changed)
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

    def show_book(self, book: Book, words: Callable[[str], int], open_id: str) -> None:
        """Show a book, or what its order has become; the view stays where it was."""
        scrolled = self.tree.verticalScrollBar().value()
        self.model.show(book, words)
        self.tree.expandAll()
        self.tree.verticalScrollBar().setValue(scrolled)
        self.show_open(open_id)
        cut = sum(words_of(offcut.scene.passage) for offcut in book.offcuts)
        pieces = len(book.offcuts)
        said = f"{pieces} {'piece' if pieces == 1 else 'pieces'} · {cut:,} words"
        self._offcuts.setText(f"Offcuts      {said}" if pieces else "Offcuts")
        self._offcuts.setAccessibleName(f"Offcuts, {said}")

    def show_scene(self, scene: Scene, words: int) -> None:
        """Show what one scene has become."""
        self.model.refresh(scene, words)

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

    def _current_changed(self, index: QModelIndex) -> None:
        row = self.model.row_of(index)
        if row.kind in (Kind.SCENE, Kind.MATTER):
            self.scene_chosen.emit(row.id)

    def _move(self, by: int) -> None:
        row = self.model.row_of(self.tree.currentIndex())
        if row.kind in (Kind.SCENE, Kind.CHAPTER):
            self.moved.emit(row.id, by)

    def _selected_scenes(self) -> list[str]:
        rows = [self.model.row_of(index) for index in self.tree.selectedIndexes()]
        chosen = {row.id for row in rows if row.kind is Kind.SCENE}
        return [scene_id for scene_id in self.model.scene_ids() if scene_id in chosen]

    def _open_menu(self, at: QPoint) -> None:
        index = self.tree.indexAt(at)
        row = self.model.row_of(index)
        if row.kind is Kind.ROOT:
            return
        menu = QMenu(self)
        if row.kind is Kind.SCENE and row.scene is not None and row.above is not None:
            chapter, place, scene = row.above.id, row.number, row.scene
            chosen = self._selected_scenes()
            ids = self.model.scene_ids()
            behind = ids[ids.index(row.id) + 1 :]
            menu.addAction("Split where the cursor stands", lambda: self.split_wanted.emit(row.id))
            if len(chosen) > 1:
                menu.addAction("Merge these scenes", lambda: self.merge_wanted.emit(chosen))
            elif behind:
                together = [row.id, behind[0]]
                menu.addAction("Merge with the next", lambda: self.merge_wanted.emit(together))
            menu.addAction("Cut to Offcuts", lambda: self.cut_wanted.emit(row.id))
            menu.addSeparator()
            menu.addAction("New scene behind", lambda: self.scene_wanted.emit(chapter, place + 1))
            if place:
                menu.addAction(
                    "Start a chapter here", lambda: self.chapter_start_wanted.emit(row.id)
                )
            menu.addSeparator()
            for stage in REVISING:
                action = menu.addAction(f"Passed {stage.label}")
                action.setCheckable(True)
                action.setChecked(stage in scene.passed)
                action.toggled.connect(lambda on, stage=stage: self.passed.emit(row.id, stage, on))
            menu.addSeparator()
        elif row.kind is Kind.CHAPTER:
            menu.addAction("New scene", lambda: self.scene_wanted.emit(row.id, len(row.rows)))
            if row.number:
                menu.addAction(
                    "Join to the chapter before", lambda: self.chapter_join_wanted.emit(row.id)
                )
            menu.addSeparator()
        menu.addAction("Rename", lambda: self.tree.edit(index))
        menu.popup(self.tree.viewport().mapToGlobal(at))
        menu.aboutToHide.connect(menu.deleteLater)
