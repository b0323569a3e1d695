"""Threads are followed through scenes; what is dropped is seen."""

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet.language.prose import Prose
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene, SceneSheet
from reglet.story.threads import Thread, objects_in, read_thread, trail, vanished


@pytest.mark.parametrize(
    ("said", "thread"),
    [
        ("the brass key: key, red thread", Thread("the brass key", ("key", "red thread"))),
        ("the brass key", Thread("the brass key", ("brass key",))),
        ("Oranges", Thread("Oranges", ("oranges",))),
    ],
)
def test_a_thread_is_read(said, thread):
    assert read_thread(said) == thread


def scenes(notation):
    """One letter a scene: k names the key, K twice, s on its sheet, a dot has nothing."""
    texts = {"k": "A key.", "K": "The key; keys.", "s": "Rain.", ".": "Monkeys."}
    return [
        Scene(
            f"s{n}",
            passage=Passage.plain(texts[letter]),
            sheet=SceneSheet(threads=("key",) if letter == "s" else ()),
        )
        for n, letter in enumerate(notation)
    ]


@pytest.mark.parametrize(
    ("notation", "touched", "gaps", "left_open"),
    [
        ("kk........", [0, 1], [], True),
        ("k.........", [0], [], False),
        ("K.s.......", [0, 2], [], True),
        ("kk......k.", [0, 1, 8], [(1, 8)], False),
        ("..........", [], [], False),
        ("kk..", [0, 1], [], False),
    ],
)
def test_where_a_thread_is_touched(notation, touched, gaps, left_open):
    found = trail(Thread("key", ("key",)), scenes(notation))
    assert [touch.index for touch in found.touches] == touched
    assert [(a.index, b.index) for a, b in found.gaps] == gaps
    assert found.left_open is left_open


def test_objects_are_counted_without_their_plural():
    assert objects_in(Prose("The Key, two keys, a monkey and some knives.")) == (
        "key",
        "key",
        "knife",
    )


@pytest.mark.parametrize(
    ("places", "of", "found"),
    [
        ([0, 1, 5], 25, ("key",)),
        ([0, 1], 25, ()),
        ([0, 1, 12], 25, ()),
        ([0, 1, 2], 8, ()),
    ],
)
def test_an_object_that_vanishes_is_proposed(places, of, found):
    counts = [Counter({"key": 1} if n in places else {}) for n in range(of)]
    assert vanished(counts) == found
    assert vanished(counts, [Thread("the key", ("brass key",))]) == ()


@given(st.text(alphabet="kKs.", max_size=30))
def test_every_touch_is_in_its_scene(notation):
    told = scenes(notation)
    found = trail(Thread("key", ("key",)), told)
    assert [touch.index for touch in found.touches] == [
        n for n, letter in enumerate(notation) if letter != "."
    ]
    for touch in found.touches:
        text = told[touch.index].passage.text[touch.start : touch.end].lower()
        assert text in ("key", "keys", "")
