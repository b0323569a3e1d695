"""As the reader will have it: a phone's screen and a page, following the cursor."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QMouseEvent, QPainter, QPaintEvent, QPixmap, QResizeEvent
from PySide6.QtWidgets import QMenu, QSizePolicy, QVBoxLayout, QWidget

from reglet.manuscript.stage import Stage
from reglet.numbers import counted
from reglet.setting import EREADERS, PHONES, TRIMS, Medium, Sheet
from reglet.setting.reader_copy import Around, SetLine
from reglet.window import sheet_drawing
from reglet.window.controls import Act
from reglet.window.flow import FlowLayout
from reglet.window.lettering import Caption, Lines, dress_all
from reglet.window.setter_process import PlaceSet
from reglet.window.theme import GRID, LIGHT, Theme

_BETWEEN = 14
_LOWEST, _HIGHEST = 18 * GRID, 42 * GRID
_BESIDES = 81 * GRID
"""What else stands in the window above and below the drawing, when a scene has a few queries."""


class ReaderView(QWidget):
    """Shows how a paragraph falls for the reader, and lets the sheets be chosen."""

    place_wanted = Signal(str, int, int)
    """A scene's id, a paragraph's index in it and a code point in that: to be gone to."""
    sheet_chosen = Signal(str)
    """The name of another phone, trim or e-reader."""
    book_wanted = Signal()
    """The whole book as pages."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._drawing = _Drawing()
        self._told = Lines(quiet=True, scale=0.93)
        self._told.setTextFormat(Qt.TextFormat.RichText)
        self._pencil, self._said = LIGHT.blue, ("", "")
        self._phone, self._page = Act(), Act()
        self._whole = Act("Every page")
        for act, name in ((self._phone, "Phone"), (self._page, "Page or e-reader")):
            act.setAccessibleDescription(f"{name}: chooses another")
        self._phone.clicked.connect(lambda: self._choose(self._phone, _phones()))
        self._page.clicked.connect(lambda: self._choose(self._page, _pages()))
        self._whole.clicked.connect(self.book_wanted)
        self._drawing.line_pressed.connect(
            lambda line: self.place_wanted.emit(line.scene, line.index, line.start)
        )
        choices = FlowLayout(2 * GRID)
        for act in (self._phone, self._page, self._whole):
            choices.addWidget(act)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(GRID - 2)
        layout.addWidget(Caption("As the reader will have it"))
        layout.addWidget(self._drawing)
        layout.addWidget(self._told)
        layout.addLayout(choices)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        dress_all(self, theme)
        self._pencil = theme.pencil(Stage.LINE)
        self._tell()

    def fit(self, height: int) -> None:
        """Be no higher than leaves room for what else stands on the Slip of so high a window."""
        self._drawing.limit(max(_LOWEST, min(_HIGHEST, height - _BESIDES)))

    def show_sheets(self, phone: Sheet, page: Sheet) -> None:
        """The sheets that are chosen."""
        self._phone.setText(phone.name.replace("text ", ""))
        self._phone.setToolTip("Width of the phone and size of its text. Press to choose others.")
        self._page.setText(page.name)
        self._page.setToolTip("Trim of the book, or e-reader. Press to choose another.")
        self._drawing.show_sheets(phone, page)

    def show_place(self, found: PlaceSet) -> None:
        """Show what stands around a place."""
        self._drawing.show_place(found)
        phone, page = (
            next(each for each in found.around if (each.sheet.medium is Medium.PHONE) is is_phone)
            for is_phone in (True, False)
        )
        lines = counted(phone.fill.lines, "line")
        on = "the e-reader" if page.sheet.medium is Medium.EREADER else "the page"
        on_page = counted(page.fill.lines, "line")
        self._said = (
            f"Paragraph {found.index + 1}",
            f": {lines}, {phone.fill.share:.1f} of a phone screen · {on_page} on {on}",
        )
        self._tell()

    def _tell(self) -> None:
        paragraph, said = self._said
        self._told.setText(f'<b style="color:{self._pencil}">{paragraph}</b>{said}')
        self._drawing.setAccessibleDescription(f"{paragraph}{said}")

    def _choose(self, act: Act, offered: Iterable[tuple[str, tuple[str, ...]]]) -> None:
        menu = QMenu(self)
        for title, names in offered:
            into = menu.addMenu(title) if len(names) > 1 else menu
            for name in names:
                _offer(into, name, self.sheet_chosen.emit)
        menu.aboutToHide.connect(menu.deleteLater)
        menu.popup(act.mapToGlobal(act.rect().bottomLeft()))


