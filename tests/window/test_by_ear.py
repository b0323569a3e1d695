"""What stands around the voice: what was heard, the voices, names said, spots noted away."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QListView
from pytestqt.qtbot import QtBot
from reglet.manuscript.heard import paragraph_key
from reglet.manuscript.passage import Passage
from reglet.manuscript.stage import Stage
from reglet.voice.coverage import ChapterHeard, Coverage, Hearing, SceneHeard, with_hearing
from reglet.voice.cues import ChapterCues, Cue, CueList, write_cues
from reglet.voice.voices import Voice, VoiceKind
from reglet.window.heard_chart import HeardChart, heard_in_words
from reglet.window.lettering import Label
from reglet.window.listening_work import ListeningWork
from reglet.window.main_window import MainWindow
from reglet.window.theme import LIGHT

from tests.window.conftest import LAMP, SALT
from tests.window.listening.fakes import SilentSpeaker, VoicesInTest
from tests.window.reaching import button, control, enter, press, write


@pytest.fixture
def work(window: MainWindow) -> ListeningWork:
    work = window.listening_work
    work.loading.at_hand.close()
    work.loading.at_hand = VoicesInTest()
    device = SilentSpeaker()
    work.loading.new_device = lambda: device
    window.enter(Stage.PROOF)
    return work


def hear(window: MainWindow, scene: str, *paragraphs: str) -> None:
    for text in paragraphs:
        window.desk.remember(lambda book, text=text: with_hearing(book, scene, paragraph_key(text)))


def said(widget: object) -> str:
    return " ".join(label.text() for label in widget.findChildren(Label))  # type: ignore[attr-defined]


# Heard


def test_what_is_heard_is_counted_and_a_changed_paragraph_is_unheard_again(
    work: ListeningWork, window: MainWindow, qtbot: QtBot
) -> None:
    room = window.by_ear.room
    counted: list[float] = []
    window.by_ear.hearing.counted.connect(counted.append)
    qtbot.waitUntil(lambda: "Not heard yet" in said(room), timeout=10_000)
    hear(window, "lamp", *LAMP.split("\n"))
    hear(window, "salt", *SALT.split("\n"))
    qtbot.waitUntil(lambda: bool(counted) and counted[-1] > 0, timeout=10_000)
    before = counted[-1]
    qtbot.waitUntil(lambda: "hearing 2" in said(window.status_line), timeout=10_000)
    assert f"Heard {before:.1f} of 3 times" in said(room)
    window.desk.rewrite("lamp", Passage.plain(LAMP.replace("was was", "was")))
    qtbot.waitUntil(lambda: counted[-1] < before, timeout=10_000)


def test_the_aim_is_the_writers_and_is_kept(work: ListeningWork, window: MainWindow) -> None:
    press(window.by_ear.room, "2")
    assert work.choices.aim == 2


def test_a_scene_of_the_drawing_is_gone_to_by_pointer_and_by_keys(
    work: ListeningWork, window: MainWindow, qtbot: QtBot
) -> None:
    window.by_ear.hearing.show_view()
    chart = window.by_ear.hearing.view.chart
    qtbot.waitUntil(lambda: len(chart._cells()) == 3, timeout=10_000)
    centre = chart._cells()[2].box.center()
    QTest.mouseClick(
        chart,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
        QPointF(centre).toPoint(),
    )
    assert window.desk.scene is not None
    assert window.desk.scene.id == "mill"
    window.by_ear.hearing.show_view()
    QTest.keyClick(chart, Qt.Key.Key_Up)
    assert "The lamp" in chart.accessibleDescription()
    QTest.keyClick(chart, Qt.Key.Key_Right)
    QTest.keyClick(chart, Qt.Key.Key_Return)
    assert window.desk.scene.id == "salt"
    assert window.paper.views.currentWidget() is window.page


def test_bars_fill_where_paragraphs_were_heard(qtbot: QtBot) -> None:
    """The first hearing lies at the foot; a paragraph heard twice fills the bar above, too."""
    chart = HeardChart()
    qtbot.addWidget(chart)
    chart.dress(LIGHT)
    covered = Coverage((Hearing(50, 2), Hearing(50, 1)))
    chart.show_heard([ChapterHeard("One", (SceneHeard("a", "", covered),))], 2, "")
    chart.resize(400, chart.sizeHint().height())
    image = chart.grab().toImage()
    box = chart._cells()[0].box

    def red(x: float, hearing: int) -> bool:
        y = box.center().y() + 6.0 - (hearing - 0.5) * 6.0
        colour = image.pixelColor(int(box.left() + x * box.width()), int(y))
        return colour.red() > colour.green() + 60

    assert [red(x, hearing) for hearing in (1, 2) for x in (0.25, 0.75)] == [
        True,
        True,
        True,
        False,
    ]
    assert heard_in_words(covered) == "all of it once, 50% twice"


# Spots noted away


@pytest.fixture
def sound_files(tmp_path: Path, window: MainWindow) -> Path:
    sentence = "Nobody had lit it was was the trouble."
    at = LAMP.index(sentence)
    cues = (
        Cue(0.0, "lamp", 0, 0, "The lamp was lit."),
        Cue(65.0, "lamp", 1, at, sentence),
        Cue(70.0, "salt", 0, 0, "Salt lay on the sill 🐚 in a line."),
    )
    made = CueList("Book", (ChapterCues(1, "One", "01 One.opus", 80.0, cues),))
    write_cues(made, window.desk.book, tmp_path)
    return tmp_path


@pytest.mark.parametrize(
    ("spot", "words"),
    [
        ("ch. 1, 1:06", "Nobody had lit it was was the trouble."),
        ("1 0:03", "The lamp was lit."),
        ("Ch 1; 1:12", "Salt lay on the sill 🐚 in a line."),
    ],
)
def test_a_spot_leads_back_to_its_words(
    work: ListeningWork, window: MainWindow, sound_files: Path, spot: str, words: str
) -> None:
    window.by_ear.hearing.set_files(sound_files)
    room = window.by_ear.room
    write(room, "A spot noted away from the desk", spot)
    enter(room, "A spot noted away from the desk")
    start, end = window.page.editor.span_selected()
    assert window.page.editor.passage.text[start:end] == words
    assert words in said(room)


def test_several_spots_are_marked_and_the_first_is_shown(
    work: ListeningWork, window: MainWindow, sound_files: Path
) -> None:
    window.by_ear.hearing.set_files(sound_files)
    window.by_ear.hearing.go_to_spot("ch. 1, 1:06; ch. 1, 1:12")
    assert window.page.editor.span_selected()[0] == LAMP.index("Nobody")
    notes = [note for scene in window.desk.book.texts for note in scene.notes]
    assert [note.words for note in notes] == [
        "Nobody had lit it was was the trouble.",
        "Salt lay on the sill 🐚 in a line.",
    ]
    assert "2 of 2 spots are marked" in said(window.by_ear.room)


def test_a_spot_whose_words_have_changed_leads_to_their_place(
    work: ListeningWork, window: MainWindow, sound_files: Path
) -> None:
    window.by_ear.hearing.set_files(sound_files)
    window.desk.rewrite("lamp", Passage.plain(LAMP.replace("was was", "was")))
    window.by_ear.hearing.go_to_spot("ch. 1, 1:06")
    assert window.page.editor.span_selected()[0] == LAMP.index("Nobody")
    assert "changed since" in said(window.by_ear.room)


@pytest.mark.parametrize(
    ("spot", "answer"),
    [("yesterday", "is not a spot"), ("ch. 9, 0:10", "no sound of a chapter 9")],
)
def test_a_spot_that_is_none_is_told_of(
    work: ListeningWork, window: MainWindow, sound_files: Path, spot: str, answer: str
) -> None:
    window.by_ear.hearing.set_files(sound_files)
    window.by_ear.hearing.go_to_spot(spot)
    assert answer in said(window.by_ear.room)


# Voices

SMOOTH = Voice("smooth", "Smooth", "en-GB", VoiceKind.PIPER, Path("/voices/smooth.onnx"))
HARSH = Voice("espeak-ng:en-gb", "espeak-ng, en-GB", "en-GB", VoiceKind.ESPEAK)


def test_a_voice_says_the_writers_words_and_is_chosen(
    work: ListeningWork, window: MainWindow, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(work, "find_voices", lambda: work.voices_found.emit((HARSH, SMOOTH)))
    window.page.editor.select(LAMP.index("Nobody"), LAMP.index("Nobody"))
    window.by_ear.voices.show_view()
    view = window.by_ear.voices.view
    voices = control(view, QListView, "Voices")
    QTest.keyClick(voices, Qt.Key.Key_Down)
    at_hand = work.loading.at_hand
    assert isinstance(at_hand, VoicesInTest)
    QTest.keyClick(voices, Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: bool(at_hand.voice.spoken), timeout=10_000)
    assert at_hand.asked == ["smooth"]
    assert at_hand.voice.spoken == ["Nobody had lit it was was the trouble."]
    QTest.keyClick(voices, Qt.Key.Key_Return)
    assert work.choices.voice == "smooth"
    assert not work.sample.wanted


def test_where_there_is_no_voice_it_says_what_to_install(
    work: ListeningWork, window: MainWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(work, "find_voices", lambda: work.voices_found.emit(()))
    window.by_ear.voices.show_view()
    view = window.by_ear.voices.view
    assert "pip install piper-tts" in said(view)
    assert not button(view, "Hear it").isEnabled()


def test_a_file_that_is_no_voice_is_told_of_and_left(
    work: ListeningWork, window: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(work, "find_voices", lambda: None)
    voices = window.by_ear.voices
    voices.show_view()
    monkeypatch.setattr(voices, "_ask", lambda: tmp_path / "none.onnx")
    press(voices.view, "Add a Piper voice file …")
    assert "A Piper voice is two files" in said(voices.view)
    assert work.choices.files == ()


# Names said


def test_a_name_is_tried_in_its_sentence_and_kept(
    work: ListeningWork, window: MainWindow, qtbot: QtBot
) -> None:
    window.by_ear.names.show_view()
    view = window.by_ear.names.view
    at_hand = work.loading.at_hand
    assert isinstance(at_hand, VoicesInTest)
    write(view, "Name", "Dorrel")
    write(view, "Said as", "door-ELL")
    enter(view, "Said as")
    qtbot.waitUntil(lambda: bool(at_hand.voice.spoken), timeout=10_000)
    assert at_hand.voice.spoken == ["“Well?” said Dorrel."]
    assert window.desk.book.style_sheet.said_as == ()
    work.sample.hush()
    press(view, "Keep it")
    assert window.desk.book.style_sheet.said_as == (("Dorrel", "door-ELL"),)
    names = control(view, QListView, "How names are said")
    QTest.keyClick(names, Qt.Key.Key_Delete)
    assert window.desk.book.style_sheet.said_as == ()
    window.desk.undo_arrangement()
    assert window.desk.book.style_sheet.said_as == (("Dorrel", "door-ELL"),)


@pytest.mark.parametrize(
    ("word", "as_", "answer"),
    [
        ("Mrs Tarrow", "TARR-oh", "is not one word"),
        ("Dorrel", "[[dɔ", "cannot be said"),
        ("Dorrel", "", "Write how it is said"),
    ],
)
def test_what_cannot_be_said_is_told_of(
    work: ListeningWork, window: MainWindow, word: str, as_: str, answer: str
) -> None:
    window.by_ear.names.show_view()
    view = window.by_ear.names.view
    write(view, "Name", word)
    write(view, "Said as", as_)
    press(view, "Keep it")
    assert answer in said(view)
    assert window.desk.book.style_sheet.said_as == ()
