"""Draws the lines of a screen or page with real type, at whatever size there is room for."""

from __future__ import annotations

from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF, QSizeF
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen

from reglet.setting import Medium, Sheet
from reglet.setting.reader_copy import Around, SetLine
from reglet.window.theme import Theme

_WEIGHT, _OPTICAL = QFont.Tag("wght"), QFont.Tag("opsz")
_REGULAR, _BOLD = 400, 700
_FINE = 20
"""Fonts come in whole pixels, so type is set so many times larger and drawn so much smaller."""
_ROUND = 0.045
_EREADER_ROUND = 0.02


def size_for(sheet: Sheet, height: float) -> QSizeF:
    """How large a sheet is drawn that is so high, in pixels."""
    return QSizeF(sheet.width / sheet.height * height, height)


def draw_ground(painter: QPainter, box: QRectF, sheet: Sheet, theme: Theme) -> None:
    """Draw the empty page, or the screen in its case."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setBrush(QColor(theme.paper))
    if sheet.medium is Medium.PRINT:
        painter.setPen(QPen(QColor(theme.line), 1))
        painter.drawRect(box.adjusted(0.5, 0.5, -0.5, -0.5))
    else:
        share = _ROUND * 2 if sheet.medium is Medium.PHONE else _EREADER_ROUND
        corner = share * box.width()
        painter.setPen(QPen(QColor(theme.quiet), 1))
        painter.drawRoundedRect(box.adjusted(0.5, 0.5, -0.5, -0.5), corner, corner)
    painter.restore()


def draw_lines(
    painter: QPainter, box: QRectF, around: Around, theme: Theme, here: tuple[str, int], pencil: str
) -> None:
    """Draw the type. A bar in `pencil` stands beside the lines of the paragraph that is `here`: a
    scene's id, and the paragraph's index in it.
    """
    sheet = around.sheet
    scale = box.height() / sheet.height
    corner = QPointF(box.left() + sheet.inner * scale, box.top() + sheet.top * scale)
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setRenderHint(QPainter.RenderHint.TextAntialiasing)
    marked = [line for line in around.lines if (line.scene, line.index) == here]
    if marked:
        top = corner.y() + marked[0].top * scale
        foot = corner.y() + (marked[-1].top + marked[-1].leading) * scale
        bar = max(1.5, 2 * scale)
        x = corner.x() - min(sheet.inner * scale * 0.5, 5.0) - bar / 2
        painter.fillRect(QRectF(x, top, bar, foot - top), QColor(pencil))
    painter.setPen(QColor(theme.ink))
    for line in around.lines:
        _draw_line(painter, line, sheet, corner, scale)
    painter.restore()


def line_at(around: Around, box: QRectF, at: QPointF) -> SetLine | None:
    """The line of a drawing in `box` that is nearest to a place in it; None for no lines."""
    scale = box.height() / around.sheet.height
    y = (at.y() - box.top()) / scale - around.sheet.top
    own = [line for line in around.lines if line.scene]
    return min(own, key=lambda line: abs(line.top + line.leading / 2 - y), default=None)


def _draw_line(
    painter: QPainter, line: SetLine, sheet: Sheet, corner: QPointF, scale: float
) -> None:
    painter.save()
    painter.translate(corner.x() + line.left * scale, corner.y() + line.top * scale)
    painter.scale(scale / _FINE, scale / _FINE)
    x = 0.0
    for run in line.runs:
        face = _font(sheet, line.size, run.bold, run.italic, run.small_capitals)
        metrics = _metrics(sheet, line.size, run.bold, run.italic, run.small_capitals)
        spare = line.leading * _FINE - metrics.height()
        if line.gap:
            face = QFont(face)
            face.setWordSpacing(line.gap * _FINE)
        painter.setFont(face)
        painter.drawText(QPointF(x, spare / 2 + metrics.ascent()), run.text)
        x += metrics.horizontalAdvance(run.text) + run.text.count(" ") * line.gap * _FINE
    painter.restore()


@lru_cache(maxsize=256)
def _font(sheet: Sheet, size: float, bold: bool, italic: bool, small_capitals: bool) -> QFont:
    face = QFont(sheet.family)
    face.setPixelSize(round(size * _FINE))
    face.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    face.setVariableAxis(_WEIGHT, _BOLD if bold else _REGULAR)
    face.setVariableAxis(_OPTICAL, sheet.optical(size))
    face.setItalic(italic)
    if small_capitals:
        face.setCapitalization(QFont.Capitalization.SmallCaps)
    return face


@lru_cache(maxsize=256)
def _metrics(
    sheet: Sheet, size: float, bold: bool, italic: bool, small_capitals: bool
) -> QFontMetricsF:
    return QFontMetricsF(_font(sheet, size, bold, italic, small_capitals))
