"""Whether the window's memory grows with the hours: a writer's hours of work, without the pauses.

    python -m tests.benchmarks.long_hours [HOURS]

An hour is 9,000 keys pressed in 300 places of 60 scenes, 60 acts undone, 24 stages entered, 36
views opened and 300 queries stepped to, of which some are let stand. The book is the demo's,
repeated to 120,000 words. The writer never turns to another program. After each twelfth of an hour
stands, in MiB, what this process keeps in memory (Linux's resident set), its ratio to that after
the first twelfth, how many blocks of memory Python has in use, how many acts can be undone, and
what the examiner's process keeps.
"""

from __future__ import annotations

import gc
import os
import sys
import tempfile
from dataclasses import replace
from itertools import cycle, islice
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QSettings, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from reglet.bookfile.file import BookFile
from reglet.exchange.reading import read_draft
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.manuscript.stage import Stage
from reglet.window.application import Application

from tests.benchmarks.window_latency import DEMO, TYPED, paragraphs_of, wait

BOOK_WORDS, SCENE_WORDS, SCENES_A_CHAPTER = 120_000, 1_500, 4
TWELFTHS = 12
SCENES, PLACES, KEYS = 5, 5, 30
"""In a twelfth of an hour: scenes opened, places in each, keys pressed at each."""
STAGES = (Stage.STRUCTURE, Stage.LINE, Stage.PROOF)


def book() -> Book:
    source = [p for scene in read_draft(DEMO).book().scenes for p in scene.passage.paragraphs]
    # Each paragraph is made unlike all others, as what is kept of equal ones is kept once.
    unlike = (
        replace(each, text=f"{each.text} Tide {number} went out.")
        for number, each in enumerate(cycle(source))
    )
    scenes = [
        Scene(f"s{at}", f"Scene {at}", Passage.of(paragraphs_of(SCENE_WORDS, unlike)))
        for at in range(BOOK_WORDS // SCENE_WORDS)
    ]
    chapters = tuple(
        Chapter(f"c{at}", f"Chapter {at}", tuple(scenes[at : at + SCENES_A_CHAPTER]))
        for at in range(0, len(scenes), SCENES_A_CHAPTER)
    )
    return Book("Book", "", (Part("p", "", chapters),))


class Writer:
    """At work; `at` counts the scenes opened."""

    def __init__(self, application: Application) -> None:
        self.window = application.window
        self.at = 0
        self._stages = cycle(STAGES)

    def twelfth(self) -> None:
        """Five minutes' work."""
        for _ in range(2):
            self.window.enter(next(self._stages))
            wait(200)
        for _ in range(SCENES):
            self._scene()
        window = self.window
        for view in (
            window.views.show_history,
            window.views.show_facts,
            window.line_work.show_white_space
            if window.desk.stage is Stage.LINE
            else window.story_work.show_book
            if window.desk.stage is Stage.STRUCTURE
            else window.by_ear.hearing.show_view,
        ):
            view()
            wait(200)
            window.views.show_page()
        wait(3000)  # the examiner comes to the whole book

    def _scene(self) -> None:
        window, editor = self.window, self.window.page.editor
        scenes = window.desk.book.scenes
        window.desk.show_scene(scenes[7 * self.at % len(scenes)].id)
        self.at += 1
        wait(50)
        for place in range(PLACES):
            spot = len(editor.passage) * (place + 1) // (PLACES + 1)
            editor.select(spot, spot)
            for key in islice(cycle(TYPED), KEYS):
                QTest.keyClick(editor, key)
                QApplication.processEvents()
        window.desk.undo_text()
        for step in range(5):
            window.page.step_query(1)
            wait(20)
            if step % 3 == 0 and window.page.card.query is not None:
                QTest.keyClick(window.page.card, Qt.Key.Key_S)
        window.page.close_card()


def resident(pid: int | str = "self") -> float:
    """What a process keeps in memory, in MiB."""
    pages = int(Path(f"/proc/{pid}/statm").read_text("ascii").split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE") / 2**20


def main() -> None:
    hours = float(sys.argv[1]) if len(sys.argv) > 1 else 1.0
    app = QApplication([])
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "book.reglet"
        BookFile.create(path, book()).close()
        settings = QSettings(str(Path(folder) / "settings.ini"), QSettings.Format.IniFormat)
        application = Application(app, settings)
        application.window.resize(1280, 800)
        application.start(path)
        wait(5000)
        print(f"opened: {resident():.0f} MiB", flush=True)
        writer, first = Writer(application), 0.0
        for number in range(1, round(hours * TWELFTHS) + 1):
            writer.twelfth()
            kept = resident()
            first = first or kept
            examiner = application.window.examining.examiner.process
            undoable = sum(len(each.past) for each in application.window.desk._timelines.values())
            print(
                f"{60 * number // TWELFTHS:3} min: {kept:5.0f} MiB, {kept / first:4.2f}×;"
                f" {sys.getallocatedblocks():,} blocks; {undoable:,} acts;"
                f" examiner {resident(examiner.pid) if examiner and examiner.pid else 0:.0f} MiB",
                flush=True,
            )
        left = gc.collect()
        print(f"a full sweep finds {left:,} objects and leaves {resident():.0f} MiB")
        application.window.close()


if __name__ == "__main__":
    main()
