"""The facts of the book are changed on its sheet, and names found in it go to the style sheet."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import QAbstractButton
from pytestqt.qtbot import QtBot
from reglet.manuscript.editing import restyle
from reglet.manuscript.matter import Matter
from reglet.manuscript.passage import Passage
from reglet.window.book_facts import BookFacts
from reglet.window.contents_menu import menu_of
from reglet.window.lettering import Lines
from reglet.window.main_window import MainWindow

from tests.pictures import png
from tests.window.reaching import button, enter, press, write

NAMED = "Dorrel met Hesperon. Dorrel left Hesperon.\nHesperon saw Dorrel go, and Zorvane saw it."


def show(window: MainWindow, qtbot: QtBot) -> BookFacts:
    window.desk.rewrite("mill", Passage.plain(NAMED))
    window.views.show_facts()
    facts = window.views.facts
    qtbot.waitUntil(lambda: any("Hesperon" in each for each in chips(facts)), timeout=60_000)
    return facts


def chips(facts: BookFacts) -> list[str]:
    return [each.text() for each in facts.findChildren(QAbstractButton) if not each.isHidden()]


def test_a_name_is_proposed_with_its_count_and_taken(window: MainWindow, qtbot: QtBot) -> None:
    facts = show(window, qtbot)
    assert "Hesperon 3" in chips(facts)
    assert not any(each.startswith("Zorvane") for each in chips(facts))  # it stands there once
    press(facts, "Hesperon 3")
    assert window.desk.book.style_sheet.words == {"Hesperon"}
    assert "Hesperon" in chips(facts) and "Hesperon 3" not in chips(facts)
    press(facts, "Hesperon")
    assert window.desk.book.style_sheet.words == frozenset()


def test_all_are_taken_at_once_and_given_back_in_one_step(window: MainWindow, qtbot: QtBot) -> None:
    facts = show(window, qtbot)
    before = window.desk.book
    press(facts, "Take all")
    assert window.desk.book.style_sheet.words == {"Dorrel", "Hesperon"}
    assert not button(facts, "Take all").isEnabled()
    window.desk.undo_arrangement()
    assert window.desk.book == before


def test_title_author_and_language(window: MainWindow, qtbot: QtBot) -> None:
    window.views.show_facts()
    facts = window.views.facts
    write(facts, "Title of the book", "Slack Water")
    enter(facts, "Title of the book")
    write(facts, "Author's name", "A. Quill")
    enter(facts, "Author's name")
    press(facts, "English, British")
    book = window.desk.book
    assert (book.title, book.author, book.style_sheet.language) == (
        "Slack Water",
        "A. Quill",
        "en-GB",
    )
    assert button(facts, "English, British").isChecked()
    assert not button(facts, "English, American").isChecked()


def test_a_word_is_typed_into_the_style_sheet(window: MainWindow) -> None:
    window.views.show_facts()
    write(window.views.facts, "Word to leave alone", " woodsmoke ")
    enter(window.views.facts, "Word to leave alone")
    assert window.desk.book.style_sheet.words == {"woodsmoke"}


def test_a_cover_is_chosen_and_taken_away(window: MainWindow, tmp_path: Path) -> None:
    refused: list[str] = []
    window.desk.refused.connect(refused.append)
    window.views.show_facts()
    facts = window.views.facts
    picture = tmp_path / "cover.png"
    picture.write_bytes(png(160, 256))
    facts.cover.ask = lambda: picture
    press(facts, "Choose a picture …")
    cover = window.desk.book.cover
    assert cover is not None and cover.data == picture.read_bytes()
    assert "160 by 256 pixels, PNG" in said(facts) and "at least 1,400 pixels" in said(facts)
    picture.write_text("no picture")
    press(facts, "Choose a picture …")
    assert window.desk.book.cover == cover and "no PNG or JPEG" in refused[0]
    press(facts, "Take it away")
    assert window.desk.book.cover is None and "None yet" in said(facts)
    window.desk.undo_arrangement()
    assert window.desk.book.cover == cover and "160 by 256" in said(facts)


def test_a_piece_of_front_matter_is_added_opened_and_taken_out(window: MainWindow) -> None:
    window.views.show_facts()
    facts = window.views.facts
    assert "licensed adviser" in said(facts)
    press(facts, "Copyright page")
    scene = window.desk.scene
    assert scene is not None and scene.matter is Matter.COPYRIGHT
    assert window.desk.book.front == (scene,) and not facts.isVisible()
    assert "licensed adviser" in window.page.editor._eyebrow
    model = window.contents.model
    row = model.row_of(model.index_of(scene.id))
    assert row.shown == "Copyright page"
    window.views.show_facts()
    press(facts, "Dedication")
    assert [each.matter for each in window.desk.book.front] == [
        Matter.COPYRIGHT,
        Matter.DEDICATION,
    ]
    window.views.show_facts()
    press(facts, "Copyright page")
    assert window.desk.scene == scene
    menu = menu_of(window.contents, row, [])
    next(each for each in menu.actions() if each.text() == "Take it out").trigger()
    assert [each.matter for each in window.desk.book.front] == [Matter.DEDICATION]
    window.desk.undo_arrangement()
    window.desk.undo_arrangement()
    assert [each.matter for each in window.desk.book.front] == [Matter.COPYRIGHT]


def said(facts: BookFacts) -> str:
    return " ".join(each.text() for each in facts.findChildren(Lines) if not each.isHidden())


def test_a_way_that_was_settled_is_opened_again(window: MainWindow, qtbot: QtBot) -> None:
    sheet = window.desk.book.style_sheet.with_way("grey or gray", "“grey”")
    window.desk.perform("Style sheet", lambda book: restyle(book, sheet))
    window.views.show_facts()
    press(window.views.facts, "“grey”")
    assert window.desk.book.style_sheet.ways == ()
    assert "“grey”" not in chips(window.views.facts)
