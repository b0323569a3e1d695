"""Voices, in the place of the page: heard on the writer's own words, and one of them chosen."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject, QRect, Qt, Signal
from PySide6.QtGui import QColor, QFontMetrics, QKeyEvent, QPainter
from PySide6.QtWidgets import QHBoxLayout, QWidget

from reglet.voice.voices import BUILT_IN, NO_VOICE, Voice, VoiceKind
from reglet.window import dressing
from reglet.window.controls import Act
from reglet.window.laid_sheet import LaidSheet
from reglet.window.lettering import Caption, Lines
from reglet.window.rows import RowDrawing, RowList
from reglet.window.theme import GRID

_MOST_ROWS = 10
_TOLD = (
    "Hear your own sentence in each, and keep the one you can listen to for hours. All of them "
    "speak on this machine; nothing is sent anywhere."
)
_KEYS = "Space hears it · Enter reads the book with it · Delete takes a voice file off the list"
_READY = "A voice takes a moment to be made ready when it is first heard."
_KINDS = {
    VoiceKind.PIPER: "a Piper voice file of yours",
    VoiceKind.ESPEAK: "clear and mechanical; when each word is said is an estimate",
    VoiceKind.SYSTEM: "the system’s; cannot be written to sound files",
}


class _VoiceDrawing(RowDrawing[Voice]):
    height = 4 * GRID + 4
    reading = ""

    def draw(self, painter: QPainter, rect: QRect, thing: Voice) -> None:
        theme, reads = self.theme, thing.id == self.reading
        inside = rect.adjusted(GRID + 4, 0, -GRID, 0)
        font = dressing.font(theme.control, 1.0, dressing.SEMIBOLD if reads else dressing.REGULAR)
        painter.setFont(font)
        painter.setPen(QColor(theme.ink))
        name = f"{thing.name}, reads now" if reads else thing.name
        middle = Qt.AlignmentFlag.AlignVCenter
        painter.drawText(inside, middle, name)
        used = QFontMetrics(font).horizontalAdvance(name) + 2 * GRID
        small = dressing.font(theme.control, 0.9)
        painter.setFont(small)
        painter.setPen(QColor(theme.quiet))
        room = inside.adjusted(used, 0, 0, 0)
        said = QFontMetrics(small).elidedText(
            f"{thing.language} · {_kind(thing)}", Qt.TextElideMode.ElideRight, room.width()
        )
        painter.drawText(room, middle | Qt.AlignmentFlag.AlignRight, said)

    def say(self, thing: Voice) -> str:
        reads = ", reads now" if thing.id == self.reading else ""
        return f"{thing.name}{reads}, {thing.language}, {_kind(thing)}"


class VoicesView(LaidSheet):
    """Shows the voices, and tells what is asked of one."""

    heard = Signal(object)
    """A `Voice` is to say the sample."""
    hushed = Signal()
    chosen = Signal(object)
    """The book is to be read with a `Voice`."""
    file_wanted = Signal()
    """A voice file of the writer's is to be added."""
    dropped = Signal(object)
    """The file of a `Voice` leaves the list."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("Voices", parent=parent)
        self._drawing = _VoiceDrawing()
        self._list: RowList[Voice] = RowList(self._drawing, "Voices")
        self._list.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._sample = Lines(page_face=True, scale=0.75)
        self._note = Lines(_KEYS, quiet=True, scale=0.93)
        self._hear, self._choose = Act("Hear it"), Act("Read with this", chief=True)
        self._add = Act("Add a Piper voice file …")
        self._saying = False
        acts = QHBoxLayout()
        acts.setSpacing(2 * GRID + 4)
        for act in (self._choose, self._hear, self._add):
            acts.addWidget(act)
        acts.addStretch(1)
        self.column.addWidget(Lines(_TOLD, quiet=True))
        self.column.addSpacing(GRID)
        self.column.addWidget(Caption("What they say, from where the cursor stands"))
        self.column.addWidget(self._sample)
        self.column.addSpacing(2 * GRID)
        self.column.addWidget(Caption("Voices on this machine"))
        self.column.addWidget(self._list)
        self.column.addSpacing(GRID)
        self.column.addLayout(acts)
        self.column.addWidget(self._note)
        self.column.addStretch(1)
        self._hear.clicked.connect(self._hear_it)
        self._choose.clicked.connect(self._choose_it)
        self._add.clicked.connect(self.file_wanted)
        self._list.doubleClicked.connect(self._hear_it)
        self._list.installEventFilter(self)

    def show_sample(self, text: str) -> None:
        """What the voices will say."""
        self._sample.setText(text)

    def show_looking(self) -> None:
        """The voices are being looked for."""
        self._note.setText("Looking for voices …")
        if self._list.chosen() is None:
            self._list.setFixedHeight(self._drawing.height + 2)
            for act in (self._hear, self._choose):
                act.setEnabled(False)

    def show_voices(self, voices: Sequence[Voice], reading: str) -> None:
        """These are the voices there are; the one of the id `reading` reads the book."""
        before = self._list.chosen()
        self._drawing.reading = reading
        self._list.show_things(voices)
        ids = [voice.id for voice in voices]
        wanted = before.id if before is not None and before.id in ids else reading
        if ids:
            self._list.choose(ids.index(wanted) if wanted in ids else 0)
        rows = max(1, min(_MOST_ROWS, len(voices)))
        self._list.setFixedHeight(rows * self._drawing.height + 2)
        self._note.setText(_KEYS if ids else NO_VOICE)
        for act in (self._hear, self._choose):
            act.setEnabled(bool(ids))
        if self.isVisible():
            self._list.setFocus()

    def show_saying(self, saying: bool) -> None:
        """Whether the sample is being said, or a voice made ready for it."""
        self._saying = saying
        if saying:
            self._note.setText(_READY)
        elif self._note.text() == _READY:  # and not a sentence on why nothing was heard
            self._note.setText(_KEYS)
        self._hear.setText("Hush" if saying else "Hear it")
        self._hear.updateGeometry()

    def say(self, sentence: str) -> None:
        """Tell the writer something under the list."""
        self._note.setText(sentence)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() != QEvent.Type.KeyPress:
            return False
        assert isinstance(event, QKeyEvent)
        chosen = self._list.chosen()
        match Qt.Key(event.key()):
            case Qt.Key.Key_Space:
                self._hear_it()
            case Qt.Key.Key_Return | Qt.Key.Key_Enter:
                self._choose_it()
            case Qt.Key.Key_Delete if chosen is not None and _is_file(chosen):
                self.dropped.emit(chosen)
            case _:
                return False
        return True

    def _hear_it(self) -> None:
        voice = self._list.chosen()
        if self._saying:
            self.hushed.emit()
        elif voice is not None:
            self.heard.emit(voice)

    def _choose_it(self) -> None:
        voice = self._list.chosen()
        if voice is not None:
            self.chosen.emit(voice)


def _kind(voice: Voice) -> str:
    return "neural, comes with Reglet" if voice.id == BUILT_IN else _KINDS[voice.kind]


def _is_file(voice: Voice) -> bool:
    return voice.kind is VoiceKind.PIPER and voice.id != BUILT_IN
