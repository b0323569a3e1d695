"""From the window, every snapshot of a scene is come back to exactly, all of it or one place."""

from __future__ import annotations

from collections.abc import Callable
from random import Random

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot
from reglet.bookfile.snapshot import NOW, Reason
from reglet.manuscript.book import Book
from reglet.manuscript.difference import difference
from reglet.manuscript.paragraph import Paragraph, Span, SpanKind, Style
from reglet.manuscript.passage import Passage
from reglet.window.history import HistoryView
from reglet.window.main_window import MainWindow
from reglet.window.snapshot_line import SnapshotLine

from tests.window.reaching import button, press

OPERATIONS = 50
EVERY = 6
WORDS = "tide lamp Ánna e\u0301t\u00e9 🐚 wood-stove o’clock “No,” — … 3,120 mill".split()
STYLES = [style for style in Style if style is not Style.SCENE_BREAK]
SPANS = [kind for kind in SpanKind if kind is not SpanKind.LANGUAGE]


def some_passage(random: Random) -> Passage:
    """A paragraph or three, in any style, with spans on them."""
    paragraphs = []
    for _ in range(random.randint(1, 3)):
        text = " ".join(random.choices(WORDS, k=random.randint(0, 6)))
        spans = []
        for _ in range(random.randint(0, 2)):
            start = random.randint(0, len(text))
            spans.append(Span(start, random.randint(start, len(text)), random.choice(SPANS)))
        paragraphs.append(Paragraph(text, random.choice(STYLES), tuple(spans)))
    return Passage(tuple(paragraphs))


def edited(passage: Passage, random: Random) -> Passage:
    start = random.randint(0, len(passage))
    end = min(len(passage), start + random.choice([0, 0, 3, 12, 60]))
    fragment = random.choice([some_passage(random), Passage.plain(""), some_passage(random)])
    return passage.replace(start, end, fragment)


def open_history(window: MainWindow) -> tuple[HistoryView, SnapshotLine]:
    window.views.show_history()
    view = window.views.history
    return view, view.findChildren(SnapshotLine)[0]


def choose(qtbot: QtBot, line: SnapshotLine, snapshot: str) -> None:
    """Move the earlier mark along the line until it stands on a snapshot, the present opposite."""
    for key in (Qt.Key.Key_Left, Qt.Key.Key_Right):
        for _ in range(100):
            if line.states() == (snapshot, NOW):
                return
            before = line.states()
            qtbot.keyClick(line, key)
            if line.states() == before:
                break
    raise AssertionError(f"snapshot {snapshot} is not on the line")


@pytest.mark.parametrize("seed", [1, 2])
def test_fifty_operations_with_snapshots_between(
    window: MainWindow, qtbot: QtBot, stored: Callable[[], Book], seed: int
) -> None:
    random = Random(seed)
    desk = window.desk
    kept: dict[str, Passage] = {}
    assert window.file is not None
    for number in range(OPERATIONS):
        if random.random() < 0.15:
            random.choice([desk.undo_text, desk.redo_text])()
        else:
            desk.rewrite("lamp", edited(desk.book.scene("lamp").passage, random))
        if number % EVERY == 0:
            window.keep(f"after {number}", random.choice(["", "lamp"]))
            kept[window.file.snapshots("lamp")[-1].id] = desk.book.scene("lamp").passage
    view, line = open_history(window)
    for snapshot in random.sample(sorted(kept), len(kept)):
        before = desk.book
        choose(qtbot, line, snapshot)
        if before.scene("lamp").passage == kept[snapshot]:
            assert not button(view, "Roll back the scene").isEnabled()
            continue
        press(view, "Roll back the scene")
        assert desk.book.scene("lamp").passage == kept[snapshot]
        assert window.page.editor.passage == kept[snapshot]
        latest = window.file.snapshots("lamp")[-1]
        assert latest.reason is Reason.BEFORE_ROLL_BACK
        assert window.file.scene_state(latest.id, "lamp").passage == before.scene("lamp").passage
        assert desk.book.scene("salt") is before.scene("salt")
    window.put_book_away()
    assert stored() == desk.book


@pytest.mark.parametrize("seed", range(4))
def test_one_place_alone_is_rolled_back(window: MainWindow, qtbot: QtBot, seed: int) -> None:
    random = Random(seed)
    desk = window.desk
    then = Passage.plain(" ".join(random.choices(WORDS, k=60)))
    desk.rewrite("lamp", then)
    window.keep("", "lamp")
    now = then
    while len(difference(then, now).changed) < 3:
        now = edited(now, random)
    desk.rewrite("lamp", now)
    view, _ = open_history(window)
    found = difference(then, now)
    place = random.randrange(len(found.changed))
    assert not button(view, "Roll back this place").isEnabled()
    for _ in range(place + 1):
        qtbot.keyClick(view, Qt.Key.Key_J)
    press(view, "Roll back this place")
    assert desk.book.scene("lamp").passage == found.taken_back(place)
    assert len(difference(then, desk.book.scene("lamp").passage).changed) < len(found.changed)
    desk.undo_text()
    assert desk.book.scene("lamp").passage == now


def test_rolling_back_is_undone_in_one_step(window: MainWindow) -> None:
    desk = window.desk
    window.keep("", "lamp")
    written = Passage.plain("Nothing of it was left.")
    desk.rewrite("lamp", written)
    then = window.file.scene_state(window.file.snapshots("lamp")[-1].id, "lamp")  # type: ignore[union-attr]
    view, _ = open_history(window)
    press(view, "Roll back the scene")
    assert desk.book.scene("lamp").passage == then.passage
    desk.undo_text()
    assert desk.book.scene("lamp").passage == written


def test_a_scene_without_snapshots_says_so(window: MainWindow) -> None:
    view, _ = open_history(window)
    assert not button(view, "Roll back the scene").isEnabled()
    press(view, "Take a snapshot")
    assert window.file is not None
    assert len(window.file.snapshots("lamp")) == 1
    assert not button(view, "Roll back the scene").isEnabled()  # nothing has changed since


def test_the_view_follows_the_scene_and_gives_way_to_the_page(
    window: MainWindow, qtbot: QtBot
) -> None:
    view, line = open_history(window)
    window.desk.show_scene("mill")
    press(view, "Take a snapshot")
    assert window.file is not None
    assert [s.scenes for s in window.file.snapshots("mill")] == [("mill",)]
    qtbot.keyClick(line, Qt.Key.Key_Escape)
    assert window.paper.views.currentWidget() is window.page


def test_the_latest_snapshot_that_reads_otherwise_is_compared_first(window: MainWindow) -> None:
    assert window.file is not None
    for text in ("One.", "Two.", "Two."):
        window.desk.rewrite("lamp", Passage.plain(text))
        window.keep(text, "lamp")
    first, _, third = (each.id for each in window.file.snapshots("lamp"))
    _, line = open_history(window)
    assert line.states() == (first, NOW)
    window.views.show_page()
    window.desk.rewrite("lamp", Passage.plain("Three."))
    _, line = open_history(window)
    assert line.states() == (third, NOW)
