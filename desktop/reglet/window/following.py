"""The page keeps to the voice: its word is marked, and the keys on the page are the voice's.

While it is followed, nothing is typed on the page, so that the eye can stay on the text and one
hand on a few plain keys; Enter, Escape or a click in the text stops the voice and gives the page
back to be written on.
"""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent, QKeySequence

from reglet.voice.flags import Spot
from reglet.voice.moment import Moment, State
from reglet.voice.reading_order import Place
from reglet.window.desk import Desk
from reglet.window.listening_choices import ListeningChoices
from reglet.window.listening_work import ListeningWork
from reglet.window.page.page import Page
from reglet.window.views import Views

_NOT_TYPED = (
    "The page follows the voice, so nothing is typed on it. Space pauses; Enter stops to mend."
)
_HELD = (
    Qt.KeyboardModifier.ControlModifier
    | Qt.KeyboardModifier.AltModifier
    | Qt.KeyboardModifier.MetaModifier
)
_KEY = QKeySequence.StandardKey
_LET_THROUGH = (
    _KEY.Undo,
    _KEY.Redo,
    _KEY.Copy,
    _KEY.MoveToNextPage,
    _KEY.MoveToPreviousPage,
)


class Following(QObject):
    """Shows on the page what the voice says."""

    def __init__(
        self, desk: Desk, page: Page, work: ListeningWork, views: Views, parent: QObject
    ) -> None:
        super().__init__(parent)
        self._desk, self._page, self._work, self._views = desk, page, work, views
        self._warned = False
        key, act = Qt.Key, work
        self._keys = {
            (key.Key_Space, False): act.play_or_pause,
            (key.Key_B, False): act.back_a_sentence,
            (key.Key_B, True): act.back_a_paragraph,
            (key.Key_Left, False): act.back_a_sentence,
            (key.Key_Up, False): act.back_a_paragraph,
            (key.Key_M, False): act.flag,
            (key.Key_Return, False): act.mend,
            (key.Key_Enter, False): act.mend,
            (key.Key_Escape, False): act.mend,
            (key.Key_Plus, False): lambda: act.change_pace(1),
            (key.Key_Plus, True): lambda: act.change_pace(1),
            (key.Key_Equal, False): lambda: act.change_pace(1),
            (key.Key_Minus, False): lambda: act.change_pace(-1),
        }
        page.editor.installEventFilter(self)
        page.editor.viewport().installEventFilter(self)
        work.word_said.connect(self._show)
        work.state_changed.connect(self._state_changed)
        work.mending.connect(self._mend)
        work.chosen.connect(self._chosen)
        desk.scene_shown.connect(self._scene_shown)

    @property
    def on(self) -> bool:
        """Whether the page keeps to the voice."""
        return self._page.editor.following

    def _state_changed(self, state: State) -> None:
        if state is State.PLAYING:
            self._begin()
        elif state is State.STOPPED:
            self._leave()
            self._page.editor.set_said(None)

    def _chosen(self, choices: ListeningChoices) -> None:
        if not choices.follow:
            self._leave()
        elif self.on or self._work.state is State.PLAYING:
            self._page.editor.follow_voice(True, ruler=choices.ruler)
            self._show(self._work.moment)

    def _begin(self) -> None:
        choices = self._work.choices
        if choices.follow:
            self._page.close_card(focus=False)
            self._views.show_page()
            self._page.editor.follow_voice(True, ruler=choices.ruler)
            self._show(self._work.moment)

    def _leave(self) -> None:
        self._page.editor.follow_voice(False)

    def _show(self, moment: Moment) -> None:
        """Mark the word that is heard, in its scene."""
        if self.on and moment.scene and moment.scene != self._open:
            self._desk.show_scene(moment.scene)
        editor = self._page.editor
        if not moment.scene or moment.scene != self._open:
            editor.set_said(None)
            return
        word = Spot(moment.scene, moment.start, moment.end) if moment.end > moment.start else None
        editor.set_said(word, moment.sentence[0])

    @property
    def _open(self) -> str:
        scene = self._desk.scene
        return scene.id if scene is not None else ""

    def _scene_shown(self) -> None:
        moment = self._work.moment
        if self._work.state is not State.STOPPED and moment.scene == self._open:
            self._show(moment)

    def _mend(self, place: Place) -> None:
        self._leave()
        self._views.show_page()
        self._desk.show_scene(place.scene)
        self._page.editor.select(place.position, place.position)
        self._page.setFocus()

    # Keys on the page

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if not self.on:
            return False
        kind = event.type()
        if kind == QEvent.Type.MouseButtonPress:
            # The cursor goes where the click is, not to the word.
            self._leave()
            self._work.pause_to_mend()
            return False
        if kind == QEvent.Type.InputMethod:
            return True
        if kind in (QEvent.Type.KeyPress, QEvent.Type.ShortcutOverride):
            assert isinstance(event, QKeyEvent)
            return self._take(event)
        return False

    def _take(self, event: QKeyEvent) -> bool:
        """Whether a key is kept from the page: the voice's own, and all that would be typed."""
        held = event.modifiers() & _HELD
        shifted = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        act = None if held else self._keys.get((Qt.Key(event.key()), shifted))
        if event.type() == QEvent.Type.ShortcutOverride:
            if act is not None:
                event.accept()
            return act is not None
        if act is not None:
            act()
        elif any(map(event.matches, _LET_THROUGH)):
            return False
        elif event.text() and not self._warned:
            self._warned = True
            self._work.told.emit(_NOT_TYPED)
        return True
