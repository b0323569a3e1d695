"""First read and Structure from a draft's file to a plan of work, by hand, each act undone."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

from PySide6.QtCore import QPoint, Qt, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QInputDialog
from reglet.manuscript.anchored import Answer
from reglet.manuscript.book import Book
from reglet.manuscript.scene import Verdict
from reglet.manuscript.stage import Stage
from reglet.window.rooms.cast import NameChip
from reglet.window.rooms.work_list import _Row

from tests.whole_jobs.writer import ALT, CTRL, SHIFT, Writer

K = Qt.Key


def go_through(writer: Writer, draft: Path, plan: Path, out: Path) -> None:
    """All of it. `plan` is the file of an outline, `out` a folder for what is written."""
    bring_in(writer, draft)
    rest(writer)
    read(writer)
    notes_in_order(writer)
    fill_a_sheet(writer)
    join_names(writer)
    look_at_the_book(writer, plan, out)
    match_the_plan(writer)
    change_the_order_there(writer)
    try_another_order(writer)
    change_the_order_in_contents(writer)
    split(writer)
    keep_versions(writer)
    work_off(writer)
    compare(writer)


def text_of(book: Book) -> list[str]:
    return [scene.passage.text for scene in book.scenes]


def bring_in(writer: Writer, draft: Path) -> None:
    writer.snap("first start")
    opening = writer.application.opening
    with writer.files(draft):
        writer.key(K.Key_O, CTRL | SHIFT)
        writer.wait_for(opening.import_desk.isVisible, "the draft to be read")
    writer.snap("bring in")
    writer.click(opening.import_desk, "Make the book")
    writer.wait_for(lambda: writer.window.file is not None, "the book")
    writer.snap("the book")


def rest(writer: Writer) -> None:
    window = writer.window
    writer.enter(Stage.FIRST_READ)
    writer.wait_for(window.story_work.first_read.text.is_whole, "the book to be set")
    room = window.story_work.reading_room
    writer.wait_for(lambda: room.isVisible(), "the room of the reading")
    window.slip.ensureWidgetVisible(window.story_work.reading_room)
    writer.click(window.story_work.reading_room, "a week")
    assert writer.book.rest is not None
    writer.linger(700)
    writer.snap("at rest")
    writer.click(window.story_work.first_read, "Back to the page")
    before = text_of(writer.book)
    writer.answer("Let it rest")
    window.page.setFocus()
    writer.key(K.Key_A)
    assert text_of(writer.book) == before
    writer.answer("Change it")
    writer.key(K.Key_A)
    writer.key(K.Key_B)
    assert text_of(writer.book) != before
    writer.key(K.Key_Z, CTRL)
    assert text_of(writer.book) == before


def read(writer: Writer) -> None:
    view = writer.window.story_work.first_read
    writer.key(K.Key_F5)
    writer.wait_for(view.text.is_whole, "the book to be set")
    before = text_of(writer.book)
    writer.snap("first read")
    for key in (K.Key_Space, K.Key_J, K.Key_1, K.Key_J, K.Key_3, K.Key_Space, K.Key_2):
        writer.key(key)
    writer.key(K.Key_N)
    writer.snap("writing a note")
    writer.type("who is speaking here?")
    writer.key(K.Key_Return)
    writer.snap("first read, noted")
    writer.key(K.Key_P)
    writer.snap("first read, as on a phone")
    writer.key(K.Key_P)
    writer.key(K.Key_End)
    assert view.text.at_end()
    writer.snap("the end of the book")
    assert text_of(writer.book) == before
    notes = [note for scene in writer.book.texts for note in scene.notes]
    assert [note.kind or note.text for note in notes[-4:]].count("who is speaking here?") == 1


def notes_in_order(writer: Writer) -> None:
    window = writer.window
    view = window.story_work.first_read
    writer.click(view, "Notes in order")
    writer.snap("notes in order")
    before = answers(writer.book)
    writer.click(view, "done")
    writer.click(view, "stet")
    after = answers(writer.book)
    assert after.count(Answer.DONE) == before.count(Answer.DONE) + 1
    assert after.count(Answer.STET) == before.count(Answer.STET) + 1
    writer.snap("notes answered")
    writer.key(K.Key_Escape)
    writer.key(K.Key_Escape)
    assert window.views.shown is window.page


def answers(book: Book) -> list[Answer]:
    return [note.answer for scene in book.texts for note in scene.notes]


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
    view, plan = writer.window.story_work.book_view, writer.plan
    view._scrolled.ensureWidgetVisible(plan, 0, 0)
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
    view._scrolled.ensureVisible(0, plan.y() + end.y())
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


def change_the_order_there(writer: Writer) -> None:
    before, order = writer.book, writer.order()
    first, second, third = [scene.id for scene in before.scenes[:3]]
    view = writer.window.story_work.book_view
    view._scrolled.verticalScrollBar().setValue(0)
    writer.wait_until_read()

    def undone(what: str) -> None:
        writer.wait_until_read()
        writer.snap(what)
        writer.key(K.Key_Z, CTRL)
        assert writer.order() == order, what
        assert text_of(writer.book) == text_of(before), what
        assert writer.book.offcuts == before.offcuts, what
        writer.wait_until_read()

    writer.drag(writer.chart, writer.column(0), writer.column(2, edge=True))
    assert [scene.id for scene in writer.book.scenes[:3]] == [second, third, first]
    undone("moved by dragging")
    writer.chart.point_to(first)
    writer.key(K.Key_Right, SHIFT, times=2)
    assert writer.chart.chosen == [first, second, third]
    writer.snap("three chosen")
    writer.key(K.Key_Right, ALT)
    assert writer.order() != order
    undone("three moved")
    writer.key(K.Key_M)
    assert len(writer.book.scenes) == len(before.scenes) - 2
    undone("three merged")
    writer.chart.point_to(first)
    writer.key(K.Key_Right, SHIFT, times=2)
    writer.key(K.Key_X)
    assert len(writer.book.offcuts) == len(before.offcuts) + 3
    undone("three cut")


def try_another_order(writer: Writer) -> None:
    view, order = writer.window.story_work.book_view, writer.order()
    writer.click(view, "Try another order")
    writer.chart.point_to(writer.book.scenes[0].id)
    writer.key(K.Key_Right, ALT, times=2)
    assert writer.order() == order
    writer.wait_until_read()
    writer.snap("another order tried")
    tried = writer.book.arrangements[-1].chapters
    writer.key(K.Key_Z, CTRL)
    assert writer.book.arrangements[-1].chapters != tried
    writer.key(K.Key_Z, CTRL | SHIFT)
    assert writer.book.arrangements[-1].chapters == tried
    writer.click(view, "Drop it")
    assert writer.order() == order
    writer.chart.setFocus()
    writer.key(K.Key_Z, CTRL)
    assert writer.book.arrangements[-1].chapters == tried
    writer.click(view, "Try another order")
    writer.click(view, "Take this order")
    assert writer.order() != order
    writer.wait_until_read()
    writer.snap("the order taken")
    writer.chart.setFocus()
    writer.key(K.Key_Z, CTRL)
    assert writer.order() == order
    writer.wait_until_read()
    writer.click(view, "Back to the page")


def change_the_order_in_contents(writer: Writer) -> None:
    before, order = writer.book, writer.order()
    first, second, third, fourth = [scene.id for scene in before.scenes[:4]]

    def undone(what: str) -> None:
        writer.snap(what)
        writer.key(K.Key_Z, CTRL)
        assert writer.order() == order, what
        assert text_of(writer.book) == text_of(before), what

    writer.click_scene(first)
    writer.drag_scene(first, behind=third)
    assert [scene.id for scene in writer.book.scenes[:3]] == [second, third, first]
    writer.window.contents.tree.setFocus()
    undone("contents: dragged")
    writer.click_scene(second)
    writer.click_scene(third, CTRL)
    writer.snap("contents: two chosen")
    writer.key(K.Key_Down, ALT)
    assert writer.order() != order
    assert writer.window.contents._selected_scenes() == [second, third]
    writer.key(K.Key_Up, ALT)
    assert [s.id for s in writer.book.scenes[:4]] == [first, second, third, fourth]
    writer.key(K.Key_Z, CTRL, times=2)
    assert writer.order() == order
    writer.click_scene(second)
    writer.click_scene(third, CTRL)
    writer.key(K.Key_M, CTRL)
    assert len(writer.book.scenes) == len(before.scenes) - 1
    undone("contents: merged")
    writer.click_scene(second)
    writer.click_scene(fourth, CTRL)
    writer.key(K.Key_Delete)
    assert [each.scene.id for each in writer.book.offcuts[-2:]] == [second, fourth]
    writer.snap("contents: two cut")
    writer.click(writer.window.contents, writer.window.contents._offcuts.text())
    offcuts = writer.window.views.offcuts
    writer.snap("offcuts")
    writer.key(K.Key_Down, SHIFT)
    writer.click(offcuts, "Put 2 back where they were")
    assert writer.order() == order
    writer.snap("put back")
    writer.key(K.Key_Escape)


def split(writer: Writer) -> None:
    before = writer.book
    scene = before.scenes[1]
    writer.click_scene(scene.id)
    at = scene.passage.starts[len(scene.passage.paragraphs) // 2]
    writer.window.page.editor.select(at, at)
    writer.window.page.setFocus()
    writer.key(K.Key_Return, CTRL | ALT)
    assert len(writer.book.scenes) == len(before.scenes) + 1
    writer.snap("split")
    writer.window.contents.tree.setFocus()
    writer.key(K.Key_Z, CTRL)
    assert text_of(writer.book) == text_of(before)
    writer.window.page.editor.select(at, at)
    writer.choose_in_menu(scene.id, "Split where the cursor stands")
    assert len(writer.book.scenes) == len(before.scenes) + 1
    writer.key(K.Key_Z, CTRL)
    assert text_of(writer.book) == text_of(before)


def keep_versions(writer: Writer) -> None:
    window = writer.window
    scene = writer.book.scenes[1]
    before = len(writer.book.offcuts)
    writer.click_scene(scene.id)
    writer.choose_in_menu(scene.id, "Keep a copy as another version")
    assert len(writer.book.offcuts) == before + 1
    window.page.setFocus()
    window.page.editor.select(0, 0)
    writer.type("Otherwise now. ")
    rewritten = writer.book.scene(scene.id).passage
    writer.click(window.contents, window.contents._offcuts.text())
    writer.snap("another version among the offcuts")
    writer.click(window.views.offcuts, "Put in the place of the other")
    assert writer.book.scenes[1].passage == scene.passage
    writer.settle()
    writer.key(K.Key_Escape)
    writer.snap("another version in the book")
    window.contents.tree.setFocus()
    writer.key(K.Key_Z, CTRL)
    assert writer.book.scenes[1].passage == rewritten


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