class _Drawing(QWidget):
    """The phone beside the page."""

    line_pressed = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = LIGHT
        self._sheets: tuple[Sheet, ...] = ()
        self._highest = _HIGHEST
        self._found: PlaceSet | None = None
        self._picture: QPixmap | None = None
        policy = QSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.setAccessibleName("The phone’s screen and the page")
        self.setToolTip("A click goes to that place")
        self.setCursor(Qt.CursorShape.PointingHandCursor)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        self._draw_anew()

    def limit(self, highest: int) -> None:
        """The height that it is to stay within."""
        if highest != self._highest:
            self._highest = highest
            self.updateGeometry()

    def show_sheets(self, phone: Sheet, page: Sheet) -> None:
        """What is to be drawn."""
        self._sheets = (phone, page)
        self.updateGeometry()
        self._draw_anew()

    def show_place(self, found: PlaceSet) -> None:
        """What stands on it."""
        self._found = found
        self._draw_anew()

    def heightForWidth(self, width: int) -> int:
        shares = sum(sheet.width / sheet.height for sheet in self._sheets) or 1.0
        return min(self._highest, int((width - _BETWEEN) / shares))

    def sizeHint(self) -> QSize:
        return QSize(200, self.heightForWidth(200))

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._draw_anew()

    def paintEvent(self, event: QPaintEvent) -> None:
        if self._picture is None:
            self._picture = self._made()
        QPainter(self).drawPixmap(0, 0, self._picture)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        for around, box in self._placed():
            if around is not None and box.contains(event.position()):
                line: SetLine | None = sheet_drawing.line_at(around, box, event.position())
                if line is not None:
                    self.line_pressed.emit(line)

    def _draw_anew(self) -> None:
        self._picture = None
        self.update()

    def _placed(self) -> list[tuple[Around | None, QRectF]]:
        """Each sheet with what stands on it, and where it is drawn."""
        placed: list[tuple[Around | None, QRectF]] = []
        left = 0.0
        for sheet in self._sheets:
            size = sheet_drawing.size_for(sheet, self.height())
            found = self._found.around if self._found else ()
            around = next((each for each in found if each.sheet == sheet), None)
            placed.append((around, QRectF(QPointF(left, 0), size)))
            left += size.width() + _BETWEEN
        return placed

    def _made(self) -> QPixmap:
        """The drawing, kept so that what else is painted on the Slip costs nothing here."""
        ratio = self.devicePixelRatioF()
        picture = QPixmap(self.size() * ratio)
        picture.setDevicePixelRatio(ratio)
        picture.fill(QColor(0, 0, 0, 0))
        painter = QPainter(picture)
        here = (self._found.scene, self._found.index) if self._found else ("", 0)
        for (around, box), sheet in zip(self._placed(), self._sheets, strict=True):
            sheet_drawing.draw_ground(painter, box, sheet, self._theme)
            if around is not None:
                pencil = self._theme.pencil(Stage.LINE)
                sheet_drawing.draw_lines(painter, box, around, self._theme, here, pencil)
        painter.end()
        return picture


def _phones() -> list[tuple[str, tuple[str, ...]]]:
    widths = dict.fromkeys(name.partition(",")[0] for name in PHONES)
    return [
        (f"{width} wide", tuple(name for name in PHONES if name.startswith(f"{width},")))
        for width in widths
    ]


def _pages() -> list[tuple[str, tuple[str, ...]]]:
    return [("Printed page", tuple(TRIMS)), ("E-reader", tuple(EREADERS))]


def _offer(menu: QMenu, name: str, then: Callable[[str], object]) -> None:
    menu.addAction(name, lambda: then(name))
