from dataclasses import replace

import pytest
from reglet.bookfile import BookFile
from reglet.errors import WriterError
from reglet.manuscript.arranging import merge_scenes, split_scene
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.editing import edit
from reglet.manuscript.heard import Heard, most_heard, paragraph_key
from reglet.manuscript.paragraph import Paragraph, scene_break
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.voice.coverage import (
    USUAL_SECONDS_A_WORD,
    Counted,
    of_scene,
    of_scenes,
    seconds_left,
    seconds_to_aim,
    together,
    with_hearing,
    with_hearings_of,
    word_of_rest,
)
from reglet.voice.reading_order import Place
from reglet.voice.said_as import dictionary, sentence_with, that_matter, with_said

SCENE = Scene("s", "", Passage.of([Paragraph("One two three."), scene_break(), Paragraph("Four.")]))
BOOK = Book(
    parts=(Part("p", "", (Chapter("c", "", (SCENE, Scene("t", "", Passage.plain("Five.")))),)),)
)
FIRST, SECOND = paragraph_key("One two three."), paragraph_key("Four.")


def test_hearings_are_counted_by_words():
    book = with_hearing(with_hearing(with_hearing(BOOK, "s", FIRST), "s", FIRST), "s", SECOND)
    covered = of_scene(book.scene("s"))
    assert [(h.words, h.times) for h in covered.paragraphs] == [(3, 2), (1, 1)]
    assert (covered.share(), covered.share(2), covered.share(3)) == (1.0, 0.75, 0.0)
    assert covered.hearings == 1.75
    assert covered.words_left(3) == 3 * 1 + 1 * 2
    assert covered.whole_hearings == 1
    assert of_scenes(book.texts).share() == 0.8


def test_a_book_is_counted_by_chapter_and_only_what_has_changed_anew():
    front = Scene("f", "Dedication", Passage.plain("For Ada."))
    empty = Scene("e", "", Passage())
    book = replace(with_hearing(BOOK, "s", FIRST), front=(front,), back=(empty,))
    counted = Counted()
    before = counted.chapters(book)
    assert [(c.title, [s.scene for s in c.scenes]) for c in before] == [
        ("Front matter", ["f"]),
        ("Chapter 1", ["s", "t"]),
    ]
    assert before[1].covered == of_scenes(book.scenes)
    after = counted.chapters(with_hearing(book, "t", paragraph_key("Five.")))
    assert after[1].scenes[0].covered is before[1].scenes[0].covered
    assert after[1].scenes[1].covered.hearings == 1.0
    assert together(each.covered for each in after).words == 7


def test_what_is_left_to_the_aim_depends_on_the_pace():
    covered = of_scenes(with_hearing(BOOK, "s", FIRST).texts)
    assert seconds_to_aim(covered, 1, 1.0) == 2 * seconds_to_aim(covered, 1, 2.0) > 0
    assert seconds_to_aim(covered, 2) > seconds_to_aim(covered, 1)


@pytest.mark.parametrize(
    ("word", "sentence"), [("two", "One two three."), ("Four", "Four."), ("tw", "tw"), ("x", "x")]
)
def test_a_word_is_heard_in_its_sentence(word, sentence):
    assert sentence_with(BOOK, word) == sentence


def test_a_changed_paragraph_is_unheard_and_undoing_the_change_gives_it_back():
    book = with_hearing(BOOK, "s", FIRST)
    changed = edit(book, "s", 0, 3, Passage.plain("Once"))
    assert of_scene(changed.scene("s")).share() == 0.0
    changed = with_hearing(changed, "s", SECOND)
    undone = with_hearings_of(book, changed)
    assert of_scene(undone.scene("s")).share() == 1.0
    assert with_hearings_of(undone, changed) is undone


def test_the_same_paragraph_twice_counts_half():
    scene = Scene("s", "", Passage.plain("Yes.\nYes."), heard=(Heard(paragraph_key("Yes."), 3),))
    assert [h.times for h in of_scene(scene).paragraphs] == [1, 1]


def test_what_is_known_of_gone_paragraphs_does_not_pile_up():
    book = BOOK
    for number in range(100):
        book = with_hearing(book, "s", f"gone-{number}")
    book = with_hearing(book, "s", FIRST)
    assert len(book.scene("s").heard) <= 20
    assert of_scene(book.scene("s")).share() == 0.75


def test_splitting_and_merging_take_no_hearing_back():
    book = with_hearing(with_hearing(BOOK, "s", FIRST), "s", SECOND)
    parted = split_scene(book, "s", 19)
    assert of_scenes(parted.scenes[:2]).share() == 1.0
    assert of_scene(merge_scenes(parted, [s.id for s in parted.scenes]).scenes[0]).share() == 0.8
    assert most_heard([Heard("a", 1)], [Heard("a", 3)], [Heard("b", 2)]) == (
        Heard("a", 3),
        Heard("b", 2),
    )


def test_time_left_at_a_pace():
    assert seconds_left(BOOK) == 5 * USUAL_SECONDS_A_WORD
    assert seconds_left(BOOK, Place("s", 8), 2.0) == 1.5 * USUAL_SECONDS_A_WORD
    assert seconds_left(BOOK, Place("t", 0)) == USUAL_SECONDS_A_WORD


def test_a_word_of_rest_comes_once_a_while():
    assert word_of_rest(44 * 60) == ""
    assert word_of_rest(45 * 60).startswith("You have listened for 45 minutes.")
    assert word_of_rest(50 * 60, told=45 * 60) == ""


def test_hearings_and_said_names_are_saved_and_older_books_open(tmp_path):
    book = with_said(with_hearing(BOOK, "s", FIRST), "Isaura", "eye-sora")
    with BookFile.create(tmp_path / "a.reglet", BOOK) as file:
        file.save(book)
        file.save(with_hearing(book, "s", FIRST))
    with BookFile.open(tmp_path / "a.reglet") as file:
        assert of_scene(file.book.scene("s")).paragraphs[0].times == 2
        assert dictionary(file.book.style_sheet) == {"isaura": "eye-sora"}
        assert file.verify() == []


def test_older_books_know_nothing_of_hearings():
    from reglet.bookfile.encoding import (
        book_from_json,
        facts_to_json,
        outline_to_json,
        scene_from_json,
        scene_to_json,
    )

    scenes = [
        replace(scene_from_json(scene_to_json(s).replace(',"heard":[]', "")), passage=s.passage)
        for s in BOOK.texts
    ]
    assert ',"heard"' in scene_to_json(SCENE)
    facts = facts_to_json(BOOK).replace(',"said_as":[]', "")
    assert "said_as" not in facts
    assert book_from_json(outline_to_json(BOOK), facts, iter(scenes)) == BOOK


@pytest.mark.parametrize(
    ("word", "said"), [("two words", "x"), ("", "x"), ("Isaura", "[[x"), ("Isaura", "[[ ]]")]
)
def test_what_cannot_be_said_is_refused(word, said):
    with pytest.raises(WriterError, match="othing was changed"):
        with_said(BOOK, word, said)


def test_the_dictionary_grows_changes_and_shrinks():
    book = with_said(with_said(BOOK, "Tarrow", "[[tæroʊ]]"), "O’Hara", "o-hara")
    book = with_said(book, "TARROW", "tar-oh")
    assert book.style_sheet.said_as == (("O’Hara", "o-hara"), ("TARROW", "tar-oh"))
    own = dictionary(book.style_sheet)
    assert that_matter(own, "Then O’Hara’s boat") == {"o'hara": "o-hara"}
    assert with_said(with_said(book, "tarrow", ""), "O'Hara", "").style_sheet.said_as == ()
