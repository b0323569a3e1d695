"""What the room of Listening on the Slip shows of the voice, and what is chosen in it."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QObject, QTimer

from reglet.numbers import hours
from reglet.voice.coverage import seconds_left
from reglet.voice.moment import State
from reglet.voice.reading_order import Place
from reglet.window.desk import Desk
from reglet.window.listening_work import ListeningWork
from reglet.window.rooms.listening import ListeningRoom

_AGAIN_MS = 20_000


class ListeningSlip(QObject):
    """Joins the room to the voice."""

    def __init__(
        self, desk: Desk, work: ListeningWork, room: ListeningRoom, parent: QObject
    ) -> None:
        super().__init__(parent)
        self._desk, self._work, self._room = desk, work, room
        room.play_wanted.connect(work.play_or_pause)
        room.back_wanted.connect(
            lambda far: (work.back_a_paragraph if far else work.back_a_sentence)()
        )
        room.flag_wanted.connect(work.flag)
        room.mend_wanted.connect(work.mend)
        room.pace_wanted.connect(work.change_pace)
        room.follow_wanted.connect(lambda on: work.choose(replace(work.choices, follow=on)))
        room.ruler_wanted.connect(lambda on: work.choose(replace(work.choices, ruler=on)))
        work.state_changed.connect(self._show_state)
        work.waiting_changed.connect(self._show_state)
        work.voice_changed.connect(self._show_choices)
        work.chosen.connect(self._show_choices)
        work.heard_changed.connect(self._show_left)
        desk.replaced.connect(self._show_left)
        desk.stage_changed.connect(self._show_left)
        desk.scene_shown.connect(self._show_left)
        self._again = QTimer(self, interval=_AGAIN_MS)
        self._again.timeout.connect(self._show_left)
        self._show_choices()

    def _show_state(self) -> None:
        state = self._work.state
        self._room.show_state(state, waiting=self._work.waiting)
        if state is State.PLAYING:
            self._again.start()
        else:
            self._again.stop()
        self._show_left()

    def _show_choices(self) -> None:
        choices, voice = self._work.choices, self._work.voice
        name = voice.name if voice is not None else ""
        self._room.show_choices(name, choices.pace, follow=choices.follow, ruler=choices.ruler)
        self._show_left()

    def _show_left(self) -> None:
        if self._work.waiting:
            self._room.show_left("The voice is being made ready …")
            return
        self._room.show_left(f"{hours(self._seconds_left() / 60)} left")

    def _seconds_left(self) -> float:
        """How long the rest of the book lasts from here: from the voice's place, or the scene's."""
        book, scene, place = self._desk.book, self._desk.scene, self._work.place
        if place is None or not book.has_scene(place.scene):
            place = Place(scene.id) if scene else None
        return seconds_left(book, place, self._work.choices.pace)
