"""What may be asked for in Contents, by a hand on its tree or by the menu of a row."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from reglet.window.contents_model import ContentsModel


class Wishes(QWidget):
    """Shows the order of the book by `model`; every signal is a wish."""

    scene_chosen = Signal(str)
    renamed = Signal(str, str)
    scenes_wanted_at = Signal(list, str, int)
    chapter_wanted_at = Signal(str, str, int)
    moved = Signal(str, int)
    """A chapter, and one place up (-1) or down (1)."""
    scenes_moved = Signal(list, int)
    """Scenes, and one place up (-1) or down (1)."""
    split_wanted = Signal(str)
    merge_wanted = Signal(list)
    cut_wanted = Signal(list)
    copies_wanted = Signal(list)
    """Scenes of each of which a copy is to be kept as another version."""
    version_wanted = Signal(str)
    """An offcut that is another version of a scene and is to take its place."""
    verdict_wanted = Signal(list, object)
    scene_wanted = Signal(str, int)
    """A new scene: the chapter, and its place there."""
    chapter_start_wanted = Signal(str)
    chapter_join_wanted = Signal(str)
    matter_out_wanted = Signal(str)
    """A piece of front or back matter without words is to be taken out."""
    passed = Signal(list, object, bool)
    offcuts_wanted = Signal()
    undo_wanted = Signal()
    redo_wanted = Signal()
    title_wanted = Signal(str)
    """The title of a part, chapter or scene is to be typed where it stands."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.model = ContentsModel(self)
