"""Two states of a book, scene by scene."""

import pytest
from hypothesis import given
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.comparison import Fate, compare_books
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.manuscript.words import count_words

from tests.strategies import books


def book(notation: str) -> Book:
    """Chapters parted by a bar, one letter a scene; a capital is the scene's text changed."""
    chapters = tuple(
        Chapter(
            f"chapter-{number}",
            scenes=tuple(
                Scene(letter.lower(), passage=Passage.plain(f"Scene {letter}.")) for letter in each
            ),
        )
        for number, each in enumerate(notation.split("|"))
    )
    return Book(parts=(Part("part", chapters=chapters),))


@pytest.mark.parametrize(
    ("old", "new", "found"),
    [
        ("abc", "abc", "a b c"),
        ("abc", "aBc", "a *b c"),
        ("abc", "axbc", "a +x b c"),
        ("abc", "ac", "a -b c"),
        ("abc", "bc", "-a b c"),
        ("abcd", "bcda", "b c d ~a"),
        ("abcd", "dabc", "~d a b c"),
        ("ab|cd", "abc|d", "a b ~c d"),
        ("abcd", "Dac", "~*d a -b c"),
        ("", "ab", "+a +b"),
        ("ab", "", "-a -b"),
    ],
)
def test_what_became_of_each_scene(old: str, new: str, found: str) -> None:
    signs = {Fate.SAME: "", Fate.CHANGED: "*", Fate.ADDED: "+", Fate.CUT: "-"}
    compared = compare_books(book(old), book(new)).scenes
    assert found == " ".join(
        ("~" if each.moved else "") + signs[each.fate] + each.scene.id for each in compared
    )


@given(books(), books())
def test_words_add_up(old: Book, new: Book) -> None:
    found = compare_books(old, new)

    def words(each: Book) -> int:
        return sum(count_words(scene.passage.text) for scene in each.texts)

    assert words(old) + found.words_added - found.words_cut == words(new)
    assert {each.scene.id for each in found.scenes} == {s.id for s in (*old.texts, *new.texts)}
