"""Overlay: chapter numbers that skip, come twice, or go back."""

import re
from collections.abc import Iterator

from reglet.manuscript.paragraph import LINE_BREAK
from reglet.manuscript.stage import Stage
from reglet.numbers import roman_value, value_of
from reglet.overlays.house import House
from reglet.overlays.overlay import Finding, of_book
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadBook

_NUMBERED = re.compile(
    r"(?:chapter|ch\.?)?[ \u00a0]*"
    r"(?:(?P<digits>\d{1,3})|(?P<roman>[ivxlc]+)|(?P<word>[a-z-]+))"
    r"(?:$|[.:,–—\s])",
    re.IGNORECASE,
)


def chapter_number(read: ReadBook, house: House) -> Iterator[tuple[str, Finding]]:
    """Chapter numbers that skip or come twice show that a chapter was moved, cut or added.

    Counted from heading to heading; they may begin again at one, as at a new part.
    """
    before: int | None = None
    before_title = ""
    for chapter in read.book.chapters:
        number = number_of(chapter.title)
        if number is None or not chapter.scenes:
            continue
        if before is not None and number not in (before + 1, 1):
            message = f"“{chapter.title}” follows “{before_title}”. {_said(before, number)}"
            yield chapter.scenes[0].id, Finding(0, 0, message.replace(LINE_BREAK, " "))
        before, before_title = number, chapter.title


def _said(before: int, number: int) -> str:
    if number == before:
        return "The number stands twice."
    if number < before:
        return "The numbers go back."
    missing = number - before - 1
    return f"{'A number is' if missing == 1 else f'{missing} numbers are'} left out."


def number_of(title: str) -> int | None:
    """The number that a chapter's heading begins with, as in "Chapter Nine", "IX." or "9: Ebb"."""
    match = _NUMBERED.match(title.strip())
    if match is None:
        return None
    if match["digits"]:
        return int(match["digits"])
    if match["roman"] and (len(match["roman"]) > 1 or "chapter" in match[0].lower()):
        return roman_value(match["roman"].upper())
    if match["roman"]:
        return roman_value(match["roman"]) if match["roman"].isupper() else None
    return value_of(match["word"].lower())


OVERLAY = of_book(chapter_number, Stage.STRUCTURE, ProofMark.ASK)
