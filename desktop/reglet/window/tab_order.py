"""Where Tab goes: through what can be seen, in the order in which it is read.

Qt goes by the order in which widgets were made, and what is made later (a chip, a note) comes last,
wherever it stands. WCAG 2.2, success criterion 2.4.3.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication, QScrollArea, QWidget

_SAME_LINE = 12
"""How far apart, in pixels, the middles of two controls in one line may be."""


def step(regions: Sequence[QWidget], by: int) -> bool:
    """Give the keys to the control after (1) or before (-1) the one that has them, region by
    region, round and round; False where the one that has them is in none.
    """
    controls = [control for region in regions for control in in_reading_order(region)]
    now = QApplication.focusWidget()
    if now not in controls:
        return False
    following = controls[(controls.index(now) + by) % len(controls)]
    forward, back = Qt.FocusReason.TabFocusReason, Qt.FocusReason.BacktabFocusReason
    following.setFocus(forward if by > 0 else back)
    for area in _areas_around(following):
        area.ensureWidgetVisible(following)
    return True


def in_reading_order(region: QWidget) -> list[QWidget]:
    """What Tab can reach in a region: line by line, each from the left."""
    reached = [each for each in (region, *region.findChildren(QWidget)) if _is_reached(each)]
    places = {each: each.mapTo(region, QPoint(0, each.height() // 2)) for each in reached}
    lines: list[list[QWidget]] = []
    for each in sorted(reached, key=lambda each: places[each].y()):
        if lines and places[each].y() - places[lines[-1][0]].y() <= _SAME_LINE:
            lines[-1].append(each)
        else:
            lines.append([each])
    return [each for line in lines for each in sorted(line, key=lambda each: places[each].x())]


def _is_reached(widget: QWidget) -> bool:
    return (
        widget.isVisible()
        and widget.isEnabled()
        and widget.focusProxy() is None
        and bool(widget.focusPolicy() & Qt.FocusPolicy.TabFocus)
    )


def _areas_around(widget: QWidget) -> Iterator[QScrollArea]:
    around = widget.parentWidget()
    while around is not None:
        if isinstance(around, QScrollArea):
            yield around
        around = around.parentWidget()
