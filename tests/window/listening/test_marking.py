"""What is left of listening: marks made by ear, what was heard, a word of rest."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot
from reglet.manuscript.anchored import BY_EAR, Answer
from reglet.manuscript.book import Book
from reglet.manuscript.heard import paragraph_key
from reglet.manuscript.passage import Passage
from reglet.manuscript.stage import Stage
from reglet.voice.moment import State
from reglet.voice.reading_order import Place
from reglet.window.listening_work import ListeningWork
from reglet.window.main_window import MainWindow
from reglet.window.time_listened import TimeListened

from tests.window.conftest import LAMP
from tests.window.listening.hearing import LONG, read_from


def test_a_mark_made_while_listening_stands_in_the_list_of_proof_until_it_is_answered(
    work: ListeningWork,
    window: MainWindow,
    until: Callable[[str], None],
    told: list[str],
    qtbot: QtBot,
) -> None:
    window.enter(Stage.PROOF)
    read_from(window, "Nobody")
    until("trouble")
    QTest.keyClick(window.page.editor, Qt.Key.Key_M)
    assert work.state is State.PLAYING
    (note,) = window.desk.book.scene("lamp").notes
    assert (note.kind, note.words) == (BY_EAR, "Nobody had lit it was was the trouble")
    assert told[-1] == f"Marked: “… {note.words}”"
    work.stop()

    def by_ear() -> list[object]:
        return [q for q in window.page.places() if q.overlay == "marked_while_listening"]

    qtbot.waitUntil(lambda: len(by_ear()) == 1, timeout=LONG)
    window.page.open_card(by_ear()[0])
    QTest.keyClick(window.page.card, Qt.Key.Key_D)
    assert window.desk.book.scene("lamp").notes[0].answer is Answer.DONE
    assert by_ear() == []


def test_a_mark_before_anything_was_read_says_so(work: ListeningWork, told: list[str]) -> None:
    work.flag()
    assert told == ["Nothing has been read yet that could be marked."]


def test_what_was_heard_is_counted_saved_and_not_undone(
    work: ListeningWork,
    window: MainWindow,
    until: Callable[[str], None],
    stored: Callable[[], Book],
    qtbot: QtBot,
) -> None:
    window.desk.rewrite("lamp", Passage.plain("A lamp.\n" + LAMP))
    heard: list[str] = []
    work.heard_changed.connect(heard.append)
    work.play_from(Place("lamp", 0))
    until("Nobody")
    work.stop()
    wanted = [(paragraph_key(text), 1) for text in ("A lamp.", "The lamp was lit.")]

    def known(book: Book) -> list[tuple[str, int]]:
        return [(each.paragraph, each.times) for each in book.scene("lamp").heard]

    assert heard == ["lamp", "lamp"]
    assert known(window.desk.book) == wanted
    window.desk.undo_text()
    assert known(window.desk.book) == wanted
    assert window.saver is not None
    window.saver.flush()
    assert known(stored()) == wanted


def test_a_word_of_rest_comes_after_long_listening_and_not_again_at_once() -> None:
    listened = TimeListened()
    listened.begin(0)
    assert listened.note(44 * 60) == ""
    listened.end(44 * 60)
    listened.begin(46 * 60)  # two minutes are no rest
    assert listened.note(48 * 60).startswith("You have listened for 46 minutes.")
    assert listened.note(49 * 60) == ""
    listened.end(50 * 60)
    listened.begin(56 * 60)
    assert listened.note(90 * 60) == ""
    assert listened.seconds == 34 * 60
