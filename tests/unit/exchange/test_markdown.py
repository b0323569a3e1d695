"""Markdown in, anybody's; and out, so that every sign of a text comes back."""

from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import given, settings
from hypothesis import strategies as st
from reglet.exchange import read_draft, write_docx, write_markdown
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
