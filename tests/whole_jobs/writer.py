"""A writer at the window: what a hand does with mouse and keys, and how long it waits."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TypeVar

from PySide6.QtCore import QEventLoop, QPoint, Qt, QTimer
from PySide6.QtGui import QAction, QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QFileDialog,
    QLineEdit,
    QMenu,
    QMessageBox,
    QWidget,
)
from reglet.manuscript.book import Book
from reglet.manuscript.stage import Stage
from reglet.window.application import Application
from reglet.window.book_chart import BookChart
from reglet.window.plan_chart import PlanChart
from reglet.window.scrolled import Scrolled

CTRL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
ALT = Qt.KeyboardModifier.AltModifier
LONGEST_S = 120

Control = TypeVar("Control", bound=QWidget)
Snap = Callable[[str], None]


class Writer:
    """Works at the window of an application. `snap` is called with a name wherever there is
    something to be looked at.
    """

    def __init__(self, application: Application, snap: Snap | None = None) -> None:
        self.application, self.window = application, application.window
        self.snap: Snap = snap or (lambda name: None)
        self._looks = snap is not None
        self.window.activateWindow()
        self.wait_for(self.window.isActiveWindow, "the window")

    @property
    def book(self) -> Book:
        return self.window.desk.book

    def order(self) -> list[list[str]]:
        """The ids of the scenes, chapter by chapter."""
        return [[scene.id for scene in chapter.scenes] for chapter in self.book.chapters]

    def texts(self) -> list[str]:
        """The texts of the scenes, in order."""
        return [scene.passage.text for scene in self.book.scenes]

    # Waiting

    def wait_for(self, there: Callable[[], object], what: str) -> None:
        """Go on when something is there; fail after two minutes."""
        until = time.monotonic() + LONGEST_S
        while not there():
            assert time.monotonic() < until, f"waited in vain for {what}"
            self.settle(5)
        self.settle()

    def linger(self, ms: int) -> None:
        """Wait for what comes a moment later, where somebody looks at it."""
        self.settle(ms if self._looks else 0)

    def settle(self, ms: int = 0) -> None:
        """Let what is due be done."""
        loop = QEventLoop()
        QTimer.singleShot(ms, loop.quit)
        loop.exec()

    # Keys

    def _be_active(self) -> None:
        if QApplication.activeWindow() is None:  # no desktop gives the keys back after a question
            self.window.activateWindow()
            self.settle(20)

    def key(self, key: Qt.Key, held: Qt.KeyboardModifier | None = None, times: int = 1) -> None:
        """Press a key where the keys are."""
        self._be_active()
        for _ in range(times):
            at = QApplication.focusWidget() or self.window
            QTest.keyClick(at, key, held or Qt.KeyboardModifier.NoModifier)
            self.settle()

    def type(self, words: str) -> None:
        """Type plain words where the keys are."""
        self._be_active()
        QTest.keyClicks(QApplication.focusWidget(), words)
        self.settle()

    # Mouse

    def click(self, inside: QWidget, text: str) -> None:
        """Click the first button in sight with this on it."""
        found = [
            each
            for each in inside.findChildren(QAbstractButton)
            if each.text() == text and each.isVisible()
        ]
        assert found, f"no button in sight says {text!r}"
        assert found[0].isEnabled(), f"{text!r} cannot be pressed"
        QTest.mouseClick(found[0], Qt.MouseButton.LeftButton)
        self.settle()

    def line(self, inside: QWidget, name: str) -> QLineEdit:
        """The line to write on of this name, clicked into."""
        found = [e for e in inside.findChildren(QLineEdit) if e.accessibleName() == name]
        assert len(found) == 1, f"{len(found)} lines are called {name!r}"
        QTest.mouseClick(found[0], Qt.MouseButton.LeftButton)
        found[0].setFocus()
        return found[0]

    def drag(self, widget: QWidget, start: QPoint, end: QPoint) -> None:
        """Drag with the left button inside a widget that follows the mouse by itself."""
        QTest.mousePress(widget, Qt.MouseButton.LeftButton, pos=start)
        for share in (0.25, 0.5, 0.75, 1.0):
            QTest.mouseMove(widget, start + (end - start) * share)
        self.settle()
        self.snap("dragging")
        QTest.mouseRelease(widget, Qt.MouseButton.LeftButton, pos=end)
        self.settle()

    def enter(self, stage: Stage) -> None:
        """Click a stage on the path."""
        self.click(self.window.header, stage.label)

    # Contents

    def row(self, scene_id: str) -> QPoint:
        """Where a scene stands in Contents, brought into sight."""
        tree, model = self.window.contents.tree, self.window.contents.model
        tree.scrollTo(model.index_of(scene_id))
        return tree.visualRect(model.index_of(scene_id)).center()

    def click_scene(self, scene_id: str, held: Qt.KeyboardModifier | None = None) -> None:
        """Click a scene in Contents."""
        QTest.mouseClick(
            self.window.contents.tree.viewport(),
            Qt.MouseButton.LeftButton,
            held or Qt.KeyboardModifier.NoModifier,
            self.row(scene_id),
        )
        self.window.contents.tree.setFocus()
        self.settle()

    def drag_scene(self, scene_id: str, behind: str) -> None:
        """Drag a scene in Contents to just behind another. Qt's own dragging holds the line until
        the button is let go, so the hand goes on from there by the clock.
        """
        if QGuiApplication.platformName() == "offscreen":  # where nothing can be dragged
            self._drop_scene(scene_id, behind)
            return
        tree, handle = self.window.contents.tree, self.window.windowHandle()
        last = tree.visualRect(self.window.contents.model.index_of(behind))
        start = tree.viewport().mapTo(self.window, self.row(scene_id))
        end = QPoint(start.x(), tree.viewport().mapTo(self.window, last.bottomLeft()).y() - 2)
        left = Qt.MouseButton.LeftButton
        none = Qt.KeyboardModifier.NoModifier
        steps: list[Callable[[], object]] = [
            lambda: QTest.mouseMove(handle, (start + end) / 2),
            lambda: QTest.mouseMove(handle, end - QPoint(0, 3)),
            lambda: QTest.mouseMove(handle, end),
            lambda: self.snap("contents: dragging"),
            lambda: QTest.mouseRelease(handle, left, none, end),
        ]
        for number, step in enumerate(steps, start=1):
            QTimer.singleShot(60 * number, step)
        QTest.mousePress(handle, left, none, start)
        QTest.mouseMove(handle, start + QPoint(0, 30))
        self.settle(60 * len(steps) + 100)

    def _drop_scene(self, scene_id: str, behind: str) -> None:
        model = self.window.contents.model
        last = model.index_of(behind)
        data = model.mimeData([model.index_of(scene_id)])
        action = Qt.DropAction.MoveAction
        model.dropMimeData(data, action, last.row() + 1, 0, last.parent())
        self.settle()

    def choose_in_menu(self, scene_id: str, *path: str) -> None:
        """Choose from the menu of a scene in Contents."""
        at = self.row(scene_id)
        self.window.contents.tree.customContextMenuRequested.emit(at)
        menu = QApplication.activePopupWidget()
        assert isinstance(menu, QMenu)
        self.snap("menu of a scene")
        chosen: QAction | None = None
        for name in path:
            holder = chosen.menu() if chosen else menu
            assert isinstance(holder, QMenu)
            found = [a for a in holder.actions() if a.text().split("\t")[0] == name]
            assert found, f"no {name!r} among {[a.text() for a in holder.actions()]}"
            chosen = found[0]
        assert chosen is not None
        chosen.trigger()
        menu.close()
        self.settle()

    # The view of the book

    @property
    def scrolled(self) -> Scrolled:
        """What the drawings of the book scroll in."""
        found = self.window.story_work.book_view.findChild(Scrolled)
        assert found is not None
        return found

    @property
    def chart(self) -> BookChart:
        return self.window.story_work.book_view.chart

    @property
    def plan(self) -> PlanChart:
        return self.window.story_work.book_view.plan

    def column(self, at: int, edge: bool = False) -> QPoint:
        """A place over the scene at `at` in the view of the book; its right edge with `edge`."""
        drawing = self.chart._drawing
        assert drawing is not None
        x = drawing.columns.edges[at][1] - 1 if edge else drawing.columns.middle(at)
        return QPoint(round(x), 70)

    def wait_until_read(self) -> None:
        """Wait until the facts of the book as it is now are drawn."""
        work = self.window.story_work

        def there() -> bool:
            read = work._read
            return (
                read is not None
                and not read.to_read
                and [e.scene for e in read.facts.scenes] == list(work.trying.shaped().scenes)
            )

        self.wait_for(there, "the book to be read")

    # Questions

    def answer(self, says: str) -> None:
        """Answer the next question with the button that says this."""

        def press() -> None:
            box = QApplication.activeModalWidget()
            if not isinstance(box, QMessageBox):
                QTimer.singleShot(20, press)
                return
            self.snap("question")
            next(each for each in box.buttons() if each.text() == says).click()

        QTimer.singleShot(20, press)

    def files(self, *paths: Path) -> Files:
        """Have the next questions for a file answered with these."""
        return Files(paths)


class Files:
    """Stands in for the desktop's own dialogues, which no test can reach."""

    def __init__(self, paths: Sequence[Path]) -> None:
        self._paths = list(paths)
        self._real = QFileDialog.getOpenFileName, QFileDialog.getSaveFileName

    def __enter__(self) -> None:
        def give(*_: object, **__: object) -> tuple[str, str]:
            return str(self._paths.pop(0)), ""

        QFileDialog.getOpenFileName = give  # type: ignore[method-assign,assignment]
        QFileDialog.getSaveFileName = give  # type: ignore[method-assign,assignment]

    def __exit__(self, *_: object) -> None:
        QFileDialog.getOpenFileName, QFileDialog.getSaveFileName = self._real  # type: ignore[method-assign]
