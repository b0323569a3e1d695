"""Corrections to a proposal: each does what it says and none loses a word."""

from collections import Counter
from datetime import UTC, datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reglet.errors import CannotArrange
from reglet.exchange.draft import DraftNote, DraftParagraph
from reglet.exchange.proposal import Kind, Proposal, Role, Use
from reglet.manuscript.book import Book
from reglet.manuscript.paragraph import LINE_BREAK, SCENE_BREAK, Paragraph

from tests.unit.exchange.test_division import divided, lines

WRITTEN = """
= Chapter One
^ The Weir
TEXT
***
She went home.
TEXT

It was late.
= Chapter Two
TEXT
"""
# Places: 0 Chapter One, 1 The Weir, 2 TEXT, 3 ***, 4 She went home., 5 TEXT, 6 It was late.,
# 7 Chapter Two, 8 TEXT.


def proposal() -> Proposal:
    found = divided(WRITTEN)
    assert lines(found) == "C Chapter One / The Weir\nS\nS\nC Chapter Two"
    return found


def words(book: Book) -> Counter[str]:
    texts = [scene.passage.text + " " + scene.title for scene in book.texts]
    texts += [each.title for each in (*book.parts, *book.chapters)]
    found = Counter(" ".join(texts).replace(LINE_BREAK, " ").split())
    del found[SCENE_BREAK]
    return found


@pytest.mark.parametrize(
    ("at", "expected"),
    [
        (0, "S\nS\nC Chapter Two"),
        (3, "C Chapter One / The Weir\nS\nC Chapter Two"),
        (7, "C Chapter One / The Weir\nS\nS"),
    ],
)
def test_join(at: int, expected: str) -> None:
    assert lines(proposal().join(at)) == expected


def test_a_joined_mark_is_a_break_inside_the_scene() -> None:
    scene = proposal().join(3).book().scenes[0]
    assert scene.passage.paragraphs[1].text == SCENE_BREAK


@pytest.mark.parametrize(
    ("kind", "expected"),
    [
        (Kind.SCENE, "C Chapter One / The Weir\nS\nS\nS\nC Chapter Two"),
        (Kind.CHAPTER, "C Chapter One / The Weir\nS\nC\nS\nC Chapter Two"),
    ],
)
def test_split(kind: Kind, expected: str) -> None:
    assert lines(proposal().split(5, kind)) == expected


@pytest.mark.parametrize(
    ("at", "kind", "expected"),
    [
        (0, Kind.PART, "P Chapter One / The Weir\nS\nS\nC Chapter Two"),
        (7, Kind.SCENE, "C Chapter One / The Weir\nS\nS\nS"),
        (7, Kind.BACK, "C Chapter One / The Weir\nS\nS\nB Chapter Two"),
        (0, Kind.FRONT, "F Chapter One / The Weir\nS\nS\nC Chapter Two"),
        (3, Kind.CHAPTER, "C Chapter One / The Weir\nC\nS\nC Chapter Two"),
    ],
)
def test_change_kind(at: int, kind: Kind, expected: str) -> None:
    assert lines(proposal().change_kind(at, kind)) == expected


def test_head_and_rename() -> None:
    found = proposal().head(4, Kind.CHAPTER)
    assert lines(found) == "C Chapter One / The Weir\nS\nC She went home.\nS\nC Chapter Two"
    assert found.rename(4, "Home").book().chapters[1].title == "Home"
    assert proposal().rename(3, "At night").book().scenes[1].title == "At night"


@pytest.mark.parametrize(
    "wrong",
    [
        lambda p: p.join(2),
        lambda p: p.join(99),
        lambda p: p.split(0),
        lambda p: p.change_kind(2, Kind.PART),
        lambda p: p.rename(5, "x"),
        lambda p: p.head(4, Kind.SCENE),
        lambda p: p.leave_out(0),
        lambda p: p.leave_out(-1),
    ],
)
def test_what_has_no_meaning_is_refused(wrong) -> None:
    with pytest.raises(CannotArrange):
        wrong(proposal())


OPERATIONS = st.lists(
    st.tuples(
        st.sampled_from(["join", "split", "head", "change_kind"]),
        st.integers(0, 8),
        st.sampled_from(list(Kind)),
    ),
    max_size=12,
)


@settings(deadline=None)
@given(operations=OPERATIONS)
def test_no_correction_loses_a_word(operations: list[tuple[str, int, Kind]]) -> None:
    found = proposal()
    before = words(found.book())
    for name, at, kind in operations:
        try:
            found = found.join(at) if name == "join" else getattr(found, name)(at, kind)
        except CannotArrange:
            continue
    assert words(found.book()) - before == Counter()
    assert before - words(found.book()) == Counter()


def test_notes_find_their_scene() -> None:
    found = proposal()
    made = datetime(2026, 1, 2, tzinfo=UTC)
    notes = [
        DraftNote(4, 4, 4, 8, "went", "on words", made),
        DraftNote(0, 0, 0, 7, "Chapter", "on a title", made),
        DraftNote(3, 1, 3, 2, "*", "on a mark", made),
        DraftNote(5, 3, 8, 4, "…", "past the end of a scene", made),
    ]
    book = Proposal(found.paragraphs, found.roles, notes=tuple(notes)).book()
    places = {
        note.text: (index, scene.passage.slice(note.start, note.end).text)
        for index, scene in enumerate(book.scenes)
        for note in scene.notes
    }
    text = found.paragraphs[5].text
    assert places == {
        "on words": (1, "went"),
        "on a title": (0, ""),
        "on a mark": (1, ""),
        "past the end of a scene": (1, text[3:]),
    }


def test_a_part_without_chapters_gets_one_for_its_text() -> None:
    paragraphs = tuple(DraftParagraph(Paragraph(text)) for text in ("Part One", "It rained."))
    roles = (Role(Kind.PART, Use.TITLE), Role())
    (part,) = Proposal(paragraphs, roles).book().parts
    assert (part.title, part.chapters[0].title) == ("Part One", "")
    assert part.chapters[0].scenes[0].passage.text == "It rained."
