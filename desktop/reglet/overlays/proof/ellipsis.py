"""Overlay: points of suspension that are set in more than one way."""

import re
from collections.abc import Iterator

from reglet.manuscript.book import StyleSheet
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House
from reglet.overlays.one_way import one_way
from reglet.overlays.overlay import Finding, of_uses
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph
from reglet.overlays.tally import Tally, Use

_SIGN, _SPACED = "points of suspension", "spaces around points of suspension"
_SPACES = " \u00a0\u2009\u200a\u202f\u2060"
_SPACE = f"[{_SPACES}]"
_POINTS = re.compile(rf"(?<![.…])(?:…|\.\.\.|\.{_SPACE}\.{_SPACE}\.)(?!{_SPACE}?[.…])")
_AROUND = re.compile(rf"(?<=[a-z,])(?P<before>{_SPACE}{{0,2}})$")
_AFTER = re.compile(rf"{_SPACE}?(?=[a-z])|(?=[”’\"])")


def ellipsis(read: ReadParagraph, house: House) -> Iterator[Use]:
    """A book sets its points of suspension in one way: one sign or three points, spaced or not.

    The way of the style sheet is proposed, else that which the book goes more often. Four points,
    which end a sentence as well, are left alone.
    """
    text = read.paragraph.text
    for match in _POINTS.finditer(text):
        start, end = match.span()
        points = re.sub(_SPACE, " ", match[0])
        yield Use(_SIGN, f"“{points}”", start, end, match[0])
        before, after = _AROUND.search(text[:start]), _AFTER.match(text, end)
        if before and after:
            inside = text[after.end()].isalpha()
            first = " " if before["before"] else ""
            last = " " if after[0] else ""
            way = f"“word{first}…{last}word”" if inside else f"“word{first}…” at the end"
            question = _SPACED if inside else f"{_SPACED} at the end"
            at = before.start("before")
            yield Use(question, way, at, after.end(), text[at : after.end()])


def _judge(use: Use, tally: Tally, sheet: StyleSheet, house: House) -> Finding | None:
    if use.question == _SIGN:
        return one_way(use, tally, sheet, lambda _, way: way.strip("“”"))
    points = use.text.strip(_SPACES)
    signs = tally.ways(_SIGN)
    if f"“{points}”" != (sheet.way(_SIGN) or max(signs, key=lambda sign: signs[sign])):
        return None  # the sign first
    return one_way(use, tally, sheet, lambda _, way: _spaced(way).replace("…", points))


def _spaced(way: str) -> str:
    """The points with their spaces, as a way has them between its words."""
    return way.split("”")[0].strip("“word")


OVERLAY = of_uses(ellipsis, _judge, Stage.PROOF, ProofMark.REPLACE)
EXAMPLES_MARKED = {
    "So… and then… and now… and [...] he stopped.": "…",
    "So… and then… and now[ … ]and he stopped.": "… ",
    "So … and then … and now[… ]and he stopped.": " … ",
}
EXAMPLES_UNMARKED = ("So… and then…. He stopped.... Then … it went.",)
