"""The cover among the facts of the book: the picture small, what it is, what shops would say."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QBuffer, QByteArray, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QImage, QImageReader, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from reglet.errors import WriterError
from reglet.exchange.cover import advice, read_cover, told
from reglet.manuscript.picture import Picture
from reglet.window.controls import Act
from reglet.window.desk import Desk
from reglet.window.lettering import Lines
from reglet.window.theme import GRID, LIGHT, Theme

_SMALL = QSize(12 * GRID, 19 * GRID)
_NONE = (
    "None yet. A picture (PNG or JPEG) that you choose goes into the e-book as its cover, and is "
    "kept in the book’s file."
)
_SHOPS = "What shops ask is common practice and differs; look at your own shop’s page."

Ask = Callable[[], Path | None]
"""Asks the writer for a picture; None for none."""


class CoverFacts(QWidget):
    """Shows the cover of the book on the desk, and takes another."""

    def __init__(self, desk: Desk, ask: Ask | None = None, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.ask = ask or self._ask_in_a_dialog
        self._small = _Small()
        self._told, self._advice = Lines(), Lines(quiet=True, scale=0.93)
        choose, self._away = Act("Choose a picture …"), Act("Take it away")
        choose.clicked.connect(self._choose)
        self._away.clicked.connect(lambda: self._set(None))
        acts = QHBoxLayout()
        acts.setSpacing(2 * GRID)
        acts.addWidget(choose)
        acts.addWidget(self._away)
        acts.addStretch(1)
        column = QVBoxLayout()
        column.setSpacing(GRID)
        column.addWidget(self._told)
        column.addWidget(self._advice)
        column.addLayout(acts)
        column.addStretch(1)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(2 * GRID)
        row.addWidget(self._small, 0, Qt.AlignmentFlag.AlignTop)
        row.addLayout(column, 1)

    def show_cover(self) -> None:
        """Show the cover as the book has it now."""
        cover = self._desk.book.cover
        found = advice(cover) if cover else []
        self._small.show_picture(cover)
        self._told.setText(f"{told(cover)}." if cover else _NONE)
        self._advice.setText(" ".join([*found, _SHOPS]))
        self._advice.setVisible(bool(found))
        self._away.setVisible(cover is not None)

    def _choose(self) -> None:
        path = self.ask()
        if path is None:
            return
        try:
            self._set(read_cover(path))
        except WriterError as error:
            self._desk.refused.emit(str(error))

    def _set(self, cover: Picture | None) -> None:
        self._desk.perform("Cover", lambda book: replace(book, cover=cover))

    def _ask_in_a_dialog(self) -> Path | None:
        name, _ = QFileDialog.getOpenFileName(
            self, "The picture on the cover", "", "Pictures (*.png *.jpg *.jpeg)"
        )
        return Path(name) if name else None


class _Small(QWidget):
    """The picture, or an empty frame for one."""

    def __init__(self) -> None:
        super().__init__()
        self._theme = LIGHT
        self._picture: Picture | None = None
        self._image = QImage()
        self.setFixedSize(_SMALL)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Cover")

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        self.update()

    def show_picture(self, picture: Picture | None) -> None:
        """Show this picture; an empty frame for none, or for one that Qt cannot unpack."""
        if picture is not self._picture:
            self._picture = picture
            self._image = (
                _scaled(picture, _SMALL * self.devicePixelRatio()) if picture else QImage()
            )
        self.setAccessibleDescription(told(picture) if picture else "None yet")
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        space = QRectF(self.rect())
        if not self._image.isNull():
            size = self._image.size().scaled(_SMALL, Qt.AspectRatioMode.KeepAspectRatio)
            space = QRectF(0, 0, size.width(), size.height())
            painter.drawImage(space, self._image)
        painter.setPen(QPen(QColor(self._theme.line), 1))
        painter.drawRect(space.adjusted(0.5, 0.5, -0.5, -0.5))


def _scaled(picture: Picture, most: QSize) -> QImage:
    held = QByteArray(picture.data)
    buffer = QBuffer(held)
    buffer.open(QBuffer.OpenModeFlag.ReadOnly)
    reader = QImageReader(buffer)
    if not reader.size().isValid():
        return QImage()
    reader.setScaledSize(reader.size().scaled(most, Qt.AspectRatioMode.KeepAspectRatio))
    return reader.read()
