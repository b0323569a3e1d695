"""Proof marks, drawn by us after the meanings of ISO 5776, and marks of our own beside them.

Each is a path in a square of 16 units, to be stroked with a round pen of about 1.4 units.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen

from reglet.overlays.query import ProofMark

SIZE = 16


NOTE = "note"
STET = "stet"
"""Marks that no overlay makes: the writer's own."""


def draw(painter: QPainter, name: str, x: float, y: float, colour: str, scale: float = 1.0) -> None:
    """Draw the mark called `name` with its square's top left corner at a place; a name that no
    mark has is drawn as a question.
    """
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(x, y)
    painter.scale(scale, scale)
    pen = QPen(QColor(colour), 1.5)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawPath(path(name))
    painter.restore()


def path(name: str) -> QPainterPath:
    """The strokes of a mark."""
    made = QPainterPath()
    known = name if name in _DRAWINGS else ProofMark.ASK
    _DRAWINGS[known](made)
    return made


def _insert(made: QPainterPath) -> None:
    made.moveTo(3, 13)
    made.lineTo(8, 3.5)
    made.lineTo(13, 13)


def _delete(made: QPainterPath) -> None:
    # One stroke of the pen: up through the word, round in a loop, and off to the right.
    made.moveTo(1.5, 13.5)
    made.cubicTo(3.5, 8, 7, 3, 10.2, 3.2)
    made.cubicTo(13, 3.6, 11.8, 9.6, 8.2, 10)
    made.cubicTo(4.8, 10.2, 5.6, 5.4, 9.2, 6.2)
    made.cubicTo(12, 6.9, 13.2, 10, 14.5, 13.2)


def _transpose(made: QPainterPath) -> None:
    made.moveTo(1.5, 10.5)
    made.cubicTo(1.5, 3, 8, 3, 8, 8)
    made.cubicTo(8, 13, 14.5, 13, 14.5, 5.5)


def _close_up(made: QPainterPath) -> None:
    made.moveTo(2.5, 6.5)
    made.cubicTo(4, 2.5, 12, 2.5, 13.5, 6.5)
    made.moveTo(2.5, 9.5)
    made.cubicTo(4, 13.5, 12, 13.5, 13.5, 9.5)


def _new_paragraph(made: QPainterPath) -> None:
    # A stroke down where the text is parted, and the corner of the line that starts anew.
    made.moveTo(13, 3)
    made.lineTo(6, 3)
    made.lineTo(6, 13)
    made.moveTo(6, 8)
    made.lineTo(11.5, 8)
    made.moveTo(3, 10.5)
    made.lineTo(6, 13.5)
    made.lineTo(9, 10.5)


def _run_on(made: QPainterPath) -> None:
    made.moveTo(13.5, 4)
    made.lineTo(10.5, 4)
    made.cubicTo(6, 4, 10, 12, 5.5, 12)
    made.lineTo(2.5, 12)


def _wrong_case(made: QPainterPath) -> None:
    made.moveTo(3, 5)
    made.lineTo(13, 5)
    made.moveTo(3, 10)
    made.lineTo(13, 10)
    made.moveTo(10.5, 2.5)
    made.lineTo(5.5, 12.5)


def _replace(made: QPainterPath) -> None:
    made.moveTo(2.5, 8)
    made.lineTo(13.5, 8)
    made.moveTo(9.5, 4.5)
    made.lineTo(13.5, 8)
    made.lineTo(9.5, 11.5)


def _stet(made: QPainterPath) -> None:
    made.moveTo(2, 5)
    made.lineTo(14, 5)
    for x in (3.4, 8, 12.6):
        made.addEllipse(QPointF(x, 10.5), 0.6, 0.6)


def _question(made: QPainterPath) -> None:
    made.moveTo(5, 5.2)
    made.cubicTo(5.2, 1.6, 11.2, 1.8, 11, 5.4)
    made.cubicTo(10.8, 7.6, 8, 7.6, 8, 10.4)
    made.addEllipse(QPointF(8, 13.4), 0.5, 0.5)


def _length(made: QPainterPath) -> None:
    made.moveTo(1.5, 8)
    made.lineTo(14.5, 8)
    made.moveTo(1.5, 4.5)
    made.lineTo(1.5, 11.5)
    made.moveTo(14.5, 4.5)
    made.lineTo(14.5, 11.5)


def _note(made: QPainterPath) -> None:
    made.addEllipse(QPointF(8, 8), 5, 5)
    made.moveTo(8, 6)
    made.lineTo(8, 10)
    made.moveTo(6, 8)
    made.lineTo(10, 8)


_DRAWINGS: dict[str, Callable[[QPainterPath], None]] = {
    ProofMark.INSERT: _insert,
    ProofMark.DELETE: _delete,
    ProofMark.TRANSPOSE: _transpose,
    ProofMark.CLOSE_UP: _close_up,
    ProofMark.NEW_PARAGRAPH: _new_paragraph,
    ProofMark.RUN_ON: _run_on,
    ProofMark.WRONG_CASE: _wrong_case,
    ProofMark.REPLACE: _replace,
    ProofMark.LENGTH: _length,
    ProofMark.ASK: _question,
    STET: _stet,
    NOTE: _note,
}
