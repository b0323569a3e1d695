"""A book written as Markdown (CommonMark 0.31), so that it reads well and comes back the same."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Sequence
from itertools import groupby
from pathlib import Path

from reglet.exchange.markdown_marks import (
    DIVISIONS,
    HEADER_KEY,
    HEADER_VALUE,
    SMALL_CAPITALS,
    TAGS,
)
from reglet.exchange.saving import save
from reglet.manuscript.book import Book
from reglet.manuscript.front_and_back import printed_back, printed_front
from reglet.manuscript.paragraph import LINE_BREAK, Paragraph, Span, SpanKind, Style
from reglet.manuscript.scene import Scene

_ALWAYS = re.compile(r"[\\`*_\[\]<]|&(?=[#A-Za-z])|~(?=~)|(?<=~)~")
_AT_START = re.compile(r"[#>+\-=~]|\d{1,9}(?=[.)])")
_STARS = {SpanKind.EMPHASIS: "*", SpanKind.STRONG: "**"}
_BREAK = "***"


def write_markdown(book: Book, path: Path, *, overwrite: bool = False) -> None:
    """Write `book` as Markdown.

    Raises WriterError where `path` is there already (replaced only with `overwrite`, the earlier
    file kept with `.bak` added to its name) or cannot be written.
    """
    save(path, markdown(book).encode(), overwrite)


def markdown(book: Book) -> str:
    """The whole book as Markdown; its own marks are listed in `markdown_marks`."""
    return "\n\n".join(_blocks(book)) + "\n"


def _blocks(book: Book) -> Iterator[str]:
    facts = {"title": book.title, "author": book.author, "lang": book.style_sheet.language}
    lines = [f"{key}: {json.dumps(value, ensure_ascii=False)}" for key, value in facts.items()]
    yield "\n".join(["---", f"{HEADER_KEY}: {HEADER_VALUE}", *lines, "---"])
    for scene in printed_front(book):
        yield "<!-- front -->"
        yield _heading(2, scene.title)
        yield from _scene(scene)
    for index, part in enumerate(book.parts):
        if part.title or index or not part.chapters:
            yield _heading(1, part.title)
        for chapter in part.chapters:
            yield _heading(2, chapter.title)
            for place, scene in enumerate(chapter.scenes):
                if place:
                    yield _BREAK
                yield from _scene(scene)
    for scene in printed_back(book):
        yield "<!-- back -->"
        yield _heading(2, scene.title)
        yield from _scene(scene)


def _heading(level: int, title: str) -> str:
    text = _inline(Paragraph(title), heading=True)
    return f"{'#' * level} {text}".rstrip()


def _scene(scene: Scene) -> Iterator[str]:
    for style, paragraphs in groupby(scene.passage.paragraphs, lambda each: each.style):
        blocks = [block for paragraph in paragraphs for block in _paragraph(paragraph)]
        if style in DIVISIONS:
            yield from (f'<div class="{style.value}">', *blocks, "</div>")
        elif style is Style.BLOCK_QUOTE:
            lines = "\n\n".join(blocks).split("\n")
            yield "\n".join(f"> {line}".rstrip() for line in lines)
        else:
            yield from blocks


def _paragraph(paragraph: Paragraph) -> Iterator[str]:
    if paragraph.style is Style.SCENE_BREAK:
        yield "<!-- pause -->"
        yield _BREAK
    elif paragraph.style is Style.HEADING:
        yield f"### {_inline(paragraph, heading=True)}".rstrip()
    else:
        if paragraph.style is Style.FIRST:
            yield "<!-- first -->"
        yield _inline(paragraph) if paragraph.text else "<!-- empty -->"


def _inline(paragraph: Paragraph, heading: bool = False) -> str:
    """A paragraph's text with its spans. Stars where CommonMark is sure to read them so, tags
    elsewhere: for spans that overlap or meet, or that begin or end with a space or a mark.
    """
    text, spans = paragraph.text, paragraph.spans
    starred = [span for span in spans if _takes_stars(span, spans, text)]
    tagged = [span for span in spans if span not in starred]
    edges = sorted({0, len(text), *(s.start for s in spans), *(s.end for s in spans)})
    pieces: list[str] = []
    opened: list[Span] = []
    for start, end in zip(edges, [*edges[1:], len(text)], strict=True):
        ending = [span for span in opened if span.end <= start]
        if ending:
            lowest = min(opened.index(span) for span in ending)
            for span in reversed(opened[lowest:]):
                pieces.append(_closing(span))
            again = [span for span in opened[lowest:] if span.end > start]
            opened = opened[:lowest]
        else:
            again = []
        pieces += [_STARS[span.kind] for span in starred if span.end == start]
        pieces += [_STARS[span.kind] for span in starred if span.start == start]
        for span in [*again, *(span for span in tagged if span.start == start)]:
            pieces.append(_opening(span))
            opened.append(span)
        pieces.append(_escaped(text, start, end, heading))
    return "".join(pieces)


def _takes_stars(span: Span, spans: Sequence[Span], text: str) -> bool:
    """Whether stars around this span are a left- and a right-flanking run (CommonMark 6.2)."""
    if span.kind not in _STARS:
        return False
    if any(
        other is not span and other.start <= span.end >= span.start <= other.end for other in spans
    ):
        return False
    return text[span.start].isalnum() and text[span.end - 1].isalnum()


def _opening(span: Span) -> str:
    if span.kind is SpanKind.LANGUAGE:
        return f'<span lang="{span.value}">'
    if span.kind is SpanKind.SMALL_CAPITALS:
        return SMALL_CAPITALS
    return f"<{TAGS[span.kind]}>"


def _closing(span: Span) -> str:
    return f"</{TAGS.get(span.kind, 'span')}>"


def _escaped(text: str, start: int, end: int, heading: bool) -> str:
    pieces = []
    for at in range(start, end):
        sign = text[at]
        if sign == LINE_BREAK:
            pieces.append(_line_break(text, at, heading))
        elif sign.isspace() and at in (0, len(text) - 1):
            pieces.append(f"&#{ord(sign)};")
        elif _ALWAYS.match(text, at) or (heading and sign == "#"):
            pieces.append("\\" + sign)
        elif (at == 0 or text[at - 1] == LINE_BREAK) and (match := _AT_START.match(text, at)):
            pieces.append("\\" + sign if not match.group().isdigit() else sign)
        elif sign in ".)" and _ends_list_number(text, at):
            pieces.append("\\" + sign)
        else:
            pieces.append(sign)
    return "".join(pieces)


def _line_break(text: str, at: int, heading: bool) -> str:
    around = text[at - 1 : at], text[at + 1 : at + 2]
    plain = not heading and all(sign and not sign.isspace() for sign in around)
    return "\\\n" if plain else "<br>"


def _ends_list_number(text: str, at: int) -> bool:
    line = text.rfind(LINE_BREAK, 0, at) + 1
    return 0 < at - line <= 9 and text[line:at].isdigit()
