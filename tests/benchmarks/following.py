"""How closely the page follows the voice, and whether typing feels that it speaks.

    python -m tests.benchmarks.following [--seconds 30] [--voice quick|real] [--sound clock|system]
    python -m tests.benchmarks.following --typing
    python -m tests.benchmarks.following --frames FOLDER [--theme dark] [--ruler]

For each word the time is taken at which its mark is painted, and held against the time at which the
device had played the word's first sample: by a device that runs by the clock and makes no sound, or
by the system's own loudspeaker. `--typing` types into the same scene meanwhile and tells how long a
key takes, with the voice and without. `--frames` keeps a picture of the page at each word, named by
the word and by how late its mark was.
"""

from __future__ import annotations

import argparse
import os
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QSettings, Qt, QTimer
from PySide6.QtGui import QPaintEvent, QPixmap
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from reglet.manuscript.stage import Stage
from reglet.voice.flags import Spot
from reglet.voice.listening import Listening
from reglet.voice.moment import State
from reglet.window.application import Application
from reglet.window.page.followed import FollowedEditor
from reglet.window.theme import THEMES

from tests.window.listening.fakes import QuickVoice, SilentSpeaker, VoicesInTest
from tests.window.screens import DEMO, book_in, pause, wait_for

_WORD_S = 0.3
_BEAT_MS = 10
_TYPED_AT = 700
"""Where keys are typed: behind what is read meanwhile, and in view."""


@dataclass
class Watch:
    """What is noted while the window runs."""

    application: Application
    frames: Path | None
    late: list[float] = field(default_factory=list)
    seen: set[tuple[str, int]] = field(default_factory=set)
    beats: list[float] = field(default_factory=list)
    last: float = 0.0
    pictures: dict[str, QPixmap] = field(default_factory=dict)

    def beat(self) -> None:
        now = time.perf_counter()
        if self.last:
            self.beats.append((now - self.last) * 1000)
        self.last = now

    def painted(self, editor: FollowedEditor, event: QPaintEvent) -> None:
        """The page has been painted: which word it marks, and how long that has been heard."""
        reader = self.application.window.listening_work.reader
        said = editor.said
        if said is None or not isinstance(reader, Listening) or reader.state is not State.PLAYING:
            return
        top = editor.line_top()
        if top is None or not event.rect().top() <= top + 8 <= event.rect().bottom():
            return
        begun = begun_before(reader, said)
        if begun is None or (said.scene, said.start) in self.seen:
            return
        self.seen.add((said.scene, said.start))
        self.late.append(begun * 1000)
        if self.frames is not None:
            word = editor.passage.text[said.start : said.end]
            name = f"{len(self.late):03d}-{word}-{begun * 1000:.0f}ms.png"
            QTimer.singleShot(0, lambda: self._keep(name))

    def _keep(self, name: str) -> None:
        self.pictures[name] = self.application.window.page.grab()

    def save(self) -> None:
        """Write the pictures: afterwards, as it takes longer than a word."""
        for name, picture in self.pictures.items():
            if self.frames is not None:
                picture.save(str(self.frames / name))


def begun_before(reader: Listening, said: Spot) -> float | None:
    """How many seconds ago a word was begun, by the device's clock; None if it is not on it."""
    for each in reader._on_device:
        if each.piece.scene == said.scene and not each.piece.heading:
            for word in each.spoken.words:
                if each.piece.start + word.start == said.start:
                    return reader._clock() - (each.begins + word.begins) / reader._speaker.rate
    return None


class WatchedPages:
    """Lets a `Watch` know of every paint: Qt looks a method up when the widget is made."""

    def __init__(self) -> None:
        self.watch: Watch | None = None
        paint = FollowedEditor.paintEvent

        def watched(editor: FollowedEditor, event: QPaintEvent) -> None:
            paint(editor, event)
            if self.watch is not None:
                self.watch.painted(editor, event)

        FollowedEditor.paintEvent = watched  # type: ignore[method-assign]


