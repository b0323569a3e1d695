"""A draft is brought in, left to rest, read once, and its notes are answered."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt
from reglet.manuscript.anchored import Answer
from reglet.manuscript.book import Book
from reglet.manuscript.stage import Stage

from tests.whole_jobs.writer import CTRL, SHIFT, Writer

K = Qt.Key


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
    before = writer.texts()
    writer.answer("Let it rest")
    window.page.setFocus()
    writer.key(K.Key_A)
    assert writer.texts() == before
    writer.answer("Change it")
    writer.key(K.Key_A)
    writer.key(K.Key_B)
    assert writer.texts() != before
    writer.key(K.Key_Z, CTRL)
    assert writer.texts() == before


def read(writer: Writer) -> None:
    view = writer.window.story_work.first_read
    writer.key(K.Key_F5)
    writer.wait_for(view.text.is_whole, "the book to be set")
    before = writer.texts()
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
    assert writer.texts() == before
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
