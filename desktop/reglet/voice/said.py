"""A sentence as a reader says it: every word that stands on the page, in order, slips and all.

Nothing is put right: a doubled word is said twice, a missing one is not there. What changes is only
how a thing is said that no reader spells out: "Mr", "St.", "1887", "£3", "10.30", "Chapter XII".
How (and that these and no others need it with the voices we have) is common practice of reading
aloud and our own; all other numbers and words are left to the voice.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache

from reglet import resources
from reglet.language.words import plain
from reglet.manuscript.words import WORD
from reglet.numbers import roman_value

_MONEY = (
    r"(?P<sign>[£$€])\s?(?P<sum>\d+(?:,\d{3})*)(?:\.(?P<cents>\d\d)(?!\d))?"
    r"(?P<much> (?:thousand|million|billion))?(?![\d,.]*\d)"
)
_CLOCK = r"(?P<hour>[01]?\d|2[0-4])(?P<point>[:.])(?P<minute>[0-5]\d)(?![.:]?\d)"
_DECADE = r"(?:(?P<century>1[1-9]|20)|['’])(?P<decade>\d)0['’]?s\b"
_UNIT = re.compile(rf"{_MONEY}|{_CLOCK}|{_DECADE}|{WORD}|[&%@#+=°§½¼¾⅓⅔×÷]")

_YEAR = re.compile(r"10[1-9]\d|1[1-9]\d\d|20\d\d")
_ROMAN = re.compile(r"(?=[IVXLC])(?:XC|XL|L?X{0,3})(?:IX|IV|V?I{0,3})")
_COINS = {"£": ("pound", "pounds"), "$": ("dollar", "dollars"), "€": ("euro", "euros")}
_DECADES = "hundreds tens twenties thirties forties fifties sixties seventies eighties nineties"
_DIVISIONS = frozenset("chapter part book volume act scene canto section page number".split())
_HOUR_BEFORE = frozenset("at by before after until till past about around from to since".split())
_HOUR_AFTER = re.compile(r"\s?(?:[ap]\.?m\b|o['’]clock|train|ferry|bus)")
_SOUNDS = re.compile(r"\[\[(.+)\]\]")
_DASH = re.compile(r"[–—―]|--")
_ELLIPSIS = re.compile(r"…|\.(?:\s?\.)+")


@dataclass(frozen=True, slots=True)
class Unit:
    """One word of the page, code points `start` up to `end`, and what is said for it.

    `sounds`, where it is given, is the word in IPA, and goes before `said`. `mark` is the
    punctuation behind it as the voice takes it: one of ",", ";", ":", ".", "?", "!" or none.
    """

    start: int
    end: int
    said: str
    sounds: str = ""
    mark: str = ""


def units(text: str, said_as: Mapping[str, str] | None = None) -> tuple[Unit, ...]:
    """The words of one sentence, in order. `said_as` is the book's own dictionary, by word in
    lower case: a respelling, or IPA in [[ ]].

    The last unit always has a mark: a full stop, if the text ends without one. Never raises; a
    text without a word has no units.
    """
    found: list[Unit] = []
    matches = list(_UNIT.finditer(text))
    for at, match in enumerate(matches):
        before = matches[at - 1] if at else None
        after = matches[at + 1] if at + 1 < len(matches) else None
        said = _said(text, match, before, after, said_as or {})
        sounds = _SOUNDS.fullmatch(said)
        if sounds:
            spelled = _composed(match.group())
            unit = Unit(match.start(), match.end(), spelled, sounds[1].strip())
        else:
            unit = Unit(match.start(), match.end(), said)
        end = after.start() if after else len(text)
        found.append(replace(unit, mark=_mark(text[match.end() : end], text[end : end + 1])))
    return tuple(found)


@cache
def _shortenings() -> dict[str, str]:
    entries = (line.partition("\t") for line in resources.lines("voice", "said.txt"))
    return {word: said for word, _, said in entries}


def _said(
    text: str,
    match: re.Match[str],
    before: re.Match[str] | None,
    after: re.Match[str] | None,
    said_as: Mapping[str, str],
) -> str:
    if match["sign"]:
        return _money(match)
    previous = before.group() if before else ""
    if match["hour"]:
        return _clock(text, match, previous)
    if match["decade"]:
        decade = _DECADES.split()[int(match["decade"])]
        return f"{match['century']} {decade}" if match["century"] else decade
    word = match.group()
    own = _own(word, said_as)
    if own:
        return own
    key = word.lower().rstrip(".")
    following = after.group() if after else ""
    if key == "st" and word[0] == "S":
        near = after is not None and after.start() - match.end() <= 2
        return "saint" if near and following[:1].isupper() else "street"
    if key in ("no", "nos", "nº", "n°") and following[:1].isdigit() and _near(text, match, after):
        return "number" if key != "nos" else "numbers"
    if key in _shortenings():
        return _shortenings()[key]
    if _YEAR.fullmatch(word):
        return _ranged(text, before, match, _year(word))
    if word.isdigit():
        return _ranged(text, before, match, word)
    if word != "I" and _ROMAN.fullmatch(word) and previous:
        return _roman(word, previous)
    if re.fullmatch(r"(?:[^\W\d_]\.){2,}", word):  # U.S.A.
        return word.replace(".", "").upper()
    return _composed(word)


def _own(word: str, said_as: Mapping[str, str]) -> str:
    """What the book's dictionary says of a word; of a name's possessive too."""
    key = plain(word)
    own = said_as.get(key, "")
    if own or not said_as:
        return own
    if key.endswith(("'s", "s'")):
        stem = said_as.get(key[:-2] if key.endswith("'s") else key[:-1], "")
        if stem and key.endswith("s'"):
            return stem
        if stem.endswith("]]"):
            return stem[:-2] + possessive_sound(stem[:-2]) + "]]"
        return stem + "'s" if stem else ""
    return ""


def possessive_sound(sounds: str) -> str:
    """The sound of 's behind these sounds, in IPA (the rule is any English phonetics' primer's)."""
    last = sounds.rstrip("ːˈˌ ")[-1:]
    if last in "szʃʒ":
        return "ɪz"
    return "s" if last in "ptkfθ" else "z"


