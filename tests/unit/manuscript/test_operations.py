"""No operation loses or alters a word it was not asked to, and what is tied to words stays tied."""

from collections import Counter
from dataclasses import replace
from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet.errors import CannotArrange, UnknownThing
from reglet.manuscript import arranging, editing, offcuts
from reglet.manuscript.anchored import Allowance, Note, Stet
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene, SceneSheet

from tests.strategies import books, passages

WHEN = datetime(2026, 1, 2, tzinfo=UTC)


def all_words(book):
    """The multiset of words in the book and its Offcuts, headings included."""
    texts = [scene.passage.text for scene in book.texts]
    texts += [offcut.scene.passage.text for offcut in book.offcuts]
    texts += [chapter.title for chapter in book.chapters] + [part.title for part in book.parts]
    return Counter(" ".join(texts).split())


def noted(book):
    """The words under each note, wherever the note now is."""
    scenes = (*book.texts, *(offcut.scene for offcut in book.offcuts))
    return {
        note.id: scene.passage.text[note.start : note.end]
        for scene in scenes
        for note in scene.notes
    }


@st.composite
def noted_books(draw):
    """Books with a note and a stet on the first paragraph of every scene."""
    book = draw(books())
    for scene in book.scenes:
        end = len(scene.passage.paragraphs[0].text)
        words = scene.passage.text[:end]
        note = Note(f"note-{scene.id}", 0, end, words, "?", WHEN)
        stets = (Stet("echo", 0, end, words),) if end else ()
        book = book.with_scene(replace(scene, notes=(note,), stets=stets))
    return book


@given(noted_books(), st.data())
def test_moving_keeps_every_scene_whole(book, data):
    ids = [scene.id for scene in book.scenes]
    chosen = data.draw(st.lists(st.sampled_from(ids), min_size=1, unique=True))
    target = data.draw(st.sampled_from(book.chapters))
    index = data.draw(st.integers(0, len(target.scenes)))
    moved = arranging.move_scenes(book, chosen, target.id, index)
    assert sorted(moved.scenes, key=id) == sorted(book.scenes, key=id)
    now = [scene.id for scene in moved.chapter(target.id).scenes]
    at = now.index(chosen[0])
    assert now[at : at + len(chosen)] == chosen
    stayed = [scene.id for scene in target.scenes[:index] if scene.id not in chosen]
    assert now[:at] == stayed
    others = [i for i in ids if i not in chosen]
    assert [scene.id for scene in moved.scenes if scene.id not in chosen] == others


@given(books(), st.data())
def test_moving_a_chapter_keeps_every_chapter_whole(book, data):
    chapter = data.draw(st.sampled_from(book.chapters))
    part = data.draw(st.sampled_from(book.parts))
    index = data.draw(st.integers(0, len(part.chapters)))
    moved = arranging.move_chapter(book, chapter.id, part.id, index)
    assert sorted(c.id for c in moved.chapters) == sorted(c.id for c in book.chapters)
    assert moved.part_of(chapter.id).id == part.id
    assert all(moved.chapter(c.id) == c for c in book.chapters)


@given(noted_books(), st.data())
def test_splitting_and_merging_again_keeps_words_and_notes(book, data):
    scene = data.draw(st.sampled_from(book.scenes))
    position = data.draw(st.integers(0, len(scene.passage)))
    try:
        split = arranging.split_scene(book, scene.id, position)
    except CannotArrange:
        head, tail = scene.passage.divide(position)
        assert not head.text.strip() or not tail.text.strip()
        return
    assert len(split.scenes) == len(book.scenes) + 1
    at = [each.id for each in split.scenes].index(scene.id)
    halves = split.scenes[at : at + 2]
    merged = arranging.merge_scenes(split, [half.id for half in halves])
    whole = merged.scene(scene.id)
    if scene.passage.text[position - 1 : position] == "\n":
        assert whole.passage == scene.passage
        assert noted(merged) == noted(book)
    assert whole.passage.text.replace("\n", "") == scene.passage.text.replace("\n", "")
    for stet in whole.stets:
        assert whole.passage.text[stet.start : stet.end] == stet.words


@given(noted_books(), st.data())
def test_merging_keeps_words_notes_and_stets(book, data):
    ids = [scene.id for scene in book.scenes]
    chosen = data.draw(st.lists(st.sampled_from(ids), min_size=2, unique=True)) if ids[1:] else []
    if not chosen:
        return
    merged = arranging.merge_scenes(book, chosen)
    assert all_words(merged) == all_words(book)
    assert noted(merged) == noted(book)
    scene = merged.scene(chosen[0])
    assert len(scene.stets) == sum(len(book.scene(each).stets) for each in chosen)
    assert all(scene.passage.text[stet.start : stet.end] == stet.words for stet in scene.stets)


@given(noted_books(), st.data())
def test_a_cut_scene_goes_back_where_it_was(book, data):
    scene = data.draw(st.sampled_from(book.scenes))
    cut = offcuts.cut_scene(book, scene.id, WHEN)
    assert all_words(cut) == all_words(book)
    assert not cut.has_scene(scene.id)
    assert offcuts.put_back(cut, cut.offcuts[-1].id) == book


