"""What is counted: words, scenes done with, snapshots, what was written since the last stage."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QObject, QTimer

from reglet.bookfile.file import BookFile
from reglet.bookfile.snapshot import NOW, Reason
from reglet.manuscript.stage import REVISING, Stage
from reglet.numbers import counted, hours
from reglet.story.first_read import USUAL_PACE
from reglet.voice.coverage import of_scene
from reglet.window.background import Background
from reglet.window.desk import Desk
from reglet.window.header import Header
from reglet.window.status_line import StatusLine

_SOON_MS = 150
_SINCE_MS = 4000
"""From the last edit to comparing the book with its last snapshot."""


@dataclass(frozen=True, slots=True)
class _Since:
    """How many snapshots there are, and what the words have done since the last stage began."""

    snapshots: int
    stage: Stage | None = None
    added: int = 0
    cut: int = 0


class Figures(QObject):
    """Keeps the figures in the head and at the foot of the window true."""

    def __init__(
        self,
        desk: Desk,
        header: Header,
        status_line: StatusLine,
        background: Background,
        file: Callable[[], BookFile | None],
        parent: QObject,
    ) -> None:
        super().__init__(parent)
        self._desk, self._header, self._status_line = desk, header, status_line
        self._background, self._file = background, file
        self._hearings = 0.0
        self._pages = (0, "")
        self._soon = QTimer(self, singleShot=True, interval=_SOON_MS)
        self._soon.timeout.connect(self.show_words)
        self._later = QTimer(self, singleShot=True, interval=_SINCE_MS)
        self._later.timeout.connect(self.show_snapshots)
        desk.book_changed.connect(self._soon.start)
        desk.book_changed.connect(self._later.start)
        desk.scene_shown.connect(self._soon.start)
        desk.stage_changed.connect(self._soon.start)
        for signal in (desk.arranged, desk.facts_changed, desk.stage_changed, desk.replaced):
            signal.connect(self.show_progress)

    def show_words(self) -> None:
        """Count the words of the scene and the book."""
        scene, book = self._desk.scene, self._desk.book
        words = self._desk.book.word_count
        figures = [
            (f"{words:,}", "in the book"),
            (f"{len(book.scenes)}", "scene" if len(book.scenes) == 1 else "scenes"),
            (hours(words / USUAL_PACE), "to read"),
        ]
        pages, what = self._pages
        if pages:
            figures.append((f"{pages:,}", what))
        if scene is not None:
            figures.insert(0, (f"{scene.passage.word_count:,}", "words in the scene"))
        if scene is not None and self._desk.stage is Stage.PROOF:
            hearing = of_scene(scene).whole_hearings + 1
            figures.insert(0, (f"hearing {hearing}", "of this scene"))
        self._status_line.set_figures(*figures)

    def show_pages(self, pages: int, what: str) -> None:
        """How many pages the book has, and of what; 0 where that is not known."""
        self._pages = (pages, what)
        self.show_words()

    def show_progress(self) -> None:
        """Count the scenes that have passed each stage."""
        scenes = self._desk.book.scenes
        notes = sum(len(scene.notes) for scene in scenes)
        progress = {
            stage: f"{sum(stage in scene.passed for scene in scenes)} of {len(scenes)}"
            for stage in REVISING
        }
        progress[Stage.FIRST_READ] = counted(notes, "note")
        if self._hearings:
            progress[Stage.PROOF] += f", heard {self._hearings:.1f}×"
        self._header.stages.set_progress(progress, self._desk.stage)

    def show_hearings(self, hearings: float) -> None:
        """How often the book was heard, on the average of its words."""
        self._hearings = hearings
        self.show_progress()

    def show_snapshots(self) -> None:
        """Count the snapshots, and the words since the last stage was entered, off this thread."""
        file = self._file()
        if file is not None:
            self._background.do("since", lambda: _since(file), self._tell)

    def _tell(self, since: _Since) -> None:
        said = f"Snapshots {since.snapshots}"
        if since.stage is not None and (since.added or since.cut):
            moved = f"+{since.added:,} −{since.cut:,}"
            self._header.set_snapshots(
                f"{said}  ·  since entering {since.stage.label}  {moved}",
                f"{said}  ·  {since.stage.label}  {moved}",
                f"{said}  ·  {moved}",
                said,
            )
        else:
            self._header.set_snapshots(said)


def _since(file: BookFile) -> _Since:
    snapshots = file.snapshots()
    entered = [each for each in snapshots if each.reason is Reason.ENTERING_STAGE]
    if not entered:
        return _Since(len(snapshots))
    compared = file.compare_book(entered[-1].id, NOW)
    return _Since(len(snapshots), entered[-1].stage, compared.words_added, compared.words_cut)
