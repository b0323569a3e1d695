"""Facts of scenes: what they count, and that an edit reads no more than it must."""

from dataclasses import replace

import pytest
from hypothesis import given
from reglet.manuscript import editing
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.paragraph import Paragraph, Style
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene, SceneSheet
from reglet.story import facts as facts_module
from reglet.story.facts import Analyst, unread
from reglet.story.outline import reverse_outline
from reglet.story.views import all_views

from tests.strategies import books, passages


def book_of(*texts, **fields):
    scenes = tuple(Scene(f"s{n}", passage=Passage.plain(text)) for n, text in enumerate(texts))
    return Book(parts=(Part("p", chapters=(Chapter("c", scenes=scenes),)),), **fields)


SEEN = (
    "Mrs Tarrow thought it late. Mrs Tarrow knew the sum. She remembered the boat.\n“I hope so,” "
    "said Mr Crake."
)


def test_what_a_scene_says():
    (scene,) = Analyst().read(book_of(SEEN)).scenes
    assert (scene.words, scene.spoken) == (20, 3)
    assert sum(scene.sentences) == 20
    assert scene.sentences[:3] == (5, 5, 4)
    assert scene.dialogue == 3 / 20


def test_what_is_known_so_far_is_told_on_the_way():
    book, analyst, so_far = book_of(SEEN, "Rain.", "More rain."), Analyst(), []
    assert not analyst.knows(book_of(*("Rain.",) * 9))
    facts = analyst.read(book, on_the_way=lambda scenes: so_far.append(len(scenes)))
    assert so_far == [1, 2, 3]
    assert analyst.knows(book)
    assert [unread(scene).words for scene in book.scenes] == [each.words for each in facts.scenes]

    def stop(scenes):
        raise KeyError

    with pytest.raises(KeyError):
        analyst.read(book, on_the_way=stop)
    assert analyst.read(book) == facts


def test_whose_eyes():
    facts = Analyst().read(book_of(SEEN, "Rain.", "I thought so. I knew. I sat. I rose. I left."))
    assert [each.name for each in facts.eyes] == ["Mrs Tarrow", "", "I"]
    stated = editing.set_sheet(facts.book, "s0", SceneSheet(eyes="Mr Crake"))
    eyes = Analyst().read(stated).eyes[0]
    assert (eyes.name, eyes.stated) == ("Mr Crake", True)


def test_letters_are_nobodys_eyes():
    text = "I thought so. I knew. I sat. I rose. I left."
    scene = Scene("s", passage=Passage((Paragraph(text, Style.LETTER),)))
    book = Book(parts=(Part("p", chapters=(Chapter("c", scenes=(scene,)),)),))
    assert Analyst().read(book).eyes[0].name == ""


def test_a_sheet_is_proposed_and_never_overwritten():
    facts = Analyst().read(book_of(SEEN, threads=("the sum",)))
    proposed = facts.proposed_sheet(0)
    assert proposed.who == ("Mrs Tarrow",)
    assert proposed.eyes == "Mrs Tarrow"
    assert proposed.threads == ("the sum",)
    said = SceneSheet(who=("Nobody",), eyes="A gull", when="Tuesday", threads=("x",))
    book = editing.set_sheet(facts.book, "s0", said)
    assert Analyst().read(book).proposed_sheet(0) == said


@given(books(), passages())
def test_after_an_edit_all_is_as_if_read_anew(book, passage):
    analyst = Analyst()
    analyst.read(book)
    edited = editing.rewrite(book, book.scenes[0].id, passage)
    edited = editing.set_sheet(edited, book.scenes[-1].id, SceneSheet(when="Tuesday"))
    again, anew = analyst.read(edited), Analyst().read(edited)
    assert again.scenes == anew.scenes
    assert again.cast == anew.cast
    assert all_views(again) == all_views(anew)
    assert len(reverse_outline(again).rows) == len(book.scenes)


def test_only_what_changed_is_read_again(monkeypatch):
    read = []
    real = facts_module._read_paragraph

    def counted(text, marks, continued):
        read.append(text)
        return real(text, marks, continued)

    monkeypatch.setattr(facts_module, "_read_paragraph", counted)
    book = book_of("One.\nTwo.", "Three.")
    analyst = Analyst()
    analyst.read(book)
    analyst.read(editing.edit(book, "s0", 0, 3, Passage.plain("Ten")))
    assert read == ["One.", "Two.", "Three.", "Ten."]
    analyst.read(replace(book, parts=()))
    assert analyst.read(book).scenes[1].words == 1
    assert read == ["One.", "Two.", "Three.", "Ten."]
