"""Scenes moved, merged, cut, split and kept in two versions, by hand, and all of it undone."""

from __future__ import annotations

from PySide6.QtCore import Qt

from tests.whole_jobs.writer import ALT, CTRL, SHIFT, Writer

K = Qt.Key


def change_the_order_there(writer: Writer) -> None:
    before, order, texts = writer.book, writer.order(), writer.texts()
    first, second, third = [scene.id for scene in before.scenes[:3]]
    writer.scrolled.verticalScrollBar().setValue(0)
    writer.wait_until_read()

    def undone(what: str) -> None:
        writer.wait_until_read()
        writer.snap(what)
        writer.key(K.Key_Z, CTRL)
        assert writer.order() == order, what
        assert writer.texts() == texts, what
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
    before, order, texts = writer.book, writer.order(), writer.texts()
    first, second, third, fourth = [scene.id for scene in before.scenes[:4]]

    def undone(what: str) -> None:
        writer.snap(what)
        writer.key(K.Key_Z, CTRL)
        assert writer.order() == order, what
        assert writer.texts() == texts, what

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
    before, texts = writer.book, writer.texts()
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
    assert writer.texts() == texts
    writer.window.page.editor.select(at, at)
    writer.choose_in_menu(scene.id, "Split where the cursor stands")
    assert len(writer.book.scenes) == len(before.scenes) + 1
    writer.key(K.Key_Z, CTRL)
    assert writer.texts() == texts


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
