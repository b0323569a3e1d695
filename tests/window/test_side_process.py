"""The process beside the window: it answers, is started again, and leaves nothing behind."""

from __future__ import annotations

import threading
from multiprocessing.connection import Connection

import pytest
import shiboken6
from pytestqt.qtbot import QtBot
from reglet.window.side_process import SideProcess

LONG = 20_000


def chatter(pipe: Connection) -> None:
    """Answers without end, as an examiner does with a whole book to go."""
    pipe.recv()
    while True:
        pipe.send("said")


def echo(pipe: Connection) -> None:
    while True:
        pipe.send(pipe.recv())


def test_it_answers_in_turn(qtbot: QtBot) -> None:
    side, heard = SideProcess(echo), []
    side.answered.connect(heard.append)
    for number in range(5):
        side.send(number)
    qtbot.waitUntil(lambda: heard == [0, 1, 2, 3, 4], timeout=LONG)
    side.close()


@pytest.mark.parametrize("turn", range(5))
def test_it_can_be_deleted_while_it_still_talks(turn: int, qtbot: QtBot) -> None:
    before = threading.active_count()
    side = SideProcess(chatter)
    with qtbot.waitSignal(side.answered, timeout=LONG):
        side.send("speak")
    process = side.process
    side.close()
    shiboken6.delete(side)
    assert process is not None and not process.is_alive()
    assert threading.active_count() <= before


def test_nothing_starts_once_it_is_closed(qtbot: QtBot) -> None:
    side = SideProcess(echo)
    side.close()
    side.send("late")
    assert side.process is None


def test_a_lost_process_is_replaced(qtbot: QtBot) -> None:
    side = SideProcess(echo)
    with qtbot.waitSignal(side.answered, timeout=LONG):
        side.send(1)
    process = side.process
    assert process is not None
    with qtbot.waitSignal(side.lost, timeout=LONG):
        process.kill()
    with qtbot.waitSignal(side.answered, timeout=LONG) as answer:
        side.send(2)
    assert answer.args == [2]
    side.close()