def spread(values: Sequence[float]) -> str:
    if not values:
        return "none"
    ordered = sorted(values)

    def at(share: float) -> float:
        return ordered[min(len(ordered) - 1, int(share * len(ordered)))]

    return (
        f"median {at(0.5):.1f}, 95 % {at(0.95):.1f}, 99 % {at(0.99):.1f}, most {ordered[-1]:.1f} ms"
        f" ({len(ordered)})"
    )


def stand_at(editor: FollowedEditor, position: int) -> None:
    cursor = editor.textCursor()
    cursor.setPosition(position)
    editor.setTextCursor(cursor)


def typed(window_pause: int, seconds: float, editor: FollowedEditor) -> list[float]:
    """Keys typed for so many seconds: how long each took, painting included."""
    took = []
    end = time.perf_counter() + seconds
    while time.perf_counter() < end:
        begun = time.perf_counter()
        QTest.keyClick(editor, Qt.Key.Key_A)
        QApplication.processEvents()
        took.append((time.perf_counter() - begun) * 1000)
        pause(window_pause)
    return took


def run(asked: argparse.Namespace, application: Application, watch: Watch) -> None:
    window = application.window
    work = window.listening_work
    device = SilentSpeaker(1.0)
    if asked.voice == "quick":
        work.loading.at_hand = VoicesInTest(QuickVoice(_WORD_S))
    if asked.sound == "clock":
        work.loading.new_device = lambda: device
    follow = not asked.typing
    work.choose(replace(work.choices, follow=follow, ruler=asked.ruler))
    window.enter(Stage.PROOF)
    wait_for(window.examining.finished)
    pause(1000)
    if asked.typing:
        stand_at(window.page.editor, _TYPED_AT)
        print("a key, in silence:   ", spread(typed(120, asked.seconds / 2, window.page.editor)))
        stand_at(window.page.editor, 0)
    begun = time.perf_counter()
    work.play_from_cursor()
    print(f"play() returned after  {(time.perf_counter() - begun) * 1000:.1f} ms")
    while not watch.late and time.perf_counter() - begun < 120:
        pause(5)
    print(f"first word after       {time.perf_counter() - begun:.2f} s")
    watch.beats.clear()
    if asked.typing:
        stand_at(window.page.editor, _TYPED_AT)
        print("a key, while it reads:", spread(typed(120, asked.seconds, window.page.editor)))
    else:
        pause(round(asked.seconds * 1000))
    print("word marked after      ", spread(watch.late))
    print(f"beats of {_BEAT_MS} ms took   ", spread(watch.beats))
    underruns = work.reader.underruns if work.reader is not None else 0
    print(f"underruns {underruns}, device dry {device.ran_dry}, {work.state}")


def main() -> None:
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--seconds", type=float, default=30.0)
    parser.add_argument("--voice", choices=("quick", "real"), default="quick")
    parser.add_argument("--sound", choices=("clock", "system"), default="clock")
    parser.add_argument("--typing", action="store_true")
    parser.add_argument("--ruler", action="store_true")
    parser.add_argument("--frames", type=Path)
    parser.add_argument("--theme", choices=[theme.name for theme in THEMES], default="light")
    parser.add_argument("--size", type=int, nargs=2, default=(1280, 800))
    asked = parser.parse_args()
    if asked.frames is not None:
        asked.frames.mkdir(parents=True, exist_ok=True)
    pages = WatchedPages()
    app = QApplication([])
    with tempfile.TemporaryDirectory() as folder:
        os.environ["XDG_CACHE_HOME"] = folder  # no sentence is there before it is made
        settings = QSettings(str(Path(folder) / "settings.ini"), QSettings.Format.IniFormat)
        application = Application(app, settings)
        application.start(None)
        application.dress(next(theme for theme in THEMES if theme.name == asked.theme))
        application.window.resize(*asked.size)
        application.opening.open(book_in(DEMO, Path(folder)))
        pages.watch = Watch(application, asked.frames)
        beat = QTimer(interval=_BEAT_MS, timerType=Qt.TimerType.PreciseTimer)
        beat.timeout.connect(pages.watch.beat)
        beat.start()
        run(asked, application, pages.watch)
        pages.watch.save()
        application.window.close()


if __name__ == "__main__":
    main()
