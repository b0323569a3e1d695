"""Books of every shape for the property tests, made by hypothesis."""

from __future__ import annotations

from hypothesis import strategies as st
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.paragraph import (
    LINE_BREAK,
    Paragraph,
    Span,
    SpanKind,
    Style,
    scene_break,
)
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene

WORDS = st.sampled_from(
    [
        "the",
        "tide",
        "said",
        "Ánna",
        "e\u0301t\u00e9",
        "🐚",
        "wood-stove",
        "o’clock",
        "“No,”",
        "—",
        "…",
        "3,120",
    ]
)
TEXTS = st.lists(WORDS, max_size=8).map(" ".join)


@st.composite
def paragraphs(draw: st.DrawFn) -> Paragraph:
    if draw(st.integers(0, 11)) == 0:
        return scene_break()
    text = draw(TEXTS)
    style = draw(st.sampled_from([style for style in Style if style is not Style.SCENE_BREAK]))
    if style is Style.VERSE and text:
        text += LINE_BREAK + draw(WORDS)
    spans = []
    for _ in range(draw(st.integers(0, 2))):
        start = draw(st.integers(0, len(text)))
        end = draw(st.integers(start, len(text)))
        kind = draw(st.sampled_from(list(SpanKind)))
        spans.append(Span(start, end, kind, "fr" if kind is SpanKind.LANGUAGE else ""))
    return Paragraph(text, style, tuple(spans))


def passages(min_size: int = 1, max_size: int = 5) -> st.SearchStrategy[Passage]:
    return st.lists(paragraphs(), min_size=min_size, max_size=max_size).map(Passage.of)


@st.composite
def books(draw: st.DrawFn, max_parts: int = 2, max_chapters: int = 3, max_scenes: int = 3) -> Book:
    """A book whose ids and titles say where each thing first stood."""
    parts = []
    for p in range(draw(st.integers(1, max_parts))):
        chapters = []
        for c in range(draw(st.integers(1, max_chapters))):
            scenes = tuple(
                Scene(f"scene-{p}{c}{s}", f"Title {p}{c}{s}", draw(passages()))
                for s in range(draw(st.integers(1, max_scenes)))
            )
            chapters.append(Chapter(f"chapter-{p}{c}", f"Chapter {p}{c}", scenes))
        parts.append(Part(f"part-{p}", f"Part {p}" if p else "", tuple(chapters)))
    return Book("A Title", "A. Writer", tuple(parts))
