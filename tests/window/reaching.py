"""Controls reached as a writer reaches them: by what is written on them or read out for them."""

from __future__ import annotations

from typing import TypeVar

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QLineEdit, QWidget

Control = TypeVar("Control", bound=QWidget)


def control(inside: QWidget, kind: type[Control], name: str) -> Control:
    """The control of this accessible name inside a widget."""
    found = [each for each in inside.findChildren(kind) if each.accessibleName() == name]
    assert len(found) == 1, f"{len(found)} controls are called {name!r}"
    return found[0]


def button(inside: QWidget, text: str) -> QAbstractButton:
    """The one button that can be seen with this on it."""
    found = [
        each
        for each in inside.findChildren(QAbstractButton)
        if each.text() == text and not each.isHidden()
    ]
    assert len(found) == 1, f"{len(found)} buttons say {text!r}"
    return found[0]


def press(inside: QWidget, text: str) -> None:
    """Press the button with this on it, which must be one that can be pressed."""
    found = button(inside, text)
    assert found.isEnabled(), f"{text!r} cannot be pressed"
    found.click()


def write(inside: QWidget, name: str, text: str) -> None:
    """Write on the line of this name, in place of what is there."""
    line = control(inside, QLineEdit, name)
    line.selectAll()
    line.insert(text)  # QTest types nothing beyond ASCII


def enter(inside: QWidget, name: str) -> None:
    """Press Enter on the line of this name."""
    QTest.keyClick(control(inside, QLineEdit, name), Qt.Key.Key_Return)
