"""One way is put through the whole book, and nothing else is changed."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st
from reglet.manuscript import editing
from reglet.manuscript.stage import Stage
from reglet.overlays.examine import Examiner
from reglet.overlays.query import Choice
from reglet.overlays.settle import put_through, settle

from tests.unit.overlays.test_examine import a_book


def test_every_place_goes_the_commoner_way():
    mostly_grey = "The sea was grey, as grey as the grey sky.\n" * 5 + "A gray boat."
    book = a_book(mostly_grey, "A gray dog, a grey cat.\n" * 3)
    queries = list(Examiner().examine(book, Stage.PROOF, overlays=["variety"]))
    assert [query.proposal for query in queries] == ["grey"] * len(queries) != []
    after = put_through(book, queries)
    assert [scene.passage.text for scene in after.scenes] == [
        scene.passage.text.replace("gray", "grey") for scene in book.scenes
    ]
    assert not list(Examiner().examine(after, Stage.PROOF, overlays=["variety"]))


def test_what_was_let_stand_stays():
    book = a_book("The grey sea.\n" * 5 + "A gray boat.")
    (query,) = Examiner().examine(book, Stage.PROOF, overlays=["variety"])
    assert put_through(book, [replace(query, stet=True)]) == book


def test_a_recurring_word_of_the_books_own_is_asked_about_once():
    book = a_book("They ate skirlie.", "Skirlie again.\nMore skirlie came.")
    (query,) = Examiner().examine(book, Stage.PROOF, overlays=["spelling"])
    assert query.scene == "s0" and "stands 3 times" in query.message
    book = editing.learn_words(book, ["skirlie"])
    assert not list(Examiner().examine(book, Stage.PROOF, overlays=["spelling"]))


GREY, GRAY = "The grey sea was as grey as slate.", "A gray boat went out."


@given(st.lists(st.sampled_from([GREY, GRAY, "Nothing."]), min_size=1), st.booleans())
def test_the_writers_choice_wins_over_the_commoner_way(lines, is_grey):
    book = a_book("\n".join(lines), GREY)
    way, other = ("grey", "gray") if is_grey else ("gray", "grey")
    settled = settle(book, "variety", [Choice("grey or gray", f"“{way}”")])
    assert len(settled.queries) == sum(s.passage.text.count(other) for s in book.scenes)
    assert [s.passage.text for s in settled.book.scenes] == [
        s.passage.text.replace(other, way) for s in book.scenes
    ]
    assert settled.book.style_sheet.way("grey or gray") == f"“{way}”"
    assert not list(Examiner().examine(settled.book, Stage.PROOF, overlays=["variety"]))
