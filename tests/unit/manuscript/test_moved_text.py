"""Paragraphs that went from one scene to another are seen as moved."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet.manuscript import arranging
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.comparison import compare_books
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene

from tests.strategies import books

LONG = {
    "a": "The ferry came in with its lantern.",
    "b": "Nobody at all stood on the landing.",
    "c": "Her aunt poured the tea by ear.",
    "x": "He said.",
}


def book(notation):
    """Scenes parted by a bar, a letter a paragraph; x is a short one."""
    scenes = tuple(
        Scene(f"s{n}", passage=Passage.plain("\n".join(LONG[letter] for letter in each)))
        for n, each in enumerate(notation.split("|"))
    )
    return Book(parts=(Part("p", chapters=(Chapter("c", scenes=scenes),)),))


@pytest.mark.parametrize(
    ("old", "new", "moved"),
    [
        ("ab|c", "a|bc", "b s0>s1"),
        ("ab|c", "b|ca", "a s0>s1"),
        ("ab|c", "ab|c", ""),
        ("ab|c", "ba|c", ""),
        ("ab|c", "a|c", ""),
        ("ab|c", "ab|cb", ""),
        ("ax|c", "a|xc", ""),
        ("a|b|c", "b|c|a", "b s1>s0, c s2>s1, a s0>s2"),
        ("aa|c", "a|ac", "a s0>s1"),
    ],
)
def test_which_paragraphs_moved(old, new, moved):
    compared = compare_books(book(old), book(new))
    letters = {text: letter for letter, text in LONG.items()}
    found = compared.moved_paragraphs
    assert moved == ", ".join(
        f"{letters[each.text]} {each.old_scene}>{each.new_scene}" for each in found
    )
    for each in found:
        for state, scene, start in (
            (book(old), each.old_scene, each.old_start),
            (book(new), each.new_scene, each.new_start),
        ):
            assert state.scene(scene).passage.text[start:].startswith(each.text)
    assert compared.words_moved == 7 * len(found)


def test_words_moved_are_neither_new_nor_gone():
    compared = compare_books(book("ab|c"), book("a|bc"))
    assert (compared.words_added, compared.words_cut) == (7, 7)
    assert compared.words_moved == 7


@given(books(), st.data())
def test_splitting_and_merging_only_move_words(old, data):
    scene = data.draw(st.sampled_from(old.scenes))
    position = data.draw(st.sampled_from(scene.passage.starts))
    try:
        new = arranging.split_scene(old, scene.id, position)
    except arranging.CannotArrange:
        return
    moved = compare_books(old, new).moved_paragraphs
    assert all(each.old_scene == scene.id for each in moved)
    assert [each.new_scene for each in moved] == [
        each.old_scene for each in compare_books(new, old).moved_paragraphs
    ]


@given(books(), books())
def test_nothing_moves_but_between_two_scenes(old, new):
    for each in compare_books(old, new).moved_paragraphs:
        assert each.old_scene != each.new_scene
        assert each.text in [p.text for p in old.scene(each.old_scene).passage.paragraphs]
        assert each.text in [p.text for p in new.scene(each.new_scene).passage.paragraphs]
