"""The work list worked off, day by day, and the book compared with what it was."""

from __future__ import annotations

from datetime import date, timedelta

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QApplication, QInputDialog
from reglet.window.rooms.work_list import _Row

from tests.whole_jobs.writer import ALT, CTRL, Writer

K = Qt.Key


def work_off(writer: Writer) -> None:
    window = writer.window
    room = window.story_work.work_room
    writer.wait_for(lambda: room.findChildren(_Row), "the work list")
    writer.linger(1500)
    window.slip.ensureWidgetVisible(room)
    writer.snap("work list")
    writer.click(room, "Day by day")
    line = writer.line(room, "Day by which all is to be done")
    line.clear()
    writer.type((date.today() + timedelta(days=9)).isoformat())
    writer.key(K.Key_Return)
    assert writer.book.schedule.due == date.today() + timedelta(days=9)
    row = room.findChildren(_Row)[0]
    row.setFocus()
    item = row.item.id

    def say_two_hours() -> None:
        box = QApplication.activeModalWidget()
        assert isinstance(box, QInputDialog)
        writer.snap("what it takes")
        box.setTextValue("2 h")
        box.accept()

    QTimer.singleShot(50, say_two_hours)
    writer.key(K.Key_E)
    assert any(e.item == item and e.minutes == 120 for e in writer.book.schedule.estimates)
    writer.linger(1500)
    window.slip.ensureWidgetVisible(room)
    writer.snap("work list, day by day")
    room.findChildren(_Row)[0].setFocus()
    writer.key(K.Key_D)
    writer.linger(1500)
    assert any(e.done for e in writer.book.schedule.estimates)
    writer.snap("one done")


def compare(writer: Writer) -> None:
    window = writer.window
    first = writer.book.scenes[0].id
    writer.click_scene(first)
    writer.key(K.Key_Down, ALT)
    writer.key(K.Key_H, CTRL | ALT)
    view = window.views.book_history
    writer.wait_for(view.isVisible, "the history of the book")
    writer.linger(3000)
    writer.snap("the book compared, a scene moved")
    writer.key(K.Key_Escape)
    window.contents.tree.setFocus()
    writer.key(K.Key_Z, CTRL)
