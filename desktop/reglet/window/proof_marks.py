"""Proof marks, drawn by us after the meanings of ISO 5776, and marks of our own beside them.

Each is a path in a square of `SIZE` units, to be stroked with a round pen of about 1.4 units.
"""

from __future__ import annotations

import re
from functools import cache

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen

from reglet.overlays.query import ProofMark

SIZE = 16

NOTE = "note"
STET = "stet"
"""Marks that no overlay makes: the writer's own."""

_STROKES: dict[str, str] = {
    ProofMark.INSERT: "M 3 13 L 8 3.5 L 13 13",
    # One stroke of the pen: up through the word, round in a loop, and off to the right.
    ProofMark.DELETE: (
        "M 1.5 13.5 C 3.5 8 7 3 10.2 3.2 C 13 3.6 11.8 9.6 8.2 10 C 4.8 10.2 5.6 5.4 9.2 6.2 "
        "C 12 6.9 13.2 10 14.5 13.2"
    ),
    ProofMark.TRANSPOSE: "M 1.5 10.5 C 1.5 3 8 3 8 8 C 8 13 14.5 13 14.5 5.5",
    ProofMark.CLOSE_UP: "M 2.5 6.5 C 4 2.5 12 2.5 13.5 6.5 M 2.5 9.5 C 4 13.5 12 13.5 13.5 9.5",
    # A stroke down where the text is parted, and the corner of the line that starts anew.
    ProofMark.NEW_PARAGRAPH: "M 13 3 L 6 3 L 6 13 M 6 8 L 11.5 8 M 3 10.5 L 6 13.5 L 9 10.5",
    ProofMark.RUN_ON: "M 13.5 4 L 10.5 4 C 6 4 10 12 5.5 12 L 2.5 12",
    ProofMark.WRONG_CASE: "M 3 5 L 13 5 M 3 10 L 13 10 M 10.5 2.5 L 5.5 12.5",
    ProofMark.REPLACE: "M 2.5 8 L 13.5 8 M 9.5 4.5 L 13.5 8 L 9.5 11.5",
    ProofMark.LENGTH: "M 1.5 8 L 14.5 8 M 1.5 4.5 L 1.5 11.5 M 14.5 4.5 L 14.5 11.5",
    ProofMark.ASK: "M 5 5.2 C 5.2 1.6 11.2 1.8 11 5.4 C 10.8 7.6 8 7.6 8 10.4 O 8 13.4 0.5",
    STET: "M 2 5 L 14 5 O 3.4 10.5 0.6 O 8 10.5 0.6 O 12.6 10.5 0.6",
    NOTE: "O 8 8 5 M 8 6 L 8 10 M 6 8 L 10 8",
}
"""How the pen goes: M to a place, L in a line, C in a curve by two points, as in the paths of SVG;
O round a circle, of a middle and a radius.
"""
_COMMAND = re.compile(r"([MLCO])([^MLCO]*)")


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


@cache
def path(name: str) -> QPainterPath:
    """The strokes of a mark."""
    made = QPainterPath()
    for command, numbers in _COMMAND.findall(_STROKES.get(name, _STROKES[ProofMark.ASK])):
        at = [float(number) for number in numbers.split()]
        match command:
            case "M":
                made.moveTo(*at)
            case "L":
                made.lineTo(*at)
            case "C":
                made.cubicTo(*at)
            case "O":
                made.addEllipse(QPointF(*at[:2]), at[2], at[2])
    return made
