"""The card beside a mark: what the query says, and the keys that answer it."""

from __future__ import annotations

from html import escape

from PySide6.QtCore import Qt, Signal, SignalInstance
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from reglet.overlays.proof import marked_while_listening
from reglet.overlays.query import Dress, Query
from reglet.overlays.register import named
from reglet.window.controls import KeyButton
from reglet.window.flow import FlowLayout
from reglet.window.lettering import Label
from reglet.window.theme import GRID, LIGHT, Theme

WIDTH = 20 * GRID


class QueryCard(QWidget):
    """Shows one query. Single keys answer it while the card has the focus."""

    taken = Signal(object)
    stood = Signal(object)
    stood_everywhere = Signal(object)
    settled = Signal(object)
    """One way is wanted through the book, where a query has a choice to make."""
    mended = Signal(object)
    """What was marked while listening has been put right."""
    stepped = Signal(int)
    scene_wanted = Signal(int)
    """The next scene with queries (1), or the one before (-1)."""
    scene_done = Signal()
    """The scene has passed the stage."""
    left = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = LIGHT
        self._pencil = LIGHT.graphite
        self._query: Query | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setFixedWidth(WIDTH)
        self._message = Label()
        self._message.setWordWrap(True)
        self._message.setTextFormat(Qt.TextFormat.RichText)
        self._proposal = Label(page_face=True, scale=0.66)
        self._proposal.setWordWrap(True)
        self._proposal.setTextFormat(Qt.TextFormat.RichText)
        self._source = Label(quiet=True, scale=0.86)
        self._source.setWordWrap(True)
        self._take = KeyButton("T", "take")
        self._stet = KeyButton("S", "stet")
        self._everywhere = KeyButton("⇧S", "stet all")
        self._settle = KeyButton("A", "one way through the book …")
        self._next = KeyButton("J", "next")
        self._take.clicked.connect(lambda: self._answer(self.taken))
        self._stet.clicked.connect(lambda: self._answer(self.stood))
        self._everywhere.clicked.connect(lambda: self._answer(self.stood_everywhere))
        self._settle.clicked.connect(lambda: self._answer(self.settled))
        self._next.clicked.connect(lambda: self.stepped.emit(1))
        self._scene = KeyButton("N", "next scene")
        self._scene.clicked.connect(lambda: self.scene_wanted.emit(1))
        self._done = KeyButton("D", "done with this scene")
        self._done.clicked.connect(self.scene_done)
        self._mended = KeyButton("D", "done")
        self._mended.clicked.connect(lambda: self._answer(self.mended))
        self._page = KeyButton("⏎", "to the text")
        self._page.clicked.connect(self.left)
        self._keys = (
            self._take,
            self._stet,
            self._everywhere,
            self._settle,
            self._mended,
            self._next,
            self._done,
            self._scene,
            self._page,
        )
        keys = FlowLayout(6)
        for button in self._keys:
            keys.addWidget(button)
        self._column = layout = QVBoxLayout(self)
        layout.setContentsMargins(14, 10, 8, 10)
        layout.setSpacing(GRID)
        layout.addWidget(self._message)
        layout.addWidget(self._proposal)
        layout.addWidget(self._source)
        layout.addLayout(keys)
        self.hide()

    @property
    def query(self) -> Query | None:
        """The query that the card shows."""
        return self._query

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        self._message.dress(theme)
        self._proposal.dress(theme)
        self._source.dress(theme)
        for button in self._keys:
            button.dress(theme)
        self.setFixedWidth(WIDTH + (2 * GRID if theme.control.size > 14 else 0))

    def show_query(self, query: Query, pencil: str) -> None:
        """Show a query in the stage's pencil."""
        self._query, self._pencil = query, pencil
        overlay = named(query.overlay)
        label, source = overlay.label, f"Source: {overlay.source}"
        becomes = f" “{query.text}” → “{query.proposal}”" if query.proposal is not None else ""
        self.setAccessibleName(f"{label}. {query.message}{becomes}")
        self.setAccessibleDescription(source)
        self._source.setText(source)
        self._source.show()
        self._message.setText(f'<b style="color:{pencil}">{label}</b> · {escape(query.message)}')
        self._proposal.setVisible(query.proposal is not None)
        if query.proposal is not None:
            blank = "one space" if query.proposal else "(nothing)"
            shown = escape(query.proposal.strip()) or blank
            new = f'<span style="color:{pencil}">{_as_set(shown, query)}</span>'
            self._proposal.setText(f"{escape(query.text)} → {new}")
        self._take.setVisible(query.proposal is not None)
        self._settle.setVisible(query.choice is not None)
        for key in (self._stet, self._everywhere, self._next):
            key.show()
        by_ear = query.overlay == marked_while_listening.OVERLAY.name
        self._mended.setVisible(by_ear)
        self._everywhere.setVisible(not by_ear)
        self._done.hide()
        self._page.hide()
        self._set_up()

    def show_end(self, pencil: str, said: str, *, may_be_done: bool = True) -> None:
        """Show that there is no query to show, and why; the keys stay here, and are not typed. With
        `may_be_done`, the scene can be said to have passed the stage.
        """
        self._query, self._pencil = None, pencil
        self.setAccessibleName(said)
        self.setAccessibleDescription("")
        self._message.setText(escape(said))
        self._proposal.hide()
        self._source.hide()
        for key in (self._take, self._stet, self._everywhere, self._settle, self._mended):
            key.hide()
        self._next.hide()
        self._done.setVisible(may_be_done)
        self._page.show()
        self._set_up()

    def _set_up(self) -> None:
        self.setFixedHeight(self._column.totalHeightForWidth(self.width()))
        self.show()
        self.raise_()

    def _answer(self, signal: SignalInstance) -> None:
        if self._query is not None:
            signal.emit(self._query)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key, shifted = event.key(), event.modifiers() == Qt.KeyboardModifier.ShiftModifier
        if key == Qt.Key.Key_T and self._query and self._query.proposal is not None:
            self._answer(self.taken)
        elif key == Qt.Key.Key_A and self._query and self._query.choice is not None:
            self._answer(self.settled)
        elif key == Qt.Key.Key_D and not self._done.isHidden():
            self.scene_done.emit()
        elif key == Qt.Key.Key_D and not self._mended.isHidden():
            self._answer(self.mended)
        elif key == Qt.Key.Key_N:
            self.scene_wanted.emit(-1 if shifted else 1)
        elif key == Qt.Key.Key_S:
            self._answer(self.stood_everywhere if shifted else self.stood)
        elif key == Qt.Key.Key_J:
            self.stepped.emit(1)
        elif key == Qt.Key.Key_K:
            self.stepped.emit(-1)
        elif key in (Qt.Key.Key_Escape, Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.left.emit()
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QColor(self._theme.quiet if self.hasFocus() else self._theme.line))
        painter.setBrush(QColor(self._theme.card))
        painter.drawRoundedRect(self.rect().toRectF().adjusted(1.5, 0.5, -0.5, -0.5), 2, 2)
        painter.fillRect(0, 0, 3, self.height(), QColor(self._pencil))


def _as_set(shown: str, query: Query) -> str:
    return f"<i>{shown}</i>" if query.dress is Dress.EMPHASIS else shown
