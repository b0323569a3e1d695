"""No key has two meanings, and the sheet of keys tells every one."""

from __future__ import annotations

from collections import Counter

from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QLabel
from reglet.window.application import Application
from reglet.window.main_window import MainWindow


def actions(window: MainWindow) -> list[QAction]:
    return [*window.actions(), *window.page.editor.actions()]


def test_no_key_has_two_meanings(window: MainWindow) -> None:
    text = QKeySequence.SequenceFormat.PortableText
    keys = Counter(
        shortcut.toString(text) for action in actions(window) for shortcut in action.shortcuts()
    )
    assert [key for key, count in keys.items() if count > 1] == []


def test_the_sheet_tells_every_key(application: Application, window: MainWindow) -> None:
    (help_action,) = [each for each in window.actions() if each.shortcut().toString() == "F1"]
    help_action.trigger()
    sheet = window.views.help
    assert window.paper.views.currentWidget() is sheet
    shown = {label.text() for label in sheet.findChildren(QLabel)}
    for action in actions(window):
        key = action.shortcut().toString()
        if key and not key.removeprefix("Ctrl+").removeprefix("Alt+").isdigit():
            assert key in shown and action.text().removesuffix(" …") in shown
    assert {"Ctrl+1 … Ctrl+5", "Alt+1, Alt+12 …"} <= shown
    help_action.trigger()
    assert window.paper.views.currentWidget() is window.page
