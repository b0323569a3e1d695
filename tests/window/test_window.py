"""The window as a whole: stages, sheet, screens, keyboard, names for those who listen."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractButton, QLabel, QWidget
from pytestqt.qtbot import QtBot
from reglet.bookfile.file import BookFile
from reglet.manuscript.book import Book
from reglet.manuscript.stage import Stage
from reglet.window.application import Application
from reglet.window.main_window import MainWindow
from reglet.window.theme import THEMES

from tests.odt_files import members, write_odt
from tests.window.reaching import button, press

LONG = 20_000


def test_a_stage_is_entered_and_kept(window: MainWindow, qtbot: QtBot, book_path: Path) -> None:
    with qtbot.waitSignal(window.saver.filed, timeout=5000):
        qtbot.keyClick(window, Qt.Key.Key_3, Qt.KeyboardModifier.ControlModifier)
    assert window.desk.stage is Stage.LINE
    window.close()
    with BookFile.open(book_path, read_only=True) as file:
        assert file.stage is Stage.LINE
        assert [snapshot.stage for snapshot in file.snapshots()] == [Stage.LINE]


def test_the_sheet_of_a_scene_is_filled(
    window: MainWindow, qtbot: QtBot, stored: Callable[[], Book]
) -> None:
    window.enter(Stage.STRUCTURE)
    fields = window.sheet_room._fields
    fields["who"].edit.setText("Isaura, Dorrel ,")
    fields["who"].edit.editingFinished.emit()
    fields["eyes"].edit.setText("Isaura")
    fields["eyes"].edit.editingFinished.emit()
    window.desk.show_scene("salt")
    assert fields["who"].edit.text() == ""
    sheet = window.desk.book.scene("lamp").sheet
    assert (sheet.who, sheet.eyes) == (("Isaura", "Dorrel"), "Isaura")
    window.close()
    assert stored().scene("lamp").sheet == sheet


@pytest.mark.parametrize("stage", list(Stage))
def test_every_control_has_a_name(window: MainWindow, qtbot: QtBot, stage: Stage) -> None:
    window.enter(stage)
    nameless = [
        widget
        for widget in window.findChildren(QWidget)
        if widget.isVisible()
        and widget.focusPolicy() != Qt.FocusPolicy.NoFocus
        and not isinstance(widget, QLabel)
        and not widget.accessibleName()
        and not (isinstance(widget, QAbstractButton) and widget.text())
    ]
    assert nameless == []


def test_tab_goes_round_and_leaves_nothing_out(window: MainWindow, qtbot: QtBot) -> None:
    window.enter(Stage.PROOF)
    seen = []
    window.contents.tree.setFocus()
    for _ in range(40):
        seen.append(window.focusWidget())
        qtbot.keyClick(window.focusWidget(), Qt.Key.Key_Tab)
        if window.focusWidget() is seen[0]:
            break
    assert window.page.editor in seen
    assert any(row in seen for row in window.rooms[Stage.PROOF]._rows)


def test_a_book_that_is_not_one_is_refused_in_a_sentence(
    application: Application, qtbot: QtBot, tmp_path: Path
) -> None:
    said: list[str] = []
    application.opening.told.connect(said.append)
    bad = tmp_path / "bad.reglet"
    bad.write_bytes(b"not a book at all")
    application.start(bad)
    assert len(said) == 1
    assert bad.read_bytes() == b"not a book at all"
    assert application.window.root.currentWidget() is application.opening.first_start


def test_a_draft_being_read_can_be_stopped(application: Application, qtbot: QtBot) -> None:
    application.start(None)
    opening = application.opening
    opening.read(Path(__file__).parents[2] / "demo_book" / "draft.docx")
    press(application.window.root.currentWidget(), "Stop")
    assert application.window.root.currentWidget() is opening.first_start
    with qtbot.assertNotEmitted(opening.proposed, wait=1500):
        pass
    assert application.window.root.currentWidget() is opening.first_start


@pytest.mark.parametrize("ending", [".md", ".odt"])
def test_a_draft_becomes_a_book(
    ending: str, application: Application, qtbot: QtBot, tmp_path: Path
) -> None:
    draft = tmp_path / f"draft{ending}"
    if ending == ".odt":
        lines = ("A lamp.", "***", "A mill.")
        text = "".join(f"<text:p>{line}</text:p>" for line in lines)
        write_odt(draft, members(f"<text:h>One</text:h>{text}"))
    else:
        draft.write_text("# One\n\nA lamp.\n\n***\n\nA mill.\n", encoding="utf-8")
    before = draft.read_bytes()
    with qtbot.waitSignal(application.opening.proposed, timeout=LONG):
        application.start(draft)
    desk = application.opening.import_desk
    with qtbot.waitSignal(application.opening.opened):
        desk._make.click()
    assert (tmp_path / "draft.reglet").exists()
    assert draft.read_bytes() == before
    assert application.memory.recent() == [tmp_path / "draft.reglet"]
    assert [scene.passage.text for scene in application.window.desk.book.scenes] == [
        "A lamp.",
        "A mill.",
    ]


def test_every_theme_goes_on_and_off(application: Application, window: MainWindow) -> None:
    for theme in (*THEMES, *THEMES):
        application.dress(theme)
        colour = window.page.editor.viewport().palette().base().color().name()
        assert colour == theme.paper.lower()


def test_history_opens_and_closes(window: MainWindow, qtbot: QtBot) -> None:
    window.keep("By hand", "lamp")
    window.views.show_history()
    assert window.paper.views.currentWidget() is window.views.history
    qtbot.keyClick(window.views.history, Qt.Key.Key_Escape)
    assert window.paper.views.currentWidget() is window.page


def test_a_book_opens_where_it_was_left(
    application: Application, window: MainWindow, book_path: Path
) -> None:
    window.desk.show_scene("mill")
    application.opening.open(book_path)
    assert window.desk.scene is not None and window.desk.scene.id == "mill"


def test_a_book_that_can_only_be_read_takes_no_typing(
    application: Application, qtbot: QtBot, book_path: Path
) -> None:
    with BookFile.open(book_path, read_only=True) as file:
        application.window.open_book(file)
        for scene_id in ("salt", "lamp"):
            application.window.desk.show_scene(scene_id)
            assert application.window.page.editor.isReadOnly()
            qtbot.keyClicks(application.window.page.editor, "x")
        assert application.window.desk.book == file.book


def test_faces_are_worn_from_the_first_dress(window: MainWindow) -> None:
    assert window.header._book.font().family() == window.theme.title.family


def test_the_head_says_less_where_there_is_less_room(window: MainWindow) -> None:
    full, short = "Snapshots 14  ·  since entering Structure  +12,345 −10,321", "Snapshots 14"
    window.header.set_snapshots(full, short)
    for width, shown in ((160, short), (600, full)):
        window.header.set_sides(280, width)
        assert button(window.header, shown).accessibleName() == f"History. {full}"


def test_a_long_sentence_takes_lines_and_not_width(window: MainWindow, qtbot: QtBot) -> None:
    least, height = window.minimumSizeHint().width(), window.status_line.height()
    window.status_line.say("What was saved before is safe, and nothing is lost. " * 8)
    qtbot.wait(10)
    assert window.minimumSizeHint().width() == least
    assert window.status_line.height() > height
    assert window.status_line._sentence.height() >= window.status_line._sentence.heightForWidth(
        window.status_line._sentence.width()
    )


def test_what_is_wrong_stands_until_it_is_right(window: MainWindow, qtbot: QtBot) -> None:
    line = window.status_line
    line.keep_saying("The disk is full.")
    line.say("Written.")
    line._quiet_again.timeout.emit()
    assert line._sentence.text() == "The disk is full." and line._sentence.isVisible()
    line.say_no_more()
    assert not line._sentence.isVisible() and line._figures.isVisible()
