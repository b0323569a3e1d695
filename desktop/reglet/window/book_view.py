"""The book, scene by scene, on the paper in the place of the page; below it the plan."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QImage, QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from reglet.numbers import counted
from reglet.story.plan import Drift
from reglet.window.book_chart import BookChart
from reglet.window.book_drawing import BookPictures
from reglet.window.controls import Act
from reglet.window.lettering import Label, Lines, dress_all
from reglet.window.plan_chart import PlanChart
from reglet.window.scrolled import Scrolled
from reglet.window.theme import GRID, Theme

_NO_PLAN = "No plan yet. Bring in an outline in plain text or Markdown, a line for each scene."
_KEYS = (
    "Click or Enter goes there · drag or Alt+arrows moves · Shift+arrows or Space chooses · "
    "M merges · X cuts to Offcuts · A keeps another version"
)
_PLAN_KEYS = (
    "Drag a planned scene to what it has become, or Alt+Up and Alt+Down · Enter confirms · "
    "Delete: not written · Backspace: propose again"
)


class BookView(QWidget):
    """Shows what it is given, and tells what is asked of it."""

    least_wanted = 150 * GRID
    """As wide as the paper may be for it, in pixels."""
    closed = Signal()
    file_wanted = Signal()
    """The drawing is to be written to a file."""
    plan_wanted = Signal()
    """A plan is to be brought in."""
    trial_wanted = Signal()
    """Another order is to be tried."""
    taken = Signal()
    dropped = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.chart, self.plan = BookChart(), PlanChart()
        self._title = Label("The book, scene by scene", page_face=True, scale=0.87)
        self._told = Lines(_KEYS, quiet=True, scale=0.86)
        self._trial = Label("A draft arrangement: the book itself stays as it is.")
        self._try, self._take, self._drop = (
            Act("Try another order"),
            Act("Take this order", chief=True),
            Act("Drop it"),
        )
        self._file, self._back = Act("To a file …"), Act("Back to the page")
        self._bring = Act("Bring in a plan …")
        self._plan_told = Lines(_NO_PLAN, quiet=True, scale=0.86)
        self._lay_out()
        self.show_trial(False)
        self._try.clicked.connect(self.trial_wanted)
        self._take.clicked.connect(self.taken)
        self._drop.clicked.connect(self.dropped)
        self._file.clicked.connect(self.file_wanted)
        self._back.clicked.connect(self.closed)
        self._bring.clicked.connect(self.plan_wanted)
        self.chart.pointed.connect(lambda said: self._told.setText(said or _KEYS))

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        dress_all(self, theme)

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.setSpacing(2 * GRID + 4)
        head.addWidget(self._title, 1)
        for act in (self._try, self._file, self._back):
            head.addWidget(act, 0, Qt.AlignmentFlag.AlignTop)
        trial = QHBoxLayout()
        trial.setSpacing(2 * GRID + 4)
        trial.addWidget(self._trial, 1)
        trial.addWidget(self._drop)
        trial.addWidget(self._take)
        plan_head = QHBoxLayout()
        plan_head.setSpacing(2 * GRID)
        plan_head.addWidget(self._plan_told, 1)
        plan_head.addWidget(self._bring, 0, Qt.AlignmentFlag.AlignTop)
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(0, 0, GRID, 4 * GRID)
        column.setSpacing(0)
        column.addWidget(self.chart)
        column.addSpacing(GRID)
        column.addWidget(self._told)
        column.addSpacing(3 * GRID)
        column.addWidget(self.plan)
        column.addSpacing(GRID)
        column.addLayout(plan_head)
        column.addStretch(1)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(5 * GRID, 4 * GRID, 5 * GRID, 0)
        outer.setSpacing(2 * GRID)
        outer.addLayout(head)
        outer.addLayout(trial)
        outer.addWidget(Scrolled(inside), 1)

    def wait(self, scenes: int = 0) -> None:
        """Say that the book is being read, and how many scenes are to go, if that is known."""
        to_go = f": {counted(scenes, 'scene')} to go" if scenes else ""
        self._told.setText(f"The book is being read …{to_go}")

    def show_pictures(self, pictures: BookPictures) -> None:
        """Show the drawings of a book."""
        self.chart.show_pictures(pictures)
        self._told.setText(_KEYS)

    def show_drift(self, drift: Drift) -> None:
        """Show the plan beside what is written."""
        self.plan.setVisible(bool(drift.plan))
        self.plan.show_drift(drift)
        self._plan_told.setText(_summary(drift) if drift.plan else _NO_PLAN)

    def show_trial(self, on: bool) -> None:
        """Whether a draft arrangement is shown, and not the book's own order."""
        for widget in (self._trial, self._take, self._drop):
            widget.setVisible(on)
        self._try.setVisible(not on)

    def picture(self) -> QImage:
        """The drawing as an image."""
        return self.chart.picture()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
        else:
            super().keyPressEvent(event)


def _summary(drift: Drift) -> str:
    said = (
        f"{len(drift.matches)} of {len(drift.plan)} planned scenes written, "
        f"{len(drift.missing)} not, {len(drift.out_of_order)} elsewhere than planned; "
        f"{len(drift.unplanned)} not in the plan."
    )
    return f"{said} {_PLAN_KEYS}."
