"""The work list on the Slip, by itself."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtGui import QFontMetrics
from pytestqt.qtbot import QtBot
from reglet.story.work_list import Item, Origin, WorkList
from reglet.window import dressing
from reglet.window.rooms.work_list import WorkListRoom, _Row
from reglet.window.theme import EASY_READ, LIGHT, THEMES, Theme

LARGE = replace(EASY_READ, control=replace(EASY_READ.control, size=2 * EASY_READ.control.size))


@pytest.mark.parametrize("theme", [*THEMES, LARGE])
def test_no_row_is_squeezed_below_its_letters(theme: Theme, qtbot: QtBot) -> None:
    items = tuple(
        Item(f"note:{n}", Origin.NOTE, f"scene{n}", 0, 0, "Join these two", 20, False, False)
        for n in range(9)
    )
    room = WorkListRoom()
    qtbot.addWidget(room)
    room.dress(LIGHT)
    room.show_work(WorkList(items), {item.scene: "The lamp" for item in items}, None, 0)
    room.dress(theme)
    room.setFixedSize(240, 120)  # far too little for nine rows
    room.show()
    qtbot.waitExposed(room)
    letters = QFontMetrics(dressing.font(theme.control)).height()
    rows = room.findChildren(_Row)
    assert len(rows) == len(items)
    assert all(row.height() > letters for row in rows)
