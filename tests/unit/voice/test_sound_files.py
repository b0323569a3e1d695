import shutil

import mutagen
import pytest
import soundfile
from reglet.errors import UnknownThing, WriterError
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.editing import edit
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.voice.cues import cue_at, place_now, read_cues, spot_told, spots_told, time_told
from reglet.voice.reading_order import Place
from reglet.voice.sound_files import SoundFormat, Stopped, Wanted, write_sentence, write_sound

from tests.unit.voice.voice_in_test import Whisper

TEXT = "She came in. He left.\nNobody spoke."
BOOK = Book(
    "Tide – Ö",
    "A. Writer",
    (
        Part(
            "p",
            "",
            (
                Chapter(
                    "c1",
                    "One: Slack/Water",
                    (
                        Scene(
                            "a", "The lamp", Passage.plain("She came in. He left.\nNobody spoke.")
                        ),
                        Scene("b", "", Passage.plain("Then it was late.")),
                    ),
                ),
                Chapter("c2", "", (Scene("c", "", Passage.plain("He left.")),)),
            ),
        ),
    ),
)


@pytest.mark.parametrize("kind", SoundFormat)
def test_a_file_a_chapter_tagged_and_as_long_as_told(tmp_path, kind):
    told = []
    cues = write_sound(BOOK, tmp_path, Whisper(), Wanted(format=kind), told.append)
    assert [c.file for c in cues.chapters] == [f"01 One Slack Water.{kind}", f"02.{kind}"]
    for chapter in cues.chapters:
        length = soundfile.info(tmp_path / chapter.file).duration
        assert length == pytest.approx(chapter.seconds, abs=0.3 if kind == "mp3" else 0.05)
    tags = mutagen.File(tmp_path / cues.chapters[0].file).tags
    shown = str(dict(tags))
    for value in ("One: Slack/Water", "Tide – Ö", "A. Writer", "1/2"):
        assert value in shown
    assert told[-1] == 1.0
    assert read_cues(tmp_path) == cues
    assert sorted(p.name for p in tmp_path.iterdir() if p.suffix == ".part") == []


def test_cues_lead_to_the_words_and_back(tmp_path):
    cues = write_sound(BOOK, tmp_path, Whisper(), Wanted(format=SoundFormat.WAV))
    # heading 3 words + 1.0 s; 3 words + 0.3 s; 2 words + 0.55 s; 2 words + 1.5 s; 4 words
    starts = [(c.second, c.text) for c in cues.chapters[0].cues]
    assert starts == [
        (0.0, ""),
        (1.3, "She came in."),
        (1.9, "He left."),
        (2.65, "Nobody spoke."),
        (4.35, "Then it was late."),
    ]
    assert place_now(BOOK, cue_at(cues, 1, 2.0)) == Place("a", 13)
    later = edit(BOOK, "a", 0, 0, Passage.plain("Oh. "))
    assert place_now(later, cue_at(cues, 1, 2.0)) == Place("a", 17)
    rewritten = edit(BOOK, "a", 13, 21, Passage.plain("Gone."))
    assert place_now(rewritten, cue_at(cues, 1, 2.0)) == Place("a", 13)
    with pytest.raises(UnknownThing):
        place_now(Book(), cue_at(cues, 1, 2.0))
    listed = (tmp_path / "cues.txt").read_text(encoding="utf-8")
    assert "ch. 1  One: Slack/Water (01 One Slack Water.wav, 0:06)" in listed
    assert "   0:01  The lamp\n" in listed
    assert "   0:02    Nobody spoke.\n" in listed


@pytest.mark.parametrize(
    ("told", "found"),
    [
        ("ch. 7, 12:40", (7, 760)),
        ("7 12:40", (7, 760)),
        ("Chapter 7: 0:05", (7, 5)),
        ("ch 12, 1:02:03", (12, 3723)),
    ],
)
def test_spots_as_people_write_them(told, found):
    assert spot_told(told) == found
    assert time_told(found[1]) in told


@pytest.mark.parametrize(
    "told", ["", "12:40", "ch. x, 1:00", "ch. 7", "ch. 7, 1:99", "7 1:00 8 2:00", "7 1:00 and"]
)
def test_other_spots_are_refused(told):
    with pytest.raises(WriterError, match="not a spot"):
        spot_told(told)


@pytest.mark.parametrize(
    ("told", "found"),
    [
        ("ch. 7, 12:40", [(7, 760)]),
        ("ch. 7, 12:40; ch. 9, 3:05", [(7, 760), (9, 185)]),
        ("7 12:40 7 1:02:03", [(7, 760), (7, 3723)]),
        ("ch. 1, 0:01\nch. 2, 0:02\n", [(1, 1), (2, 2)]),
    ],
)
def test_several_spots_are_told_one_after_another(told, found):
    assert spots_told(told) == found


def test_spots_beyond_and_lists_that_are_none(tmp_path):
    cues = write_sound(BOOK, tmp_path, Whisper(), Wanted((2,), SoundFormat.WAV))
    with pytest.raises(WriterError, match="beyond its end"):
        cue_at(cues, 2, 100)
    with pytest.raises(WriterError, match="no sound of a chapter 1"):
        cue_at(cues, 1, 0)
    with pytest.raises(WriterError, match="no cue list"):
        read_cues(tmp_path / "nowhere")
    (tmp_path / "cues.json").write_text("[]")
    with pytest.raises(WriterError, match="no cue list that Reglet wrote"):
        read_cues(tmp_path)


def test_nothing_is_written_over_or_left_half_written(tmp_path):
    (tmp_path / "01 One Slack Water.wav").write_text("mine")
    wanted = Wanted(format=SoundFormat.WAV)
    with pytest.raises(WriterError, match="there already"):
        write_sound(BOOK, tmp_path, Whisper(), wanted)
    assert (tmp_path / "01 One Slack Water.wav").read_text() == "mine"
    with pytest.raises(Stopped):
        write_sound(BOOK, tmp_path / "new", Whisper(), wanted, stopped=lambda: True)
    assert list((tmp_path / "new").iterdir()) == []
    with pytest.raises(WriterError, match="no chapter 3"):
        write_sound(BOOK, tmp_path, Whisper(), Wanted((3,)))
    with pytest.raises(WriterError, match="could not be written"):
        write_sound(BOOK, tmp_path / "01 One Slack Water.wav" / "x", Whisper(), wanted)


def test_a_full_disk_is_called_one(tmp_path, monkeypatch):
    room = shutil.disk_usage(tmp_path)._replace(free=0)
    monkeypatch.setattr(shutil, "disk_usage", lambda _: room)
    monkeypatch.setattr("reglet.voice.sound_files._write", _no_room)
    with pytest.raises(WriterError, match="The disk is full"):
        write_sound(BOOK, tmp_path, Whisper(), Wanted(format=SoundFormat.WAV))


def _no_room(*_):
    raise OSError("System error.")  # all that libsndfile says


def test_one_text_to_try_a_voice(tmp_path):
    target = tmp_path / "say.wav"
    wanted = Wanted(format=SoundFormat.WAV)
    assert write_sentence("One two. Three.", target, Whisper(), wanted) == pytest.approx(0.9)
    with pytest.raises(WriterError, match="there already"):
        write_sentence("One.", target, Whisper(), wanted)
