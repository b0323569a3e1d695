"""Story time: what the text and the sheets say of when a scene happens.

A scene is put on a day where its narration names one ("On Tuesday they washed the sheets"; "It was
late on Wednesday"), where it opens so long after the scene before ("Two days later", "Next
morning"), or where its sheet says so, which goes before the text. Days that people merely speak of,
and days the narration looks back on, put a scene nowhere.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from reglet.language.prose import Prose
from reglet.numbers import TENS, UNITS, value_of


class TimeKind(StrEnum):
    """What a statement of time says; see `TimeMention.value`."""

    WEEKDAY = "weekday"
    DATE = "date"
    LATER = "later"
    SAME_DAY = "same_day"
    SPAN = "span"


class TimeMention(NamedTuple):
    """A statement of time: `text[start:end]`, in code points.

    `value` is 0 (Monday) to 6 for a weekday, month × 100 + day for a
    date (`year` beside it, or 0), days for LATER and SAME_DAY (0), years for SPAN ("nineteen years
    ago"). `anchors` is how firmly the narration puts its own present there: 2 for firmly, 1 where
    it does if a scene opens with it, 0 for not at all.
    """

    start: int
    end: int
    kind: TimeKind
    value: int
    year: int = 0
    weekday: int = -1
    anchors: int = 0
    spoken: bool = False


DAYS = "Monday Tuesday Wednesday Thursday Friday Saturday Sunday".split()
MONTHS = (
    "January February March April May June July August September October November December".split()
)
_DAY = "|".join(DAYS)
_MONTH = "|".join(MONTHS)
_ORDINALS = (
    "first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth thirteenth "
    "fourteenth fifteenth sixteenth seventeenth eighteenth nineteenth twentieth twenty-first "
    "twenty-second twenty-third twenty-fourth twenty-fifth twenty-sixth twenty-seventh "
    "twenty-eighth twenty-ninth thirtieth thirty-first"
).split()
_NUMBER = (
    rf"(?:\d{{1,3}}|(?:{'|'.join(TENS)})(?:-(?:{'|'.join(UNITS[:9])}))?"
    rf"|(?:{'|'.join(sorted(UNITS, key=len, reverse=True))})(?: and (?:{'|'.join(TENS)}))?)"
)
_PART = "morning|afternoon|evening|night|day|noon|midday"

_WEEKDAY = re.compile(
    rf"(?:\b(?P<lead>[Oo]n(?: the)?|[Ii]t was(?: (?:late|early|already|now|only))?(?: on| a)?"
    rf"|[Tt]h(?:at|is)(?: very| same)?|[Bb]y) )?\b(?P<day>{_DAY})(?! ?[’']s)\b(?P<plural>s)?"
    rf"(?: (?P<part>{_PART}|last|next|week))?"
)
_DATE = re.compile(
    rf"(?:\b[Oo]n )?(?:(?P<weekday>{_DAY}),? (?:the )?)?"
    rf"(?:(?:the )?\b(?P<day>\d{{1,2}}(?:st|nd|rd|th)?|"
    rf"{'|'.join(sorted(_ORDINALS, key=len, reverse=True))})(?: of)? (?P<month>{_MONTH})"
    rf"|\b(?P<month2>{_MONTH}),? (?:the )?(?P<day2>\d{{1,2}}(?:st|nd|rd|th)?)\b(?!\d))"
    r"(?:,? (?P<year>1[4-9]\d\d|20\d\d)\b)?"
)
_LATER = re.compile(
    rf"\b(?:(?P<number>{_NUMBER}|a|an|a couple of) (?P<unit>day|night|week|fortnight|month|year)s?"
    r" (?:later|afterwards?)\b"
    rf"|(?:[Tt]he )?(?P<next>[Nn]ext|[Ff]ollowing) (?:{_PART})\b"
    r"|[Tt]he day after(?! tomorrow)\b)",
    re.IGNORECASE,
)
_SAME = re.compile(rf"\b(?:that|(?:the )?same|later that) (?:very )?(?:{_PART})\b", re.IGNORECASE)
_SPAN = re.compile(
    rf"\b(?P<number>{_NUMBER})(?: \w+)? years\b(?![ -](?:old|of age|older|younger))['’]?",
    re.IGNORECASE,
)
_UNIT_DAYS = {"day": 1, "night": 1, "week": 7, "fortnight": 14, "month": 30, "year": 365}
_TIME_WORD = re.compile(
    rf"(?:{_DAY}|{_MONTH}|years|later|after|next|following|that|same)", re.IGNORECASE
)
_SENTENCE_END = ".!?:;…”’\u2028"
_PAST_PERFECT = re.compile(r"\b(?:had|would)\b(?! to\b)|\w[’']d\b")
_CLOSES_SENTENCE = re.compile(r"[.!?]")


def times_in(prose: Prose) -> tuple[TimeMention, ...]:
    """The statements of time in a paragraph, in order. Never raises."""
    text = prose.text
    if not _TIME_WORD.search(text):
        return ()
    found: list[TimeMention] = []
    taken: list[tuple[int, int]] = []
    for mention in (*_dates(text), *_weekdays(text), *_others(text)):
        start, end = mention.start, mention.end
        if any(start < b and end > a for a, b in taken):
            continue
        taken.append((start, end))
        said = any(q.start <= start < q.end for q in prose.speeches)
        found.append(mention._replace(spoken=said, anchors=0 if said else mention.anchors))
    return tuple(sorted(found))


def _dates(text: str) -> Iterator[TimeMention]:
    for match in _DATE.finditer(text):
        month = match["month"] or match["month2"]
        number = _day_number(match["day"] or match["day2"])
        if not 1 <= number <= 31:
            continue
        yield TimeMention(
            *match.span(),
            TimeKind.DATE,
            (MONTHS.index(month) + 1) * 100 + number,
            int(match["year"] or 0),
            DAYS.index(match["weekday"]) if match["weekday"] else -1,
            anchors=0 if _looks_back(text, *match.span()) else 1 + _opens(text, match.start()),
        )


def _weekdays(text: str) -> Iterator[TimeMention]:
    for match in _WEEKDAY.finditer(text):
        if match["plural"]:
            continue
        yield TimeMention(
            *match.span(),
            TimeKind.WEEKDAY,
            DAYS.index(match["day"]),
            anchors=_firmness(text, match),
        )


def _firmness(text: str, match: re.Match[str]) -> int:
    lead, part = (match["lead"] or "").lower(), match["part"] or ""
    if part in ("last", "next", "week"):
        return 0
    if lead.startswith("this") and part:
        return 2
    if _looks_back(text, *match.span()):
        return 0
    if lead.startswith("that"):
        return 2 if part else 0
    opens = _opens(text, match.start())
    if lead:
        return 2 if opens else 0 if lead.startswith("it was") else 1
    return 2 if match.start() == 0 and (part or text[match.end() :][:1] in (",", ".")) else 0


def _others(text: str) -> Iterator[TimeMention]:
    plain = text.lower()
    if any(word in plain for word in ("later", "after", "next", "following")):
        for match in _LATER.finditer(text):
            days = 1
            if match["unit"]:
                days = _value(match["number"]) * _UNIT_DAYS[match["unit"].lower()]
            firm = 2 * _opens(text, match.start())
            yield TimeMention(*match.span(), TimeKind.LATER, days, anchors=firm)
    if "that " in plain or "same " in plain:
        for match in _SAME.finditer(text):
            firm = 2 * _opens(text, match.start())
            yield TimeMention(*match.span(), TimeKind.SAME_DAY, 0, anchors=firm)
    if " years" in plain:
        for match in _SPAN.finditer(text):
            yield TimeMention(*match.span(), TimeKind.SPAN, _value(match["number"]))


def _opens(text: str, at: int) -> bool:
    before = text[:at].rstrip()
    return not before or before[-1] in _SENTENCE_END


def _looks_back(text: str, start: int, end: int) -> bool:
    """Whether the sentence is in the past perfect, and so tells of what came before."""
    close = _CLOSES_SENTENCE.search(text, end)
    opened = max(text.rfind(mark, 0, start) for mark in ".!?;”")
    sentence = text[opened + 1 : min(close.start() if close else len(text), end + 60)]
    return _PAST_PERFECT.search(sentence) is not None


def _day_number(said: str) -> int:
    return _ORDINALS.index(said) + 1 if said in _ORDINALS else int(re.sub(r"\D", "", said))


def _value(said: str) -> int:
    said = said.lower()
    if said.isdigit():
        return int(said)
    if said in ("a", "an"):
        return 1
    if said == "a couple of":
        return 2
    return sum(value_of(word) or 0 for word in re.split(r"-| and ", said))


@dataclass(frozen=True, slots=True)
class Said:
    """A statement of time in its scene: code points there, or None where the sheet says it."""

    scene: str
    place: tuple[int, int] | None
    text: str
    mention: TimeMention


@dataclass(frozen=True, slots=True)
class SceneTime:
    """When a scene happens, as far as is said. `weekday` and `date` are its own; `after` is how
    many days after the scene before it opens. `all` is every statement of time in its text.
    """

    scene: str
    weekday: Said | None
    date: Said | None
    after: Said | None
    all: tuple[Said, ...]
    sheet: str = ""

    @property
    def label(self) -> str:
        """What it says of its time, in words: the sheet's, else the text's, else ""."""
        chosen = self.date or self.weekday or self.after
        return self.sheet or (chosen.text if chosen else "")


def scene_time(scene: str, text: str, mentions: Sequence[TimeMention], sheet: str) -> SceneTime:
    """When a scene happens, from the statements in its whole text and its sheet's "when"."""
    said = tuple(Said(scene, (m.start, m.end), text[m.start : m.end], m) for m in mentions)
    sheet_said = tuple(Said(scene, None, sheet, m) for m in times_in(Prose(sheet))) if sheet else ()

    def first(kind: TimeKind, within: int) -> Said | None:
        if sheet_said:
            return next((each for each in sheet_said if each.mention.kind is kind), None)
        for each in said:
            mention = each.mention
            firm = mention.anchors == 2 or (mention.anchors == 1 and mention.start < _OPENING)
            if mention.kind is kind and mention.start <= within and firm:
                return each
        return None

    return SceneTime(
        scene,
        first(TimeKind.WEEKDAY, len(text)),
        first(TimeKind.DATE, len(text)),
        first(TimeKind.LATER, 0) or first(TimeKind.SAME_DAY, 0),
        said,
        sheet,
    )


_OPENING = 300
"""Code points at a scene's head where "on Wednesday", wherever it stands, is the scene's day."""


def story_days(times: Sequence[SceneTime]) -> tuple[int | None, ...]:
    """For each scene the day of the story that it happens on, counted from the first that is known
    (day 0), or None where nothing is said.

    A weekday is the next such day from the one before, or, where it lies up to two days back, that
    one: a step back is likelier than most of a week gone by unsaid. A year alone places nothing.
    """
    days: list[int | None] = []
    now = 0
    weekday: int | None = None
    origin: int | None = None
    for each in times:
        known: int | None = None
        if each.date and each.date.mention.value:
            month, number = divmod(each.date.mention.value, 100)
            ordinal = (each.date.mention.year or 1901) * 365 + (month - 1) * 30 + number
            origin = ordinal - now if origin is None else origin
            known = ordinal - origin
        elif each.after:
            known = now + each.after.mention.value
        elif each.weekday:
            step = 0 if weekday is None else (each.weekday.mention.value - weekday) % 7
            known = now + (step - 7 if step >= 5 else step)
        if known is not None:
            if each.weekday:
                weekday = each.weekday.mention.value
            elif weekday is not None:
                weekday = (weekday + known - now) % 7
            now = known
        days.append(known)
    return tuple(days)
