"""The figures that the command prints."""

import json

import pytest
from reglet.__main__ import main
from reglet.bookfile import BookFile
from reglet.manuscript import editing
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.manuscript.stage import Stage

TEXT = "It rained all day. “Go home,” said Ann."


@pytest.fixture
def path(tmp_path):
    scenes = (Scene("a", passage=Passage.plain(TEXT)), Scene("b"))
    book = Book(parts=(Part("p", chapters=(Chapter("c", scenes=scenes),)),))
    path = tmp_path / "Ferry.reglet"
    with BookFile.create(path, book) as file:
        file.enter_stage(Stage.LINE)
        file.save(editing.edit(book, "a", 9, 17, Passage.plain("")))
    return path


def test_figures_in_json(path, capsys):
    assert main(["figures", str(path), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    first, second = told["scenes"]
    assert (first["scene"], first["words"], first["cut"]) == ("a", 6, 2)
    assert first["sentences"] == [2, 4]
    assert first["sentence_length"] == 3
    assert first["dialogue"] == pytest.approx(2 / 6, abs=1e-4)
    assert second["flesch_reading_ease"] is None
    assert told["book"]["words_at_the_start_of_the_stage"] == 8


def test_figures_of_one_scene(path, capsys):
    assert main(["figures", str(path), "--scene", "a"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert [line.split()[0] for line in lines[1:]] == ["a", "book"]
    assert lines[1].split()[1:3] == ["6", "2"]


def test_words_are_counted_from_the_first_entrance_into_the_stage(path, capsys):
    with BookFile.open(path) as file:
        file.enter_stage(Stage.PROOF)
        file.enter_stage(Stage.LINE)
    assert main(["figures", str(path)]) == 0
    assert capsys.readouterr().out.splitlines()[-1].split()[1:3] == ["6", "2"]


def test_an_unknown_scene_is_a_sentence(path, capsys):
    assert main(["figures", str(path), "--scene", "none"]) == 2
    assert "There is no scene “none”" in capsys.readouterr().err
