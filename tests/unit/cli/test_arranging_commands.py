"""The commands that change the book's order, its text throughout, and answer what is asked."""

import json
from collections import Counter
from datetime import date, timedelta

import pytest
from reglet.__main__ import main
from reglet.bookfile import BookFile, Reason
from reglet.manuscript.anchored import Answer
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene

TEXTS = {
    "a": "The lamp was lit. Nobody had lit it.",
    "b": "Salt lay on the sill. She did not not sweep it up.",
    "c": "The mill turned all night. It was teh miller.",
}
SCENES = tuple(Scene(key, "", Passage.plain(text)) for key, text in TEXTS.items())
BOOK = Book(
    "Ferry",
    "A. Writer",
    (Part("p", "", (Chapter("c1", "One", SCENES[:2]), Chapter("c2", "Two", SCENES[2:]))),),
    (Scene("front", "", Passage.plain("To nobody.")),),
)


@pytest.fixture
def path(tmp_path):
    path = tmp_path / "Ferry.reglet"
    BookFile.create(path, BOOK).close()
    return path


@pytest.fixture
def reglet(capsys, path):
    """Runs a command on the book; its answer, and the book after it."""

    def run(command, *arguments):
        status = main([command, str(path), *map(str, arguments)])
        said = capsys.readouterr()
        assert status == 0, said.err
        with BookFile.open(path, read_only=True) as file:
            return said.out.strip(), file.book

    return run


def order(book):
    return [[scene.id for scene in chapter.scenes] for chapter in book.chapters]


def words(book):
    scenes = (*book.texts, *(each.scene for each in book.offcuts))
    return Counter(word for scene in scenes for word in scene.passage.text.split())


def test_scenes_are_added_moved_and_merged(reglet):
    new, book = reglet("add", "--after", "a", "--title", "The inquest")
    assert order(book) == [["a", new, "b"], ["c"]] and book.scene(new).title == "The inquest"
    _, book = reglet("move", "a", new, "--chapter", 2)
    assert order(book) == [["b"], ["c", "a", new]]
    _, book = reglet("move", "b", "--before", "a")
    assert order(book) == [[], ["c", "b", "a", new]]
    _, book = reglet("merge", "b", "a")
    assert order(book) == [[], ["c", "b", new]]
    assert words(book) == words(BOOK)


def test_a_scene_is_split_where_words_begin(reglet):
    new, book = reglet("split", "a", "Nobody had")
    assert order(book) == [["a", new, "b"], ["c"]]
    assert book.scene(new).passage.text == "Nobody had lit it."


def test_what_is_cut_comes_back(reglet):
    offcut, book = reglet("cut", "a")
    assert order(book) == [["b"], ["c"]]
    passage, book = reglet("cut", "b", "--words", "not sweep")
    assert words(book) == words(BOOK)
    out, _ = reglet("offcuts", "--json")
    assert [each["id"] for each in json.loads(out)] == [offcut, passage]
    assert "The lamp was lit." in reglet("offcuts")[0]
    for each in (passage, offcut):
        _, book = reglet("put-back", each)
    assert [scene.passage for scene in book.scenes] == [scene.passage for scene in SCENES]


def test_scenes_and_chapters_are_renamed(reglet):
    _, book = reglet("rename", "a", "The lamp")
    assert book.scene("a").title == "The lamp"
    _, book = reglet("rename", "chapter 2", "Mill")
    assert book.chapters[1].title == "Mill"


def test_words_are_replaced_after_a_snapshot(reglet, path):
    out, book = reglet("replace", "lit", "burning", "--whole-words", "--list")
    assert (out, book) == ("a 13-16\na 29-32", BOOK)
    _, book = reglet("replace", "lit", "burning", "--whole-words")
    assert book.scene("a").passage.text == "The lamp was burning. Nobody had burning it."
    with BookFile.open(path, read_only=True) as file:
        (taken,) = file.snapshots()
        assert taken.reason is Reason.BEFORE_REPLACE_ALL and file.state(taken.id) == BOOK


def test_a_copy_holds_the_history(reglet, tmp_path):
    reglet("snapshot", "--label", "kept")
    reglet("copy", tmp_path / "copy")
    with BookFile.open(tmp_path / "copy.reglet") as copy:
        assert copy.book == BOOK and [each.label for each in copy.snapshots()] == ["kept"]


def test_notes_are_made_listed_and_answered(reglet):
    made, book = reglet("note", "b", "on the sill", "#cold: whose?")
    (note,) = book.scene("b").notes
    assert (note.id, note.words, note.kind, note.text) == (made, "on the sill", "cold", "whose?")
    out, _ = reglet("notes", "--json")
    (told,) = json.loads(out)
    assert (told["scene"], told["start"], told["answer"]) == ("b", 9, "open")
    _, book = reglet("answer", made, "done")
    assert book.scene("b").notes[0].answer is Answer.DONE
    assert "cold: whose?" in reglet("notes", "--scene", "b")[0]
    assert reglet("notes", "--scene", "a")[0] == ""


def test_queries_are_answered(reglet):
    _, book = reglet("take", "c", "spelling", TEXTS["c"].index("teh"))
    assert book.scene("c").passage.text.endswith("the miller.")
    at = TEXTS["b"].index("not not")
    _, book = reglet("stet", "b", "double", at)
    (stet,) = book.scene("b").stets
    assert (stet.overlay, stet.start) == ("double", at)
    out, _ = reglet("queries", "--stage", "proof", "--overlay", "double", "--json")
    assert [each["stet"] for each in json.loads(out)] == [True]


def test_the_draft_rests(reglet):
    until = date.today() + timedelta(days=3)
    _, book = reglet("rest", "--until", until)
    assert book.rest is not None and book.rest.until == until
    _, book = reglet("rest", "--end")
    assert book.rest is None
    assert reglet("rest")[1].rest is not None


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("split", "a", "no such words"), "do not stand"),
        (("split", "a", "lit"), "stand 2 times"),
        (("move", "a", "--chapter", "9"), "There is no chapter 9"),
        (("move", "a", "--after", "front"), "keep their place"),
        (("cut", "a", "b", "--words", "lit"), "name the one scene"),
        (("put-back", "offcut-9"), "offcut-9"),
        (("rename", "scene-9", "X"), "scene-9"),
        (("answer", "note-9", "done"), "There is no note"),
        (("take", "a", "spelling", "0"), "asks nothing"),
        (("rest", "--until", "2001-01-01"), "a day to come"),
    ],
)
def test_what_cannot_be_done_changes_nothing(path, capsys, arguments, said):
    command, *rest = arguments
    assert main([command, str(path), *rest]) == 2
    assert said in capsys.readouterr().err
    with BookFile.open(path, read_only=True) as file:
        assert file.book == BOOK
