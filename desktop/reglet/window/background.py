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
    """Does pieces of work beside the interface. The result of one that a newer one of its kind has
    overtaken is left aside.
    """

    failed = Signal(str)
    """A piece of work could not be done: a sentence for the writer."""
    _finished = Signal(object, object, str, int)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._threads = ThreadPoolExecutor(max_workers=2, thread_name_prefix="background")
        self._latest: dict[str, int] = {}
        self._finished.connect(self._report)

    def do(self, kind: str, work: Callable[[], Found], then: Callable[[Found], object]) -> None:
        """Do `work` and hand what it gives to `then`; `failed` tells of a RegletError in it."""
        number = self._latest.get(kind, 0) + 1
        self._latest[kind] = number
        future = self._threads.submit(work)
        future.add_done_callback(lambda done: self._finished.emit(done, then, kind, number))

    def close(self) -> None:
        """End, when what is under way is done; its result is left aside."""
        self._latest.clear()
        self._threads.shutdown(cancel_futures=True)

    def _report(
        self, done: Future[Any], then: Callable[[Any], object], kind: str, number: int
    ) -> None:
        if number != self._latest.get(kind) or done.cancelled():
            return
        error = done.exception()
        if isinstance(error, RegletError):
            self.failed.emit(str(error))
        elif error is not None:
            raise error
        else:
            then(done.result())
