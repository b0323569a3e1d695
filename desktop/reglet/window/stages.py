"""The path of stages along the top: where the book stands, and how far it has come in each."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QHBoxLayout, QWidget

from reglet.manuscript.stage import Stage
from reglet.window import dressing
from reglet.window.theme import GRID, LIGHT, Theme

HEIGHT = 8 * GRID
_DOT_Y = 16
_STAGE_WIDTH = 17 * GRID
_LEAST_WIDTH = 12 * GRID


class StageButton(QAbstractButton):
    """One stage on the path: its dot, its name, its progress."""

    def __init__(self, stage: Stage, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.stage = stage
        self._theme = LIGHT
        self._progress = ""
        self._behind = False
        self.setText(stage.label)
        self.setCheckable(True)
        self.setAutoExclusive(True)
        self.setMinimumWidth(_LEAST_WIDTH)
        self.setFixedHeight(HEIGHT)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        number = list(Stage).index(stage) + 1
        self.setToolTip(f"Ctrl+{number}")

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        self.update()

    def set_progress(self, progress: str, behind: bool) -> None:
        """What stands under the name, and whether the book has left this stage behind."""
        self._progress, self._behind = progress, behind
        self.setAccessibleName(f"{self.stage.label}, {progress}" if progress else self.stage.label)
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(_STAGE_WIDTH, HEIGHT)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        theme, here = self._theme, self.isChecked()
        pencil = QColor(theme.pencil(self.stage))
        middle = QPointF(self.width() / 2, _DOT_Y)
        painter.setPen(QPen(QColor(theme.line), 1))
        order = list(Stage).index(self.stage)
        if order > 0:
            painter.drawLine(QPointF(0, _DOT_Y), QPointF(middle.x() - 14, _DOT_Y))
        if order < len(Stage) - 1:
            painter.drawLine(QPointF(middle.x() + 14, _DOT_Y), QPointF(self.width(), _DOT_Y))
        if here:
            painter.setPen(QPen(pencil, 1.5))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawEllipse(middle, 11, 11)
        painter.setPen(QPen(pencil if here else QColor(theme.graphite), 1))
        filled = here or self._behind
        painter.setBrush(
            QColor(pencil if here else theme.graphite) if filled else QColor(theme.desk)
        )
        painter.drawEllipse(middle, 6, 6)
        painter.setFont(
            dressing.font(theme.control, 1, dressing.SEMIBOLD if here else dressing.REGULAR)
        )
        painter.setPen(pencil if here else QColor(theme.ink if self.hasFocus() else theme.quiet))
        centre = Qt.AlignmentFlag.AlignCenter
        painter.drawText(0, _DOT_Y + 10, self.width(), 20, centre, self.text())
        painter.setFont(dressing.font(theme.control, 0.8))
        painter.setPen(QColor(theme.quiet))
        painter.drawText(0, _DOT_Y + 29, self.width(), 16, centre, self._progress)
        if self.hasFocus():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(QColor(theme.quiet), 1, Qt.PenStyle.DotLine))
            painter.drawLine(
                QPointF(middle.x() - 28, HEIGHT - 2.5), QPointF(middle.x() + 28, HEIGHT - 2.5)
            )


class Stages(QWidget):
    """The five stages in a row."""

    chosen = Signal(object)
    """The `Stage` that the writer wants to work in."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName("Stages")
        layout = QHBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        self._buttons = {stage: StageButton(stage, self) for stage in Stage}
        for stage, button in self._buttons.items():
            layout.addWidget(button)
            button.clicked.connect(lambda _=False, stage=stage: self.chosen.emit(stage))

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        for button in self._buttons.values():
            button.dress(theme)

    def set_stage(self, stage: Stage) -> None:
        """The stage the book is in."""
        self._buttons[stage].setChecked(True)

    def set_progress(self, progress: dict[Stage, str], reached: Stage) -> None:
        """How far the book has come in each stage; those before `reached` lie behind it."""
        order = list(Stage)
        for stage, button in self._buttons.items():
            button.set_progress(
                progress.get(stage, ""), behind=order.index(stage) < order.index(reached)
            )
