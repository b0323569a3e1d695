"""A scene's sheet, the cast, the view of the book and its plan: looked at and set right by hand."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from reglet.manuscript.scene import Verdict
from reglet.manuscript.stage import Stage
from reglet.window.rooms.cast import NameChip

from tests.whole_jobs.writer import CTRL, SHIFT, Writer

K = Qt.Key


def fill_a_sheet(writer: Writer) -> None:
    window = writer.window
    writer.enter(Stage.STRUCTURE)
    writer.wait_until_read()
    scene = writer.book.scenes[1].id
    writer.click_scene(scene)
    writer.linger(700)
    writer.snap("structure")
    writer.click(window.sheet_room, "Take what the text says")
    assert writer.book.scene(scene).sheet.who
    line = writer.line(window.sheet_room, "What happens")
    line.clear()
    writer.type("They meet again")
    writer.key(K.Key_Return)
    writer.click(window.sheet_room, "rework")
    sheet = writer.book.scene(scene).sheet
    assert (sheet.happens, sheet.verdict) == ("They meet again", Verdict.REWORK)
    writer.snap("a sheet filled")


def join_names(writer: Writer) -> None:
    room = writer.window.story_work.cast_room
    writer.window.slip.ensureWidgetVisible(room)
    writer.settle(50)
    one, two = room.findChildren(NameChip)[-2:]
    names = one.name, two.name
    writer.snap("cast")
    writer.drag(two, QPoint(8, 8), two.mapFromGlobal(one.mapToGlobal(QPoint(8, 8))))
    assert any(p.name == names[0] and names[1] in p.forms for p in writer.book.cast)
    writer.wait_until_read()
    writer.snap("cast joined")
    writer.window.contents.tree.setFocus()
    writer.key(K.Key_Z, CTRL)
    assert not writer.book.cast
    writer.key(K.Key_Z, CTRL | SHIFT)
    assert writer.book.cast


def look_at_the_book(writer: Writer, plan: Path, out: Path) -> None:
    work = writer.window.story_work
    writer.key(K.Key_F6)
    writer.wait_until_read()
    writer.snap("scene by scene")
    QTest.mouseMove(writer.chart, writer.column(2))
    with writer.files(plan):
        writer.click(work.book_view, "Bring in a plan …")
    assert writer.book.plan
    writer.wait_for(lambda: work._read and work._read.drift.plan, "the drift")
    writer.snap("scene by scene, planned")
    for name in ("book.svg", "book.png"):
        with writer.files(out / name):
            writer.click(work.book_view, "To a file …")
        assert (out / name).stat().st_size > 2000


def match_the_plan(writer: Writer) -> None:
    plan = writer.plan
    writer.scrolled.ensureWidgetVisible(plan, 0, 0)
    plan.setFocus()
    writer.settle(50)
    writer.snap("the plan")

    def decided() -> list[tuple[str, bool]]:
        return [(each.scene, each.decided) for each in writer.book.plan]

    before = decided()
    writer.key(K.Key_Down)
    writer.key(K.Key_Delete)
    assert decided()[1] == ("", True)
    writer.key(K.Key_Backspace)
    assert decided() == before
    wanted = writer.book.scenes[2].id
    start = QPoint(40, round(plan._y(1)))
    end = QPoint(round(plan._right_start) + 30, round(plan._y(2)))
    writer.scrolled.ensureVisible(0, plan.y() + end.y())
    writer.drag(plan, start, end)
    assert decided()[1] == (wanted, True)
    writer.wait_for(
        lambda: any(
            m.scene == wanted and m.planned == writer.book.plan[1].id
            for m in writer.window.story_work._read.drift.matches  # type: ignore[union-attr]
        ),
        "the match",
    )
    writer.snap("a match drawn")
    writer.chart.setFocus()
    writer.key(K.Key_Z, CTRL)
    assert decided() == before
