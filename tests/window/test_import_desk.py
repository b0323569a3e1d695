"""What is put right on the import desk is what the book becomes, and no word is lost by it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtGui import QTextCursor
from pytestqt.qtbot import QtBot
from reglet.exchange.reading import read_draft
from reglet.manuscript.book import Book
from reglet.window.division_list import DivisionList
from reglet.window.draft_page import DraftPage
from reglet.window.import_desk import ImportDesk

from tests.window.reaching import button, enter, press, write

DRAFT = """Chapter One

The lamp was lit.

Nobody had lit it.

***

Salt lay on the sill.

Chapter Two

The mill turned.

It turned all night.

By morning it had stopped.
"""

Shape = list[tuple[str, list[tuple[str, str]]]]


def shape(book: Book) -> Shape:
    """The chapters with their scenes: each one's title and its text, paragraphs parted by a bar."""
    return [
        (
            chapter.title,
            [(scene.title, scene.passage.text.replace("\n", " | ")) for scene in chapter.scenes],
        )
        for chapter in book.chapters
    ]


ONE = [("", "The lamp was lit. | Nobody had lit it."), ("", "Salt lay on the sill.")]
TWO = [("", "The mill turned. | It turned all night. | By morning it had stopped.")]


@pytest.fixture
def desk(qtbot: QtBot, tmp_path: Path) -> Iterator[ImportDesk]:
    draft = tmp_path / "draft.txt"
    draft.write_text(DRAFT, encoding="utf-8")
    desk = ImportDesk()
    qtbot.addWidget(desk)
    desk.show_proposal(read_draft(draft))
    desk.show()
    yield desk


def choose(desk: ImportDesk, row: int) -> None:
    desk.findChildren(DivisionList)[0].choose(row)


def point(desk: ImportDesk, line: int) -> None:
    """Put the cursor into a line of what is shown."""
    page = desk.findChildren(DraftPage)[0]
    page.setTextCursor(QTextCursor(page.document().findBlockByNumber(line)))


def words(book: Book) -> list[str]:
    said: list[str] = []
    for chapter in book.chapters:
        said += chapter.title.split()
        for scene in chapter.scenes:
            said += scene.title.split() + scene.passage.text.replace("***", "").split()
    return sorted(said)


def test_the_draft_as_it_falls(desk: ImportDesk) -> None:
    assert shape(desk.book()) == [("Chapter One", ONE), ("Chapter Two", TWO)]


def test_join_a_scene_to_the_one_before(desk: ImportDesk) -> None:
    choose(desk, 1)
    press(desk, "Join to what is before it")
    joined = "The lamp was lit. | Nobody had lit it. | *** | Salt lay on the sill."
    assert shape(desk.book()) == [("Chapter One", [("", joined)]), ("Chapter Two", TWO)]


def test_join_a_chapter_to_what_is_before_it(desk: ImportDesk) -> None:
    before = words(desk.book())
    choose(desk, 2)
    press(desk, "Join to what is before it")
    assert [title for title, _ in shape(desk.book())] == ["Chapter One"]
    assert words(desk.book()) == before


def test_begin_a_scene_and_a_chapter_at_the_cursor(desk: ImportDesk) -> None:
    choose(desk, 2)
    point(desk, 2)
    press(desk, "Begin a scene here")
    first = ("", "The mill turned.")
    second = ("", "It turned all night. | By morning it had stopped.")
    assert shape(desk.book())[1] == ("Chapter Two", [first, second])
    point(desk, 1)
    press(desk, "Begin a chapter here")
    assert shape(desk.book())[1:] == [
        ("Chapter Two", [first, ("", "It turned all night.")]),
        ("", [("", "By morning it had stopped.")]),
    ]


def test_take_a_line_for_a_title_and_leave_one_out(desk: ImportDesk) -> None:
    choose(desk, 2)
    point(desk, 2)
    press(desk, "Take this line for a chapter’s title")
    choose(desk, 0)
    point(desk, 2)
    press(desk, "Leave this line out")
    assert shape(desk.book()) == [
        ("Chapter One", [("", "The lamp was lit."), ONE[1]]),
        ("Chapter Two", [("", "The mill turned.")]),
        ("It turned all night.", [("", "By morning it had stopped.")]),
    ]


def test_rename_and_change_kind(desk: ImportDesk) -> None:
    choose(desk, 2)
    write(desk, "What it is called", "The Mill")
    enter(desk, "What it is called")
    choose(desk, 1)
    write(desk, "What it is called", "Salt")
    enter(desk, "What it is called")
    assert shape(desk.book()) == [
        ("Chapter One", [ONE[0], ("Salt", ONE[1][1])]),
        ("The Mill", TWO),
    ]
    choose(desk, 0)
    press(desk, "part")
    assert [part.title for part in desk.book().parts] == ["Chapter One"]
    assert button(desk, "part").isChecked() and not button(desk, "chapter").isChecked()


def test_every_correction_can_be_taken_back(desk: ImportDesk) -> None:
    states = [shape(desk.book())]
    for row, act in ((2, "Join to what is before it"), (1, "Join to what is before it")):
        choose(desk, row)
        press(desk, act)
        states.append(shape(desk.book()))
    for wanted in reversed(states[:-1]):
        press(desk, "Undo")
        assert shape(desk.book()) == wanted
    assert not button(desk, "Undo").isEnabled()


def test_what_cannot_be_done_is_said_and_changes_nothing(desk: ImportDesk) -> None:
    before = shape(desk.book())
    choose(desk, 0)
    point(desk, 0)
    press(desk, "Begin a scene here")
    said = [label.text() for label in desk.findChildren(type(desk._told)) if label.isVisible()]
    assert "Something begins here already. Change its kind instead." in said
    assert shape(desk.book()) == before
    assert not button(desk, "Undo").isEnabled()


def test_the_book_is_made_with_its_title_and_author(desk: ImportDesk, qtbot: QtBot) -> None:
    write(desk, "The book's title", "The Tide Ledger")
    write(desk, "The author's name", "L. Garrowby")
    with qtbot.waitSignal(desk.agreed) as agreed:
        press(desk, "Make the book")
    (book,) = agreed.args
    assert (book.title, book.author) == ("The Tide Ledger", "L. Garrowby")
    assert shape(book) == shape(desk.book())
