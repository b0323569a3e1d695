"""Overlays of Structure that need a whole book before them."""

from dataclasses import replace

import pytest
from reglet.manuscript.book import Book, Chapter, Part, Person
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene, SceneSheet
from reglet.overlays.house import House
from reglet.overlays.reading import ReadBook, read_scene
from reglet.overlays.structure import (
    chapter_number,
    name_variant,
    person_away,
    placeholder,
    same_eyes,
    still_scene,
    thread_left_open,
    time_contradiction,
)


def a_book(*texts, titles=None, sheets=None, **fields):
    """A book with a chapter for each text."""
    chapters = tuple(
        Chapter(
            f"c{n}",
            titles[n] if titles else "",
            (
                Scene(
                    f"s{n}",
                    f"Title {n}",
                    Passage.plain(text),
                    (sheets or {}).get(n, SceneSheet()),
                ),
            ),
        )
        for n, text in enumerate(texts)
    )
    return Book(parts=(Part("p", chapters=chapters),), **fields)


def found(module, book):
    """What an overlay finds, as "scene: words"."""
    house = House()
    read = ReadBook(book, tuple(read_scene(scene, house.marks) for scene in book.scenes))
    findings = list(module.OVERLAY.look(read, house))
    for _, finding in findings:
        assert finding.message.endswith((".", "?"))
    return [
        f"{scene}: {book.scene(scene).passage.text[finding.start : finding.end]}"
        for scene, finding in findings
    ]


def test_time_contradictions_name_their_evidence():
    book = a_book("It was Wednesday.", "On Tuesday it rained.", "On Thursday it thawed.")
    assert found(time_contradiction, book) == ["s1: On Tuesday"]
    read = ReadBook(book, tuple(read_scene(s, House().marks) for s in book.scenes))
    ((_, finding),) = time_contradiction.OVERLAY.look(read, House())
    assert "“On Thursday” in “Title 2”" in finding.message


def test_a_thread_left_open():
    texts = ["A key.", "The key.", *["Rain."] * 8]
    assert found(thread_left_open, a_book(*texts, threads=("key",))) == ["s1: key"]
    assert found(thread_left_open, a_book(*texts, "The key.", threads=("key",))) == []
    dropped = ["A key.", "The key.", "The key.", *["Rain."] * 9]
    assert found(thread_left_open, a_book(*dropped)) == ["s2: key"]


def test_scenes_are_named_as_the_writer_knows_them():
    here = "So Dorrel sat. Then Dorrel rose, and Dorrel spoke."
    book = a_book(*[here] * 4, *["Rain."] * 9, here)
    untitled = book.with_scene(replace(book.scene("s3"), title=""))
    for shown, named in ((book, "“Title 3”"), (untitled, "“So Dorrel sat. Then Dorrel rose, …”")):
        read = ReadBook(shown, tuple(read_scene(each, House().marks) for each in shown.scenes))
        ((_, finding),) = person_away.OVERLAY.look(read, House())
        assert f"last named in {named}." in finding.message
    texts = ["A key."] * 5 + ["Rain."] * 20
    read = ReadBook(a_book(*texts, threads=("key",)), ())
    read = replace(read, scenes=tuple(read_scene(each, House().marks) for each in read.book.scenes))
    ((_, finding),) = thread_left_open.OVERLAY.look(read, House())
    assert "it was in 5 scenes, last in “Title 2”, “Title 3”, “Title 4”." in finding.message


def test_the_same_words_are_no_further_evidence():
    texts = ["For nineteen years it rained."] * 6 + ["For seventeen years it rained."]
    book = a_book(*texts)
    read = ReadBook(book, tuple(read_scene(each, House().marks) for each in book.scenes))
    ((_, finding),) = time_contradiction.OVERLAY.look(read, House())
    assert finding.message.endswith("Said elsewhere: “nineteen years” in “Title 0”.")


def test_speech_in_the_name_of_a_scene_is_in_inner_marks():
    book = a_book("“Tell my brother,” said the man in the boat.")
    book = book.with_scene(replace(book.scene("s0"), title=""))
    read = ReadBook(book, tuple(read_scene(each, House().marks) for each in book.scenes))
    assert read.called(0) == "“‘Tell my brother,’ said the man …”"


def test_somebody_away_for_long():
    here = "So Dorrel sat. Then Dorrel rose, and Dorrel spoke."
    away = [here] * 4 + ["Rain."] * 9 + [here]
    assert found(person_away, a_book(*away)) == ["s13: Dorrel"]
    assert found(person_away, a_book(*[here] * 4, *["Rain."] * 5, here)) == []
    once = a_book("So Dorrel sat.", cast=(Person("Dorrel"),))
    assert found(person_away, once) == ["s0: Dorrel"]


def test_same_eyes_too_long():
    ann = "Mrs Ann thought so. Mrs Ann knew. Mrs Ann felt cold."
    bo = "Mr Bo thought so. Mr Bo knew. Mr Bo felt cold."
    turns = [ann, bo] * 4
    assert found(same_eyes, a_book(*turns, *[ann] * 7)) == ["s8: "]
    assert found(same_eyes, a_book(*turns)) == []
    assert found(same_eyes, a_book(*[ann] * 12)) == []


@pytest.mark.parametrize(
    ("titles", "asked"),
    [
        (["Chapter One", "Chapter Two", "Chapter Three"], []),
        (["Chapter One", "Chapter Three", "4. Ebb"], ["s1: "]),
        (["I", "II", "IV."], ["s2: "]),
        (["1", "2", "1", "2"], []),
        (["1", "2", "2"], ["s2: "]),
        (["One\u2028The Quay", "The Gale", "Two"], []),
        (["The Quay", "In full", "Mild"], []),
        (["Chapter Twenty-One", "Chapter XXII", "Chapter 23"], []),
    ],
)
def test_chapter_numbers(titles, asked):
    assert found(chapter_number, a_book(*["Rain."] * len(titles), titles=titles)) == asked


def test_a_still_scene():
    moves = SceneSheet(happens="He lands", changes="She knows")
    still = SceneSheet(happens="He waits", changes="nothing")
    texts = ("A key.", "Rain.", "The key.", "Rain.")
    sheets = {0: still, 1: still, 2: moves}
    book = a_book(*texts, sheets=sheets, threads=("key",))
    assert found(still_scene, book) == ["s1: "]
    assert found(still_scene, replace(book, threads=())) == []


@pytest.mark.parametrize(
    ("text", "marked"),
    [
        ("He met [name] at TK.", ["[name]", "TK"]),
        ("He was “[sic]” and […] so [on and on.]", []),
    ],
)
def test_placeholders_in_brackets(text, marked):
    scene = read_scene(Scene("s", passage=Passage.plain(text)), House().marks)
    looked = placeholder.OVERLAY.look(scene.paragraphs[0], House())
    assert [text[each.start : each.end] for each in looked] == marked


@pytest.mark.parametrize(
    ("one", "two", "alike"),
    [
        ("caspar", "kaspar", True),
        ("dorrel", "dorrell", True),
        ("tarrow", "tarow", True),
        ("symons", "simons", True),
        ("isaura", "isuara", True),
        ("randall", "randalls", False),
        ("crow", "cross", False),
        ("barrie", "carrie", False),
        ("ann", "anna", False),
        ("venn", "venn", False),
    ],
)
def test_names_that_may_be_one(one, two, alike):
    assert name_variant.may_be_misspelt(one, two) is alike
    assert name_variant.may_be_misspelt(two, one) is alike
