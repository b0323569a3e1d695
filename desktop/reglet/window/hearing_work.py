"""What has been heard, kept true on the Slip and on the paper; the aim; spots noted away."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from PySide6.QtCore import QObject, QTimer, Signal

from reglet.errors import RegletError
from reglet.manuscript.stage import Stage
from reglet.numbers import counted, hours
from reglet.voice.coverage import ChapterHeard, Counted, seconds_to_aim, together
from reglet.voice.cues import Cue, CueList, cue_at, place_now, read_cues, spots_told
from reglet.voice.flags import Spot, flagged
from reglet.voice.reading_order import Place
from reglet.window.background import Background
from reglet.window.desk import Desk
from reglet.window.heard_view import HeardView
from reglet.window.listening_work import ListeningWork
from reglet.window.rooms.heard import HeardRoom
from reglet.window.views import Views

_SOON_MS = 500


class HearingWork(QObject):
    """Joins the room and the view of what was heard to the desk."""

    counted = Signal(float)
    """How often the book was heard, on the average of its words."""
    files_found = Signal(object)
    """Sound files of the book lie in the folder of this `Path`."""

    def __init__(
        self,
        desk: Desk,
        work: ListeningWork,
        room: HeardRoom,
        views: Views,
        background: Background,
        folder: Callable[[], Path | None],
        show_words: Callable[[str, int, int], object],
        parent: QObject,
    ) -> None:
        """`folder` asks the writer for the folder of the sound files, and `show_words` shows a
        span of a scene.
        """
        super().__init__(parent)
        self._desk, self._work, self._room, self._views = desk, work, room, views
        self._background, self._folder, self._show_words = background, folder, show_words
        self._files: Path | None = None
        self._counted = Counted()
        self._chapters: tuple[ChapterHeard, ...] = ()
        self.view = HeardView()
        views.add(self.view)
        self._soon = QTimer(self, singleShot=True, interval=_SOON_MS)
        self._soon.timeout.connect(self.count)
        room.scene_wanted.connect(self._go)
        room.chart_wanted.connect(self.show_view)
        room.aim_wanted.connect(lambda aim: work.choose(replace(work.choices, aim=aim)))
        room.spot_wanted.connect(self.go_to_spot)
        self.view.scene_wanted.connect(self._go)
        work.chosen.connect(self._show)
        desk.book_changed.connect(self._later)
        desk.replaced.connect(self._replaced)
        desk.stage_changed.connect(self._later)
        desk.scene_shown.connect(self._show)

    def close(self) -> None:
        """Count no more."""
        self._soon.stop()

    def count(self) -> None:
        """Count what was heard of the book as it is, off the interface thread."""
        book, counted = self._desk.book, self._counted
        self._background.do("heard", lambda: counted.chapters(book), self._take)

    def show_view(self) -> None:
        """The whole book's drawing; the page again, if it is shown already."""
        if self._views.lay(self.view):
            self._show()
            self.count()
            self.view.chart.setFocus()

    def go_to_spot(self, told: str) -> None:
        """Show the words that are heard at a spot of the sound files, such as "ch. 7, 12:40". Of
        several, each is marked as by the key while listening, and the first is shown.
        """
        try:
            spots = spots_told(told)
            cues = self._cues()
            if cues is None:
                return
            found = [cue_at(cues, chapter, second) for chapter, second in spots]
            places = [place_now(self._desk.book, cue) for cue in found]
        except RegletError as error:
            self._room.answer_spot(str(error))
            return
        spans = [self._span(place, cue) for place, cue in zip(places, found, strict=True)]
        first = spans[0]
        self._show_words(first.scene, first.start, first.end)
        if len(spots) > 1:
            marked = sum(span.end > span.start and self._mark(span) for span in spans)
            self._room.answer_spot(
                f"{marked} of {len(spots)} spots are marked, and stand with what was marked while "
                "listening."
            )
        elif not found[0].text:
            self._room.answer_spot("The chapter’s heading is read there.")
        elif first.end > first.start:
            self._room.answer_spot(f"“{found[0].text}”")
        else:
            self._room.answer_spot(f"“{found[0].text}” has been changed since; it stood here.")

    def _cues(self) -> CueList | None:
        """The cue list of the sound files; None where the writer names no folder."""
        folder = self._files or self._folder()
        if folder is None:
            return None
        try:
            cues = read_cues(folder)
        except RegletError:
            self._files = None  # asked for anew, as it was the wrong one
            raise
        self.set_files(folder)
        return cues

    def _span(self, place: Place, cue: Cue) -> Spot:
        """Where the words of a cue stand; nothing of the text, where they have been changed."""
        text = self._desk.book.scene(place.scene).passage.text
        stands = text.startswith(cue.text, place.position)
        return Spot(place.scene, place.position, place.position + len(cue.text) * stands)

    def _mark(self, span: Spot) -> bool:
        now = datetime.now().astimezone()
        return self._desk.amend(span.scene, lambda book: flagged(book, span, now))

    def set_files(self, folder: Path) -> None:
        """The sound files that spots are noted in lie in this folder."""
        if folder != self._files:
            self._files = folder
            self.files_found.emit(folder)

    def _later(self) -> None:
        if self._desk.stage is Stage.PROOF or self.view.isVisible():
            self._soon.start()

    def _replaced(self) -> None:
        self._counted, self._chapters, self._files = Counted(), (), None
        self._room.answer_spot("")
        self._show()
        self._soon.start()

    def _take(self, chapters: tuple[ChapterHeard, ...]) -> None:
        self._chapters = chapters
        self._show()
        self.counted.emit(together(each.covered for each in chapters).hearings)

    def _show(self) -> None:
        scene, aim = self._desk.scene, self._work.choices.aim
        here = scene.id if scene is not None else ""
        told = self._told()
        self._room.show_heard(self._chapters, aim, here, told)
        if self.view.isVisible():
            self.view.show_heard(self._chapters, aim, here, told)

    def _told(self) -> str:
        """The book's hearings and what is left until the aim is reached, at this pace."""
        choices = self._work.choices
        whole = together(each.covered for each in self._chapters)
        if not whole.words:
            return "Nothing to hear yet."
        left = seconds_to_aim(whole, choices.aim, choices.pace)
        times = counted(choices.aim, "time")
        if not left:
            return f"All of it heard {times}. A changed paragraph counts as unheard."
        heard = f"{whole.hearings:.1f}"
        so_far, to_go = (
            ("Not heard yet", f"to hear it {times}")
            if heard == "0.0"
            else (f"Heard {heard} of {times}", "to that aim")
        )
        return (
            f"{so_far}; {hours(left / 60)} {to_go} at {choices.pace:.1f}×. "
            "A changed paragraph counts as unheard."
        )

    def _go(self, scene_id: str) -> None:
        self._views.show_page()
        self._desk.show_scene(scene_id)
