"""Several scenes at once, and two versions of a scene kept: not a word is lost."""

from collections import Counter
from dataclasses import replace
from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet.errors import CannotArrange, UnknownThing
from reglet.manuscript import editing, offcuts
from reglet.manuscript.anchored import Note
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene, Verdict

from tests.strategies import books

WHEN = datetime(2026, 1, 2, tzinfo=UTC)


def words(book):
    texts = [scene.passage.text for scene in book.texts]
    texts += [offcut.scene.passage.text for offcut in book.offcuts]
    return Counter(" ".join(texts).split())


def ids(book):
    return [scene.id for scene in book.scenes]


@given(books(), st.data())
def test_several_scenes_are_cut_and_put_back(book, data):
    chosen = data.draw(st.lists(st.sampled_from(ids(book)), unique=True))
    cut = offcuts.cut_scenes(book, chosen, WHEN)
    assert set(ids(cut)) == set(ids(book)) - set(chosen)
    assert words(cut) == words(book)
    assert offcuts.put_back_all(cut, [each.id for each in cut.offcuts]) == book


@given(books(), st.data())
def test_an_alternative_is_kept_and_swapped(book, data):
    scene = data.draw(st.sampled_from(book.scenes))
    note = Note("n", 0, 0, "", "?", WHEN)
    book = book.with_scene(replace(scene, notes=(note,)))
    both = offcuts.keep_alternative(book, scene.id, WHEN)
    assert both.scenes == book.scenes
    (kept,) = offcuts.alternatives(both, scene.id)
    assert kept.scene.passage == scene.passage
    assert kept.scene.id != scene.id
    assert kept.scene.notes[0].id != "n"
    rewritten = editing.edit(both, scene.id, 0, 0, Passage.plain("New. "))
    swapped = offcuts.swap_alternative(rewritten, kept.id)
    assert words(swapped) == words(rewritten)
    place = ids(book).index(scene.id)
    assert swapped.scenes[place] == kept.scene
    assert [s for s in swapped.scenes if s.id != kept.scene.id] == [
        s for s in rewritten.scenes if s.id != scene.id
    ]
    (other,) = offcuts.alternatives(swapped, kept.scene.id)
    assert other.scene == rewritten.scene(scene.id)
    assert offcuts.swap_alternative(swapped, other.id) == rewritten
    back = offcuts.put_back(rewritten, kept.id)
    assert ids(back)[place + 1] == kept.scene.id
    assert words(back) == words(rewritten)


@given(books(), st.data())
def test_a_passage_cut_from_one_version_goes_back_after_a_swap(book, data):
    scene = data.draw(st.sampled_from([s for s in book.scenes if len(s.passage)] or [None]))
    if scene is None:
        return
    both = offcuts.keep_alternative(book, scene.id, WHEN)
    end = data.draw(st.integers(1, len(scene.passage)))
    cut = offcuts.cut_passage(both, scene.id, 0, end, WHEN)
    (kept,) = offcuts.alternatives(cut, scene.id)
    swapped = offcuts.swap_alternative(cut, kept.id)
    back = offcuts.put_back(swapped, cut.offcuts[-1].id)
    assert [offcut.scene.id for offcut in back.offcuts] == [scene.id]
    taken = scene.passage.text[:end]
    assert back.scene(kept.scene.id).passage.text == taken + scene.passage.text


def test_what_cannot_be_swapped_says_so():
    book = replace(a_book(), front=(Scene("f"),))
    with pytest.raises(CannotArrange, match="chapters only"):
        offcuts.keep_alternative(book, "f", WHEN)
    both = offcuts.keep_alternative(book, "s", WHEN)
    alone = offcuts.cut_scene(both, "s", WHEN)
    for offcut in alone.offcuts:
        with pytest.raises(CannotArrange, match="Nothing was changed"):
            offcuts.swap_alternative(alone, offcut.id)
    with pytest.raises(UnknownThing):
        offcuts.put_back_all(both, ["none"])


def test_a_verdict_on_several_scenes():
    book = editing.set_verdicts(a_book(), ["s", "t"], Verdict.CUT)
    assert [scene.sheet.verdict for scene in book.scenes] == [Verdict.CUT, Verdict.CUT, None]
    assert editing.set_verdicts(book, ["s", "t"], None) == a_book()


def a_book():
    scenes = tuple(Scene(each, passage=Passage.plain(f"Scene {each}.")) for each in "stu")
    return Book(parts=(Part("p", chapters=(Chapter("c", scenes=scenes),)),))
