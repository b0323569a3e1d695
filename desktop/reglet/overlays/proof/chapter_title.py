"""Overlay: chapters numbered or titled in two ways."""

import re
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from reglet.language.frequency import is_mostly_name
from reglet.manuscript.book import Book, Chapter
from reglet.manuscript.paragraph import LINE_BREAK
from reglet.manuscript.stage import Stage
from reglet.numbers import in_words, roman
from reglet.overlays.house import House
from reglet.overlays.overlay import Finding, of_book
from reglet.overlays.query import Choice, ProofMark
from reglet.overlays.reading import ReadBook
from reglet.overlays.structure.chapter_number import number_of
from reglet.overlays.tally import commoner_of

_NUMBER = re.compile(
    r"(?P<word>chapter|CHAPTER|Chapter)?(?P<gap>[ \u00a0]*)"
    r"(?P<number>\d{1,3}|[IVXLCivxlc]+|[A-Za-z]+(?:-[A-Za-z]+)?)"
    r"(?P<stop>[.:]?)(?P<rest>$|[\s\u2028–—-].*)"
)
_FEWEST = 3  # chapters of a way
_SMALL_WORDS = frozenset(
    "a an the and but or nor for of in on at to by from with as into over up off per via".split()
)


@dataclass(frozen=True)
class _Answer:
    """How a chapter's heading answers a question, and how to have it answer otherwise."""

    question: str
    way: str
    chapter: Chapter
    better: Callable[[str], str]


def chapter_title(read: ReadBook, house: House) -> Iterator[tuple[str, Finding]]:
    """Chapters are numbered in one way, and their titles have capitals and full stops in one way.

    The commoner way is proposed. Titles in capitals throughout, with a capital for each word, or
    for the first alone are told apart; a name keeps its capital.

    Source: The Chicago Manual of Style, on capitals in titles (from memory).
    """
    answers = [each for chapter in read.book.chapters for each in _answers(chapter, read.book)]
    ways: dict[str, Counter[str]] = {}
    for each in answers:
        ways.setdefault(each.question, Counter())[each.way] += 1
    for each in answers:
        counts, settled = ways[each.question], read.book.style_sheet.way(each.question)
        common = settled or commoner_of(counts)
        if not common or each.way == common or not each.chapter.scenes:
            continue
        if not settled and counts[common] < _FEWEST:
            continue
        said = (
            f"The style sheet has {common}."
            if settled
            else f"{counts[common]} chapters have {common}, and {counts[each.way]} {each.way}."
        )
        shown = each.chapter.title.replace(LINE_BREAK, " ")
        finding = Finding(
            0,
            0,
            f"“{shown}”: {said[:1].lower() + said[1:]}",
            each.better(common),
            choice=Choice(each.question, common),
            chapter=each.chapter.id,
        )
        yield each.chapter.scenes[0].id, finding


def _answers(chapter: Chapter, book: Book) -> Iterator[_Answer]:
    title = chapter.title.strip()
    if not title:
        return
    match, number = _NUMBER.fullmatch(title), number_of(title)
    name = title
    if match is not None and number is not None and _is_numbered(match):
        name = match["rest"].strip(" \u00a0\u2028–—-")
        way = _number_way(match)

        def renumbered(wanted: str) -> str:
            return _renumbered(wanted, number) + _joint(match) + match["rest"]

        yield _Answer("chapter numbers", way, chapter, renumbered)
    head = title[: len(title) - len(name)]
    if name:
        yield _Answer(
            "full stop after chapter titles",
            "a full stop after the title" if name.endswith(".") else "no full stop after the title",
            chapter,
            lambda wanted: head + name.rstrip(".") + ("." if wanted.startswith("a ") else ""),
        )
    capitals = _case_of(name)
    if capitals is not None:
        yield _Answer(
            "capitals in chapter titles",
            capitals,
            chapter,
            lambda wanted: head + _recased(name, wanted, book.style_sheet.words),
        )


# Numbers


def _is_numbered(match: re.Match[str]) -> bool:
    """Whether it is a number indeed: not the first word of a title such as “Three Men”."""
    alone = not match["rest"] or match["rest"].startswith(LINE_BREAK)
    return bool(match["word"] or match["stop"] or match["number"].isdigit() or alone)


def _number_way(match: re.Match[str]) -> str:
    """The number as this chapter has it, with one for the number: “Chapter One”, “1.”, “I”."""
    number = match["number"]
    if number.isdigit():
        shown = "1"
    elif number_of(f"Chapter {number}") and set(number.upper()) <= set("IVXLC"):
        shown = "I" if number.isupper() else "i"
    else:
        shown = "ONE" if number.isupper() else "One" if number[0].isupper() else "one"
    word = match["word"] or ""
    stop = "" if _joint(match) else match["stop"]
    return f"“{word}{' ' if word else ''}{shown}{stop}”"


def _joint(match: re.Match[str]) -> str:
    """The colon between a number and its title, which is no part of either."""
    return ":" if match["stop"] == ":" and match["rest"] else ""


def _renumbered(way: str, value: int) -> str:
    model = way.strip("“”")
    match = _NUMBER.fullmatch(model)
    assert match is not None  # `_number_way` made it
    number, word = match["number"], match["word"] or ""
    said = in_words(value) if value <= 100 else str(value)
    shown = {
        "1": str(value),
        "I": roman(value),
        "i": roman(value).lower(),
        "ONE": said.upper(),
        "One": "-".join(part.capitalize() for part in said.split("-")),
        "one": said,
    }[number]
    return f"{word}{' ' if word else ''}{shown}{match['stop']}"


# Capitals

_ALL, _EACH, _FIRST = (
    "capitals throughout",
    "a capital for each word",
    "a capital for the first word",
)


def _case_of(name: str) -> str | None:
    """Which capitals a title has; None where it does not show."""
    words = re.findall(r"[A-Za-z’']+", name)
    if name.isupper() and len(words) > 1:
        return _ALL
    telling = [w for w in words[1:] if w.lower() not in _SMALL_WORDS and not is_mostly_name(w)]
    telling = [word for word in telling if word not in ("I", "I’m")]
    if not telling:
        return None
    if all(word[0].isupper() for word in telling):
        return _EACH
    return _FIRST if all(word.islower() for word in telling) else None


def _recased(name: str, way: str, own: frozenset[str]) -> str:
    """The title with other capitals. Words of the style sheet keep theirs."""
    if way == _ALL:
        return name.upper()
    first = True

    def recased(match: re.Match[str]) -> str:
        nonlocal first
        opens, first = first, False
        word = match[0]
        low = word.lower()
        proper = low == "i" or is_mostly_name(low) or low.capitalize() in own
        if opens or proper or (way == _EACH and low not in _SMALL_WORDS):
            return low[:1].upper() + low[1:]
        return low

    return re.sub(r"[A-Za-z][A-Za-z’']*", recased, name)


OVERLAY = of_book(chapter_title, Stage.PROOF, ProofMark.REPLACE)
