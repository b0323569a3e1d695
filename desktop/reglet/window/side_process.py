"""A process beside the window: asked for here, its answers told of by a signal."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from threading import Thread

from PySide6.QtCore import QObject, Signal

from reglet.window import beside


class SideProcess(QObject):
    """Runs `work` on its end of a pipe, from when it is first sent something until it is closed.

    A thread reads the answers and one writes the questions, as turning a whole book into bytes
    takes a while. `close` waits for both, since neither may outlive this object.
    """

    answered = Signal(object)
    """What the process sent."""
    lost = Signal()
    """The process has ended unasked and forgotten all it was told; the next question starts
    another.
    """
    _read_out = Signal(object)

    def __init__(self, work: Callable[[Connection], None], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._work = work
        self._process: BaseProcess | None = None
        self._pipe: Connection | None = None
        self._reader: Thread | None = None
        self._writer = ThreadPoolExecutor(max_workers=1, thread_name_prefix="asking")
        self._closed = False
        self._read_out.connect(self._lose)

    @property
    def process(self) -> BaseProcess | None:
        """The process while there is one."""
        return self._process

    def send(self, question: object) -> None:
        """Ask, in turn with what was asked before."""
        if self._closed:
            return
        if self._pipe is None:
            self._start()
        pipe = self._pipe

        def write() -> None:
            try:
                if pipe is not None:
                    pipe.send(question)
            except OSError:
                pass  # the process has ended, which the reader tells

        self._writer.submit(write)

    def close(self) -> None:
        """End the process, for good."""
        self._closed = True
        if self._process is not None:
            # With the process its end of the pipe goes, and so both threads come to their ends.
            self._process.terminate()
            self._process.join()
        self._writer.shutdown(cancel_futures=True)
        if self._reader is not None:
            self._reader.join()
        self._process = self._pipe = self._reader = None

    def _start(self) -> None:
        self._process, self._pipe = beside.start(self._work)
        self._reader = Thread(target=self._read, args=(self._pipe,), daemon=True)
        self._reader.start()

    def _read(self, pipe: Connection) -> None:
        try:
            while not self._closed:
                self.answered.emit(pipe.recv())
        except (EOFError, OSError):
            self._read_out.emit(pipe)

    def _lose(self, pipe: Connection) -> None:
        if pipe is self._pipe:
            self._process = self._pipe = self._reader = None
            self.lost.emit()
