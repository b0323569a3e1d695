"""The process that sets the text: what it was asked is answered, even when it is lost."""

from __future__ import annotations

from collections.abc import Iterator
from multiprocessing.connection import Connection

import pytest
from pytestqt.qtbot import QtBot
from reglet.setting import PHONES, TRIMS
from reglet.window import setter as window_setter
from reglet.window.setter import Setter
from reglet.window.setter_process import AskPages, ChapterSet

from tests.window.conftest import small_book

LONG = 20_000
PAGE, PHONE = next(iter(TRIMS.values())), next(iter(PHONES.values()))


@pytest.fixture
def setter(qtbot: QtBot) -> Iterator[Setter]:
    setter = Setter()
    yield setter
    setter.close()


def kill(setter: Setter) -> None:
    assert setter.process.process is not None
    setter.process.process.kill()


def test_what_a_lost_process_has_not_answered_is_asked_again(setter: Setter, qtbot: QtBot) -> None:
    chapters: list[str | None] = []
    measured: list[str | None] = []
    setter.chapter_set.connect(lambda found: chapters.append(found.chapter))
    setter.scene_measured.connect(lambda found: measured.append(found.scene))
    with qtbot.waitSignals([setter.place_set, setter.pages_counted], timeout=LONG):
        setter.ask_place(small_book(), "salt", 0, 0, (PHONE, PAGE))
        setter.ask_pages(small_book(), PAGE)
        setter.ask_figures(small_book(), ["lamp", "mill"])
        setter.ask_count(small_book(), PAGE)
        kill(setter)
    qtbot.waitUntil(lambda: None in chapters and None in measured, timeout=LONG)
    assert chapters == ["one", "two", None]
    assert measured == ["lamp", "mill", None]


def answer_one_chapter(pipe: Connection) -> None:
    ask: AskPages = pipe.recv()
    pipe.send(ChapterSet(ask.number, ask.chapters[0].id if ask.chapters else None))


def test_what_was_answered_is_not_asked_again(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A chapter told twice would stand twice among the pages."""
    monkeypatch.setattr(window_setter, "work", answer_one_chapter)
    setter, chapters = Setter(), list[str | None]()
    setter.chapter_set.connect(lambda found: chapters.append(found.chapter))
    setter.ask_pages(small_book(), PAGE)
    qtbot.waitUntil(lambda: None in chapters, timeout=LONG)
    assert chapters == ["one", "two", None]
    setter.close()


def end_without_a_word(pipe: Connection) -> None:
    pipe.recv()


def test_one_lost_process_after_another_is_not_asked_for_ever(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(window_setter, "work", end_without_a_word)
    setter, lost = Setter(), []
    setter.process.lost.connect(lambda: lost.append(setter.process.process))
    setter.ask_pages(small_book(), PAGE)
    qtbot.waitUntil(lambda: len(lost) == 2, timeout=LONG)
    assert lost[0] is not None and lost[1] is None
    setter.close()
