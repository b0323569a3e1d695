import json

import pytest
from reglet.bookfile import BookFile
from reglet.cli import listening, run
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.heard import paragraph_key
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.voice.coverage import with_hearing

from tests.unit.voice.voice_in_test import Whisper

BOOK = Book(
    "Tide",
    parts=(
        Part("p", "", (Chapter("c", "One", (Scene("a", "Lamp", Passage.plain("She came.")),)),)),
    ),
)


@pytest.fixture
def path(tmp_path, monkeypatch):
    monkeypatch.setattr(listening, "_speaker", lambda voice, book: Whisper())
    path = tmp_path / "a.reglet"
    book = with_hearing(BOOK, "a", paragraph_key("She came."))
    BookFile.create(path, book).close()
    return path


def test_listen_and_spot(path, tmp_path, capsys):
    folder = tmp_path / "sound"
    assert run(["listen", str(path), "--to", str(folder), "--format", "wav"]) == 0
    assert "1 chapter, 0:02" in capsys.readouterr().out
    spot = ["spot", str(path), "ch. 1, 0:01", "--in", str(folder), "--json"]
    assert run(spot) == 0
    told = json.loads(capsys.readouterr().out)
    assert (told["scene"], told["position"], told["text"]) == ("a", 0, "She came.")
    assert run(["spot", str(path), "later", "--in", str(folder)]) == 2
    assert run(["listen", str(path), "--to", str(folder), "--format", "wav"]) == 2


def test_say_writes_one_file(path, tmp_path, capsys):
    target = tmp_path / "say.wav"
    assert run(["say", "She came.", "--to", str(target), "--book", str(path)]) == 0
    assert target.is_file()
    assert run(["say", "x", "--to", str(tmp_path / "say.txt")]) == 2
    with pytest.raises(SystemExit) as ended:
        run(["say", "x", "--to", str(target), "--pace", "9"])
    assert ended.value.code == 2
    assert "not a pace" in capsys.readouterr().err


def test_heard_tells_scene_by_scene(path, capsys):
    assert run(["heard", str(path), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["book"] == {
        "words": 2,
        "hearings": 1.0,
        "heard_at_least": {"1": 1.0, "2": 0.0, "3": 0.0},
    }
    assert run(["heard", str(path)]) == 0
    assert "100%   0%   0%  a  Lamp" in capsys.readouterr().out


def test_the_aim_is_what_is_asked_for(path, capsys):
    assert run(["heard", str(path), "--json", "--aim", "1"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert (told["aim"], told["seconds_to_the_aim"]) == (1, 0)
    assert told["book"]["heard_at_least"] == {"1": 1.0}


def test_names_are_said_as_the_book_has_them(path, capsys):
    assert run(["said", str(path), "Isaura", "eye-SORE-uh"]) == 0
    assert run(["said", str(path)]) == 0
    assert "Isaura\teye-SORE-uh" in capsys.readouterr().out
    assert run(["said", str(path), "Isaura"]) == 2
    assert run(["said", str(path), "Mrs Tarrow", "x"]) == 2
    assert "not one word" in capsys.readouterr().err
    assert run(["said", str(path), "isaura", "--forget"]) == 0
    assert run(["said", str(path)]) == 0
    assert "No name has a way of its own." in capsys.readouterr().out


def test_voices_are_told_by_their_ids(monkeypatch, capsys):
    monkeypatch.setattr("reglet.voice.voices.built_in", lambda: None)
    monkeypatch.setattr("shutil.which", lambda name: "/there")
    assert run(["voices", "--language", "en-GB"]) == 0
    assert capsys.readouterr().out.splitlines()[0] == "espeak-ng:en-gb\ten-GB\tespeak-ng, en-GB"
    monkeypatch.setattr("shutil.which", lambda name: None)
    assert run(["voices"]) == 0
    assert "no voice" in capsys.readouterr().out
