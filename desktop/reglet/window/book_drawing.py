"""The book, scene by scene, as it is painted: bands of one width under one another.

Each band takes facts that are computed already; nothing is read or counted while painting.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen

from reglet.manuscript.paragraph import LINE_BREAK
from reglet.numbers import counted, times
from reglet.story.facts import StoryFacts
from reglet.story.views import (
    Across,
    Dialogue,
    EyesInOrder,
    Lengths,
    Pace,
    Row,
    TimeAgainstTelling,
    across,
    dialogue,
    eyes_in_order,
    lengths,
    pace,
    time_against_telling,
)
from reglet.window import dressing
from reglet.window.scene_columns import SceneColumns
from reglet.window.theme import GRID, LIGHT, Theme

_HEAD = 28.0
_LENGTHS = 88.0
_LINE = 24.0
_TIME = 56.0
_BAND = 44.0
_PEOPLE, _THREADS = 9, 8
_RIGHT = 8.0
_LETTER_STEP = 11.0
"""The width of a column from which each has room for a letter of its own."""


@dataclass(frozen=True)
class BookPictures:
    """All that is drawn of a book."""

    lengths: Lengths
    across: Across
    eyes: EyesInOrder
    time: TimeAgainstTelling
    dialogue: Dialogue
    pace: Pace

    @classmethod
    def of(cls, facts: StoryFacts) -> BookPictures:
        """The pictures that facts make."""
        return cls(
            lengths(facts),
            across(facts),
            eyes_in_order(facts),
            time_against_telling(facts),
            dialogue(facts),
            pace(facts),
        )

    @cached_property
    def people(self) -> tuple[Row, ...]:
        """The people shown, those in most scenes first; whom the writer has in the cast are among
        them.
        """

        def scenes(row: Row) -> int:
            return sum(map(bool, row.counts))

        chosen = sorted(self.across.people, key=lambda row: (row.proposed, -scenes(row)))[:_PEOPLE]
        return tuple(row for row in sorted(chosen, key=scenes, reverse=True) if scenes(row) > 1)

    @cached_property
    def threads(self) -> tuple[Row, ...]:
        """The threads shown, the writer's own first."""
        return tuple(sorted(self.across.threads, key=lambda row: row.proposed)[:_THREADS])


