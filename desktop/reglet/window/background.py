"""Long work off the interface thread: its result comes back on it, or the sentence that says why
there is none.
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from queue import Empty, SimpleQueue
from typing import Any, Generic, TypeVar

from PySide6.QtCore import QObject, Qt, Signal

from reglet.errors import RegletError

Found = TypeVar("Found")


class Overtaken(Exception):
    """Nobody waits any more for what a piece of work would give."""


class Background(QObject):
    """Does pieces of work beside the interface. The result of one that a newer one of its kind has
    overtaken is left aside.

    Results wait in a queue of their own, and the signal that wakes the interface thread carries
    nothing: no value has two threads to look after it. `close` waits for the threads, so that none
    of them can speak to a window that is gone.
    """

    failed = Signal(str)
    """A piece of work could not be done: a sentence for the writer."""
    _woken = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._threads = ThreadPoolExecutor(max_workers=2, thread_name_prefix="background")
        self._number = 0
        self._latest: dict[str, int] = {}
        self._closed = False
        self._arrived: SimpleQueue[tuple[str, int, Callable[[], object]]] = SimpleQueue()
        self._woken.connect(self._report, Qt.ConnectionType.QueuedConnection)

    def do(self, kind: str, work: Callable[[], Found], then: Callable[[Found], object]) -> None:
        """Do `work` and hand what it gives to `then`; `failed` tells of a RegletError in it. After
        `close` nothing is done.
        """
        self.do_telling(kind, lambda _: work(), then)

    def do_telling(
        self, kind: str, work: Callable[[Teller[Found]], Found], then: Callable[[Found], object]
    ) -> None:
        """As `do`, with work that may hand on what it has so far on the way, and that is to ask its
        teller now and then whether it is still waited for.
        """
        if self._closed:
            return
        self._number += 1
        number = self._latest[kind] = self._number

        def hand_on(deliver: Callable[[], object]) -> None:
            self._arrived.put((kind, number, deliver))
            if not self._closed:
                self._woken.emit()

        def finished(done: Future[Found]) -> None:
            hand_on(lambda: self._deliver(done, then))

        teller: Teller[Found] = Teller(
            lambda: self._latest.get(kind) == number,
            lambda found: hand_on(lambda: then(found)),
        )
        self._threads.submit(work, teller).add_done_callback(finished)

    def forget(self, kind: str) -> None:
        """Leave aside what the work of this kind that is under way gives."""
        self._latest.pop(kind, None)

    def close(self) -> None:
        """End, when what is under way is done; its result is left aside."""
        self._closed = True
        self._latest.clear()
        self._threads.shutdown(wait=True, cancel_futures=True)

    def _report(self) -> None:
        while True:
            try:
                kind, number, deliver = self._arrived.get_nowait()
            except Empty:
                return
            if self._latest.get(kind) == number:
                deliver()

    def _deliver(self, done: Future[Any], then: Callable[[Any], object]) -> None:
        error = done.exception()
        if isinstance(error, RegletError):
            self.failed.emit(str(error))
        elif error is not None:
            raise error
        else:
            then(done.result())


class Teller(Generic[Found]):
    """Hands on what a piece of work has found so far. It belongs to the thread of that work."""

    def __init__(self, wanted: Callable[[], bool], tell: Callable[[Found], object]) -> None:
        self._wanted, self._tell = wanted, tell

    def go_on(self) -> None:
        """Raises Overtaken where nobody waits any more."""
        if not self._wanted():
            raise Overtaken

    def tell(self, found: Found) -> None:
        """Hand on what there is so far. Raises Overtaken as `go_on` does."""
        self.go_on()
        self._tell(found)
