"""Notes are made on the words selected, ride on what is typed, and are never lost with them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtWidgets import QPlainTextEdit
from pytestqt.qtbot import QtBot
from reglet.manuscript.anchored import Answer, Note
from reglet.manuscript.book import Book
from reglet.manuscript.stage import Stage
from reglet.window.main_window import MainWindow
from reglet.window.rooms.notes import NoteSlip

from tests.window.conftest import LAMP
from tests.window.reaching import control, press

LIT = LAMP.index("lit")


def make_note(window: MainWindow, qtbot: QtBot, start: int, end: int, text: str) -> None:
    window.page.editor.select(start, end)
    window.notes_work.write()
    writing = control(window.notes_room, QPlainTextEdit, "Note")
    writing.setPlainText(text)
    qtbot.keyClick(writing, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)


def only(window: MainWindow, scene: str = "lamp") -> Note:
    (note,) = window.desk.book.scene(scene).notes
    return note


def slips(window: MainWindow) -> list[NoteSlip]:
    return [slip for slip in window.notes_room.findChildren(NoteSlip) if not slip.isHidden()]


def test_a_note_is_made_on_the_words_selected_and_is_on_disk(
    window: MainWindow, qtbot: QtBot, stored: Callable[[], Book]
) -> None:
    make_note(window, qtbot, LIT, LIT + 3, "By whom?")
    note = only(window)
    assert (note.start, note.end, note.words, note.text) == (LIT, LIT + 3, "lit", "By whom?")
    assert note.author == "L. Garrowby" and note.answer is Answer.OPEN
    assert [slip.accessibleName() for slip in slips(window)] == ["Note. By whom?"]
    window.put_book_away()
    assert stored().scene("lamp").notes == (note,)


def test_a_note_is_written_where_it_is_seen(window: MainWindow, qtbot: QtBot) -> None:
    window.resize(1280, 800)
    window.enter(Stage.LINE)  # whose rooms stand above the notes, to the foot of the window
    window.page.editor.select(LIT, LIT + 3)
    window.notes_work.write()
    writing = control(window.notes_room, QPlainTextEdit, "Note")
    seen = window.slip.viewport().rect()
    qtbot.waitUntil(
        lambda: seen.contains(QRect(writing.mapTo(window.slip, QPoint()), writing.size()))
    )


def test_an_empty_note_is_not_kept(window: MainWindow, qtbot: QtBot) -> None:
    make_note(window, qtbot, LIT, LIT + 3, "  \n ")
    assert window.desk.book.scene("lamp").notes == ()


def test_a_note_rides_on_typing_and_stays_where_its_words_were(
    window: MainWindow, qtbot: QtBot
) -> None:
    make_note(window, qtbot, LIT, LIT + 3, "By whom?")
    editor = window.page.editor
    editor.select(0, 0)
    qtbot.keyClicks(editor, "Look! ")
    note = only(window)
    text = window.desk.book.scene("lamp").passage.text
    assert text[note.start : note.end] == "lit" and note.start == LIT + 6
    editor.select(4, text.index(".") + 1)
    qtbot.keyClick(editor, Qt.Key.Key_Delete)
    note = only(window)
    assert note.start == note.end == 4 and note.words == "lit"
    window.desk.undo_text()
    note = only(window)
    assert window.desk.book.scene("lamp").passage.text[note.start : note.end] == "lit"


def test_going_to_a_note_selects_its_words_wherever_the_page_is(
    window: MainWindow, qtbot: QtBot
) -> None:
    make_note(window, qtbot, LIT, LIT + 3, "By whom?")
    window.desk.show_scene("mill")
    assert slips(window) == []
    press(window.notes_room, "Whole book")
    window.views.show_offcuts()
    (slip,) = slips(window)
    qtbot.keyClick(slip, Qt.Key.Key_Return)
    assert window.desk.scene is not None and window.desk.scene.id == "lamp"
    assert window.page.editor.span_selected() == (LIT, LIT + 3)
    assert window.paper.views.currentWidget() is window.page


def test_the_notes_of_the_book_stand_in_its_order(window: MainWindow, qtbot: QtBot) -> None:
    window.desk.show_scene("mill")
    make_note(window, qtbot, 4, 8, "third")
    window.desk.show_scene("lamp")
    make_note(window, qtbot, LIT, LIT + 3, "second")
    make_note(window, qtbot, 0, 3, "first")
    press(window.notes_room, "Whole book")
    said = [slip.accessibleName() for slip in slips(window)]
    assert said == ["Note. first", "Note. second", "Note. third"]


def test_a_note_is_answered_opened_again_and_thrown_away(window: MainWindow, qtbot: QtBot) -> None:
    make_note(window, qtbot, LIT, LIT + 3, "By whom?")
    for key, answer in ((Qt.Key.Key_D, Answer.DONE), (Qt.Key.Key_S, Answer.STET)):
        qtbot.keyClick(slips(window)[0], key)
        assert only(window).answer is answer
        assert slips(window) == []
        press(window.notes_room, "Answered too")
        qtbot.keyClick(slips(window)[0], Qt.Key.Key_O)
        assert only(window).answer is Answer.OPEN
        press(window.notes_room, "Answered too")
    qtbot.keyClick(slips(window)[0], Qt.Key.Key_Delete)
    assert window.desk.book.scene("lamp").notes == ()


def test_an_answer_leaves_a_note_where_typing_has_moved_it(
    window: MainWindow, qtbot: QtBot
) -> None:
    make_note(window, qtbot, LIT, LIT + 3, "By whom?")
    window.page.editor.select(0, 0)
    qtbot.keyClicks(window.page.editor, "Look! ")
    qtbot.keyClick(slips(window)[0], Qt.Key.Key_D)
    note = only(window)
    assert (note.start, note.end, note.answer) == (LIT + 6, LIT + 9, Answer.DONE)


def test_an_open_note_is_marked_on_the_page_and_its_mark_leads_to_it(
    window: MainWindow, qtbot: QtBot
) -> None:
    make_note(window, qtbot, LIT, LIT + 3, "By whom?")
    editor = window.page.editor
    ((note, mark, words),) = editor._placed_notes(editor.viewport().rect().toRectF())
    assert note == only(window) and len(words) == 1 and mark.right() < words[0].left()
    window.page.setFocus()
    qtbot.mouseClick(editor.viewport(), Qt.MouseButton.LeftButton, pos=mark.center().toPoint())
    (slip,) = slips(window)
    assert window.focusWidget() is slip
    qtbot.keyClick(slip, Qt.Key.Key_D)
    assert list(editor._placed_notes(editor.viewport().rect().toRectF())) == []


def test_what_a_note_says_can_be_edited(window: MainWindow, qtbot: QtBot) -> None:
    make_note(window, qtbot, LIT, LIT + 3, "By whim?")
    before = only(window)
    qtbot.keyClick(slips(window)[0], Qt.Key.Key_E)
    writing = control(window.notes_room, QPlainTextEdit, "Note")
    assert writing.toPlainText() == "By whim?"
    writing.setPlainText("By whom?")
    press(window.notes_room, "Keep the note")
    assert only(window) == replace(before, text="By whom?")
    make_note(window, qtbot, 0, 3, "another")
    assert [note.text for note in window.desk.book.scene("lamp").notes] == ["another", "By whom?"]
