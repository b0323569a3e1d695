"""Contents as Qt sees it: a tree of parts, chapters and scenes read from a book."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from enum import Enum

from PySide6.QtCore import (
    QAbstractItemModel,
    QMimeData,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    Qt,
    Signal,
)

from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.paragraph import LINE_BREAK
from reglet.manuscript.scene import Scene
from reglet.manuscript.stage import REVISING
from reglet.numbers import counted

_DRAGGED = "application/x-reglet-things"
_OPENING_WORDS = 6

Index = QModelIndex | QPersistentModelIndex


class Kind(Enum):
    """What a row of Contents stands for."""

    ROOT = 0
    PART = 1
    CHAPTER = 2
    SCENE = 3
    MATTER = 4
    """Front or back matter, which stays where it is."""


@dataclass
class Row:
    """A row: what it stands for, and how it reads."""

    kind: Kind
    id: str
    title: str
    shown: str
    above: Row | None
    rows: list[Row] = field(default_factory=list)
    scene: Scene | None = None
    words: int = 0

    @property
    def number(self) -> int:
        """Its place among the rows beside it."""
        return self.above.rows.index(self) if self.above else 0


def shown_title(title: str) -> str:
    """A heading of one line, where the writer may have typed two."""
    return title.replace(LINE_BREAK, " · ").strip()


def opening_of(scene: Scene) -> str:
    """The first words of a scene, to know it by where it has no title."""
    words = " ".join(paragraph.text for paragraph in scene.passage.paragraphs[:3]).split()
    opening = " ".join(words[:_OPENING_WORDS])
    return f"{opening} …" if opening else "(empty)"


def name_of(scene: Scene) -> str:
    """What a scene is called: by its title, else by what it is, else by how it begins."""
    label = scene.matter.label if scene.matter else ""
    return shown_title(scene.title) or label or opening_of(scene)


class ContentsModel(QAbstractItemModel):
    """Rows of the book. A part without a title, if it is the only one, has no row of its own."""

    renamed = Signal(str, str)
    scenes_dropped = Signal(list, str, int)
    """Scene ids, and the chapter and place in it where they are wanted."""
    chapter_dropped = Signal(str, str, int)
    """A chapter's id, and the part and place in it where it is wanted."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._root = Row(Kind.ROOT, "", "", "", None)
        self._by_id: dict[str, Row] = {}
        self._only_part = ""
        self._versions: dict[str, list[tuple[str, str]]] = {}
        self.longest = 1

    def show(self, book: Book) -> None:
        """Read the whole book anew."""
        self.beginResetModel()
        self._root, self._by_id = Row(Kind.ROOT, "", "", "", None), {}
        bare = len(book.parts) == 1 and not book.parts[0].title
        self._only_part = book.parts[0].id if bare else ""
        self._versions = {}
        for offcut in book.offcuts:
            if offcut.origin and offcut.origin.alternative_of:
                name = name_of(offcut.scene)
                told = f"{name} ({offcut.cut_at:%d %b %Y, %H:%M})"
                self._versions.setdefault(offcut.origin.alternative_of, []).append(
                    (offcut.id, told)
                )
        for scene in book.front:
            self._add_scene(self._root, Kind.MATTER, scene)
        chapter_number = 0
        for part in book.parts:
            above = self._root if bare else self._add_part(part)
            for chapter in part.chapters:
                chapter_number += 1
                row = self._add_chapter(above, chapter, chapter_number)
                for scene in chapter.scenes:
                    self._add_scene(row, Kind.SCENE, scene)
        for scene in book.back:
            self._add_scene(self._root, Kind.MATTER, scene)
        self.longest = max((row.words for row in self._by_id.values()), default=1) or 1
        self.endResetModel()

    def refresh(self, scene: Scene) -> None:
        """Show what one scene has become."""
        row = self._by_id.get(scene.id)
        if row is None:
            return
        row.scene, row.words, row.title = scene, scene.passage.word_count, scene.title
        row.shown = name_of(scene)
        self.longest = max(self.longest, row.words)
        index = self.index_of(scene.id)
        self.dataChanged.emit(index, index)

    def row_of(self, index: Index) -> Row:
        """The row at an index."""
        row = index.internalPointer() if index.isValid() else None
        return row if isinstance(row, Row) else self._root

    def index_of(self, thing_id: str) -> QModelIndex:
        """The index of a part, chapter or scene; an invalid one if it has none."""
        row = self._by_id.get(thing_id)
        return self.createIndex(row.number, 0, row) if row else QModelIndex()

    def versions_of(self, scene_id: str) -> list[tuple[str, str]]:
        """The other versions of a scene that are kept among the Offcuts: their ids and names."""
        return self._versions.get(scene_id, [])

    def scene_ids(self) -> list[str]:
        """The scenes of all chapters, in order."""
        return [row.id for row in self._by_id.values() if row.kind is Kind.SCENE]

    def _add_part(self, part: Part) -> Row:
        return self._add(self._root, Kind.PART, part.id, part.title, "Part without a title")

    def _add_chapter(self, above: Row, chapter: Chapter, number: int) -> Row:
        return self._add(above, Kind.CHAPTER, chapter.id, chapter.title, f"Chapter {number}")

    def _add_scene(self, above: Row, kind: Kind, scene: Scene) -> None:
        row = self._add(above, kind, scene.id, scene.title, name_of(scene))
        row.scene, row.words = scene, scene.passage.word_count

    def _add(self, above: Row, kind: Kind, thing_id: str, title: str, otherwise: str) -> Row:
        row = Row(kind, thing_id, title, shown_title(title) or otherwise, above)
        above.rows.append(row)
        self._by_id[thing_id] = row
        return row

    # What Qt asks

    def index(self, row: int, column: int, parent: Index = QModelIndex()) -> QModelIndex:  # noqa: B008
        rows = self.row_of(parent).rows
        if column == 0 and 0 <= row < len(rows):
            return self.createIndex(row, column, rows[row])
        return QModelIndex()

    def parent(self, index: Index = QModelIndex()) -> QModelIndex:  # type: ignore[override]  # noqa: B008
        above = self.row_of(index).above
        if above is None or above is self._root:
            return QModelIndex()
        return self.createIndex(above.number, 0, above)

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return len(self.row_of(parent).rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 1

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        row = self.row_of(index)
        if role == Qt.ItemDataRole.DisplayRole:
            return row.shown
        if role == Qt.ItemDataRole.EditRole:
            return row.title
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return _spoken(row)
        if role == Qt.ItemDataRole.ToolTipRole and row.scene is not None:
            versions = len(self.versions_of(row.id))
            others = "\nanother version kept" if versions == 1 else f"\n{versions} versions kept"
            return f"{row.shown}\n{counted(row.words, 'word')}{others if versions else ''}"
        return None

    def setData(self, index: Index, value: object, role: int = Qt.ItemDataRole.EditRole) -> bool:
        row = self.row_of(index)
        if role != Qt.ItemDataRole.EditRole or str(value).strip() == row.title:
            return False
        self.renamed.emit(row.id, str(value).strip())
        return True

    def flags(self, index: Index) -> Qt.ItemFlag:
        flag = Qt.ItemFlag
        made = flag.ItemIsEnabled | flag.ItemIsSelectable | flag.ItemIsEditable
        kind = self.row_of(index).kind
        if kind in (Kind.SCENE, Kind.CHAPTER):
            made |= flag.ItemIsDragEnabled
        if kind in (Kind.CHAPTER, Kind.PART, Kind.ROOT):
            made |= flag.ItemIsDropEnabled
        return made

    def supportedDropActions(self) -> Qt.DropAction:
        return Qt.DropAction.MoveAction

    def mimeTypes(self) -> list[str]:
        return [_DRAGGED]

    def mimeData(self, indexes: Sequence[QModelIndex]) -> QMimeData:
        data = QMimeData()
        rows = [self.row_of(index) for index in indexes]
        # Scenes that go with their chapter, and chapters beside the first, are not named twice;
        # scenes go in the order that they have in the book, not in that in which they were chosen.
        dragged = {row.id for row in rows if row.kind is Kind.SCENE}
        scenes = [scene_id for scene_id in self.scene_ids() if scene_id in dragged]
        chapters = [row.id for row in rows if row.kind is Kind.CHAPTER]
        data.setData(_DRAGGED, "\n".join(scenes or chapters[:1]).encode())
        return data

    def canDropMimeData(
        self, data: QMimeData, action: Qt.DropAction, row: int, column: int, parent: Index
    ) -> bool:
        ids = _ids_in(data)
        over = self.row_of(parent).kind
        if not ids:
            return False
        if self._by_id[ids[0]].kind is Kind.SCENE:
            return over is Kind.CHAPTER
        return over is Kind.PART or (over is Kind.ROOT and bool(self._only_part))

    def dropMimeData(
        self, data: QMimeData, action: Qt.DropAction, row: int, column: int, parent: Index
    ) -> bool:
        if self.canDropMimeData(data, action, row, column, parent):
            over, ids = self.row_of(parent), _ids_in(data)
            at = row if row >= 0 else len(over.rows)
            if over.kind is Kind.CHAPTER:
                self.scenes_dropped.emit(ids, over.id, at)
            elif over.kind is Kind.PART:
                self.chapter_dropped.emit(ids[0], over.id, at)
            else:
                matter = sum(each.kind is Kind.MATTER for each in over.rows[:at])
                self.chapter_dropped.emit(ids[0], self._only_part, at - matter)
        # The book is rearranged, and this model read anew from it: Qt has nothing to move.
        return False


def _ids_in(data: QMimeData) -> list[str]:
    if not data.hasFormat(_DRAGGED):
        return []
    return bytes(data.data(_DRAGGED).data()).decode().split("\n")


def _spoken(row: Row) -> str:
    if row.scene is None:
        return f"{row.kind.name.capitalize()}: {row.shown}"
    passed = [stage.label for stage in REVISING if stage in row.scene.passed]
    done = f", passed {', '.join(passed)}" if passed else ""
    return f"{row.shown}, {counted(row.words, 'word')}{done}"
