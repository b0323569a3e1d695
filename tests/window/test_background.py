"""Work beside the interface: what it gives comes back, in order, as long as it is waited for."""

from __future__ import annotations

from threading import Event

import shiboken6
from PySide6.QtCore import QCoreApplication
from pytestqt.qtbot import QtBot
from reglet.errors import RegletError
from reglet.window.background import Background, Overtaken, Teller


def test_what_is_found_on_the_way_comes_before_the_whole(qtbot: QtBot) -> None:
    background, came = Background(), []

    def work(teller: Teller[int]) -> int:
        teller.tell(1)
        teller.tell(2)
        return 3

    background.do_telling("count", work, came.append)
    qtbot.waitUntil(lambda: came == [1, 2, 3])
    background.close()


def test_what_is_overtaken_ends_and_is_left_aside(qtbot: QtBot) -> None:
    background, came, ended = Background(), [], []
    begun, go_on = Event(), Event()

    def work(teller: Teller[str]) -> str:
        begun.set()
        go_on.wait(10)
        try:
            teller.go_on()
        except Overtaken:
            ended.append("overtaken")
            raise
        return "old"

    background.do_telling("word", work, came.append)
    begun.wait(10)
    background.do("word", lambda: "new", came.append)
    go_on.set()
    qtbot.waitUntil(lambda: came == ["new"] and ended == ["overtaken"])
    background.close()


def test_a_sentence_says_why_there_is_nothing(qtbot: QtBot) -> None:
    background = Background()

    def work() -> None:
        raise RegletError("It could not be done.")

    with qtbot.waitSignal(background.failed) as said:
        background.do("work", work, lambda _: None)
    assert said.args == ["It could not be done."]
    background.close()


def test_closing_waits_and_nothing_speaks_afterwards(qtbot: QtBot) -> None:
    for _ in range(20):
        background, came = Background(), []
        background.do("one", lambda: 1, came.append)
        background.do("two", lambda: 2, came.append)
        background.close()
        background.do("three", lambda: 3, came.append)
        shiboken6.delete(background)
        QCoreApplication.processEvents()
        assert came == []
