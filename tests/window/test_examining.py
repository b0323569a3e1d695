"""Queries come from another process, and stay true while the text changes."""

from __future__ import annotations

from collections.abc import Iterator
from multiprocessing.connection import Connection

import pytest
from pytestqt.qtbot import QtBot
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.change import Change
from reglet.manuscript.editing import edit
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.manuscript.stage import Stage
from reglet.overlays.examine import Examiner
from reglet.overlays.query import ProofMark, Query
from reglet.window import examining as window_examining
from reglet.window.examining import Examining, carried

from tests.window.conftest import LAMP, small_book

LONG = 20_000


def query(start: int, end: int) -> Query:
    return Query("double", Stage.PROOF, "lamp", start, end, "w", "m", ProofMark.DELETE)


@pytest.mark.parametrize(
    ("change", "expected"),
    [
        (Change.at(0, 0, 3), [(13, 18)]),
        (Change.at(20, 25, 0), [(10, 15)]),
        (Change.at(10, 10, 2), [(12, 17)]),
        (Change.at(15, 15, 2), [(10, 15)]),
        (Change.at(12, 12, 1), []),
        (Change.at(0, 11, 0), []),
        (Change(), [(10, 15)]),
    ],
)
def test_a_query_rides_on_a_change(change: Change, expected: list[tuple[int, int]]) -> None:
    found = [(each.start, each.end) for each in carried([query(10, 15)], change)]
    assert found == expected


def test_a_query_about_the_scene_stays() -> None:
    assert list(carried([query(0, 0)], Change.at(0, 5, 9))) == [query(0, 0)]


@pytest.fixture
def examining(qtbot: QtBot) -> Iterator[Examining]:
    examining = Examining()
    yield examining
    examining.close()


def test_the_process_finds_what_the_examiner_finds(examining: Examining, qtbot: QtBot) -> None:
    book = small_book()
    with qtbot.waitSignal(examining.finished, timeout=LONG):
        examining.look_at(book, Stage.PROOF, "salt")
    for scene in book.texts:
        expected = tuple(Examiner().examine(book, Stage.PROOF, [scene.id]))
        assert examining.queries(scene.id) == expected
        assert not examining.is_waiting_for(scene.id)
    assert any(each.overlay == "double" for each in examining.queries("lamp"))


def test_an_edit_moves_the_queries_at_once_and_is_looked_at_soon(
    examining: Examining, qtbot: QtBot
) -> None:
    book = small_book()
    with qtbot.waitSignal(examining.finished, timeout=LONG):
        examining.look_at(book, Stage.PROOF, "lamp")
    (double,) = (each for each in examining.queries("lamp") if each.overlay == "double")
    assert LAMP[double.start : double.end] == double.text
    fragment = Passage.plain("He had gone gone. ")
    book = edit(book, "lamp", 0, 0, fragment)
    with qtbot.waitSignal(examining.finished, timeout=LONG):
        examining.text_changed(book, "lamp", Change.at(0, 0, len(fragment)))
        moved = [each.start for each in examining.queries("lamp") if each.overlay == "double"]
        assert moved == [double.start + len(fragment)]
    doubles = [each for each in examining.queries("lamp") if each.overlay == "double"]
    assert len(doubles) == 2


def test_a_stage_without_overlays_is_done_at_once(examining: Examining, qtbot: QtBot) -> None:
    with qtbot.waitSignal(examining.finished, timeout=LONG):
        examining.look_at(small_book(), Stage.SEND_OUT, "lamp")
    assert examining.queries("lamp") == ()


def test_a_process_that_is_lost_is_started_again(examining: Examining, qtbot: QtBot) -> None:
    book = small_book()
    with qtbot.waitSignal(examining.finished, timeout=LONG):
        examining.look_at(book, Stage.PROOF, "lamp")
    process = examining.examiner.process
    assert process is not None
    with qtbot.waitSignal(examining.examiner.lost, timeout=LONG):
        process.kill()
    book = edit(book, "salt", 0, 0, Passage.plain("The the end. "))
    with qtbot.waitSignal(examining.finished, timeout=LONG):
        examining.text_changed(book, "salt", Change.at(0, 0, 13))
    assert any(each.overlay == "double" for each in examining.queries("salt"))


def test_what_a_lost_process_has_not_answered_is_asked_again(
    examining: Examining, qtbot: QtBot
) -> None:
    with qtbot.waitSignal(examining.finished, timeout=LONG):
        examining.look_at(small_book(), Stage.PROOF, "lamp")
        assert examining.examiner.process is not None
        examining.examiner.process.kill()
    assert any(each.overlay == "double" for each in examining.queries("lamp"))


def end_without_a_word(pipe: Connection) -> None:
    pipe.recv()


def test_one_lost_process_after_another_is_not_asked_for_ever(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(window_examining, "work", end_without_a_word)
    examining, lost = Examining(), []
    examining.examiner.lost.connect(lambda: lost.append(examining.examiner.process))
    examining.look_at(small_book(), Stage.PROOF, "lamp")
    qtbot.waitUntil(lambda: len(lost) == 2, timeout=LONG)
    assert lost[0] is not None and lost[1] is None
    examining.close()


def test_a_scene_laid_open_is_examined_before_the_others(
    examining: Examining, qtbot: QtBot
) -> None:
    long = tuple(
        Scene(f"s{number}", "", Passage.plain(f"{number} came. {LAMP}\n" * 400))
        for number in range(30)
    )
    book = Book(parts=(Part("p", "", (Chapter("c", "", long),)),))
    order: list[str] = []
    examining.arrived.connect(order.append)
    with qtbot.waitSignal(examining.arrived, timeout=LONG):
        examining.look_at(book, Stage.PROOF, "s0")
    examining.put_first("s29")
    qtbot.waitUntil(lambda: not examining.is_waiting_for("s29"), timeout=LONG)
    assert len(order) < 20
    assert order[-1] == "s29"
