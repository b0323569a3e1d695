"""The book as sound files from the window: chapters chosen, written beside it, stopped."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot
from reglet.manuscript.heard import paragraph_key
from reglet.manuscript.stage import Stage
from reglet.voice.coverage import with_hearing
from reglet.voice.cues import read_cues
from reglet.window.away_process import Done, Ended, Halt, Order, Written
from reglet.window.away_work import AwayWork
from reglet.window.controls import Tick
from reglet.window.listening_choices import ListeningChoices
from reglet.window.main_window import MainWindow

from tests.window.reaching import button, press
from tests.window.test_by_ear import said

needs_espeak = pytest.mark.skipif(shutil.which("espeak-ng") is None, reason="no espeak-ng")
PATIENCE_MS = 90_000


@pytest.fixture
def away(window: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> AwayWork:
    away = window.by_ear.away
    monkeypatch.setattr(away, "_ask", lambda: tmp_path / "sound")
    window.enter(Stage.SEND_OUT)
    press(window.send_out_room, "As sound files …")
    return away


@pytest.fixture
def orders(away: AwayWork, monkeypatch: pytest.MonkeyPatch) -> list[object]:
    """What is sent to the process, which is not there."""
    sent: list[object] = []
    monkeypatch.setattr(away._process, "send", sent.append)
    return sent


def untick(away: AwayWork, title: str) -> None:
    tick = button(away.view, title)
    assert isinstance(tick, Tick)
    tick.click()


@needs_espeak
def test_a_chapter_is_written_with_its_cues_and_a_spot_in_it_leads_back(
    away: AwayWork, window: MainWindow, tmp_path: Path, qtbot: QtBot
) -> None:
    pytest.importorskip("soundfile")
    window.listening_work.choose(ListeningChoices(voice="espeak-ng:en-us"))
    untick(away, "One")
    with qtbot.waitSignal(away.written, timeout=PATIENCE_MS):
        press(away.view, "Write them …")
    folder = tmp_path / "sound"
    assert "Written: 1 file" in said(away.view)
    cues = read_cues(folder)
    assert [chapter.number for chapter in cues.chapters] == [2]
    assert (folder / cues.chapters[0].file).stat().st_size > 1000
    window.by_ear.hearing.go_to_spot("ch. 2, 0:02")
    start, end = window.page.editor.span_selected()
    assert window.page.editor.passage.text[start:end] == "The mill turned all night."


def test_what_is_chosen_is_sent(away: AwayWork, orders: list[object], tmp_path: Path) -> None:
    press(away.view, "None")
    assert not button(away.view, "Write them …").isEnabled()
    press(away.view, "All")
    untick(away, "Two")
    press(away.view, "MP3")
    press(away.view, "Replace files of the same name")
    press(away.view, "Write them …")
    (order,) = orders
    assert isinstance(order, Order)
    assert order.folder == tmp_path / "sound"
    assert (order.wanted.chapters, order.wanted.format, order.wanted.overwrite) == (
        (1,),
        "mp3",
        True,
    )


def test_it_tells_how_far_it_is_and_is_stopped(away: AwayWork, orders: list[object]) -> None:
    press(away.view, "Write them …")
    away._answered(Done(0.25))
    assert "25% written" in said(away.view)
    assert not button(away.view, "Write them …").isEnabled()
    press(away.view, "Stop")
    assert isinstance(orders[-1], Halt)
    away._answered(Ended("Stopped. The chapters already written are whole."))
    assert "Stopped." in said(away.view)
    assert button(away.view, "Write them …").isEnabled()


def test_a_process_that_is_lost_is_told_of(away: AwayWork, orders: list[object]) -> None:
    press(away.view, "Write them …")
    away._process.lost.emit()
    assert "broke off" in said(away.view)


def test_chapters_not_heard_enough_are_picked(away: AwayWork, window: MainWindow) -> None:
    text = window.desk.book.scene("mill").passage.text
    for _ in range(window.listening_work.choices.aim):
        window.desk.remember(lambda book: with_hearing(book, "mill", paragraph_key(text)))
    window.by_ear.away.show_view()  # the page again
    window.by_ear.away.show_view()
    press(away.view, "Not yet heard enough")
    assert away.view.chapters == (1,)


def test_a_voice_of_the_systems_gives_way(
    away: AwayWork, window: MainWindow, orders: list[object]
) -> None:
    window.listening_work.choose(ListeningChoices(voice="system:test:en-GB:Anne"))
    press(away.view, "Write them …")
    (order,) = orders
    assert isinstance(order, Order)
    assert order.voice == ""
    away._answered(Written(Path("/there"), 2, 60.0))
    assert "the system’s write no files" in said(away.view)
