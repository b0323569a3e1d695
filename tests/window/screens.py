"""Pictures of every stage and view of the window, in every theme and at two sizes, to look at.

    python -m tests.window.screens OUT [BOOK [VIEW]]

OUT is a folder; BOOK a book file or a draft, the demo book's draft unless given; VIEW the name of
one view alone. What is drawn is the real window on a copy of the book.
"""

from __future__ import annotations

import os
import sys
import tempfile
import tomllib
from collections.abc import Callable
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QEventLoop, QSettings, QTimer
from PySide6.QtTest import QSignalSpy
from PySide6.QtWidgets import QApplication
from reglet.bookfile.file import BookFile
from reglet.exchange.reading import read_draft
from reglet.manuscript.arranging import retitle
from reglet.manuscript.editing import pass_stage, set_sheet
from reglet.manuscript.scene import SceneSheet, Verdict
from reglet.manuscript.stage import Stage
from reglet.voice.reading_order import Place
from reglet.window.application import Application
from reglet.window.theme import THEMES, Theme

from tests.window.listening.fakes import QuickVoice, SilentSpeaker, VoicesInTest

DEMO = Path(__file__).resolve().parents[2] / "demo_book" / "draft.docx"
SIZES = ((1280, 800), (1920, 1080))
LONGEST_WAIT_MS = 60_000


def wait_for(signal: object, longest_ms: int = LONGEST_WAIT_MS) -> None:
    loop = QEventLoop()
    signal.connect(loop.quit)  # type: ignore[attr-defined]
    QTimer.singleShot(longest_ms, loop.quit)
    loop.exec()


def pause(ms: int) -> None:
    loop = QEventLoop()
    QTimer.singleShot(ms, loop.quit)
    loop.exec()


def book_in(source: Path, folder: Path) -> Path:
    """A book file made in `folder` from a draft, or copied from a book."""
    made = folder / "book.reglet"
    if source.suffix == ".reglet":
        with BookFile.open(source, read_only=True) as file:
            book = file.book
    else:
        book = read_draft(source).book()
    BookFile.create(made, book).close()
    return made


