"""Long work off the interface thread: its result comes back on it, or the sentence that says why
there is none.
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from typing import Any, TypeVar

from PySide6.QtCore import QObject, Signal

from reglet.errors import RegletError

Found = TypeVar("Found")


class Background(QObject):
    """Does one piece of work after another. One that a newer one of its kind has overtaken is
    finished, and its result is left aside.
    """

    failed = Signal(str)
    """A piece of work could not be done: a sentence for the writer."""
    _finished = Signal(object, object, int)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._thread = ThreadPoolExecutor(max_workers=1, thread_name_prefix="background")
        self._number = 0
        self._finished.connect(self._report)

    def do(self, work: Callable[[], Found], then: Callable[[Found], object]) -> None:
        """Do `work` and hand what it gives to `then`; `failed` tells of a RegletError in it."""
        self._number += 1
        number = self._number
        future = self._thread.submit(work)
        future.add_done_callback(lambda done: self._finished.emit(done, then, number))

    def close(self) -> None:
        """End, when what is under way is done; its result is left aside."""
        self._number += 1
        self._thread.shutdown(cancel_futures=True)

    def _report(self, done: Future[Any], then: Callable[[Any], object], number: int) -> None:
        if number != self._number or done.cancelled():
            return
        error = done.exception()
        if isinstance(error, RegletError):
            self.failed.emit(str(error))
        elif error is not None:
            raise error
        else:
            then(done.result())
