"""A draft arrangement is tried, taken or dropped, and no scene is lost by it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet.errors import CannotArrange, UnknownThing
from reglet.manuscript import arranging, draft_arrangement, offcuts
from reglet.manuscript.passage import Passage

from tests.strategies import books
from tests.unit.manuscript.test_alternatives import WHEN, a_book, words


def shuffled(book, data):
    ids = [scene.id for scene in book.scenes]
    for _ in range(data.draw(st.integers(0, 3))):
        chosen = data.draw(st.lists(st.sampled_from(ids), min_size=1, unique=True))
        chapter = data.draw(st.sampled_from(book.chapters))
        book = arranging.move_scenes(book, chosen, chapter.id, data.draw(st.integers(0, 3)))
    try:
        return arranging.start_chapter(book, data.draw(st.sampled_from(ids)), "New")
    except CannotArrange:
        return book


@given(books(), st.data())
def test_an_order_is_tried_and_taken_or_dropped(book, data):
    begun, draft = draft_arrangement.begun(book, "Gale first")
    assert draft_arrangement.arranged(begun, draft).parts == book.parts
    shaped = shuffled(draft_arrangement.arranged(begun, draft), data)
    kept = draft_arrangement.kept(begun, draft, shaped)
    assert kept.parts == book.parts
    taken = draft_arrangement.taken(kept, draft)
    assert taken.scenes == shaped.scenes
    assert [c.title for c in taken.chapters if c.scenes] == [
        c.title for c in shaped.chapters if c.scenes
    ]
    assert taken.arrangements == ()
    assert draft_arrangement.dropped(kept, draft) == book


@given(books(), st.data())
def test_what_the_book_became_meanwhile_is_kept(book, data):
    begun, draft = draft_arrangement.begun(book, "Gale first")
    shaped = shuffled(draft_arrangement.arranged(begun, draft), data)
    kept = draft_arrangement.kept(begun, draft, shaped)
    chapter = data.draw(st.sampled_from(kept.chapters))
    later = arranging.add_scene(
        kept, chapter.id, data.draw(st.integers(0, 3)), "", Passage.plain("since")
    )
    later = offcuts.cut_scene(later, data.draw(st.sampled_from(kept.scenes)).id, WHEN)
    later = arranging.move_scenes(later, [later.scenes[-1].id], later.chapters[0].id, 0)
    found = draft_arrangement.arranged(later, draft)
    assert sorted(s.id for s in found.scenes) == sorted(s.id for s in later.scenes)
    assert {c.title for c in later.chapters} <= {c.title for c in found.chapters}
    assert words(found) == words(later)


def test_an_arrangement_that_is_not_there_is_named():
    book, draft = draft_arrangement.begun(a_book(), "One")
    for work in (draft_arrangement.arranged, draft_arrangement.taken, draft_arrangement.dropped):
        with pytest.raises(UnknownThing, match="“none”"):
            work(book, "none")
    assert draft_arrangement.dropped(book, draft).arrangements == ()
