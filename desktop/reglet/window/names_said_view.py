"""How the names of the book are said, in the place of the page: tried by ear, then kept."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from PySide6.QtCore import QEvent, QObject, QRect, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QPainter
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from reglet.window import dressing
from reglet.window.controls import Act, Chip, Entry
from reglet.window.flow import FlowLayout, empty
from reglet.window.laid_sheet import LaidSheet
from reglet.window.lettering import Caption, Lines
from reglet.window.rows import RowDrawing, RowList
from reglet.window.theme import GRID, Theme

Said = tuple[str, str]
"""A word, and how it is said."""

_TOLD = (
    "Spell a name as it sounds (“eye-SORE-uh”), or write its sounds in IPA between double brackets "
    "([[aɪ\u2060ˈsɔːɹə]]), and hear it in its sentence before you keep it. Its possessive follows. "
    "The text itself stays as it is."
)
_KEYS = "Space hears it · Enter takes it up to change it · Delete lets the voice say it its own way"


class _SaidDrawing(RowDrawing[Said]):
    def draw(self, painter: QPainter, rect: QRect, thing: Said) -> None:
        theme = self.theme
        inside = rect.adjusted(GRID + 4, 0, -GRID, 0)
        middle = Qt.AlignmentFlag.AlignVCenter
        painter.setFont(dressing.font(theme.control, 1.0, dressing.SEMIBOLD))
        painter.setPen(QColor(theme.ink))
        painter.drawText(inside, middle, thing[0])
        painter.setFont(dressing.font(theme.control))
        painter.drawText(inside.adjusted(inside.width() // 3, 0, 0, 0), middle, thing[1])

    def say(self, thing: Said) -> str:
        return f"{thing[0]} is said {thing[1]}"


class NamesSaidView(LaidSheet):
    """Shows the dictionary, and tells what is tried, kept and let go."""

    tried = Signal(str, str)
    """A word is to be heard as it would be said; "" for the voice's own way."""
    hushed = Signal()
    kept = Signal(str, str)
    """A word is to be said so from now on; "" lets it go."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("How names are said", parent=parent)
        self._theme: Theme | None = None
        self._word = Entry("Name", "one word of a name")
        self._said = Entry("Said as", "as it sounds, or [[IPA]]")
        self._hear, self._keep = Act("Hear it"), Act("Keep it", chief=True)
        self._note = Lines(quiet=True, scale=0.93)
        self._list: RowList[Said] = RowList(_SaidDrawing(), "How names are said")
        self._list.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._keys = Lines(_KEYS, quiet=True, scale=0.93)
        self._names = QWidget()
        self._flow = FlowLayout(GRID, self._names)
        self._names_told = Lines(quiet=True, scale=0.93)
        self._saying = False
        entries = QHBoxLayout()
        entries.setSpacing(3 * GRID)
        for name, entry in (("Name", self._word), ("Said as", self._said)):
            pair = QVBoxLayout()
            pair.setSpacing(0)
            pair.addWidget(Caption(name))
            pair.addWidget(entry)
            entries.addLayout(pair, 1)
        acts = QHBoxLayout()
        acts.setSpacing(2 * GRID + 4)
        acts.addWidget(self._keep)
        acts.addWidget(self._hear)
        acts.addStretch(1)
        self.column.addWidget(Lines(_TOLD, quiet=True))
        self.column.addSpacing(GRID)
        self.column.addLayout(entries)
        self.column.addLayout(acts)
        self.column.addWidget(self._note)
        self.column.addSpacing(2 * GRID)
        self.column.addWidget(Caption("In the style sheet"))
        self.column.addWidget(self._list)
        self.column.addWidget(self._keys)
        self.column.addSpacing(2 * GRID)
        self.column.addWidget(Caption("Names of the book"))
        self.column.addWidget(self._names_told)
        self.column.addWidget(self._names)
        self.column.addStretch(1)
        self._hear.clicked.connect(self._try)
        self._keep.clicked.connect(self._keep_it)
        self._word.returnPressed.connect(self._try)
        self._said.returnPressed.connect(self._try)
        self._list.doubleClicked.connect(self._take_up)
        self._list.installEventFilter(self)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        super().dress(theme)

    def show_said(self, entries: Sequence[Said]) -> None:
        """What the style sheet has."""
        self._list.show_things(entries)
        if entries:
            self._list.choose(0)
        self._list.setVisible(bool(entries))
        self._keys.setText(_KEYS if entries else "None yet.")
        self._list.setFixedHeight(max(1, min(10, len(entries))) * 32 + 2)
        self._note.setText("")

    def show_names(self, names: Iterable[str] | None) -> None:
        """The names that the style sheet does not say yet; None while they are looked for."""
        empty(self._flow)
        found = list(names or ())
        if names is None:
            told = "Looking for names …"
        elif found:
            told = "A click says a name as the voice would, and takes it up."
        else:
            told = "None that the style sheet does not say."
        self._names_told.setText(told)
        for name in found:
            chip = Chip(name, self._names)
            chip.setCheckable(False)
            chip.clicked.connect(lambda _=False, name=name: self._take_name(name))
            if self._theme is not None:
                chip.dress(self._theme)
            self._flow.addWidget(chip)
            chip.show()
        self._names.updateGeometry()

    def begin(self) -> None:
        """Ready to write a name."""
        self._word.setFocus()

    def show_kept(self, word: str) -> None:
        """A word has been kept: ready for the next."""
        self._note.setText(f"“{word}” is said so from now on.")
        self._word.clear()
        self._said.clear()
        self._word.setFocus()

    def show_saying(self, saying: bool) -> None:
        """Whether something is being said."""
        self._saying = saying
        self._hear.setText("Hush" if saying else "Hear it")
        self._hear.updateGeometry()

    def say(self, sentence: str) -> None:
        """Tell the writer something under the lines."""
        self._note.setText(sentence)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        chosen = self._list.chosen()
        if event.type() != QEvent.Type.KeyPress or chosen is None:
            return False
        assert isinstance(event, QKeyEvent)
        match Qt.Key(event.key()):
            case Qt.Key.Key_Space:
                self.tried.emit(*chosen)
            case Qt.Key.Key_Return | Qt.Key.Key_Enter:
                self._take_up()
            case Qt.Key.Key_Delete:
                self.kept.emit(chosen[0], "")
            case _:
                return False
        return True

    def _try(self) -> None:
        if self._saying:
            self.hushed.emit()
        elif self._word.text().strip():
            self.tried.emit(self._word.text().strip(), self._said.text().strip())

    def _keep_it(self) -> None:
        if not self._said.text().strip():
            self._note.setText("Write how it is said, under “Said as”.")
        else:
            self.kept.emit(self._word.text().strip(), self._said.text().strip())

    def _take_up(self) -> None:
        chosen = self._list.chosen()
        if chosen is not None:
            self._word.setText(chosen[0])
            self._said.setText(chosen[1])
            self._said.setFocus()

    def _take_name(self, name: str) -> None:
        self._word.setText(name)
        self._said.clear()
        self._said.setFocus()
        self.tried.emit(name, "")
