"""The scene sheet: the facts of a scene as the writer states them."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLayout, QLineEdit, QVBoxLayout, QWidget

from reglet.manuscript.scene import SceneSheet, Verdict
from reglet.window import dressing
from reglet.window.controls import Act, Chip
from reglet.window.flow import FlowLayout
from reglet.window.lettering import Caption, Hairline, Label
from reglet.window.theme import GRID, Theme

_FIELDS = (
    ("eyes", "Whose eyes"),
    ("where", "Where"),
    ("when", "When"),
    ("who", "Who"),
    ("happens", "What happens"),
    ("changes", "What changes"),
    ("threads", "Threads"),
)
_NAMES = ("who", "threads")
"""Fields that hold several names, typed with commas between."""


class Field(QWidget):
    """A label, the text under it, and a hairline."""

    done = Signal()

    def __init__(self, label: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._label = Label(label, quiet=True, scale=0.86)
        self.edit = QLineEdit()
        self.edit.setAccessibleName(label)
        self.edit.setFixedHeight(3 * GRID)
        self._label.setBuddy(self.edit)
        self._rule = Hairline()
        self.edit.editingFinished.connect(self.done)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        for widget in (self._label, self.edit, self._rule):
            layout.addWidget(widget)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._label.dress(theme)
        self._rule.dress(theme)
        self.edit.setStyleSheet(
            "QLineEdit { background: transparent; border: 0; padding: 0 0 2px 0; }"
            f"QLineEdit:focus {{ background: {theme.paper}; }}"
        )
        self.edit.setFont(dressing.font(theme.control))


class SheetRoom(QWidget):
    """Shows a scene's sheet and tells what the writer makes of it."""

    changed = Signal(object)
    """The `SceneSheet` as it is now."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._sheet = SceneSheet()
        self._proposed: SceneSheet | None = None
        self._take = Act("Take what the text says")
        self._take.hide()
        self._take.clicked.connect(self._take_proposed)
        self._caption = Caption("Scene sheet")
        self._caption.setSizePolicy(
            self._caption.sizePolicy().Policy.Ignored, self._caption.sizePolicy().Policy.Fixed
        )
        self._fields = {name: Field(label) for name, label in _FIELDS}
        self._chips = {verdict: Chip(verdict.replace("_", " ")) for verdict in Verdict}
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(GRID // 2)
        layout.addWidget(self._caption)
        layout.addSpacing(GRID // 2)
        for field in self._fields.values():
            layout.addWidget(field)
            field.done.connect(self._changed)
        layout.addWidget(self._take)
        layout.addSpacing(GRID // 2)
        chips: QLayout = FlowLayout(GRID)
        for verdict, chip in self._chips.items():
            chips.addWidget(chip)
            chip.setAccessibleName(f"What to do with this scene: {chip.text()}")
            chip.clicked.connect(lambda on, verdict=verdict: self._judge(verdict, on))
        layout.addLayout(chips)

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._caption.dress(theme)
        for field in self._fields.values():
            field.dress(theme)
        for chip in self._chips.values():
            chip.dress(theme)
        self._take.dress(theme)

    def show_sheet(self, title: str, sheet: SceneSheet) -> None:
        """Show the sheet of the scene of this title."""
        self._caption.setText(f"Scene sheet · {title}" if title else "Scene sheet")
        self._sheet = sheet
        for name, field in self._fields.items():
            value = getattr(sheet, name)
            text = ", ".join(value) if name in _NAMES else value
            if field.edit.text() != text:
                field.edit.setText(text)
                field.edit.setCursorPosition(0)
        for verdict, chip in self._chips.items():
            chip.setChecked(verdict is sheet.verdict)

    def propose(self, proposed: SceneSheet | None) -> None:
        """Offer what was read from the text, quietly, where the sheet is blank."""
        self._proposed = proposed
        offered = False
        for name, field in self._fields.items():
            value = getattr(proposed, name) if proposed else ""
            said = ", ".join(value) if name in _NAMES and value else value or ""
            field.edit.setPlaceholderText(said)
            offered = offered or bool(said and not getattr(self._sheet, name))
        self._take.setVisible(offered)

    def _take_proposed(self) -> None:
        if self._proposed is not None:
            blanks = {name: getattr(self._proposed, name) for name in self._sheet.empty}
            self._become(replace(self._sheet, **blanks))

    def _changed(self) -> None:
        values: dict[str, object] = {}
        for name, field in self._fields.items():
            text = field.edit.text().strip()
            values[name] = (
                tuple(piece.strip() for piece in text.split(",") if piece.strip())
                if name in _NAMES
                else text
            )
        self._become(replace(self._sheet, **values))  # type: ignore[arg-type]

    def _judge(self, verdict: Verdict, on: bool) -> None:
        self._become(replace(self._sheet, verdict=verdict if on else None))

    def _become(self, sheet: SceneSheet) -> None:
        if sheet != self._sheet:
            self._sheet = sheet
            for verdict, chip in self._chips.items():
                chip.setChecked(verdict is sheet.verdict)
            self.changed.emit(sheet)
