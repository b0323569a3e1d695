"""A draft that rests: whoever begins to change its text is asked once, and may overrule it."""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import QMessageBox, QWidget

from reglet.numbers import counted
from reglet.story.first_read import asks_before_change, days_of_rest_left, overruled
from reglet.window.desk import Desk

_CHANGES = (
    QKeySequence.StandardKey.Cut,
    QKeySequence.StandardKey.Paste,
    QKeySequence.StandardKey.Undo,
    QKeySequence.StandardKey.Redo,
)
_ERASES = (Qt.Key.Key_Backspace, Qt.Key.Key_Delete, Qt.Key.Key_Return, Qt.Key.Key_Enter)


class Resting(QObject):
    """Stands before the page's editor and looks at what is typed there."""

    def __init__(self, desk: Desk, editor: QWidget, parent: QObject) -> None:
        super().__init__(parent)
        self._desk, self._editor = desk, editor
        editor.installEventFilter(self)

    def may_change(self) -> bool:
        """Whether the text may be changed: the writer is asked where it rests."""
        book, today = self._desk.book, date.today()
        if not asks_before_change(book, today):
            return True
        days = days_of_rest_left(book, today)
        button = QMessageBox.StandardButton
        box = QMessageBox(
            QMessageBox.Icon.NoIcon,
            "The draft rests",
            f"This draft is to rest for {counted(days, 'more day')}. It can be "
            "read, and notes can be made. Change its text all the same?",
            button.Yes | button.No,
            self._editor,
        )
        box.setDefaultButton(button.No)
        box.button(button.Yes).setText("Change it")
        box.button(button.No).setText("Let it rest")
        if box.exec() != button.Yes:
            return False
        self._desk.remember(overruled)
        return True

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        changes = event.type() in (QEvent.Type.InputMethod, QEvent.Type.Drop)
        if event.type() == QEvent.Type.KeyPress:
            assert isinstance(event, QKeyEvent)
            held = event.modifiers() & (
                Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier
            )
            changes = (
                any(event.matches(key) for key in _CHANGES)
                or event.key() in _ERASES
                or (bool(event.text()) and event.text().isprintable() and not held)
            )
        return changes and not self.may_change()
