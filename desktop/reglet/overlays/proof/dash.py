"""Overlay: dashes that are set in more than one way."""

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

_INSIDE, _BREAKING_OFF = "dash inside a sentence", "dash that breaks off"
_SPACES = " \u00a0\u2009\u200a\u202f"
# Between two words; a dash between capitals or figures may be a range or a pair of names.
_BETWEEN = re.compile(
    rf"(?<=[\w,.;:!?’”)])(?P<dash>(?:[{_SPACES}](?:---?|[—–‒―-])[{_SPACES}])|---?|[—―]|"
    rf"(?<=[a-z])–(?=[a-z]))(?=[^\W\d_]|[‘“(])"
)
_LAST = re.compile(rf"(?<=[^\W\d_])(?P<dash>[{_SPACES}]?(?:---?|[—–‒―])|-)(?=[”’\"])")


def dash(read: ReadParagraph, house: House) -> Iterator[Use]:
    """A book sets its dashes in one way: closed up (—), or shorter between spaces ( – ).

    The way of the style sheet is proposed, else that which the book goes more often, also for
    hyphens that stand for a dash.

    Source: The Chicago Manual of Style has the first, New Hart's Rules name both (from memory).
    """
    text = read.paragraph.text
    for pattern, question in ((_BETWEEN, _INSIDE), (_LAST, _BREAKING_OFF)):
        for match in pattern.finditer(text):
            if match["dash"] == "-" and not read.prose.is_spoken(match.start("dash")):
                continue
            found = re.sub(f"[{_SPACES}]", " ", match["dash"]).replace("―", "—")
            yield Use(question, f"“{found}”", *match.span("dash"), match["dash"])


def _judge(use: Use, tally: Tally, sheet: StyleSheet, house: House) -> Finding | None:
    found = one_way(use, tally, sheet, lambda _, way: way.strip("“”"))
    return found if found and found.proposal != "-" else None


OVERLAY = of_uses(dash, _judge, Stage.PROOF, ProofMark.REPLACE)
EXAMPLES_MARKED = {
    "The lamp—the tall one—went out[ – ]and in.": "—",
    "The lamp – the tall one – went out[—]and in.": " – ",
    "The lamp—the tall one—went out[--]and in.": "—",
    "The lamp—the tall one—went out[ - ]and in.": "—",
    "“I—” “He—” “She[-]” he said.": "—",
}
EXAMPLES_UNMARKED = (
    "The lamp—the tall one. The well-known road, Mr. B—, 1914–18, the Dover–Calais boat.",
    "The lamp – the tall one.",
)
