"""The writing page as one widget: editor, edge strip, query card and the scene's title."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPoint, QRect, QRectF, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QLineEdit, QWidget

from reglet.manuscript.passage import Passage
from reglet.overlays.query import Query
from reglet.window import dressing
from reglet.window.page import edge_strip
from reglet.window.page.card import QueryCard
from reglet.window.page.edge_strip import EdgeStrip
from reglet.window.page.followed import FollowedEditor
from reglet.window.theme import GRID, LIGHT, MEASURE, Theme

_LEFT, _LEAST_LEFT = 11 * GRID, 5 * GRID
_RIGHT, _LEAST_RIGHT = 24 * GRID, 12 * GRID
_STRIP_INSET = 2 * GRID
_CARD_GAP = 11
_CARD_OVER = 3 * GRID
"""How far the card may reach over the edge of the paper: to the words of the Slip."""
_CARD_STAYS_MS = 250
"""How long the card stays when the pointer has left its mark, so that it can be reached."""
_STRIP_EVERY_MS = 120
_NO_MORE = "No more queries in this scene."


class Page(QWidget):
    """Shows one scene to be written in, with the queries about it."""

    edited = Signal(object, object)
    """The scene's new `Passage`, and the `Change` that led to it."""
    undo_wanted = Signal()
    redo_wanted = Signal()
    renamed = Signal(str)
    query_taken = Signal(object)
    query_settled = Signal(object)
    query_stood = Signal(object)
    query_stood_everywhere = Signal(object)
    query_mended = Signal(object)
    ran_out_of_queries = Signal(int)
    """Stepping went past the last query (1) or before the first one (-1)."""
    scene_wanted = Signal(int)
    """The next scene with queries (1), or the one before (-1)."""
    scene_done = Signal()
    """The scene has passed the stage."""
    menu_wanted = Signal(QPoint)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = LIGHT
        self._queries: tuple[Query, ...] = ()
        self._pencil = LIGHT.graphite
        self.awaits_query = False
        """Whether the first query of the scene is to be opened as soon as there is one."""
        self.editor = FollowedEditor(self)
        self.strip = EdgeStrip(self)
        self.card = QueryCard(self)
        self._title = QLineEdit(self)
        self._title.setAccessibleName("Title of the scene")
        self._title.setPlaceholderText("Title of the scene")
        self._title.hide()
        self.setFocusProxy(self.editor)
        self._stripe_soon = QTimer(self, singleShot=True, interval=_STRIP_EVERY_MS)
        self._hide_soon = QTimer(self, singleShot=True, interval=_CARD_STAYS_MS)
        self._place_card_soon = QTimer(self, singleShot=True, interval=0)
        self._place_card_soon.timeout.connect(self._place_card)
        self._connect()

    def _connect(self) -> None:
        editor, card = self.editor, self.card
        editor.edited.connect(self.edited)
        editor.edited.connect(self._text_moved)
        editor.undo_wanted.connect(self.undo_wanted)
        editor.redo_wanted.connect(self.redo_wanted)
        editor.query_pointed.connect(self._pointed)
        editor.query_pressed.connect(self.open_card)
        editor.title_pressed.connect(self.rename)
        editor.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)
        editor.customContextMenuRequested.connect(
            lambda at: self.menu_wanted.emit(editor.viewport().mapToGlobal(at))
        )
        bar = editor.verticalScrollBar()
        bar.valueChanged.connect(self._scrolled)
        bar.rangeChanged.connect(self._scrolled)
        self.strip.moved_to.connect(self._scroll_to)
        self._stripe_soon.timeout.connect(self._draw_strip)
        self._hide_soon.timeout.connect(self._hide_unless_used)
        self._title.editingFinished.connect(self._title_done)
        card.taken.connect(self.query_taken)
        card.stood.connect(self.query_stood)
        card.stood_everywhere.connect(self.query_stood_everywhere)
        card.settled.connect(self.query_settled)
        card.mended.connect(self.query_mended)
        card.stepped.connect(self.step_query)
        card.left.connect(self.close_card)
        card.scene_wanted.connect(self.scene_wanted)
        card.scene_done.connect(self.scene_done)

    # Showing

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        self.editor.dress(theme)
        self.strip.dress(theme)
        self.card.dress(theme)
        self._title.setFont(dressing.font(theme.title, theme.zoom, dressing.MEDIUM))
        self._arrange()

    def show_scene(self, eyebrow: str, title: str, otherwise: str, passage: Passage) -> None:
        """Show another scene from its start, without marks."""
        self.close_card(focus=False)
        self.set_queries((), self._pencil)
        self.set_heading(eyebrow, title, otherwise)
        self.editor.show_passage(passage)

    def set_heading(self, eyebrow: str, title: str, otherwise: str) -> None:
        """What stands above the text; `otherwise` in place of a title that is not there."""
        self.editor.set_heading(eyebrow, title, otherwise)
        self._title.setText(title)

    def follow(self, passage: Passage) -> None:
        """Show what the scene that is shown has become."""
        self.editor.follow(passage)
        self._text_moved()

    def set_queries(self, queries: Sequence[Query], pencil: str) -> None:
        """The queries to mark, in order of place, and the stage's pencil."""
        self._queries, self._pencil = tuple(queries), pencil
        self.editor.set_queries(self.places(), pencil)
        shown = self.card.query
        if self.card.isVisible() and shown is not None:
            if shown in self._queries:
                self.card.show_query(shown, pencil)
            elif self.card.hasFocus():
                self._step_on(shown)
            else:
                self.close_card(focus=False)
        elif self.card.hasFocus() and self.awaits_query and self.places():
            self.step_query(1)
        self._stripe_soon.start()

    def move_queries(self, queries: Sequence[Query]) -> None:
        """The same queries where they stand after an edit."""
        self._queries = tuple(queries)
        self.editor.move_queries(self.places())

    # Geometry

    def measure(self) -> int:
        """The width of the text column in pixels: about 66 characters."""
        return round(dressing.width_of_prose(MEASURE, dressing.font(self.editor.lettering)))

    def wanted_width(self) -> int:
        """The width of paper that gives the text its measure and generous margins."""
        return _LEFT + self.measure() + _RIGHT

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._arrange()

    def _arrange(self) -> None:
        short = max(0, self.wanted_width() - self.width())
        left = max(_LEAST_LEFT, _LEFT - short // 2)
        right = max(_LEAST_RIGHT, self.width() - left - self.measure())
        # The strip lies beside the editor, not on it, or every key would paint it again.
        strip_x = self.width() - _STRIP_INSET - edge_strip.WIDTH
        self.editor.setGeometry(0, 0, strip_x, self.height())
        self.editor.set_margins(left, right - (self.width() - strip_x))
        self.strip.setGeometry(
            QRect(strip_x, 5 * GRID, edge_strip.WIDTH, max(0, self.height() - 8 * GRID))
        )
        self.strip.raise_()
        self._stripe_soon.start()
        if self.card.isVisible():
            self._place_card_soon.start()

    # Stepping through queries

    def places(self) -> list[Query]:
        """The queries that have a place in the text, in order."""
        return [query for query in self._queries if not query.about_the_scene]

    def step_query(self, by: int) -> None:
        """Open the card of the next query after the cursor or the open card, or the one before."""
        places = self.places()
        shown = self.card.query if self.card.isVisible() else None
        if shown in places:
            at = places.index(shown) + by
        else:
            start, _ = self.editor.span_selected()
            later = sum(query.start < start for query in places)
            at = later if by > 0 else later - 1
        if not 0 <= at < len(places):
            self.ran_out_of_queries.emit(by)
            return
        self.open_card(places[at])

    def open_card(self, query: Query) -> None:
        """Bring a query into view, open its card and give it the keys."""
        self.awaits_query = False
        self.editor.select(query.start, query.start)
        self._show_card(query)
        self.card.setFocus()

    def open_end(self, said: str = _NO_MORE, *, may_be_done: bool = True) -> None:
        """Where there is no further query: say so, and keep the keys, which a writer who answers
        one after another would else have typed into the text.
        """
        self.awaits_query = False
        self.editor.set_current(None)
        self.card.show_end(self._pencil, said, may_be_done=may_be_done)
        self._place_card()
        self.card.setFocus()

    def await_query(self, said: str) -> None:
        """Say why there is no query yet, and open the first one when it comes."""
        self.open_end(said, may_be_done=False)
        self.awaits_query = True

    def _step_on(self, gone: Query) -> None:
        """On from a query that is one no longer, with the keys kept."""
        later = [query for query in self.places() if query.start >= gone.start]
        if later:
            self.open_card(later[0])
        else:
            self.open_end()

    def close_card(self, focus: bool = True) -> None:
        """Put the card away; the text takes the keys again."""
        self.awaits_query = False
        self.card.hide()
        self.editor.set_current(None)
        if focus:
            self.editor.setFocus()

    def _pointed(self, query: Query | None) -> None:
        if self.card.hasFocus():
            return
        if query is None:
            self._hide_soon.start()
        else:
            self._hide_soon.stop()
            self._show_card(query)

    def _hide_unless_used(self) -> None:
        if not self.card.hasFocus() and not self.card.underMouse():
            self.close_card(focus=False)

    def _show_card(self, query: Query) -> None:
        self.editor.set_current(query)
        self.card.show_query(query, self._pencil)
        self._place_card()

    def _place_card(self) -> None:
        """Set the card under the line of its query, or of the cursor, beside the text; where there
        is no room between the text and the Slip, over the ends of the lines below.
        """
        query = self.card.query
        words = self.editor.query_rect(query) if query else QRectF(self.editor.cursorRect())
        beside = round(self.editor.title_rect().right()) + _CARD_GAP
        left = min(beside, self.width() + _CARD_OVER - self.card.width())
        top = min(
            max(GRID, words.bottom() + GRID), max(GRID, self.height() - self.card.height() - GRID)
        )
        at = QPoint(left, round(top))
        holder = self.card.parentWidget()
        if holder is not None and holder is not self:
            at = self.mapTo(holder, at)
        self.card.move(at)

    # Title

    def rename(self) -> None:
        """Write the scene's title where it stands."""
        where = self.editor.title_rect().toRect().adjusted(-GRID, -4, GRID, 4)
        self._title.setGeometry(where)
        self._title.show()
        self._title.raise_()
        self._title.setFocus()
        self._title.selectAll()

    def _title_done(self) -> None:
        if self._title.isVisible():
            self._title.hide()
            self.editor.setFocus()
            self.renamed.emit(self._title.text().strip())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self._title.isVisible():
            self._title.hide()
            self.editor.setFocus()
            return
        super().keyPressEvent(event)

    # Scrolling and the strip

    def _text_moved(self) -> None:
        if self.card.isVisible():
            self.close_card(focus=self.card.hasFocus())
        self._stripe_soon.start()

    def _scrolled(self) -> None:
        bar = self.editor.verticalScrollBar()
        whole = bar.maximum() + bar.pageStep()
        self.strip.set_view(bar.value() / max(1, whole), (bar.value() + bar.pageStep()) / whole)
        if self.card.isVisible() and not self.card.hasFocus():
            self.close_card(focus=False)

    def _scroll_to(self, share: float) -> None:
        bar = self.editor.verticalScrollBar()
        whole = bar.maximum() + bar.pageStep()
        bar.setValue(round(share * whole - bar.pageStep() / 2))

    def _draw_strip(self) -> None:
        shares = [self.editor.share_of(query.start) for query in self.places()]
        self.strip.set_marks(shares, self._pencil)
        self._scrolled()