@dataclass(frozen=True)
class BookDrawing:
    """A book's pictures in a width and a theme. Distances are pixels from its top left corner."""

    pictures: BookPictures
    width: float
    theme: Theme = LIGHT

    @cached_property
    def columns(self) -> SceneColumns:
        """Where the scenes stand."""
        view = self.pictures.lengths
        return SceneColumns(view.scenes, view.words, self._left, self.width - _RIGHT)

    @cached_property
    def _left(self) -> float:
        metrics = QFontMetricsF(dressing.font(self.theme.control, 0.93))
        names = [row.name for row in (*self.pictures.people, *self.pictures.threads)]
        longest = max(map(metrics.horizontalAdvance, ("dialogue", *names)))
        return min(longest, self.width * 0.17) + 2 * GRID

    @cached_property
    def _tops(self) -> dict[str, float]:
        tops, y = {}, 0.0
        people, threads = len(self.pictures.people), len(self.pictures.threads)
        for name, height in (
            ("chapters", _HEAD),
            ("length", _LENGTHS),
            ("eyes", _LINE + 4),
            ("people", people * _LINE),
            ("rule", 12.0 if people and threads else 0.0),
            ("threads", threads * _LINE),
            ("time", _TIME),
            ("dialogue", _BAND),
            ("pace", _BAND),
        ):
            tops[name] = y
            y += height
        tops["end"] = y + 4
        return tops

    @property
    def height(self) -> float:
        """How high it is."""
        return self._tops["end"]

    def told(self, x: float, y: float) -> str:
        """What stands at a place, in words."""
        at = self.columns.at(x)
        if at < 0 or x < self._left:
            return ""
        view = self.pictures
        scene = view.lengths.scenes[at]
        said = [_plain(scene.title) or f"Scene {at + 1}", counted(view.lengths.words[at], "word")]
        if view.eyes.eyes[at].name:
            said.append(f"eyes: {view.eyes.eyes[at].name}")
        if view.time.labels[at]:
            said.append(view.time.labels[at])
        said.append(f"{view.dialogue.shares[at]:.0%} spoken")
        row = self._row_at(y)
        if row is not None:
            count = row.counts[at]
            said.append(f"{row.name}: {times(count) if count else 'not here'}")
        wrong = [
            each.message for each in view.time.contradictions if each.said.scene == scene.scene
        ]
        return " · ".join((*said, *wrong))

    def _row_at(self, y: float) -> Row | None:
        for name, rows in (("people", self.pictures.people), ("threads", self.pictures.threads)):
            at = int((y - self._tops[name]) // _LINE)
            if 0 <= at < len(rows):
                return rows[at]
        return None

    def paint(self, painter: QPainter, chosen: frozenset[int] = frozenset(), now: int = -1) -> None:
        """Paint it; `chosen` are the places of the scenes chosen, `now` is that with the keys."""
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(dressing.font(self.theme.control, 0.93))
        for at in chosen:
            left, right = self.columns.edges[at]
            box = QRectF(left, _HEAD - 4, right - left, self.height - _HEAD)
            painter.fillRect(box, QColor(self.theme.selection))
        self._chapters(painter)
        self._lengths(painter)
        self._eyes(painter)
        for name, rows in (("people", self.pictures.people), ("threads", self.pictures.threads)):
            for at, row in enumerate(rows):
                y = self._tops[name] + (at + 0.5) * _LINE
                self._row(painter, row, y, person=name == "people")
        if self.pictures.people and self.pictures.threads:
            y = self._tops["rule"] + 6
            painter.fillRect(QRectF(0, y, self.width - _RIGHT, 1), QColor(self.theme.line))
        self._time(painter)
        self._shares(painter)
        self._pace(painter)
        if 0 <= now < len(self.columns.edges):
            left, right = self.columns.edges[now]
            foot = self._tops["eyes"] - 1
            painter.fillRect(QRectF(left, foot, max(3, right - left), 2), QColor(self.theme.ink))

    def _name(self, painter: QPainter, y: float, said: str) -> None:
        painter.setPen(QColor(self.theme.quiet))
        room = self._left - 2 * GRID
        shown = painter.fontMetrics().elidedText(said, Qt.TextElideMode.ElideRight, int(room) + 2)
        box = QRectF(0, y - _LINE / 2, self._left - GRID, _LINE)
        painter.drawText(box, Qt.AlignmentFlag.AlignVCenter, shown)

    def _chapters(self, painter: QPainter) -> None:
        edges, scenes = self.columns.edges, self.pictures.lengths.scenes
        starts = [at for at, each in enumerate(scenes) if each.opens_chapter]
        painter.setFont(dressing.font(self.theme.control, 0.8))
        metrics = QFontMetricsF(painter.font())
        free = 0.0
        ends = [*starts[1:], len(scenes)]
        spans = [(edges[a][0], edges[b - 1][1]) for a, b in zip(starts, ends, strict=True)]
        titles = [_numbered(_plain(scenes[start].chapter_title)) for start in starts]
        named = all(
            title and metrics.horizontalAdvance(title) <= right - left + 4
            for title, (left, right) in zip(titles, spans, strict=True)
        )
        painter.setPen(QColor(self.theme.quiet))
        for number, (left, right) in enumerate(spans):
            painter.fillRect(QRectF(left, 20, right - left, 1), QColor(self.theme.line))
            # Where not all titles have room, the chapters are counted through, as far as there is.
            title = titles[number] if named else str(number + 1)
            if left >= free:
                painter.drawText(QPointF(left, 13), title)
                free = left + metrics.horizontalAdvance(title) + 6
        painter.setFont(dressing.font(self.theme.control, 0.93))

    def _lengths(self, painter: QPainter) -> None:
        view, top = self.pictures.lengths, self._tops["length"]
        foot, most = top + _LENGTHS - 10, max(view.words, default=0) or 1
        tall = _LENGTHS - 30
        self._name(painter, foot - tall / 2, "length")
        gap = 3.0 if self.columns.step > 12 else 1.0 if self.columns.step > 4 else 0.0
        words: list[tuple[float, float, str]] = []
        for at, count in enumerate(view.words):
            left, right = self.columns.edges[at]
            odd = at in view.long or at in view.short
            height = max(2.0, tall * count / most)
            box = QRectF(left, foot - height, max(1.0, right - left - gap), height)
            painter.fillRect(box, QColor(self.theme.ink if odd else self.theme.bar))
            if odd and view.middle:
                said = f"{count / view.middle:.1f}×"
                words.append((box.center().x(), box.top(), said))
        painter.setFont(dressing.font(self.theme.control, 0.8))
        metrics, free = QFontMetricsF(painter.font()), self._left
        for number, (x, y, said) in enumerate(words):
            said = said if number else f"{said} the median"
            room = metrics.horizontalAdvance(said)
            left = max(self._left, min(x - room / 2, self.width - room))
            if left >= free:
                painter.setPen(QColor(self.theme.ink))
                painter.drawText(QPointF(left, top + 10), said)
                free = left + room + 8
                painter.setPen(QPen(QColor(self.theme.quiet), 0.8))
                painter.drawLine(QPointF(x, top + 14), QPointF(x, max(top + 14, y - 3)))
        painter.setFont(dressing.font(self.theme.control, 0.93))

    def _eyes(self, painter: QPainter) -> None:
        y = self._tops["eyes"] + _LINE / 2
        self._name(painter, y, "eyes")
        painter.setPen(QColor(self.theme.ink))
        before, letters = "", self.pictures.eyes.letters
        for at, eyes in enumerate(self.pictures.eyes.eyes):
            letter = letters.get(eyes.name, "·")
            x = self.columns.middle(at)
            if self.columns.step >= _LETTER_STEP or (letter != before and letter != "·"):
                box = QRectF(x - 12, y - _LINE / 2, 24, _LINE)
                painter.drawText(box, Qt.AlignmentFlag.AlignCenter, letter)
            elif letter == before and letter != "·":
                painter.fillRect(QRectF(x - 1, y, 2, 1), QColor(self.theme.quiet))
            before = letter

    def _row(self, painter: QPainter, row: Row, y: float, *, person: bool) -> None:
        theme = self.theme
        self._name(painter, y, row.name)
        radius = max(1.5, min(4.0, self.columns.step / 3))
        places = [at for at, count in enumerate(row.counts) if count]
        gaps = set(row.gaps)
        solid, faint = QPen(QColor(theme.graphite), 1.3), QPen(QColor(theme.quiet), 1)
        faint.setDashPattern([1.5, 3.5])
        for before, after in pairwise(places):
            painter.setPen(faint if (before, after) in gaps else solid)
            ends = QPointF(self.columns.middle(before), y), QPointF(self.columns.middle(after), y)
            painter.drawLine(*ends)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(theme.graphite))
        for at in places:
            painter.drawEllipse(QPointF(self.columns.middle(at), y), radius, radius)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        count = len(row.counts)
        gone = person and count - 1 - row.last >= max(5, count / 3)
        if row.left_open or gone:
            said = "raised, never answered" if row.left_open else "not seen again"
            face = dressing.font(theme.control, 0.83)
            face.setItalic(True)
            room = QFontMetricsF(face).horizontalAdvance(said)
            x = self.columns.middle(row.last) + radius + 8
            if x + room <= self.width:
                painter.setFont(face)
                painter.setPen(QColor(theme.ink))
                painter.drawText(QPointF(x, y + 4), said)
                painter.setFont(dressing.font(theme.control, 0.93))

    def _time(self, painter: QPainter) -> None:
        view, theme, top = self.pictures.time, self.theme, self._tops["time"]
        self._name(painter, top + _TIME / 2, "time")
        known = [day for day in view.days if day is not None]
        low, high = min(known, default=0), max(known, default=0)
        wrong = {each.said.scene for each in view.contradictions}
        points, marks = [], []
        for at, day in enumerate(view.days):
            if day is not None:
                share = (day - low) / max(1, high - low)
                point = QPointF(self.columns.middle(at), top + _TIME - 12 - share * (_TIME - 24))
                points.append(point)
                if view.scenes[at].scene in wrong or at in view.jumps_back:
                    marks.append((point, at, view.scenes[at].scene in wrong))
        painter.setPen(QPen(QColor(theme.graphite), 1.4))
        if points:
            painter.drawPolyline(points)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(theme.graphite))
        for point in points:
            painter.drawEllipse(point, 2, 2)
        if len(points) < 2:
            said = "only one scene says its day" if points else "no scene says its day"
            painter.setPen(QColor(theme.quiet))
            painter.drawText(QPointF(self._left, top + _TIME / 2 + 4), said)
        free = 0.0
        for point, at, is_wrong in marks:
            painter.setPen(QPen(QColor(theme.ink), 1.2))
            painter.setBrush(QColor(theme.ink if is_wrong else theme.paper))
            painter.drawEllipse(point, 3.2, 3.2)
            said = f"{view.labels[at]}?" if is_wrong else ""
            face = dressing.font(theme.control, 0.8)
            room = QFontMetricsF(face).horizontalAdvance(said)
            x = min(point.x() + 7, self.width - room)
            if said and x >= free:
                painter.setFont(face)
                painter.drawText(QPointF(x, point.y() + 11), said)
                free = x + room + 8
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setFont(dressing.font(theme.control, 0.93))

    def _shares(self, painter: QPainter) -> None:
        view, top = self.pictures.dialogue, self._tops["dialogue"]
        foot, tall = top + _BAND - 8, _BAND - 16
        self._name(painter, foot - tall / 2, "dialogue")
        gap = 3.0 if self.columns.step > 12 else 1.0 if self.columns.step > 4 else 0.0
        for at, share in enumerate(view.shares):
            left, right = self.columns.edges[at]
            whole = QRectF(left, foot - tall, max(1.0, right - left - gap), tall)
            painter.fillRect(whole, QColor(self.theme.card))
            whole.setTop(foot - max(1.0, tall * share))
            painter.fillRect(whole, QColor(self.theme.bar))

    def _pace(self, painter: QPainter) -> None:
        view, top = self.pictures.pace, self._tops["pace"]
        self._name(painter, top + 9, "pace")
        self._legend(painter, top + 24, "sentences", dashed=False)
        self._legend(painter, top + 37, "scenes", dashed=True)
        for values, dashed in ((view.sentences, False), (view.words, True)):
            present = [value for value in values if value]
            low, high = min(present, default=0.0), max(present, default=1.0)
            pen = QPen(QColor(self.theme.quiet if dashed else self.theme.graphite), 1.3)
            if dashed:
                pen.setDashPattern([3, 3])
            painter.setPen(pen)
            line = [
                QPointF(
                    self.columns.middle(at),
                    top + _BAND - 8 - (_BAND - 16) * (value - low) / max(0.001, high - low),
                )
                for at, value in enumerate(values)
                if value
            ]
            if line:
                painter.drawPolyline(line)

    def _legend(self, painter: QPainter, y: float, said: str, *, dashed: bool) -> None:
        """What a line of the pace is the length of."""
        pen = QPen(QColor(self.theme.quiet if dashed else self.theme.graphite), 1.3)
        if dashed:
            pen.setDashPattern([3, 3])
        painter.setPen(pen)
        painter.drawLine(QPointF(0, y), QPointF(18, y))
        painter.setFont(dressing.font(self.theme.control, 0.8))
        painter.setPen(QColor(self.theme.quiet))
        painter.drawText(QPointF(23, y + 4), said)
        painter.setFont(dressing.font(self.theme.control, 0.93))


def _plain(title: str) -> str:
    return title.replace(LINE_BREAK, " ")


def _numbered(title: str) -> str:
    """What of a chapter's title says its number: "One" of "Chapter One: Slack Water"."""
    head = re.split(r"[:·–—]", title, maxsplit=1)[0]
    return re.sub(r"^chapter\s+", "", head.strip(), flags=re.IGNORECASE).strip(" .")
