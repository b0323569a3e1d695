"""Python's collector of cycles, held to the interface thread.

The collector runs in whichever thread happens to need room, and among what it frees may be widgets
and timers, which Qt lets go only where they live: freed by a thread of the background, a timer goes
on ticking for an object that is no more. So it is switched off, and run from a timer here: the
young often, which takes a few milliseconds; all of it when the writer turns to another program.
"""

from __future__ import annotations

import gc

from PySide6.QtCore import QObject, Qt, QTimer
from PySide6.QtGui import QGuiApplication

_EVERY_MS = 1000
_YOUNG, _MIDDLE = 700, 10
"""From how many new objects, and how many sweeps of them, a generation is swept (Python's own)."""


class Sweeping(QObject):
    """Sweeps for as long as it lives; from then on nothing does."""

    def __init__(self, app: QGuiApplication, parent: QObject) -> None:
        super().__init__(parent)
        gc.disable()
        self._timer = QTimer(self, interval=_EVERY_MS)
        self._timer.timeout.connect(self._sweep)
        self._timer.start()
        app.applicationStateChanged.connect(self._turned)

    def _sweep(self) -> None:
        young, middle, _ = gc.get_count()
        if young > _YOUNG:
            gc.collect(1 if middle > _MIDDLE else 0)

    def _turned(self, state: Qt.ApplicationState) -> None:
        if state is not Qt.ApplicationState.ApplicationActive:
            gc.collect()
