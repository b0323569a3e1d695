"""The overlays of a stage with how many queries each has in the scene; on and off by number."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Iterable, Mapping

from PySide6.QtCore import QPointF, QRect, QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractButton, QVBoxLayout, QWidget

from reglet.manuscript.stage import Stage
from reglet.overlays.house import Strictness
from reglet.overlays.overlay import Overlay
from reglet.overlays.query import Query
from reglet.overlays.register import of_stage
from reglet.window import dressing
from reglet.window.contents_model import shown_title
from reglet.window.controls import KeyButton
from reglet.window.flow import FlowLayout
from reglet.window.lettering import Caption, Label
from reglet.window.theme import GRID, LIGHT, Theme

_ROW = 25
_NUMBER_WIDTH = 22
_COUNT_WIDTH = 30
_STEP, _STEP_GAP = 3, 3
_STEPS_WIDTH = len(Strictness) * (_STEP + _STEP_GAP)
_FEW = 9
"""So many overlays are always listed; of more, those without a query are folded away."""
_TYPED_MS = 700
"""How long a second digit is waited for, where one could follow."""


class OverlayRow(QAbstractButton):
    """One overlay: its number, its name, its count; checked while it is shown on the page."""

    strictness_chosen = Signal(object)
    """The `Strictness` that the writer wants of it."""

    def __init__(self, number: int, overlay: Overlay, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.overlay = overlay
        self.strictness = Strictness.USUAL
        self._number = number
        self._count: int | None = None
        self._lacks = overlay.lacks()
        self._theme = LIGHT
        self.setCheckable(True)
        self.setChecked(True)
        self.setFixedHeight(_ROW)
        self.setText(overlay.label)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setMouseTracking(True)
        self.toggled.connect(self._name)
        self._name()

    @property
    def count(self) -> int | None:
        """How many queries there are; None while that is not known."""
        return self._count

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        self.update()

    def set_count(self, count: int | None) -> None:
        """How many queries there are; None while that is not known."""
        if count != self._count:
            self._count = count
            self._name()
            self.update()

    def set_strictness(self, strictness: Strictness) -> None:
        """How readily it asks."""
        if strictness is not self.strictness:
            self.strictness = strictness
            self._name()
            self.update()

    def sizeHint(self) -> QSize:
        return QSize(200, _ROW)

    def _name(self) -> None:
        said = "off" if not self.isChecked() else "" if self._count is None else str(self._count)
        self.setAccessibleName(f"{self.overlay.label}, {said}" if said else self.overlay.label)
        how = f"Asks as {self.strictness.name.lower()}; Left and Right make it ask less, or more."
        told = " ".join(filter(None, (how, self.overlay.told.get(self.strictness), self._lacks)))
        why = f"{self.overlay.reason} Source: {self.overlay.source}."
        self.setAccessibleDescription(f"{why} {told}")
        self.setToolTip(f"{why}\nAlt+{self._number} to show or hide. {told}")

    def keyPressEvent(self, event: QKeyEvent) -> None:
        by = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}.get(Qt.Key(event.key()))
        if by is None:
            super().keyPressEvent(event)
            return
        wanted = max(Strictness.LENIENT, min(Strictness.STRICT, self.strictness + by))
        self.strictness_chosen.emit(Strictness(wanted))

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if self._steps_box().adjusted(-4, -_ROW, 4, _ROW).contains(event.position()):
            self.strictness_chosen.emit(Strictness((self.strictness + 1) % len(Strictness)))
            return
        super().mousePressEvent(event)

    def _steps_box(self) -> QRectF:
        left = self.width() - _COUNT_WIDTH - _STEPS_WIDTH
        return QRectF(left, 0, _STEPS_WIDTH, _ROW)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter, theme = QPainter(self), self._theme
        line = QRect(0, 0, self.width(), _ROW - 1)
        small = dressing.font(theme.control, 0.8)
        painter.setFont(small)
        painter.setPen(QColor(theme.quiet))
        painter.drawText(line, Qt.AlignmentFlag.AlignVCenter, str(self._number))
        painter.setFont(dressing.font(theme.control))
        painter.setPen(QColor(theme.ink if self.isChecked() else theme.quiet))
        painter.drawText(
            line.adjusted(_NUMBER_WIDTH, 0, 0, 0), Qt.AlignmentFlag.AlignVCenter, self.text()
        )
        right = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight
        focused = self.hasFocus() or self.underMouse()
        if not self.isChecked():
            painter.setPen(QColor(theme.quiet))
            painter.drawText(line, right, "off")
        elif self._count is None or self._lacks:
            painter.setPen(QColor(theme.quiet))
            painter.drawText(line, right, "…" if self._count is None else "–")
        else:
            painter.setFont(dressing.font(theme.control, 1, dressing.SEMIBOLD))
            some = QColor(theme.pencil(self.overlay.stage))
            painter.setPen(some if self._count else QColor(theme.quiet))
            painter.drawText(line, right, str(self._count))
        if self.isChecked() and (focused or self.strictness is not Strictness.USUAL):
            self._paint_steps(painter)
        painter.setPen(QColor(theme.quiet if focused else theme.line))
        painter.drawLine(QPointF(0, _ROW - 0.5), QPointF(self.width(), _ROW - 0.5))

    def _paint_steps(self, painter: QPainter) -> None:
        """Draw how strict it is as three strokes, each higher: those reached are filled."""
        box = self._steps_box()
        foot = _ROW / 2 + 5
        for step in Strictness:
            height = 4.0 + 3 * step
            x = box.left() + step * (_STEP + _STEP_GAP)
            stroke = QRectF(x, foot - height, _STEP, height)
            reached = step <= self.strictness
            painter.fillRect(stroke, QColor(self._theme.ink if reached else self._theme.bar))


class AboutScene(QWidget):
    """A query about the scene as a whole, or its chapter's title, with the keys to answer it."""

    stood = Signal(object)
    taken = Signal(object)
    settled = Signal(object)
    """One way is wanted through the book."""

    def __init__(self, query: Query, overlay: Overlay, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        label = overlay.label
        self._said = Label(f"{label}. {query.message}")
        self._said.setWordWrap(True)
        self._source = Label(f"Source: {overlay.source}", quiet=True, scale=0.86)
        self._source.setWordWrap(True)
        self._keys: list[KeyButton] = []
        row = FlowLayout(6)
        if query.proposal is not None:
            shown = shown_title(query.proposal)
            self._said.setText(f"{label}. {query.message} Proposed: “{shown}”.")
            row.addWidget(self._key("T", "take", lambda: self.taken.emit(query)))
        row.addWidget(self._key("S", "stet", lambda: self.stood.emit(query)))
        if query.choice is not None:
            through = "one way through the book …"
            row.addWidget(self._key("A", through, lambda: self.settled.emit(query)))
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(GRID // 2)
        layout.addWidget(self._said)
        layout.addWidget(self._source)
        layout.addLayout(row)

    def _key(self, key: str, says: str, act: Callable[[], object]) -> KeyButton:
        button = KeyButton(key, says)
        button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        button.clicked.connect(act)
        self._keys.append(button)
        return button

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._said.dress(theme)
        self._source.dress(theme)
        for button in self._keys:
            button.dress(theme)


class QueriesRoom(QWidget):
    """The overlays of one stage, and the queries about the scene as a whole."""

    shown_changed = Signal()
    """Other overlays are shown now."""
    strictness_chosen = Signal(str, object)
    """An overlay's name, and the `Strictness` wanted of it."""
    stood = Signal(object)
    taken = Signal(object)
    settled = Signal(object)

    def __init__(self, stage: Stage, caption: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.stage = stage
        self._theme = LIGHT
        self._caption = Caption(caption)
        self._about = Caption("About this scene")
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addWidget(self._caption)
        layout.addSpacing(GRID)
        self._rows = [
            OverlayRow(number, overlay) for number, overlay in enumerate(of_stage(stage), start=1)
        ]
        for row in self._rows:
            layout.addWidget(row)
            row.toggled.connect(self._toggled)
            row.strictness_chosen.connect(
                lambda wanted, name=row.overlay.name: self.strictness_chosen.emit(name, wanted)
            )
        self._fold = _Fold()
        self._fold.toggled.connect(lambda _: self._show_rows())
        layout.addWidget(self._fold)
        self._lacking = Label(" ".join(row.overlay.lacks() for row in self._rows).strip())
        self._lacking.setWordWrap(True)
        self._lacking.setVisible(bool(self._lacking.text()))
        layout.addWidget(self._lacking)
        self._about_box = QWidget()
        self._about_column = QVBoxLayout(self._about_box)
        self._about_column.setContentsMargins(0, 3 * GRID, 0, 0)
        self._about_column.setSpacing(2 * GRID)
        self._about_column.addWidget(self._about)
        layout.addWidget(self._about_box)
        self._about_box.hide()
        self._said: list[AboutScene] = []
        self._about_shown: tuple[Query, ...] = ()
        self._scene = ""
        self._listed: set[str] = set()
        self._typed = ""
        self._type_over = QTimer(self, singleShot=True, interval=_TYPED_MS)
        self._type_over.timeout.connect(self._take_typed)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        self._caption.dress(theme)
        self._about.dress(theme)
        self._fold.dress(theme)
        self._lacking.dress(theme)
        for row in self._rows:
            row.dress(theme)
        for said in self._said:
            said.dress(theme)

    # On and off, strict and lenient

    def toggle(self, number: int) -> None:
        """Show or hide the overlay of this number."""
        if 1 <= number <= len(self._rows):
            self._rows[number - 1].toggle()

    def type_digit(self, digit: int) -> None:
        """A digit of the number of an overlay to show or hide; a number that could still grow is
        waited for a little.
        """
        self._typed += str(digit)
        if int(self._typed) * 10 > len(self._rows) or len(self._typed) > 1:
            self._take_typed()
        else:
            self._type_over.start()

    def _take_typed(self) -> None:
        self._type_over.stop()
        typed, self._typed = self._typed, ""
        self.toggle(int(typed or 0))

    @property
    def off(self) -> tuple[str, ...]:
        """The names of the overlays that are not shown."""
        return tuple(row.overlay.name for row in self._rows if not row.isChecked())

    def switch_off(self, names: Collection[str]) -> None:
        """Show all overlays but these."""
        for row in self._rows:
            row.setChecked(row.overlay.name not in names)

    def set_strictness(self, steps: Mapping[str, Strictness]) -> None:
        """How readily overlays ask, where that is otherwise than usual."""
        for row in self._rows:
            row.set_strictness(steps.get(row.overlay.name, Strictness.USUAL))

    def shown(self, queries: Iterable[Query]) -> list[Query]:
        """Those of the queries whose overlay is shown and that are not let stand."""
        on = {row.overlay.name for row in self._rows if row.isChecked()}
        return [query for query in queries if query.overlay in on and not query.stet]

    # Counts

    def show_queries(self, queries: Iterable[Query] | None, scene: str = "") -> None:
        """Count the queries of a scene; None while they are not known yet."""
        open_queries = [query for query in queries or () if not query.stet]
        counts = Counter(query.overlay for query in open_queries)
        for row in self._rows:
            row.set_count(None if queries is None else counts[row.overlay.name])
        if queries is not None:
            # What is listed stays so while one scene is worked at, so that nothing jumps about.
            if scene != self._scene:
                self._scene, self._listed = scene, set()
            self._listed |= set(counts)
            self._show_rows()
        about = tuple(query for query in self.shown(open_queries) if query.about_the_scene)
        if about != self._about_shown:
            self._about_shown = about
            self._show_about(about)

    def _show_rows(self) -> None:
        if len(self._rows) <= _FEW:
            return
        folded = [row for row in self._rows if row.overlay.name not in self._listed]
        open_ = self._fold.isChecked()
        for row in self._rows:
            row.setVisible(open_ or row not in folded)
        self._fold.tell([row.text() for row in folded])

    def _show_about(self, queries: tuple[Query, ...]) -> None:
        for old in self._said:
            self._about_column.removeWidget(old)
            old.hide()
            old.deleteLater()
        self._said.clear()
        overlays = {row.overlay.name: row.overlay for row in self._rows}
        for query in queries:
            said = AboutScene(query, overlays[query.overlay])
            said.dress(self._theme)
            said.stood.connect(self.stood)
            said.taken.connect(self.taken)
            said.settled.connect(self.settled)
            self._about_column.addWidget(said)
            self._said.append(said)
        self._about_box.setVisible(bool(queries))

    def _toggled(self) -> None:
        self.shown_changed.emit()


class _Fold(QAbstractButton):
    """The one quiet line for the overlays that have nothing to ask here."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = LIGHT
        self.setCheckable(True)
        self.setFixedHeight(_ROW)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.hide()

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        self.update()

    def tell(self, names: list[str]) -> None:
        """The overlays that are folded away, or would be."""
        count = f"{len(names)} more, nothing here"
        self.setText("Fewer" if self.isChecked() else count)
        self.setToolTip(", ".join(names))
        self.setAccessibleDescription(", ".join(names))
        self.setVisible(bool(names))
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(200, _ROW)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter, theme = QPainter(self), self._theme
        focused = self.hasFocus() or self.underMouse()
        painter.setFont(dressing.font(theme.control, 0.93))
        painter.setPen(QColor(theme.ink if focused else theme.quiet))
        line = QRect(_NUMBER_WIDTH, 0, self.width(), _ROW - 1)
        painter.drawText(line, Qt.AlignmentFlag.AlignVCenter, self.text())
