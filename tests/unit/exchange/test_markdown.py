"""Markdown in, anybody's; and out, so that every sign of a text comes back."""

import textwrap
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reglet.exchange import Proposal, read_draft, write_docx, write_markdown
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.paragraph import LINE_BREAK, Paragraph, Span, SpanKind, Style
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene

SIGNS = st.text(
    alphabet="ab1.)8*_#<>&;[]()!\\`~-+=|'\" “”\t\u00a0\u2003é\u0301🐚&#" + LINE_BREAK, max_size=14
)


@st.composite
def nasty_paragraphs(draw: st.DrawFn) -> Paragraph:
    text = draw(SIGNS)
    style = draw(st.sampled_from([style for style in Style if style is not Style.SCENE_BREAK]))
    spans = []
    for _ in range(draw(st.integers(0, 3))):
        start = draw(st.integers(0, len(text)))
        kind = draw(st.sampled_from(list(SpanKind)))
        end = draw(st.integers(start, len(text)))
        spans.append(Span(start, end, kind, "fr-CA" if kind is SpanKind.LANGUAGE else ""))
    return Paragraph(text, style, tuple(spans))


def book_of(paragraphs: list[Paragraph], title: str = "") -> Book:
    scene = Scene("scene-1", "", Passage.of(paragraphs))
    return Book("T", "A", (Part("part-1", "", (Chapter("chapter-1", title, (scene,)),)),))


@settings(deadline=None, max_examples=300)
@given(paragraphs=st.lists(nasty_paragraphs(), min_size=1, max_size=4), title=SIGNS)
def test_every_sign_comes_back_from_markdown(paragraphs: list[Paragraph], title: str) -> None:
    book = book_of(paragraphs, title)
    with TemporaryDirectory() as folder:
        path = Path(folder) / "book.md"
        write_markdown(book, path)
        back = read_draft(path).book()
    assert back.chapters[0].title == title
    assert back.scenes[0].passage == book.scenes[0].passage


@settings(deadline=None, max_examples=15)
@given(paragraphs=st.lists(nasty_paragraphs(), min_size=1, max_size=12), title=SIGNS)
def test_every_sign_comes_back_from_docx(paragraphs: list[Paragraph], title: str) -> None:
    book = book_of(paragraphs, title)
    with TemporaryDirectory() as folder:
        path = Path(folder) / "book.docx"
        write_docx(book, path)
        back = read_draft(path).book()
    assert back.chapters[0].title == title
    assert back.scenes[0].passage == book.scenes[0].passage


def proposal(path: Path, text: str) -> Proposal:
    file = path / "draft.md"
    file.write_text(textwrap.dedent(text).lstrip(), "utf-8")
    return read_draft(file)


@pytest.mark.parametrize(
    ("written", "text", "spans"),
    [
        ("He *went* home.", "He went home.", [(3, 7, SpanKind.EMPHASIS)]),
        ("He _went_ home.", "He went home.", [(3, 7, SpanKind.EMPHASIS)]),
        ("He **went**.", "He went.", [(3, 7, SpanKind.STRONG)]),
        (
            "***went*** home",
            "went home",
            [(0, 4, SpanKind.EMPHASIS), (0, 4, SpanKind.STRONG)],
        ),
        ("~~gone~~ here", "gone here", [(0, 4, SpanKind.STRIKE)]),
        ("<u>gone</u> here", "gone here", [(0, 4, SpanKind.UNDERLINE)]),
        ("one\ntwo", "one two", []),
        ("one  \ntwo", f"one{LINE_BREAK}two", []),
        ("one\\\ntwo", f"one{LINE_BREAK}two", []),
        ("one<br>two", f"one{LINE_BREAK}two", []),
        ("snake_case \\*and\\* &amp; more", "snake_case *and* & more", []),
        ("[words](http://example.org) here", "words here", []),
        ("    indented by four", "indented by four", []),
        ("1984. That was the year.", "1984. That was the year.", []),
        ("- a point", "- a point", []),
        ("`code` here", "code here", []),
    ],
)
def test_anybodys_markdown(
    written: str, text: str, spans: list[tuple[int, int, SpanKind]], tmp_path: Path
) -> None:
    paragraph = proposal(tmp_path, written + "\n").paragraphs[0].paragraph
    assert paragraph.text == text
    assert [(span.start, span.end, span.kind) for span in paragraph.spans] == spans


def test_anybodys_divisions(tmp_path: Path) -> None:
    read = proposal(
        tmp_path,
        """
        # The Tide

        by Nora Vale

        ## Chapter One

        It rained.

        * * *

        It went on.

        > Dear Anna,
        > come home.

        ---

        And on.

        ## 8.

        The boats.
        """,
    )
    book = read.book()
    assert (book.title, book.author) == ("The Tide", "Nora Vale")
    assert [chapter.title for chapter in book.chapters] == ["Chapter One", "8."]
    assert [scene.passage.text for scene in book.scenes] == [
        "It rained.",
        "It went on.\nDear Anna, come home.",
        "And on.",
        "The boats.",
    ]
    assert book.scenes[1].passage.paragraphs[1].style is Style.BLOCK_QUOTE


def test_numbers_typed_alone_are_no_lists(tmp_path: Path) -> None:
    read = proposal(tmp_path, "1.\n\nIt rained.\n\n2.\n\nIt went on.\n")
    assert [chapter.title for chapter in read.book().chapters] == ["1.", "2."]


def test_dashes_under_a_sentence_are_a_break(tmp_path: Path) -> None:
    read = proposal(tmp_path, "Chapter One\n===\n\nIt rained.\n---\nIt went on.\n")
    assert [chapter.title for chapter in read.book().chapters] == ["Chapter One"]
    assert [scene.passage.text for scene in read.book().scenes] == ["It rained.", "It went on."]


def test_a_header_gives_the_books_facts(tmp_path: Path) -> None:
    read = proposal(
        tmp_path, "---\ntitle: The Tide\nauthor: 'Nora Vale'\nlang: en-GB\n---\n\nIt rained.\n"
    )
    assert (read.title, read.author, read.language) == ("The Tide", "Nora Vale", "en-GB")
    assert [each.text for each in read.paragraphs] == ["It rained."]


def test_long_lines_without_blank_lines_are_paragraphs(tmp_path: Path) -> None:
    line = "It rained on the harbour all day, and nobody came down to the boats at all. " * 3
    read = proposal(tmp_path, "\n".join([line.strip()] * 4))
    assert [each.text for each in read.paragraphs] == [line.strip()] * 4


@pytest.mark.parametrize(
    ("written", "told"),
    [
        ("See ![a map](map.png) here", "a map"),
        ("[words](http://example.org)", "http://example.org"),
        ("text\n\n<!-- check this -->", "check this"),
        ("- a point", "List"),
        ("a <b>word", "without its end"),
        ("<table><tr><td>a</td></tr></table>", "HTML"),
    ],
)
def test_what_a_book_cannot_hold_is_named(written: str, told: str, tmp_path: Path) -> None:
    assert any(told in finding.sentence for finding in proposal(tmp_path, written).report)
