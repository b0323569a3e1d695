"""Tab goes through all that can be reached, as it is read, and every control has a name."""

from __future__ import annotations

from itertools import pairwise

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot
from reglet.manuscript.stage import Stage
from reglet.window.main_window import MainWindow
from reglet.window.tab_order import in_reading_order

MOST = 150


def walk(window: MainWindow, key: Qt.Key) -> list[QWidget]:
    """What has the keys, Tab by Tab, from the page round to the page."""
    window.page.editor.setFocus()
    passed = [QApplication.focusWidget()]
    for _ in range(MOST):
        QTest.keyClick(passed[-1], key)
        if QApplication.focusWidget() is passed[0]:
            break
        passed.append(QApplication.focusWidget())
    return passed


@pytest.fixture
def active(window: MainWindow, qtbot: QtBot) -> MainWindow:
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    return window


@pytest.mark.parametrize("stage", Stage, ids=lambda stage: stage.value)
def test_tab_goes_through_the_slip_from_the_top_and_back_to_the_page(
    active: MainWindow, stage: Stage
) -> None:
    active.enter(stage)
    active.views.show_page()
    passed = walk(active, Qt.Key.Key_Tab)
    assert len(passed) == len(set(passed)) < MOST
    slip = [each for each in passed if active.slip.isAncestorOf(each)]
    middles = [each.mapTo(active.slip.widget(), each.rect().center()).y() for each in slip]
    assert slip and passed[1 : 1 + len(slip)] == slip
    assert all(lower >= upper - 12 for upper, lower in pairwise(middles))
    assert set(in_reading_order(active.contents)) < set(passed)
    assert walk(active, Qt.Key.Key_Backtab) == [passed[0], *reversed(passed[1:])]


@pytest.mark.parametrize("stage", Stage, ids=lambda stage: stage.value)
def test_whatever_takes_the_keys_has_a_name_for_a_screen_reader(
    active: MainWindow, stage: Stage
) -> None:
    active.enter(stage)
    for view in (active.page, active.views.facts, active.story_work.book_view):
        active.paper.lay(view)
        for region in (active.header, active.contents, active.paper, active.slip):
            for control in in_reading_order(region):
                told = QAccessible.queryAccessibleInterface(control)
                assert told.text(QAccessible.Text.Name).strip(), type(control).__name__


def test_a_view_of_one_stage_does_not_lie_on_the_page_of_the_next(active: MainWindow) -> None:
    active.enter(Stage.STRUCTURE)
    active.story_work.show_book()
    active.enter(Stage.LINE)
    assert active.views.shown is active.page


def test_nothing_is_done_to_a_text_that_a_view_hides(active: MainWindow) -> None:
    active.enter(Stage.STRUCTURE)
    active.page.editor.select(0, 8)
    before = active.desk.book
    active.story_work.show_book()
    cut = next(
        each for each in active.actions() if "Offcuts" in each.text() and "Cut" in each.text()
    )
    cut.trigger()
    assert active.desk.book is before and active.views.shown is active.page
    cut.trigger()
    assert len(active.desk.book.offcuts) == 1
