"""Chapters that are numbered or titled otherwise than the rest."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet.manuscript.book import Book, Chapter, Part, StyleSheet
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.manuscript.stage import Stage
from reglet.overlays.answer import Reach, stet, take
from reglet.overlays.examine import Examiner
from reglet.overlays.proof.number_style import in_words
from reglet.overlays.query import Choice
from reglet.overlays.settle import settle
from reglet.overlays.structure.chapter_number import number_of


def titled(*titles):
    chapters = tuple(
        Chapter(f"c{n}", title, (Scene(f"s{n}", passage=Passage.plain("He went.")),))
        for n, title in enumerate(titles)
    )
    return Book(parts=(Part("p", chapters=chapters),), style_sheet=StyleSheet("en-GB"))


def asked(book):
    return list(Examiner().examine(book, Stage.PROOF, overlays=["chapter_title"]))


@pytest.mark.parametrize(
    ("titles", "better"),
    [
        (["Chapter One", "Chapter Two", "Chapter Three", "Chapter 4"], "Chapter Four"),
        (["1", "2", "3", "Four"], "4"),
        (["I", "II", "III", "4."], "IV"),
        (["CHAPTER ONE", "CHAPTER TWO", "CHAPTER THREE", "Chapter 14"], "CHAPTER FOURTEEN"),
        (
            ["Chapter 1: Ebb", "Chapter 2: Low Ground", "Chapter 3: Tea", "Chapter Four: Salt"],
            "Chapter 4: Salt",
        ),
        (
            ["The Low Ground", "A Cut Page", "Tea by Ear", "The last post of all"],
            "The Last Post of All",
        ),
        (
            ["The low ground", "A cut page", "Tea by ear", "The Last Post of London"],
            "The last post of London",
        ),
        (["The low ground", "A cut page", "Tea by ear", "The last post."], "The last post"),
        (
            ["Chapter One: Ebb", "Chapter Two", "Chapter Three: Tea", "4."],
            "Chapter Four",
        ),
        (["One", "Two", "Three", "Three Men in a Boat"], None),
        (["Chapter One", "Chapter 2"], None),
        (["Prologue", "1", "2", "3", "4", "Epilogue"], None),
    ],
)
def test_the_odd_one_is_asked_about(titles, better):
    book = titled(*titles)
    queries = asked(book)
    assert [query.proposal for query in queries] == ([] if better is None else [better])
    for query in queries:
        assert query.text == titles[-1]
        after = take(book, query)
        assert after.chapters[-1].title == better
        assert not asked(after)
        assert all(each.stet for each in asked(stet(book, query, Reach.BOOK)))


def test_settled_otherwise_than_most():
    book = titled("Chapter One", "Chapter Two", "3", "Chapter Four")
    done = settle(book, "chapter_title", [Choice("chapter numbers", "“1”")])
    assert [chapter.title for chapter in done.book.chapters] == ["1", "2", "3", "4"]


@given(st.integers(1, 99))
def test_a_number_is_read_as_it_was_written(value):
    assert number_of(f"Chapter {in_words(value)}") == value
