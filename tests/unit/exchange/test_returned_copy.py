"""A returned copy: every remark becomes a note where its words stand, and the text stays."""

from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest
from docx import Document
from hypothesis import given, settings
from reglet.errors import DraftError
from reglet.exchange import read_draft, read_returned, take_back, write_docx
from reglet.manuscript.anchored import Note
from reglet.manuscript.arranging import move_scenes
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.editing import edit
from reglet.manuscript.offcuts import cut_scene
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene

from tests.strategies import books

WHEN = datetime(2031, 5, 4, 12, 30, tzinfo=UTC)
LAMP = "The lamp was lit.\nNobody had lit it.\n“Well?” said Dorrel, who had come in by the stairs."
SALT = (
    "Salt lay on the sill 🐚 in a line.\nShe did not sweep it up.\nIt was morning before she did."
)
MILL = "The mill turned all night.\nIn the morning it stood still."


def a_book() -> Book:
    scenes = [Scene(name.lower(), name, Passage.plain(text)) for name, text in TEXTS]
    one, two = Chapter("c1", "One", tuple(scenes[:2])), Chapter("c2", "Two", tuple(scenes[2:]))
    return Book("Ledger", "L. G.", (Part("p", "", (one, two)),))


TEXTS = (("Lamp", LAMP), ("Salt", SALT), ("Mill", MILL))


def edited(book: Book, scene_id: str, old: str, new: str) -> Book:
    """The book with the first `old` in a scene given way to `new`."""
    at = book.scene(scene_id).passage.text.index(old)
    return edit(book, scene_id, at, at + len(old), Passage.plain(new) if new else Passage())


def noted(book: Book, scene_id: str, words: str, text: str) -> Book:
    """The book with an editor's comment on `words`."""
    scene = book.scene(scene_id)
    at = scene.passage.text.index(words)
    note = Note("n", at, at + len(words), words, text, WHEN, "Ada", "comment")
    return book.with_scene(replace(scene, notes=(*scene.notes, note)))


def found(now: Book, returned: Book, *states: Book) -> list[str]:
    """The notes that taking `returned` back makes, as "scene: words under them: text"."""
    done = take_back(now, read_returned(states or (now,), returned, "copy.docx"))
    for scene in done.book.texts:
        assert scene.passage == now.scene(scene.id).passage
    return [
        f"{scene.id}: {scene.passage.text[note.start : note.end]}: {note.text}"
        for scene in done.book.texts
        for note in scene.notes
    ]


@pytest.mark.parametrize(
    ("scene", "old", "new", "note"),
    [
        ("lamp", "Nobody", "No one", "lamp: Nobody: “Nobody” → “No one”"),
        ("lamp", " lit it", " yet lit it", "lamp: : Put in: “yet”"),
        ("salt", " 🐚 in a line", "", "salt:  🐚 in a line: Taken out: “🐚 in a line”"),
        ("lamp", "it.\n“Well", "it. “Well", "lamp: \n: Paragraphs are joined here."),
        (
            "salt",
            "She did not sweep it up.\n",
            "",
            "salt: She did not sweep it up.\n: Taken out: “She did not sweep it up.”",
        ),
        (
            "salt",
            "It was morning",
            "It rained.\nIt was morning",
            "salt: : Put in: “It rained.”",
        ),
        (
            "lamp",
            "come in by the stairs",
            "gone out by a door",
            "lamp: come in by the stairs: “come in by the stairs” → “gone out by a door”",
        ),
    ],
)
def test_a_change_becomes_a_note(scene: str, old: str, new: str, note: str) -> None:
    book = a_book()
    (said,) = found(book, edited(book, scene, old, new))
    assert said == note


def test_a_comment_stands_where_its_words_stand_now() -> None:
    sent = a_book()
    returned = noted(edited(sent, "salt", "She did not", "She would not"), "salt", "sweep", "Why?")
    now = edited(edited(sent, "salt", "Salt", "Much salt"), "lamp", "The lamp", "A lamp")
    now = move_scenes(now, ["salt"], "c2", 1)
    assert found(now, returned, now, sent) == ["salt: did: “did” → “would”", "salt: sweep: Why?"]


def test_what_the_writer_changed_since_is_no_change_of_the_editors() -> None:
    sent = a_book()
    now = edited(sent, "lamp", "Nobody", "Somebody")
    assert found(now, sent, now, sent) == []


def test_a_remark_on_a_scene_that_is_gone_is_not_lost() -> None:
    sent = a_book()
    returned = noted(sent, "salt", "sweep", "Why?")
    now = cut_scene(sent, "salt", WHEN)
    assert found(now, returned, now, sent) == ["lamp: : Why?"]


def test_the_same_copy_taken_back_again_adds_nothing() -> None:
    book = a_book()
    copy = read_returned(
        [book], noted(edited(book, "mill", "all", "the whole"), "lamp", "lit", "By whom?"), "c"
    )
    once = take_back(book, copy)
    assert (once.comments, once.changes, once.there) == (1, 1, 0)
    again = take_back(once.book, copy)
    assert again.book == once.book and again.there == 2
    assert "as it was" in again.said


def test_another_book_is_no_copy() -> None:
    other = Book(
        parts=(
            Part(
                "p",
                "",
                (
                    Chapter(
                        "c",
                        "",
                        (
                            Scene(
                                "s",
                                "",
                                Passage.plain("Hi."),
                            ),
                        ),
                    ),
                ),
            ),
        )
    )
    with pytest.raises(DraftError, match="no copy of this book"):
        read_returned([a_book()], other, "other.docx")


def test_a_copy_from_a_word_processor(tmp_path: Path) -> None:
    book, path = a_book(), tmp_path / "sent.docx"
    write_docx(book, path)
    document = Document(str(path))
    (paragraph,) = (each for each in document.paragraphs if "Nobody" in each.text)
    document.add_comment(paragraph.runs, text="How long?", author="Ada", initials="A")
    (other,) = (each for each in document.paragraphs if "all night" in each.text)
    other.runs[0].text = other.runs[0].text.replace("all night", "till dawn")
    document.save(str(path))
    returned = read_draft(path).book()
    assert found(book, returned) == [
        "lamp: Nobody had lit it.: How long?",
        "mill: all night: “all night” → “till dawn”",
    ]


@settings(max_examples=40)
@given(books(), books())
def test_no_remark_and_no_word_is_lost(one: Book, other: Book) -> None:
    noted_scenes = {
        scene.id: replace(
            scene, notes=(Note(f"n-{scene.id}", 0, len(scene.passage), "", "?", WHEN),)
        )
        for scene in one.texts
    }
    returned = one
    for scene in noted_scenes.values():
        returned = returned.with_scene(scene)
    if not any(p.text.strip() for s in one.texts for p in s.passage.paragraphs):
        return
    copy = read_returned([one, other], returned, "copy")
    assert len(copy.remarks) >= len(returned.texts)
    done = take_back(other, copy)
    assert [s.passage for s in done.book.texts] == [s.passage for s in other.texts]
    if other.texts:
        assert done.comments + done.changes + done.there == len(copy.remarks)
