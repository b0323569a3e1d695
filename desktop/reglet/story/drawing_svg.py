"""Whole-book views as SVG (W3C, Scalable Vector Graphics 1.1): text that any browser draws.

    svg = drawing(view, LIGHT_OR_THE_LIKE, width=1200)

Colours are the theme's and are passed in; nothing else of the window is known here. No meaning
rests on colour alone: what stands out has a shape or a word as well.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

from reglet.manuscript.paragraph import LINE_BREAK
from reglet.story.views import (
    Across,
    Dialogue,
    EyesInOrder,
    Lengths,
    Pace,
    Row,
    ScenePlace,
    TimeAgainstTelling,
    View,
)


@dataclass(frozen=True, slots=True)
class Theme:
    """Colours as "#rrggbb", and the face for words with what may stand in for it."""

    paper: str
    ink: str
    quiet: str
    line: str
    bar: str
    pencil: str
    face: str = "Source Sans 3, sans-serif"


PAPER = Theme("#FCFBF7", "#1F1D1A", "#6A645A", "#D3CCBE", "#857E72", "#55514A")
"""Ink and graphite on paper, for a file that no window draws."""

_LEFT, _RIGHT, _TOP, _FOOT = 150, 20, 54, 34
_ROW = 18


def drawing(view: View, theme: Theme = PAPER, width: int = 1200) -> str:
    """A view as a whole SVG document, `width` pixels wide and as high as it needs."""
    return document([view], theme, width)


def document(views: Sequence[View], theme: Theme = PAPER, width: int = 1200) -> str:
    """Views under one another in one SVG document."""
    parts: list[str] = []
    top = 0
    for view in views:
        drawn, height = _drawn(view, theme, width)
        parts.append(f'<g transform="translate(0 {top})">{"".join(drawn)}</g>')
        top += height
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{top}" '
        f'viewBox="0 0 {width} {top}" font-family="{escape(theme.face)}" font-size="12">'
        f'<rect width="{width}" height="{top}" fill="{theme.paper}"/>{"".join(parts)}</svg>\n'
    )


def _drawn(view: View, theme: Theme, width: int) -> tuple[list[str], int]:
    across = _Across(view.scenes, width)
    if isinstance(view, Lengths):
        return _lengths(view, theme, across)
    if isinstance(view, Across):
        return _across(view, theme, across)
    if isinstance(view, EyesInOrder):
        return _eyes(view, theme, across)
    if isinstance(view, TimeAgainstTelling):
        return _time(view, theme, across)
    if isinstance(view, Dialogue):
        return _dialogue(view, theme, across)
    return _pace(view, theme, across)


@dataclass(frozen=True)
class _Across:
    """Where scenes stand from left to right."""

    scenes: Sequence[ScenePlace]
    width: int

    @property
    def step(self) -> float:
        return (self.width - _LEFT - _RIGHT) / max(1, len(self.scenes))

    def x(self, index: float) -> float:
        return _LEFT + index * self.step

    def middle(self, index: int) -> float:
        return self.x(index + 0.5)

    def chapters(self, theme: Theme, height: float) -> list[str]:
        """A hairline where each chapter opens, with its title where there is room for it."""
        found = []
        free = 0.0
        for index, each in enumerate(self.scenes):
            if not each.opens_chapter:
                continue
            x = self.x(index)
            found.append(_line(x, _TOP, x, _TOP + height, theme.line))
            title = each.chapter_title.replace(LINE_BREAK, " ")
            end = x + 8 + 6.5 * min(16, len(title))
            if title and x >= free and end <= self.width:
                found.append(_text(x + 3, _TOP + height + 16, _short(title, 16), theme.quiet))
                free = end
        return found


def _lengths(view: Lengths, theme: Theme, across: _Across) -> tuple[list[str], int]:
    height = 180
    most = max(view.words, default=0) or 1
    drawn = [*_head("Scene lengths", "words", theme), *across.chapters(theme, height)]
    for index, words in enumerate(view.words):
        tall = height * words / most
        odd = index in view.long or index in view.short
        drawn.append(
            _bar(
                across.x(index),
                _TOP + height - tall,
                across.step,
                tall,
                theme.ink if odd else theme.bar,
                _told(across.scenes[index], f"{words:,} words"),
            )
        )
        if odd:
            sign = "+" if index in view.long else "−"
            at = across.middle(index)
            drawn.append(_text(at, _TOP + height - tall - 4, sign, theme.ink, "middle"))
    level = _TOP + height * (1 - view.middle / most)
    drawn.append(_line(_LEFT, level, across.width - _RIGHT, level, theme.quiet, dashed=True))
    drawn.append(_text(_LEFT - 8, level + 4, f"middle {view.middle:,.0f}", theme.quiet, "end"))
    return drawn, _TOP + height + _FOOT


def _across(view: Across, theme: Theme, across: _Across) -> tuple[list[str], int]:
    rows = [*view.threads, *view.people]
    height = _ROW * len(rows) + (_ROW if view.threads and view.people else 0)
    drawn = [*_head("Threads and cast", "by scene", theme), *across.chapters(theme, height)]
    y = _TOP + _ROW / 2
    for number, row in enumerate(rows):
        if number == len(view.threads) and view.threads:
            y += _ROW
        drawn += _row(row, y, theme, across)
        y += _ROW
    return drawn, int(_TOP + height + _FOOT)


def _row(row: Row, y: float, theme: Theme, across: _Across) -> list[str]:
    most = max(row.counts)
    name = _short(row.name, 20) + ("?" if row.proposed else "")
    drawn = [_text(_LEFT - 8, y + 4, name, theme.ink, "end")]
    start, end = across.middle(row.first), across.middle(row.last)
    drawn.append(_line(start, y, end, y, theme.line))
    for before, after in row.gaps:
        a, b = across.middle(before), across.middle(after)
        drawn.append(_line(a, y, b, y, theme.paper))
        drawn.append(_line(a, y, b, y, theme.quiet, dashed=True))
    for index, count in enumerate(row.counts):
        if count:
            radius = min(_ROW / 2 - 1, max(1.5, across.step / 2)) * (0.45 + 0.55 * count / most)
            told = _told(across.scenes[index], f"{row.name}, {count}")
            drawn.append(
                f'<circle cx="{across.middle(index):.1f}" cy="{y:.1f}" r="{radius:.1f}" '
                f'fill="{theme.pencil}"><title>{escape(told)}</title></circle>'
            )
    if row.left_open:
        drawn.append(_text(end + 10, y + 4, "left open", theme.quiet))
    return drawn


def _eyes(view: EyesInOrder, theme: Theme, across: _Across) -> tuple[list[str], int]:
    names = view.names
    height = _ROW * max(1, len(names))
    drawn = [*_head("Whose eyes", "by scene", theme), *across.chapters(theme, height)]
    for row, name in enumerate(names):
        y = _TOP + row * _ROW
        drawn.append(_text(_LEFT - 8, y + 13, _short(name, 20), theme.ink, "end"))
        for index, eyes in enumerate(view.eyes):
            if eyes.name == name:
                told = _told(across.scenes[index], f"{name}, {eyes.share:.0%} of looks")
                drawn.append(
                    _bar(across.x(index), y + 3, across.step, _ROW - 6, theme.pencil, told)
                )
            if any(hop.name == name for hop in view.hops[index]):
                drawn.append(_text(across.middle(index), y + 13, "×", theme.ink, "middle"))
    return drawn, _TOP + height + _FOOT


def _time(view: TimeAgainstTelling, theme: Theme, across: _Across) -> tuple[list[str], int]:
    height = 160
    known = [day for day in view.days if day is not None]
    low, high = min(known, default=0), max(known, default=0)
    drawn = [*_head("Story time", "days, upward, by scene", theme)]
    drawn += across.chapters(theme, height)
    wrong = {each.said.scene for each in view.contradictions}
    before: tuple[float, float] | None = None
    for index, day in enumerate(view.days):
        here = across.scenes[index]
        x = across.middle(index)
        y: float = _TOP + height
        if day is not None:
            y = _TOP + height - 8 - (height - 16) * (day - low) / max(1, high - low)
            if before:
                drawn.append(_line(*before, x, y, theme.line, dashed=index in view.jumps_back))
            before = x, y
            told = escape(_told(here, view.labels[index]))
            drawn.append(
                f'<circle cx="{x:.1f}" cy="{y:.1f}" r="4" fill="{theme.pencil}">'
                f"<title>{told}</title></circle>"
            )
        if here.scene in wrong:
            drawn.append(_text(x, y - 8, "?", theme.ink, "middle"))
    return drawn, _TOP + height + _FOOT


def _dialogue(view: Dialogue, theme: Theme, across: _Across) -> tuple[list[str], int]:
    height = 100
    drawn = [*_head("Dialogue", "share of words spoken", theme), *across.chapters(theme, height)]
    for index, share in enumerate(view.shares):
        told = _told(across.scenes[index], f"{share:.0%} spoken")
        tall = height * share
        drawn.append(
            _bar(across.x(index), _TOP + height - tall, across.step, tall, theme.pencil, told)
        )
    level = _TOP + height * (1 - view.middle)
    drawn.append(_line(_LEFT, level, across.width - _RIGHT, level, theme.quiet, dashed=True))
    drawn.append(_text(_LEFT - 8, level + 4, f"middle {view.middle:.0%}", theme.quiet, "end"))
    return drawn, _TOP + height + _FOOT


def _pace(view: Pace, theme: Theme, across: _Across) -> tuple[list[str], int]:
    height = 110
    drawn = [*_head("Pace", "smoothed over five scenes", theme), *across.chapters(theme, height)]
    for values, name, dashed in (
        (view.sentences, "words a sentence", False),
        (view.words, "words a scene", True),
    ):
        most = max(values, default=0.0) or 1.0
        points = [
            (across.middle(index), _TOP + height * (1 - value / most))
            for index, value in enumerate(values)
            if value
        ]
        if points:
            path = " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
            dash = ' stroke-dasharray="4 3"' if dashed else ""
            drawn.append(
                f'<polyline points="{path}" fill="none" stroke="{theme.pencil}" '
                f'stroke-width="1.5"{dash}/>'
            )
            sign = "- -" if dashed else "—"
            y = _TOP + (36 if dashed else 14)
            drawn.append(_text(_LEFT - 8, y, f"{sign} {name}", theme.quiet, "end"))
    return drawn, _TOP + height + _FOOT


def _head(title: str, told: str, theme: Theme) -> list[str]:
    return [
        f'<text x="{_LEFT}" y="28" font-size="16" fill="{theme.ink}">{escape(title)}</text>',
        _text(_LEFT + 14 + 9 * len(title), 28, told, theme.quiet),
    ]


def _told(scene: ScenePlace, what: str) -> str:
    return ": ".join(filter(None, (scene.title.replace(LINE_BREAK, " "), what)))


def _short(text: str, most: int) -> str:
    return text if len(text) <= most else text[: most - 1].rstrip() + "…"


def _bar(x: float, y: float, width: float, height: float, colour: str, told: str) -> str:
    inner = max(0.5, width - min(2.0, width / 4))
    return (
        f'<rect x="{x:.1f}" y="{y:.1f}" width="{inner:.1f}" height="{max(0.0, height):.1f}" '
        f'fill="{colour}"><title>{escape(told)}</title></rect>'
    )


def _line(x1: float, y1: float, x2: float, y2: float, colour: str, dashed: bool = False) -> str:
    dash = ' stroke-dasharray="3 3"' if dashed else ""
    return (
        f'<line x1="{x1:.1f}" y1="{y1:.1f}" x2="{x2:.1f}" y2="{y2:.1f}" stroke="{colour}"{dash}/>'
    )


def _text(x: float, y: float, text: str, colour: str, anchor: str = "start") -> str:
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" fill="{colour}" text-anchor="{anchor}">'
        f"{escape(text)}</text>"
    )
