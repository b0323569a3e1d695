"""One way is put through the book: seen first, done in one step, and taken back in one."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot
from reglet.bookfile.file import BookFile
from reglet.manuscript.book import Book, Chapter, Part, StyleSheet
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.manuscript.stage import Stage
from reglet.window.application import Application
from reglet.window.main_window import MainWindow

LONG = 60_000
TEXTS = ("A gray boat.\n" + "The grey sea.\n" * 4, "He slept.", "A gray dog, a grey sky.")


@pytest.fixture
def book_path(tmp_path: Path) -> Path:
    scenes = tuple(Scene(f"s{n}", passage=Passage.plain(text)) for n, text in enumerate(TEXTS))
    woke = Scene("s3", passage=Passage.plain("He woke."))
    titles = ("Chapter One", "Chapter Two", "Chapter Three", "Chapter 4")
    chapters = tuple(
        Chapter(f"c{scene.id}", title, (scene,))
        for title, scene in zip(titles, (*scenes, woke), strict=True)
    )
    parts = (Part("p", chapters=chapters),)
    path = tmp_path / "book.reglet"
    BookFile.create(path, Book("Grey", parts=parts, style_sheet=StyleSheet("en-GB"))).close()
    return path


@pytest.fixture
def proof(window: MainWindow, qtbot: QtBot) -> MainWindow:
    window.enter(Stage.PROOF)
    qtbot.waitUntil(lambda: bool(window.examining.queries("s2")), timeout=LONG)
    return window


def texts(window: MainWindow) -> tuple[str, ...]:
    return tuple(scene.passage.text for scene in window.desk.book.scenes[: len(TEXTS)])


def ask(proof: MainWindow, qtbot: QtBot) -> None:
    proof.page.step_query(1)
    assert proof.page.card.query is not None and proof.page.card.query.overlay == "variety"
    qtbot.keyClick(proof.page.card, Qt.Key.Key_A)
    qtbot.waitUntil(proof.views.settle_bar.isVisible, timeout=LONG)


def test_the_places_are_seen_then_changed_in_one_step(proof: MainWindow, qtbot: QtBot) -> None:
    bar, before = proof.views.settle_bar, texts(proof)
    ask(proof, qtbot)
    assert bar._list.model().rowCount() == 2
    assert bar._agree.text() == "Change 2 places in 2 scenes"
    assert texts(proof) == before
    bar._list.place_chosen.emit(1)
    assert proof.desk.scene is not None and proof.desk.scene.id == "s2"
    assert proof.file is not None
    kept = len(proof.file.snapshots())
    qtbot.keyClick(bar, Qt.Key.Key_Return)
    assert texts(proof) == tuple(text.replace("gray", "grey") for text in before)
    assert proof.desk.book.style_sheet.way("grey or gray") == "“grey”"
    assert not bar.isVisible()
    taken = proof.file.snapshots()
    assert len(taken) == kept + 1
    assert "Before one way: variety, “grey”" in [each.label for each in taken]
    proof.desk.undo_arrangement()
    assert texts(proof) == before
    assert proof.desk.book.style_sheet.ways == ()


def test_the_other_way_may_be_chosen(proof: MainWindow, qtbot: QtBot) -> None:
    bar, before = proof.views.settle_bar, texts(proof)
    ask(proof, qtbot)
    bar.way_wanted.emit("“gray”")
    qtbot.waitUntil(lambda: bar._agree.text() == "Change 5 places in 2 scenes", timeout=LONG)
    bar._agree.click()
    assert texts(proof) == tuple(text.replace("grey", "gray") for text in before)


def test_it_may_be_left(proof: MainWindow, qtbot: QtBot) -> None:
    bar, book = proof.views.settle_bar, proof.desk.book
    ask(proof, qtbot)
    qtbot.keyClick(bar, Qt.Key.Key_Escape)
    assert not bar.isVisible()
    assert proof.desk.book is book


def test_a_text_written_in_since_is_looked_through_again(proof: MainWindow, qtbot: QtBot) -> None:
    bar = proof.views.settle_bar
    ask(proof, qtbot)
    proof.desk.show_scene("s1")
    proof.page.editor.textCursor().insertText("A gray cat. ")
    qtbot.keyClick(bar, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: bar._agree.text() == "Change 3 places in 3 scenes", timeout=LONG)
    assert "gray" in texts(proof)[0]


def test_a_title_is_changed_from_the_slip(
    proof: MainWindow, application: Application, qtbot: QtBot
) -> None:
    proof.desk.show_scene("s3")
    room = proof.rooms[Stage.PROOF]
    qtbot.waitUntil(lambda: bool(room._said), timeout=LONG)
    (said,) = room._said
    assert [key.text() for key in said._keys] == ["take", "stet", "one way through the book …"]
    said._keys[0].click()
    assert proof.desk.book.chapters[-1].title == "Chapter Four"
    proof.desk.undo_arrangement()
    assert proof.desk.book.chapters[-1].title == "Chapter 4"
