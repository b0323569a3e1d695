"""Reading by a voice of the system's, of which the test says what it tells."""

from __future__ import annotations

import time
from itertools import count
from types import SimpleNamespace

import pytest
from reglet.manuscript.book import Book
from reglet.manuscript.change import Change
from reglet.manuscript.editing import edit
from reglet.manuscript.offcuts import cut_scene
from reglet.manuscript.passage import Passage
from reglet.voice.flags import Spot
from reglet.voice.moment import Moment, State
from reglet.voice.reading_order import Place
from reglet.voice.said_as import with_said
from reglet.window import system_listening
from reglet.window.system_listening import SystemListening
from reglet.window.system_voice_process import Begun, Done, Failed, Report, Word
from reglet.window.system_voices import SystemVoices

from tests.window.conftest import LAMP, SALT, small_book
from tests.window.test_undoing import WHEN


class Told(SystemVoices):
    """Keeps what it is asked to say; reports are the test's."""

    def __init__(self) -> None:
        super().__init__()
        self.said: list[tuple[str, float]] = []
        self.news: list[Report] = []

    def say(self, voice_id: str, text: str, rate: float) -> int:
        self.said.append((text, rate))
        self.news = []
        return len(self.said)

    def hush(self) -> None:
        self.news = []

    def reports(self, number: int) -> list[Report]:
        told, self.news = self.news, []
        return told

    def tell_word(self, word: str) -> None:
        text, number = self.said[-1][0], len(self.said)
        start = len(text[: text.index(word)].encode("utf-16-le")) // 2
        self.news.append(Word(number, start, len(word), time.perf_counter()))

    def end(self) -> None:
        self.news.append(Done(len(self.said)))


def reading(
    book: Book, scene: str = "salt", position: int = 0, pace: float = 1.0
) -> tuple[SystemListening, Told]:
    voices = Told()
    reader = SystemListening(voices, "system:any:en:One")
    reader.set_pace(pace)
    reader.play(book, Place(scene, position))
    reader.tick()
    return reader, voices


def word(book: Book, moment: Moment) -> str:
    return book.scene(moment.scene).passage.text[moment.start : moment.end]


def test_a_word_is_marked_where_it_stands_whatever_comes_before_it() -> None:
    book = small_book()
    reader, voices = reading(book)
    assert voices.said == [("Salt lay on the sill in a line.", 0.0)]
    assert word(book, reader.tick()) == ""
    for each in ("Salt", "sill", "line"):  # behind a character of two units, too
        voices.tell_word(each)
        assert word(book, reader.tick()) == each


def test_where_the_engine_tells_no_words_the_sentence_is_marked() -> None:
    book = small_book()
    reader, voices = reading(book)
    voices.news.append(Begun(1, time.perf_counter(), by_words=False))
    assert word(book, reader.tick()) == SALT.split("\n")[0]
    assert reader.flag() == Spot("salt", 0, len(SALT.split("\n")[0]))


def test_the_names_of_the_book_are_said_as_its_dictionary_has_them(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    minutes = count(step=60.0)  # so that no pause between two sentences has to be sat out
    monkeypatch.setattr(system_listening, "time", SimpleNamespace(perf_counter=minutes.__next__))
    book = with_said(small_book(), "Dorrel", "door-ell")
    reader, voices = reading(book, "lamp", LAMP.index("“Well"))
    while "door-ell" not in voices.said[-1][0]:
        assert len(voices.said) < 9
        voices.end()
        reader.tick()
        reader.tick()
    voices.tell_word("door-ell")
    assert word(book, reader.tick()) == "Dorrel"


def test_the_pace_is_told_to_the_engine() -> None:
    rates = [reading(small_book(), pace=pace)[1].said[0][1] for pace in (0.6, 1.0, 2.0)]
    assert rates == sorted(rates) and rates[1] == 0 and -1 <= rates[0] < 0 < rates[2] <= 1


def test_words_changed_under_the_voice_are_read_anew_and_others_are_not() -> None:
    book = small_book()
    start = SALT.index("She")
    reader, voices = reading(book, "salt", start)
    voices.tell_word("sweep")
    reader.tick()
    behind = edit(book, "salt", len(SALT), len(SALT), Passage.plain(" Never."))
    reader.book_changed(behind, "salt", Change.at(len(SALT), len(SALT), 7))
    reader.tick()
    assert len(voices.said) == 1
    before = edit(behind, "salt", 0, 0, Passage.plain("Oh. "))
    reader.book_changed(before, "salt", Change.at(0, 0, 4))
    assert word(before, reader.tick()) == "sweep"
    start += 4
    changed = edit(before, "salt", start, start + 3, Passage.plain("He"))
    reader.book_changed(changed, "salt", Change.at(start, start + 3, 2))
    reader.tick()
    assert voices.said[-1][0] == "He did not sweep it up."


def test_a_scene_that_goes_and_an_engine_that_fails_end_in_a_sentence() -> None:
    book = small_book()
    reader, voices = reading(book)
    reader.book_changed(cut_scene(book, "salt", WHEN))
    moment = reader.tick()
    assert moment.state is State.STOPPED
    assert "not in the book any more" in moment.sentence_for_writer
    reader, voices = reading(book)
    voices.news.append(Failed(1))
    moment = reader.tick()
    assert moment.state is State.STOPPED
    assert "Nothing is lost" in moment.sentence_for_writer
    assert reader.place == Place("salt", 0)
