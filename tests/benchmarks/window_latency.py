"""How long the writer waits: from a key press to the painted page, and from a file to its page.

    python -m tests.benchmarks.window_latency [--first]

Prints each figure beside the same for a bare QTextEdit with the same text and face, measured in the
same run. The text is the demo book's, repeated to 10,000 words for one scene and to 120,000 for a
book. Keys are pressed every 60 ms, as a quick typist does, in the middle of the scene, with all
overlays of the stage on, while the examiner's process works on what was typed; and once more while
it is all the time at work on the whole book, read from nothing again and again. At the end 200,000
words with emphasis are pasted in. Beside the clock
stands the processor time of the interface thread, which a busy machine does not blur. With
`--first` (Linux, for who may) this process's threads, but not those of the processes that it
starts, go before all else that runs, so that the clock tells what it would on a machine that nobody
else uses.
"""

from __future__ import annotations

import os
import sys
import tempfile
import time
from collections.abc import Iterable
from dataclasses import dataclass, field
from itertools import cycle, islice
from pathlib import Path
from statistics import median, quantiles

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QEvent, QEventLoop, QMimeData, QObject, QSettings, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QTextEdit
from reglet.bookfile.file import BookFile
from reglet.exchange.reading import read_draft
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.paragraph import Paragraph
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.manuscript.stage import Stage
from reglet.manuscript.words import count_words
from reglet.window.application import Application

DEMO = Path(__file__).resolve().parents[2] / "demo_book" / "draft.docx"
SCENE_WORDS, BOOK_WORDS, PASTED_WORDS = 10_000, 120_000, 200_000
KEYS, PAUSE_MS = 300, 60
TYPED = "the tide had turned, and nobody on the bank said so. "
FRAME_MS = 1000 / 60


class Painted(QObject):
    """Sees when a viewport is painted."""

    def __init__(self, editor: QTextEdit) -> None:
        super().__init__()
        self.at = 0.0
        editor.viewport().installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Paint:
            self.at = time.perf_counter()
        return False


def wait(ms: int) -> None:
    loop = QEventLoop()
    QTimer.singleShot(ms, loop.quit)
    loop.exec()


def examined(application: Application) -> None:
    loop = QEventLoop()
    application.window.examining.finished.connect(loop.quit)
    QTimer.singleShot(120_000, loop.quit)
    loop.exec()


@dataclass
class Taken:
    """Milliseconds that each key took, by the clock and of the interface thread's processor time,
    until the event loop was idle after its painting.
    """

    clock: list[float] = field(default_factory=list)
    processor: list[float] = field(default_factory=list)


