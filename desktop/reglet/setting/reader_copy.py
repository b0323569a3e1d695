"""A chapter as its reader will have it: what stands around a place, and what each page looks like.

Knows no Qt. The values here cross from one process to another, so they hold what is to be drawn
and no more. Lengths are in points, positions code points within a paragraph.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from reglet.manuscript.paragraph import (
    LINE_BREAK,
    NO_PROSE,
    Paragraph,
    SpanKind,
    Style,
    scene_break,
)
from reglet.manuscript.passage import Passage
from reglet.setting.fill import Fill, paragraph_fill
from reglet.setting.lines import Line
from reglet.setting.pages import Page, Piece, page_at, pages
from reglet.setting.sheet import MANNERS, Sheet

_ENDLESS = 1e9
_LEAD_IN = 2
"""Lines of what stands before that a phone still shows above the paragraph (our own figure)."""
_HAIR = 0.01


@dataclass(frozen=True, slots=True)
class Source:
    """A paragraph of the copy: the one of this index in a scene; "" for a heading or a break that
    stands between scenes.
    """

    scene: str
    index: int
    paragraph: Paragraph


@dataclass(frozen=True, slots=True)
class Run:
    """Words of a line in one cut of the face."""

    text: str
    bold: bool = False
    italic: bool = False
    small_capitals: bool = False
    underline: bool = False
    strike: bool = False


@dataclass(frozen=True, slots=True)
class SetLine:
    """A line where it stands: `left` and `top` from the corner of the type area; `gap` is added to
    each space. It begins at `start` of paragraph `index` of `scene`.
    """

    scene: str
    index: int
    start: int
    left: float
    top: float
    leading: float
    size: float
    gap: float
    runs: tuple[Run, ...]


@dataclass(frozen=True, slots=True)
class Around:
    """The lines of the screen or page where a place stands, and what its paragraph fills of it."""

    sheet: Sheet
    lines: tuple[SetLine, ...]
    fill: Fill


@dataclass(frozen=True, slots=True)
class PieceShape:
    """Lines of one paragraph on a page, as shapes: (left, width) of each."""

    scene: str
    index: int
    start: int
    top: float
    leading: float
    lines: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class PageShape:
    """A page or screen as a shape; `white` is the share of its type area without type."""

    white: float
    pieces: tuple[PieceShape, ...]


def copy_of(title: str, scenes: Iterable[tuple[str, Passage]]) -> tuple[Source, ...]:
    """A chapter's paragraphs as they are printed: its heading, its scenes with a break between;
    what begins after a heading or break is not indented.
    """
    made: list[Source] = []
    if title:
        made.append(Source("", 0, Paragraph(title, Style.HEADING)))
    for number, (scene_id, passage) in enumerate(scenes):
        if number:
            made.append(Source("", 0, scene_break()))
        for index, paragraph in enumerate(passage.paragraphs):
            before = made[-1].paragraph.style if made else Style.HEADING
            if paragraph.style is Style.BODY and before in NO_PROSE:
                paragraph = replace(paragraph, style=Style.FIRST)
            made.append(Source(scene_id, index, paragraph))
    return tuple(made)


def on_page(copy: Sequence[Source], at: int, offset: int, sheet: Sheet) -> Around:
    """The page where `offset` of the copy's paragraph `at` stands. Raises faces.MissingFace."""
    made_up = pages((source.paragraph for source in copy), sheet)
    page = made_up[page_at(made_up, at, offset)]
    return Around(sheet, laid_out(page, copy, sheet), paragraph_fill(copy[at].paragraph, sheet))


def laid_out(page: Page, copy: Sequence[Source], sheet: Sheet) -> tuple[SetLine, ...]:
    """The lines of a page of a copy, from the top down."""
    return tuple(line for piece in page.pieces for line in _set(piece, copy, sheet, 0.0))


def on_phone(copy: Sequence[Source], at: int, offset: int, sheet: Sheet) -> Around:
    """A phone scrolled to the copy's paragraph `at`: to its head, or where it is longer than the
    screen to `offset`. Raises faces.MissingFace.
    """
    endless = replace(sheet, height=_ENDLESS)
    (whole,) = pages((source.paragraph for source in copy), endless)
    piece = whole.pieces[at]
    height = len(piece.lines) * piece.leading
    line = max(0, sum(each.start <= offset for each in piece.lines) - 1)
    top = piece.top - _LEAD_IN * sheet.leading
    if height > sheet.depth - _LEAD_IN * sheet.leading:
        middle = piece.top + line * piece.leading - sheet.depth / 2
        top = max(top, min(middle, piece.top + height - sheet.depth))
    last = whole.pieces[-1]
    top = max(0.0, min(top, last.top + len(last.lines) * last.leading - sheet.depth))
    in_view = [
        each
        for each in whole.pieces
        if each.top + len(each.lines) * each.leading > top and each.top < top + sheet.depth
    ]
    placed = [line for each in in_view for line in _set(each, copy, sheet, top)]
    first = next((each.top for each in placed if each.top > -_HAIR), 0.0)
    shown = tuple(
        replace(each, top=each.top - first)
        for each in placed
        if each.top > -_HAIR and each.top - first + each.leading < sheet.depth + _HAIR
    )
    return Around(sheet, shown, paragraph_fill(copy[at].paragraph, sheet))


def shapes(copy: Sequence[Source], sheet: Sheet) -> tuple[PageShape, ...]:
    """Every page or screen of a copy. Raises faces.MissingFace."""
    return tuple(
        PageShape(
            page.white,
            tuple(
                PieceShape(
                    copy[piece.paragraph].scene,
                    copy[piece.paragraph].index,
                    piece.lines[0].start,
                    piece.top,
                    piece.leading,
                    tuple((line.left, line.width) for line in piece.lines),
                )
                for piece in page.pieces
            ),
        )
        for page in pages((source.paragraph for source in copy), sheet)
    )


@lru_cache(maxsize=1024)
def page_count(copy: tuple[Source, ...], sheet: Sheet) -> int:
    """How many pages or screens a copy makes; kept, as all chapters but one stay as they are.
    Raises faces.MissingFace.
    """
    return len(pages((source.paragraph for source in copy), sheet))


def _set(piece: Piece, copy: Sequence[Source], sheet: Sheet, top: float) -> Iterator[SetLine]:
    source = copy[piece.paragraph]
    size = sheet.size * MANNERS[source.paragraph.style].scale
    for number, line in enumerate(piece.lines):
        yield SetLine(
            source.scene,
            source.index,
            line.start,
            line.left,
            piece.top + number * piece.leading - top,
            piece.leading,
            size,
            line.gap,
            _runs(source.paragraph, line),
        )


def _runs(paragraph: Paragraph, line: Line) -> tuple[Run, ...]:
    end = line.start + len(paragraph.text[line.start : line.end].rstrip(f" {LINE_BREAK}"))
    runs = []
    for text, spans in paragraph.slice(line.start, end).stretches():
        kinds = {span.kind for span in spans}
        runs.append(
            Run(
                text,
                SpanKind.STRONG in kinds,
                SpanKind.EMPHASIS in kinds,
                SpanKind.SMALL_CAPITALS in kinds,
                SpanKind.UNDERLINE in kinds,
                SpanKind.STRIKE in kinds,
            )
        )
    if line.hyphenated:
        runs[-1] = replace(runs[-1], text=f"{runs[-1].text}-")
    return tuple(runs)
