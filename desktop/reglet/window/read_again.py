"""Read it again: a paragraph as it was when the stage began beside what it has become.

Both are set as a reader would have them, with nothing marked: what was changed is in the history.
"""

from __future__ import annotations

from html import escape

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from reglet.manuscript.difference import difference
from reglet.manuscript.pairing import Pair, changed_pairs, pair_at
from reglet.manuscript.paragraph import LINE_BREAK, Paragraph, SpanKind
from reglet.manuscript.passage import Passage
from reglet.manuscript.words import count_words
from reglet.numbers import counted
from reglet.window import dressing
from reglet.window.controls import Act
from reglet.window.laid_sheet import foot, named, set_out
from reglet.window.lettering import Caption, Label, Lines, dress_all
from reglet.window.scrolled import Scrolled
from reglet.window.theme import GRID, Theme

_TAGS = {SpanKind.EMPHASIS: "i", SpanKind.STRONG: "b", SpanKind.UNDERLINE: "u"}


class ReadAgainView(QWidget):
    """Takes the place of the page."""

    closed = Signal()
    place_wanted = Signal(int)
    """The number of a paragraph of the scene as it is now: to be gone to."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._old, self._new = Passage(), Passage()
        self._pairs: tuple[Pair, ...] = ()
        self._pair = Pair(range(1), range(1), changed=False)
        self._title = Label(page_face=True, scale=0.87)
        self._told = Label()
        self._hint = Label("J and K step from change to change.", quiet=True, scale=0.93)
        self._before, self._after = _Column("When the stage began"), _Column("Now")
        self._before_again, self._next = Act("The change before"), Act("The next change")
        self._there = Act("Go there", chief=True)
        self._back = Act("Back to the page")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._lay_out()
        self._next.clicked.connect(lambda: self.step(1))
        self._before_again.clicked.connect(lambda: self.step(-1))
        self._there.clicked.connect(self._go)
        self._back.clicked.connect(self.closed)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        dress_all(self, theme)

    def show_pair(self, title: str, old: Passage, new: Passage, paragraph: int) -> None:
        """Show the paragraph of this number of `new` beside what it was in `old`."""
        self._title.setText(title)
        self._old, self._new = old, new
        self._pairs = changed_pairs(difference(old, new), old, new)
        self._show(pair_at(self._pairs, paragraph))
        self.setFocus()

    def step(self, by: int) -> None:
        """To the next change, or the one before."""
        at = self._pair.new.start
        if by > 0:
            later = [pair for pair in self._pairs if pair.new.start > at]
            wanted = later[0] if later else None
        else:
            earlier = [pair for pair in self._pairs if pair.new.start < at]
            wanted = earlier[-1] if earlier else None
        if wanted is not None:
            self._show(wanted)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        match event.key():
            case Qt.Key.Key_Escape:
                self.closed.emit()
            case Qt.Key.Key_J:
                self.step(1)
            case Qt.Key.Key_K:
                self.step(-1)
            case Qt.Key.Key_Return | Qt.Key.Key_Enter:
                self._go()
            case _:
                super().keyPressEvent(event)

    def _lay_out(self) -> None:
        head = named(Caption("Read it again"), self._title, self._back)
        inside = QWidget()
        columns = QHBoxLayout(inside)
        columns.setContentsMargins(0, 2 * GRID, 0, 2 * GRID)
        columns.setSpacing(5 * GRID)
        columns.addWidget(self._before, 1)
        columns.addWidget(self._after, 1)
        acts = (self._before_again, self._next, self._there)
        set_out(self, (head,), Scrolled(inside), foot((self._told, self._hint), *acts))

    def _show(self, pair: Pair) -> None:
        self._pair = pair
        self._before.show_paragraphs(self._old.paragraphs[pair.old.start : pair.old.stop])
        self._after.show_paragraphs(self._new.paragraphs[pair.new.start : pair.new.stop])
        numbers = f"Paragraph {pair.new.start + 1}"
        if len(pair.new) > 1:
            numbers = f"Paragraphs {pair.new.start + 1} to {pair.new.stop}"
        if pair in self._pairs:
            said = f"{numbers}: change {self._pairs.index(pair) + 1} of {len(self._pairs)}"
        else:
            count = len(self._pairs)
            changes = counted(count, "change") if count else "no change"
            said = f"{numbers} is as it was; {changes} in the scene"
        self._told.setText(said)
        starts = [each.new.start for each in self._pairs]
        self._next.setEnabled(any(start > pair.new.start for start in starts))
        self._before_again.setEnabled(any(start < pair.new.start for start in starts))

    def _go(self) -> None:
        self.place_wanted.emit(self._pair.new.start)


class _Column(QWidget):
    """One state: what it is, its words, its text."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._name = name
        self._head = Label(quiet=True, scale=0.93)
        self._text = _Text()
        self._text.setTextFormat(Qt.TextFormat.RichText)
        self._text.setAlignment(Qt.AlignmentFlag.AlignTop)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addWidget(self._head)
        column.addWidget(self._text)
        column.addStretch(1)

    def show_paragraphs(self, paragraphs: tuple[Paragraph, ...]) -> None:
        """Show these."""
        words = sum(count_words(each.text) for each in paragraphs)
        self._head.setText(f"{self._name}  ·  {counted(words, 'word')}")
        self._text.setText("".join(_set(each, first=not at) for at, each in enumerate(paragraphs)))
        self._text.setAccessibleName(f"{self._name}: {' '.join(each.text for each in paragraphs)}")


class _Text(Lines):
    """Text in the type of the page."""

    def dress(self, theme: Theme) -> None:
        super().dress(theme)
        self.setFont(dressing.font(theme.page))


def _set(paragraph: Paragraph, *, first: bool) -> str:
    """A paragraph as rich text, its emphasis kept."""
    made = []
    for text, spans in paragraph.stretches():
        tags = [_TAGS[span.kind] for span in spans if span.kind in _TAGS]
        opened = "".join(f"<{tag}>" for tag in tags)
        closed = "".join(f"</{tag}>" for tag in reversed(tags))
        made.append(f"{opened}{escape(text)}{closed}")
    indent = 0 if first else 20
    inside = "".join(made).replace(LINE_BREAK, "<br>")
    return f'<p style="margin:0; line-height:108%; text-indent:{indent}px">{inside}</p>'