class Pictures:
    """Takes the pictures, one after another, of one application."""

    def __init__(self, application: Application, out: Path) -> None:
        self._application, self._out = application, out
        self._window = application.window

    def take(self, name: str, theme: Theme, size: tuple[int, int]) -> None:
        self._window.resize(*size)
        self._window.story_work.first_read.text.finish()
        pause(250)
        QApplication.sendPostedEvents()  # else what came a moment ago is not laid out yet
        path = self._out / f"{name}-{theme.name}-{size[0]}.png"
        self._window.grab().save(str(path))
        print(path)

    def views(self) -> list[tuple[str, Callable[[], None]]]:
        """Each view's name, and how to come to it from the one before."""
        window = self._window

        def stage(wanted: Stage) -> Callable[[], None]:
            def enter() -> None:
                window.views.close_bars()
                window.views.show_page()
                window.page.close_card()
                if window.desk.stage is not wanted:
                    finished = QSignalSpy(window.examining.finished)
                    window.enter(wanted)
                    if not finished.count():  # a stage without overlays is done at once
                        finished.wait(LONGEST_WAIT_MS)

            return enter

        def at_query(wanted: Stage) -> Callable[[], None]:
            def enter() -> None:
                stage(wanted)()
                window.page.editor.moveCursor(window.page.editor.textCursor().MoveOperation.Start)
                window.page.step_query(1)
                window.page.step_query(1)

            return enter

        def settle() -> None:
            stage(Stage.PROOF)()
            scenes = window.desk.book.texts
            for _ in range(LONGEST_WAIT_MS // 500):
                found = (q for scene in scenes for q in window.examining.queries(scene.id))
                query = next((each for each in found if each.choice and not each.chapter), None)
                if query is not None:
                    window.settling.ask(query)
                    pause(3000)
                    return
                pause(500)

        def scene_by_scene() -> None:
            stage(Stage.STRUCTURE)()
            window.story_work.show_book()
            pause(5000)  # the facts of the story are read, and drawn as they come

        def notes_in_order() -> None:
            stage(Stage.FIRST_READ)()
            window.story_work.show_first_read()
            window.story_work.first_read.text.finish()
            window.story_work.first_read._turn_over()

        def listen() -> None:
            stage(Stage.PROOF)()
            work = window.listening_work
            work.loading.at_hand = VoicesInTest(QuickVoice(word_s=1.0))
            device = SilentSpeaker()
            work.loading.new_device = lambda: device
            assert window.desk.scene is not None
            work.play_from(Place(window.desk.scene.id, 1))  # behind the chapter's heading
            wait_for(work.word_said)
            pause(3000)
            work.pause()

        return [
            ("first-read", stage(Stage.FIRST_READ)),
            ("notes-in-order", notes_in_order),
            ("structure", stage(Stage.STRUCTURE)),
            ("scene-by-scene", scene_by_scene),
            ("line", at_query(Stage.LINE)),
            ("white-space", window.line_work.show_white_space),
            ("read-again", window.line_work.show_again),
            ("history", window.views.show_history),
            ("book-history", window.views.show_book_history),
            ("offcuts", window.views.show_offcuts),
            ("facts", window.views.show_facts),
            ("keys", lambda: window.views.show_help(self._application.commands.sections())),
            ("find", lambda: window.views.find(replacing=True)),
            ("proof", at_query(Stage.PROOF)),
            ("heard", window.by_ear.hearing.show_view),
            ("voices", window.by_ear.voices.show_view),
            ("names-said", window.by_ear.names.show_view),
            ("sound-files", window.by_ear.away.show_view),
            ("settle", settle),
            ("send-out", stage(Stage.SEND_OUT)),
            ("listening", listen),
        ]

    def work_a_little(self) -> None:
        """Do what a writer would have done by now, so that there is something to see: titles, a
        filled sheet, stages passed, a passage cut, a sentence rewritten, a snapshot between.
        """
        desk, page = self._window.desk, self._window.page
        for scene, title in zip(desk.book.scenes, demo_titles(), strict=False):
            desk.perform("Rename", lambda book, id=scene.id, to=title: retitle(book, id, to))
        scenes = desk.book.scenes
        for number, scene in enumerate(scenes):
            for stage in (Stage.STRUCTURE, Stage.LINE)[: 2 if number < 3 else number < 9]:
                desk.amend(scene.id, lambda b, id=scene.id, st=stage: pass_stage(b, id, st))
        scene = scenes[min(3, len(scenes) - 1)]
        desk.show_scene(scene.id)
        self._window.keep("Before the knife", "")
        middle = len(scene.passage.paragraphs) // 2
        start = scene.passage.starts[middle]
        page.editor.select(start, start + len(scene.passage.paragraphs[middle].text) + 1)
        self._window.page_work.cut_selection()
        page.editor.select(0, 0)
        page.editor.textCursor().insertText("It was an old book. ")
        page.editor.select(0, 0)
        sheet = SceneSheet(
            happens="A page is found cut out of the ledger",
            changes="She can no longer trust the count",
            who=("Isaura", "Dorrel"),
            eyes="Isaura",
            where="the composing room",
            when="Tuesday, before light",
            threads=("the ledger", "the lamp"),
            verdict=Verdict.KEEP,
        )
        desk.amend(scene.id, lambda book: set_sheet(book, scene.id, sheet))


def demo_titles() -> list[str]:
    """The names that the demo book's writer has for its scenes."""
    told = tomllib.loads((DEMO.parent / "book.toml").read_text(encoding="utf-8"))
    return [scene["title"] for chapter in told["chapters"] for scene in chapter["scenes"]]


def main() -> None:
    out = Path(sys.argv[1])
    source = Path(sys.argv[2]).resolve() if len(sys.argv) > 2 else DEMO
    out.mkdir(parents=True, exist_ok=True)
    app = QApplication([])
    with tempfile.TemporaryDirectory() as folder:
        settings = QSettings(str(Path(folder) / "settings.ini"), QSettings.Format.IniFormat)
        application = Application(app, settings)
        pictures = Pictures(application, out)
        window = application.window
        application.start(None)
        for theme in THEMES:
            application.dress(theme)
            for size in SIZES:
                pictures.take("first-start", theme, size)
        if source.suffix != ".reglet":
            application.opening.read(source)
            wait_for(application.opening.proposed)
            for theme in THEMES:
                application.dress(theme)
                for size in SIZES:
                    pictures.take("bring-in", theme, size)
        application.opening.open(book_in(source, Path(folder)))
        if source == DEMO:
            pictures.work_a_little()
        for name, enter in pictures.views():
            if name not in (sys.argv[3:] or [name]):
                continue
            enter()
            for theme in THEMES:
                application.dress(theme)
                for size in SIZES:
                    pictures.take(name, theme, size)
        window.close()


if __name__ == "__main__":
    main()