@given(noted_books(), st.data())
def test_a_cut_passage_goes_back_where_it_was(book, data):
    scene = data.draw(st.sampled_from([s for s in book.scenes if len(s.passage)] or [None]))
    if scene is None:
        return
    start = data.draw(st.integers(0, len(scene.passage) - 1))
    end = data.draw(st.integers(start + 1, len(scene.passage)))
    cut = offcuts.cut_passage(book, scene.id, start, end, WHEN)
    assert cut.offcuts[-1].scene.passage.text == scene.passage.text[start:end]
    back = offcuts.put_back(cut, cut.offcuts[-1].id)
    assert back.scene(scene.id).passage == scene.passage
    assert {note.id for note in back.scene(scene.id).notes} == {note.id for note in scene.notes}
    assert not back.offcuts


@given(books(), st.data())
def test_a_cut_passage_follows_what_is_typed_before_it(book, data):
    scene = data.draw(st.sampled_from([s for s in book.scenes if len(s.passage) > 1] or [None]))
    if scene is None:
        return
    start = data.draw(st.integers(1, len(scene.passage) - 1))
    cut = offcuts.cut_passage(book, scene.id, start, len(scene.passage), WHEN)
    typed = editing.edit(cut, scene.id, 0, 0, Passage.plain("New. "))
    back = offcuts.put_back(typed, cut.offcuts[-1].id)
    assert back.scene(scene.id).passage.text == "New. " + scene.passage.text


def test_a_passage_whose_scene_is_cut_is_not_lost():
    scene = Scene("s", passage=Passage.plain("one two three"))
    book = Book(parts=(Part("p", chapters=(Chapter("c", scenes=(scene,)),)),))
    book = offcuts.cut_scene(offcuts.cut_passage(book, "s", 4, 7, WHEN), "s", WHEN)
    passage, whole = book.offcuts
    with pytest.raises(CannotArrange, match="Put that scene back first"):
        offcuts.put_back(book, passage.id)
    book = offcuts.put_back(book, whole.id)
    assert offcuts.put_back(book, passage.id).scene("s").passage == scene.passage


@given(books(), st.data())
def test_chapters_are_started_and_joined_without_losing_a_word(book, data):
    scene = data.draw(st.sampled_from(book.scenes))
    try:
        started = arranging.start_chapter(book, scene.id, "Nine")
    except CannotArrange:
        assert book.chapter_of(scene.id).scenes[0] is scene
        return
    assert started.scenes == book.scenes
    joined = arranging.join_chapter(started, started.chapter_of(scene.id).id)
    assert [each.passage for each in joined.scenes] == [each.passage for each in book.scenes]
    assert joined.scene(scene.id).title == f"Nine · {scene.title}"


@given(books(), passages(), st.data())
def test_an_edit_changes_one_scene_and_keeps_the_rest(book, fragment, data):
    scene = data.draw(st.sampled_from(book.scenes))
    start = data.draw(st.integers(0, len(scene.passage)))
    end = data.draw(st.integers(start, len(scene.passage)))
    edited = editing.edit(book, scene.id, start, end, fragment)
    text = scene.passage.text
    assert edited.scene(scene.id).passage.text == text[:start] + fragment.text + text[end:]
    assert all(edited.scene(each.id) is each for each in book.scenes if each is not scene)


@given(noted_books(), st.data())
def test_a_stet_lasts_as_long_as_its_own_words(book, data):
    scene = data.draw(st.sampled_from([s for s in book.scenes if s.stets] or [None]))
    if scene is None:
        return
    start = data.draw(st.integers(0, len(scene.passage)))
    end = data.draw(st.integers(start, len(scene.passage)))
    after = editing.edit(book, scene.id, start, end, Passage.plain("x")).scene(scene.id)
    (stet,) = scene.stets
    touched = start < stet.end and end > stet.start
    assert bool(after.stets) == (not touched)
    assert all(after.passage.text[s.start : s.end] == s.words for s in after.stets)


def test_the_writer_can_let_words_stand():
    scene = Scene("s", passage=Passage.plain("the the tide"))
    book = Book(parts=(Part("p", chapters=(Chapter("c", scenes=(scene,)),)),))
    stood = editing.let_stand(book, "s", "double", 0, 7)
    assert stood.scene("s").stets == (Stet("double", 0, 7, "the the"),)
    stood = editing.let_stand_in_book(stood, Allowance("double", "the the"))
    assert stood.style_sheet.allowances == {Allowance("double", "the the")}


def test_merged_sheets_drop_nothing():
    one = SceneSheet(happens="The ferry lands", who=("Ann", "Bo"), eyes="Ann")
    two = SceneSheet(happens="It sinks", who=("Bo", "Cy"), where="the quay")
    joined = one.joined(two)
    assert joined.happens == "The ferry lands; It sinks"
    assert joined.who == ("Ann", "Bo", "Cy")
    assert (joined.eyes, joined.where) == ("Ann", "the quay")


@pytest.mark.parametrize(
    "call",
    [
        lambda b: arranging.move_scenes(b, ["none"], "c", 0),
        lambda b: arranging.move_chapter(b, "none", "p", 0),
        lambda b: arranging.retitle(b, "none", "x"),
        lambda b: arranging.join_chapter(b, "none"),
        lambda b: offcuts.cut_scene(b, "none", WHEN),
        lambda b: offcuts.put_back(b, "none"),
        lambda b: editing.edit(b, "none", 0, 0, Passage.plain("x")),
    ],
)
def test_what_is_not_there_is_named_in_a_sentence(call):
    book = Book(parts=(Part("p", chapters=(Chapter("c", scenes=(Scene("s"),)),)),))
    with pytest.raises(UnknownThing, match=r"“none” in this book\."):
        call(book)
