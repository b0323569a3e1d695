"""Listening in the window, by a voice that is always ready and a loudspeaker without sound."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QSettings, Qt
from PySide6.QtGui import QInputMethodEvent, QPalette
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from reglet.manuscript.anchored import BY_EAR, Answer
from reglet.manuscript.book import Book
from reglet.manuscript.change import Change
from reglet.manuscript.heard import paragraph_key
from reglet.manuscript.offcuts import cut_scene
from reglet.manuscript.passage import Passage
from reglet.manuscript.stage import Stage
from reglet.voice.device import NoSoundDevice
from reglet.voice.flags import Spot
from reglet.voice.moment import END_OF_BOOK, Moment, State
from reglet.voice.reading_order import Place
from reglet.voice.voices import VoiceMissing
from reglet.window.listening_choices import ListeningChoices, from_json, to_json
from reglet.window.listening_work import ListeningWork
from reglet.window.main_window import MainWindow
from reglet.window.memory import Memory
from reglet.window.theme import LIGHT
from reglet.window.time_listened import TimeListened

from tests.window.conftest import LAMP
from tests.window.listening_fakes import QuickVoice, SilentSpeaker, VoicesInTest

LONG = 20_000


@pytest.fixture
def device() -> SilentSpeaker:
    return SilentSpeaker()


@pytest.fixture
def voice() -> QuickVoice:
    return QuickVoice(word_s=0.06)


@pytest.fixture
def work(window: MainWindow, device: SilentSpeaker, voice: QuickVoice) -> ListeningWork:
    work = window.listening_work
    work.loading.at_hand = VoicesInTest(voice)
    work.loading.new_device = lambda: device
    return work


@pytest.fixture
def told(work: ListeningWork) -> list[str]:
    told: list[str] = []
    work.told.connect(told.append)
    return told


def word(book: Book, moment: Moment) -> str:
    return book.scene(moment.scene).passage.text[moment.start : moment.end] if moment.scene else ""


def words_said(work: ListeningWork, window: MainWindow) -> list[str]:
    said: list[str] = []

    def note(moment: Moment) -> None:
        if moment.end > moment.start:
            said.append(word(window.desk.book, moment))

    work.word_said.connect(note)
    return said


@pytest.fixture
def until(work: ListeningWork, window: MainWindow, qtbot: QtBot) -> Callable[[str], None]:
    """Listen until this word is heard."""

    def wait(wanted: str) -> None:
        qtbot.waitUntil(lambda: word(window.desk.book, work.moment) == wanted, timeout=LONG)

    return wait


def read_from(window: MainWindow, words: str) -> None:
    """Read from the sentence of the scene of the lamp that holds these words."""
    at = LAMP.index(words)
    window.desk.show_scene("lamp")
    window.page.editor.select(at, at)
    window.listening_work.play_from_cursor()


# What is read


def test_the_book_is_read_from_the_cursor_to_its_end(
    work: ListeningWork, window: MainWindow, qtbot: QtBot, told: list[str]
) -> None:
    said = words_said(work, window)
    work.set_pace(2.0)
    read_from(window, "was was")
    qtbot.waitUntil(lambda: bool(told), timeout=LONG)
    assert told == [END_OF_BOOK]
    assert work.state is State.STOPPED
    assert said[:9] == "Nobody had lit it was was the trouble Well".split()
    assert said[-3:] == "turned all night".split()
    assert window.desk.scene is not None and window.desk.scene.id == "mill"


def test_the_word_that_is_heard_is_marked_and_the_rest_of_the_page_is_quiet(
    work: ListeningWork, window: MainWindow, until: Callable[[str], None], qtbot: QtBot
) -> None:
    editor = window.page.editor
    read_from(window, "Nobody")
    until("lit")
    at = LAMP.index("lit it")
    assert editor.said == Spot("lamp", at, at + 3)
    assert editor.palette().color(QPalette.ColorRole.Text).name().upper() == LIGHT.quiet
    read = editor.extraSelections()
    assert [each.cursor.selectedText() for each in read] == [LAMP.split("\n")[1]]
    marked = window.page.editor.grab().toImage()
    work.pause()
    work.stop()
    assert editor.said is None
    assert editor.palette().color(QPalette.ColorRole.Text).name().upper() == LIGHT.ink
    assert editor.extraSelections() == []
    assert editor.grab().toImage() != marked


def test_a_page_that_does_not_follow_marks_the_word_and_is_written_on(
    work: ListeningWork, window: MainWindow, until: Callable[[str], None], qtbot: QtBot
) -> None:
    work.choose(ListeningChoices(follow=False))
    editor = window.page.editor
    read_from(window, "lamp")
    until("lamp")
    assert editor.said is not None
    assert editor.palette().color(QPalette.ColorRole.Text).name().upper() == LIGHT.ink
    editor.select(len(LAMP), len(LAMP))
    QTest.keyClick(editor, Qt.Key.Key_B)
    assert window.desk.book.scene("lamp").passage.text == LAMP + "b"
    assert work.state is State.PLAYING


def test_the_line_that_is_read_comes_to_reading_height_without_a_jump(
    work: ListeningWork, window: MainWindow, qtbot: QtBot, voice: QuickVoice
) -> None:
    voice.word_s = 0.12
    long = "\n".join(f"Line {each} of it all, and no more." for each in range(80))
    window.desk.rewrite("lamp", Passage.plain(long))
    editor = window.page.editor
    bar = editor.verticalScrollBar()
    read_at = long.index("Line 40")
    editor.select(read_at, read_at)
    work.play_from_cursor()
    qtbot.waitUntil(lambda: "Line 41" in long[slice(*work.moment.sentence)], timeout=LONG)
    steps: list[int] = []
    last = bar.value()

    def moved(value: int) -> None:
        nonlocal last
        steps.append(value - last)
        last = value

    bar.valueChanged.connect(moved)
    qtbot.waitUntil(lambda: "Line 43" in long[slice(*work.moment.sentence)], timeout=LONG)
    qtbot.wait(500)
    top = editor.line_top()
    assert top is not None and abs(top / editor.viewport().height() - 0.38) < 0.06
    assert steps and min(steps) >= 0  # never back, and never a line at once
    assert max(steps) < 0.8 * editor.fontMetrics().height()


def test_pace_is_kept_within_its_bounds_and_heard(
    work: ListeningWork, window: MainWindow, until: Callable[[str], None]
) -> None:
    read_from(window, "lamp")
    until("lamp")
    for _ in range(20):
        work.change_pace(1)
    assert work.choices.pace == 2.0
    for _ in range(20):
        work.change_pace(-1)
    assert work.choices.pace == 0.6
    assert work.state is State.PLAYING


# Keys on the page


def test_the_keys_of_the_page_are_the_voices_while_it_is_followed(
    work: ListeningWork,
    window: MainWindow,
    until: Callable[[str], None],
    voice: QuickVoice,
    told: list[str],
) -> None:
    editor, key = window.page.editor, Qt.Key
    read_from(window, "Nobody")
    until("lit")
    for typed in (key.Key_X, key.Key_Q, key.Key_Backspace, key.Key_Delete):
        QTest.keyClick(editor, typed)
    QApplication.clipboard().setText("pasted")
    QTest.keyClick(editor, key.Key_V, Qt.KeyboardModifier.ControlModifier)
    composed = QInputMethodEvent()
    composed.setCommitString("é")
    QApplication.sendEvent(editor, composed)
    assert window.desk.book.scene("lamp").passage.text == LAMP
    assert len(told) == 1 and "nothing is typed" in told[0]
    QTest.keyClick(editor, key.Key_Space)
    assert work.state is State.PAUSED
    QTest.keyClick(editor, key.Key_Space)
    assert work.state is State.PLAYING
    QTest.keyClick(editor, key.Key_Plus)
    assert work.choices.pace == 1.1
    QTest.keyClick(editor, key.Key_B, Qt.KeyboardModifier.ShiftModifier)
    assert work.place == Place("lamp", 0)
    assert window.desk.book.scene("lamp").passage.text == LAMP


def test_the_mending_key_puts_the_cursor_on_the_word_and_reading_goes_on_with_the_new_text(
    work: ListeningWork,
    window: MainWindow,
    until: Callable[[str], None],
    voice: QuickVoice,
    qtbot: QtBot,
) -> None:
    editor = window.page.editor
    read_from(window, "Nobody")
    until("the")
    QTest.keyClick(editor, Qt.Key.Key_Return)
    at = LAMP.index("the trouble")
    assert work.state is State.PAUSED
    assert editor.span_selected() == (at, at)
    assert not editor.following
    for _ in range(4):
        QTest.keyClick(editor, Qt.Key.Key_Backspace)
    assert editor.said is None  # what was marked may not stand there any more
    mended = LAMP.replace("was was", "was")
    assert window.desk.book.scene("lamp").passage.text == mended
    work.play()
    until("Nobody")
    assert voice.spoken.count("Nobody had lit it was the trouble.") == 1
    assert editor.following


def test_without_a_change_reading_goes_on_from_the_sentences_start_too(
    work: ListeningWork, window: MainWindow, until: Callable[[str], None]
) -> None:
    said = words_said(work, window)
    read_from(window, "Nobody")
    until("lit")
    work.mend()
    said.clear()
    work.play()
    until("Nobody")
    assert said[0] == "Nobody"


def test_a_click_in_the_text_stops_the_voice_there(
    work: ListeningWork, window: MainWindow, until: Callable[[str], None]
) -> None:
    editor = window.page.editor
    read_from(window, "Nobody")
    until("lit")
    place = editor.cursorRect(editor.textCursor()).center()
    QTest.mouseClick(editor.viewport(), Qt.MouseButton.LeftButton, pos=QPoint(place.x(), place.y()))
    assert work.state is State.PAUSED
    assert not editor.following
    QTest.keyClick(editor, Qt.Key.Key_Y)
    assert window.desk.book.scene("lamp").passage.text != LAMP


def test_going_back_in_a_pause_shows_where_reading_will_go_on(
    work: ListeningWork, window: MainWindow, until: Callable[[str], None]
) -> None:
    read_from(window, "Nobody")
    until("lit")
    QTest.keyClick(window.page.editor, Qt.Key.Key_Space)
    QTest.keyClick(window.page.editor, Qt.Key.Key_B)
    assert work.state is State.PAUSED
    assert window.page.editor.said == Spot("lamp", 0, 3)
    QTest.keyClick(window.page.editor, Qt.Key.Key_Return)
    assert window.page.editor.span_selected() == (0, 0)


def test_other_choices_leave_what_lies_on_the_paper_and_the_keys_where_they_are(
    work: ListeningWork, window: MainWindow, until: Callable[[str], None]
) -> None:
    read_from(window, "Nobody")
    until("lit")
    window.views.show_offcuts()
    work.choose(replace(work.choices, ruler=True, aim=2))
    assert window.paper.views.currentWidget() is window.views.offcuts
    assert window.page.editor.following


def test_the_ruler_stays_under_the_line_between_two_words(
    work: ListeningWork, window: MainWindow, until: Callable[[str], None], qtbot: QtBot
) -> None:
    work.choose(replace(work.choices, ruler=True))
    editor = window.page.editor
    read_from(window, "Nobody")
    until("lit")
    line = editor.line_top()
    qtbot.waitUntil(lambda: editor.said is None, timeout=LONG)
    assert line is not None and editor.line_top() == pytest.approx(line, abs=1)


# Marking


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


# What has been heard


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


# What can go wrong


def test_a_scene_taken_out_under_the_voice_ends_in_a_sentence(
    work: ListeningWork, window: MainWindow, until: Callable[[str], None], told: list[str]
) -> None:
    read_from(window, "Nobody")
    until("lit")
    now = datetime.now().astimezone()
    window.desk.perform("Cut", lambda book: cut_scene(book, "lamp", now))
    assert work.state is State.STOPPED
    work.play_or_pause()  # and goes on elsewhere
    until("Salt")
    assert any("not in the book any more" in each for each in told)


def test_words_changed_under_the_voice_are_read_anew_and_others_are_not(
    work: ListeningWork,
    window: MainWindow,
    until: Callable[[str], None],
    voice: QuickVoice,
) -> None:
    read_from(window, "Nobody")
    until("lit")
    text = LAMP.replace("The lamp was lit.", "The lamps were lit.")
    passage = Passage.plain(text)
    window.desk.typed("lamp", passage, Change.between(LAMP, text))
    until("trouble")
    at = text.index("trouble")
    assert window.page.editor.said == Spot("lamp", at, at + len("trouble"))
    assert voice.spoken.count("Nobody had lit it was was the trouble.") == 1


@pytest.mark.parametrize("when", ["at the start", "while it reads"])
def test_no_device_ends_in_a_sentence_and_nothing_is_lost(
    work: ListeningWork,
    window: MainWindow,
    device: SilentSpeaker,
    until: Callable[[str], None],
    told: list[str],
    qtbot: QtBot,
    when: str,
) -> None:
    if when == "at the start":
        device.gone = True
        work.play()
    else:
        read_from(window, "Nobody")
        until("lit")
        device.gone = True
    qtbot.waitUntil(lambda: bool(told), timeout=LONG)
    assert told == ["The loudspeaker was pulled out. Nothing is lost."]
    assert work.state is State.STOPPED
    assert not work.waiting
    assert not window.page.editor.following
    device.gone = False
    window.page.editor.select(0, 0)
    work.play()  # goes on where it broke off, wherever the cursor is
    until("Nobody")


@pytest.mark.parametrize("when", ["when it is loaded", "when it speaks"])
def test_a_voice_that_is_missing_ends_in_a_sentence(
    work: ListeningWork,
    voice: QuickVoice,
    told: list[str],
    qtbot: QtBot,
    when: str,
) -> None:
    failure = VoiceMissing("The voice is gone. Nothing is lost.")
    at_hand = VoicesInTest(voice)
    work.loading.at_hand = at_hand
    if when == "when it is loaded":
        at_hand.fails = failure
    else:
        voice.fails = failure
    work.play()
    qtbot.waitUntil(lambda: bool(told), timeout=LONG)
    assert told == [str(failure)]
    assert work.state is State.STOPPED and not work.waiting


def test_another_book_on_the_desk_ends_the_reading_of_this_one(
    work: ListeningWork, window: MainWindow, until: Callable[[str], None], tmp_path: Path
) -> None:
    from reglet.bookfile.file import BookFile

    read_from(window, "lamp")
    until("lamp")
    other = BookFile.create(tmp_path / "other.reglet", window.desk.book)
    window.open_book(other)
    assert work.state is State.STOPPED
    assert window.page.editor.said is None


# A sample, and what is remembered


def test_a_sample_is_said_while_the_book_is_silent(
    work: ListeningWork,
    window: MainWindow,
    until: Callable[[str], None],
    voice: QuickVoice,
    qtbot: QtBot,
) -> None:
    read_from(window, "lamp")
    until("lamp")
    with qtbot.waitSignal(work.sample.ended, timeout=LONG):
        work.sample.say("Isaura came.", said_as={"Isaura": "eye-sora"})
        assert work.state is State.PAUSED
    assert voice.spoken[-1] == "Isaura came."
    work.play()
    assert work.state is State.PLAYING


def test_what_cannot_be_said_as_a_sample_is_told(
    work: ListeningWork, device: SilentSpeaker, told: list[str], qtbot: QtBot
) -> None:
    device.gone = True
    with qtbot.waitSignal(work.sample.ended, timeout=LONG):
        work.sample.say("Nobody hears this.")
    assert told == [str(NoSoundDevice("The loudspeaker was pulled out. Nothing is lost."))]
    assert not work.sample.wanted


@pytest.mark.parametrize(
    ("kept", "wanted"),
    [
        ("{}", ListeningChoices()),
        ("no JSON", ListeningChoices()),
        ("[1]", ListeningChoices()),
        ('{"pace": 9, "aim": 77, "other": 1}', ListeningChoices(pace=2.0)),
        ('{"pace": "fast"}', ListeningChoices()),
        (
            '{"voice": "x", "ruler": true, "follow": false}',
            ListeningChoices("x", ruler=True, follow=False),
        ),
    ],
)
def test_choices_are_read_as_far_as_they_can_be(kept: str, wanted: ListeningChoices) -> None:
    assert from_json(kept) == wanted
    assert from_json(to_json(wanted)) == wanted


def test_how_the_writer_listens_is_remembered(tmp_path: Path) -> None:
    settings = QSettings(str(tmp_path / "settings.ini"), QSettings.Format.IniFormat)
    chosen = ListeningChoices("espeak-ng:en-gb", ("a.onnx",), 1.3, 2, True, False)
    Memory(settings).listens(chosen)
    assert Memory(settings).listening == chosen