def key_to_paint(app: QApplication, editor: QTextEdit) -> Taken:
    """Press `KEYS` keys in the middle of a text."""
    if "--first" in sys.argv:
        go_first()
    painted = Painted(editor)
    cursor = editor.textCursor()
    cursor.setPosition(editor.document().characterCount() // 2)
    editor.setTextCursor(cursor)
    editor.ensureCursorVisible()
    wait(300)
    taken = Taken()
    for key in islice(cycle(TYPED), KEYS):
        began, worked = time.perf_counter(), time.thread_time()
        QTest.keyClick(editor, key)
        while painted.at < began:
            app.processEvents()
        app.processEvents()
        taken.clock.append(1000 * (time.perf_counter() - began))
        taken.processor.append(1000 * (time.thread_time() - worked))
        wait(PAUSE_MS)
    return taken


def always_examining(application: Application, first_ms: int) -> QTimer:
    """Have the whole book examined from nothing, by a process that knows nothing of it, as often as
    that takes.
    """
    window = application.window

    def again() -> None:
        process = window.examining.examiner.process
        if process is not None:
            process.terminate()

    timer = QTimer(interval=first_ms)
    timer.timeout.connect(again)
    window.examining.examiner.lost.connect(
        lambda: window.examining.look_at(window.desk.book, window.desk.stage, "long")
    )
    timer.start()
    return timer


def go_first() -> None:
    """Have the threads that there are now scheduled before those of others; not their children."""
    policy = os.SCHED_FIFO | os.SCHED_RESET_ON_FORK
    for thread in Path("/proc/self/task").iterdir():
        os.sched_setscheduler(int(thread.name), policy, os.sched_param(1))


def told(name: str, taken: Taken, beside: Taken | None = None) -> None:
    print(f"{name:<22}", end="")
    for by in ("clock", "processor"):
        times: list[float] = getattr(taken, by)
        print(f"  {by}: median {median(times):5.2f} ms, 95th {_95th(times):5.2f} ms", end="")
        if beside:
            print(f" ({_95th(times) / _95th(getattr(beside, by)):.1f}× bare)", end="")
    print(flush=True)


def _95th(times: list[float]) -> float:
    return quantiles(times, n=100)[94]


def paragraphs_of(words: int, source: Iterable[Paragraph]) -> list[Paragraph]:
    taken, count = [], 0
    for paragraph in cycle(source):
        if count >= words:
            return taken
        taken.append(paragraph)
        count += count_words(paragraph.text)
    return taken


def pasting(app: QApplication, editor: QTextEdit, html: str) -> float:
    """Seconds of the interface thread that it takes to paste a text, and to paint what is seen."""
    data = QMimeData()
    data.setHtml(html)
    painted = Painted(editor)
    began, worked = time.perf_counter(), time.thread_time()
    editor.insertFromMimeData(data)
    while painted.at < began:
        app.processEvents()
    return time.thread_time() - worked


def bare(application: Application, text: str) -> QTextEdit:
    editor = QTextEdit()
    editor.setFont(application.window.page.editor.document().defaultFont())
    editor.resize(application.window.page.editor.size())
    editor.setPlainText(text)
    editor.show()
    return editor


def main() -> None:
    app = QApplication([])
    source = [p for scene in read_draft(DEMO).book().scenes for p in scene.passage.paragraphs]
    long_scene = Scene("long", "Long", Passage.of(paragraphs_of(SCENE_WORDS, source)))
    sizes = range(BOOK_WORDS // 1500)
    rest = tuple(
        Scene(f"s{at}", f"Scene {at}", Passage.of(paragraphs_of(1500, source[at:]))) for at in sizes
    )
    book = Book("Book", "", (Part("p", "", (Chapter("c", "One", (long_scene, *rest)),)),))
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "book.reglet"
        BookFile.create(path, book).close()
        settings = QSettings(str(Path(folder) / "settings.ini"), QSettings.Format.IniFormat)
        application = Application(app, settings)
        window = application.window
        window.resize(1280, 800)
        application.start(None)
        wait(300)

        painted = Painted(window.page.editor)
        began = time.perf_counter()
        application.opening.open(path)
        while painted.at < began:
            app.processEvents()
        opening = time.perf_counter() - began
        whole = "\n".join(scene.passage.text for scene in book.scenes)
        began = time.perf_counter()
        editor = bare(application, whole)
        painted_bare = Painted(editor)
        while painted_bare.at < began:
            app.processEvents()
        opening_bare = time.perf_counter() - began
        editor.close()
        print(f"opening {count_words(whole):,} words to a painted page: {opening:.2f} s,", end=" ")
        print(f"{opening / opening_bare:.2f}× a bare QTextEdit ({opening_bare:.2f} s)")

        print(f"key press to paint in {count_words(long_scene.passage.text):,} words", end=" ")
        print(f"(one frame at 60 Hz is {FRAME_MS:.1f} ms)")
        editor = bare(application, long_scene.passage.text)
        beside = key_to_paint(app, editor)
        editor.close()
        told("bare QTextEdit", beside)
        for stage in (Stage.STRUCTURE, Stage.LINE, Stage.PROOF):
            window.desk.enter(stage)
            examined(application)
            marks = len(window.page.places())
            told(f"{stage.label}, {marks} marks", key_to_paint(app, window.page.editor), beside)
        window.desk.enter(Stage.LINE)
        window.examining.forget()
        began = time.perf_counter()
        process = window.examining.examiner.process
        if process is not None:
            process.terminate()
            process.join()
        wait(50)
        window.examining.look_at(window.desk.book, window.desk.stage, "long")
        examined(application)
        takes = time.perf_counter() - began
        print(f"the whole book examined in a new process: {takes:.1f} s by the clock")
        busy = always_examining(application, int(takes * 1000))
        told("Line, whole book", key_to_paint(app, window.page.editor), beside)
        busy.stop()

        long_text = paragraphs_of(PASTED_WORDS, source)
        html = "".join(f"<p>{p.text.replace(' and ', ' <i>and</i> ')}</p>" for p in long_text)
        editor = bare(application, "")
        beside_s = pasting(app, editor, html)
        editor.close()
        taken_s = pasting(app, window.page.editor, html)
        print(f"pasting {PASTED_WORDS:,} words with emphasis: {taken_s:.2f} s,", end=" ")
        print(f"{taken_s / beside_s:.2f}× a bare QTextEdit ({beside_s:.2f} s)")
        window.close()


if __name__ == "__main__":
    main()