def _composed(word: str) -> str:
    # Composed, because voices know "é" and not "e" with an accent behind it; a soft hyphen is
    # nothing that is said.
    return unicodedata.normalize("NFC", word.replace("’", "'").replace("\u00ad", ""))


def _near(text: str, match: re.Match[str], after: re.Match[str] | None) -> bool:
    return after is not None and text[match.end() : after.start()].strip() in (".", "")


def _money(match: re.Match[str]) -> str:
    one, many = _COINS[match["sign"]]
    total, cents, much = match["sum"], match["cents"], match["much"] or ""
    coin = one if total == "1" and not much else many
    if cents and cents != "00":
        return f"{total} {coin} {int(cents)}"
    return f"{total}{much} {coin}"


def _clock(text: str, match: re.Match[str], previous: str) -> str:
    hour, minute = int(match["hour"]), match["minute"]
    is_time = (
        match["point"] == ":"
        or previous.lower() in _HOUR_BEFORE
        or _HOUR_AFTER.match(text, match.end()) is not None
    )
    if not is_time:
        return match.group()
    if minute == "00":
        half_of_day = re.match(r"\s?[ap]\.?m\b", text[match.end() :])
        return str(hour) if half_of_day else f"{hour} o'clock" if hour <= 12 else f"{hour} hundred"
    return f"{hour} oh {minute[1]}" if minute[0] == "0" else f"{hour} {minute}"


def _year(word: str) -> str:
    century, rest = word[:2], word[2:]
    if century == "20" and rest[0] == "0":
        return word
    if rest == "00":
        return f"{century} hundred"
    return f"{century} oh {rest[1]}" if rest[0] == "0" else f"{century} {rest}"


def _ranged(text: str, before: re.Match[str] | None, match: re.Match[str], said: str) -> str:
    between = text[before.end() : match.start()] if before else ""
    return f"to {said}" if between == "–" and before and before.group()[-1:].isdigit() else said


def _roman(word: str, previous: str) -> str:
    number = roman_value(word)
    if previous.lower().rstrip(".") in _DIVISIONS:
        return str(number)
    if previous[:1].isupper() and len(word) > 1:
        return f"the {number}{_ordinal(number)}"
    return word


def _ordinal(number: int) -> str:
    if number % 100 in (11, 12, 13):
        return "th"
    return {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")


def _mark(gap: str, following: str) -> str:
    """The punctuation of what stands between two words, or (`following` empty) at the end."""
    last = not following
    asks = re.search(r"[?!‽]", gap)
    if asks:
        return "?" if "?" in gap or "‽" in gap else "!"
    if _ELLIPSIS.search(gap):
        return "." if last or following.isupper() else ","
    if last:
        return next((mark for mark in ";:," if mark in gap), "." if not _DASH.search(gap) else ";")
    if _DASH.search(gap):
        return ";" if gap != "–" else ""
    if re.search(r"\.[”’\"')»]", gap):
        return "."
    # Any other full stop within a sentence is that of a shortening.
    for mark in (":", ";", ","):
        if mark in gap:
            return mark
    return "," if re.search(r"[()\[\]\u2028]", gap) else ""
