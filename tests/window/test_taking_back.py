"""A copy that comes back from an editor becomes notes in the window."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from docx import Document
from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from reglet.bookfile.snapshot import Reason
from reglet.manuscript.stage import Stage
from reglet.window.lettering import Label
from reglet.window.main_window import MainWindow
from reglet.window.theme import THEMES, Theme

from tests.window.conftest import small_book
from tests.window.reaching import button, press


def said(window: MainWindow) -> str:
    labels = window.send_out_room.findChildren(Label)
    return " ".join(label.text() for label in labels if label.isVisibleTo(window))


def test_sent_edited_and_taken_back(window: MainWindow, qtbot: QtBot, tmp_path: Path) -> None:
    window.enter(Stage.SEND_OUT)
    path = tmp_path / "sent.docx"
    sending = window.sending
    sending.ask = lambda name, ending: path
    press(window.send_out_room, "Manuscript, .docx")
    qtbot.waitUntil(lambda: "sent.docx" in said(window), timeout=20_000)
    # Meanwhile the writer goes on, and the editor reads.
    qtbot.keyClicks(window.page.editor, "Late. ")
    document = Document(str(path))
    (paragraph,) = (each for each in document.paragraphs if "mill turned" in each.text)
    document.add_comment(paragraph.runs, text="All night?", author="Ada", initials="A")
    (other,) = (each for each in document.paragraphs if "sweep" in each.text)
    other.runs[0].text = other.runs[0].text.replace("did not", "would not")
    (title,) = (each for each in document.paragraphs if each.text == "Two")
    title.runs[0].text = "Flour"
    document.save(str(path))
    window.taking_back.ask = lambda: path
    press(window.send_out_room, "Take a copy back in …")
    qtbot.waitUntil(lambda: "became notes" in said(window), timeout=20_000)
    book = window.desk.book
    assert "1 comment and 2 changes" in said(window)
    (title_told, comment), (change,) = book.scene("mill").notes, book.scene("salt").notes
    assert title_told.text == "Chapter title: “Two” → “Flour”"
    assert (comment.text, comment.author) == ("All night?", "Ada")
    assert change.text == "“did” → “would”"
    assert not book.scene("lamp").notes
    assert book.scene("lamp").passage.text.startswith("Late. The lamp")
    assert [replace(s, notes=()).passage for s in book.scenes[1:]] == [
        s.passage for s in small_book().scenes[1:]
    ]
    assert window.file is not None
    assert window.file.snapshots()[-1].reason is Reason.BEFORE_IMPORT


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
def test_a_copy_can_be_taken_back_without_scrolling(window: MainWindow, theme: Theme) -> None:
    window.resize(1280, 800)
    window.dress(theme)
    window.enter(Stage.SEND_OUT)
    QApplication.processEvents()
    back = button(window.send_out_room, "Take a copy back in …")
    foot = back.mapTo(window.slip, QPoint(0, back.height()))
    assert foot.y() <= window.slip.viewport().height()


def test_another_file_is_refused_in_a_sentence(
    window: MainWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    window.enter(Stage.SEND_OUT)
    other = tmp_path / "other.txt"
    other.write_text("Another story, of which nothing stands in this book.")
    window.taking_back.ask = lambda: other
    press(window.send_out_room, "Take a copy back in …")
    qtbot.waitUntil(lambda: "no copy of this book" in said(window), timeout=20_000)
    assert window.desk.book == small_book()
