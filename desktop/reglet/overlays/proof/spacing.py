"""Overlay: spaces and marks that are doubled, or stand where none should."""

import re
from collections.abc import Iterator

from reglet.manuscript.stage import Stage
from reglet.overlays.house import House
from reglet.overlays.overlay import Finding, of_paragraph
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph

# Each: what it matches, what to put there, what to say, which mark. Common practice of printers.
_SLIPS: tuple[tuple[re.Pattern[str], str, str, ProofMark], ...] = (
    (re.compile(r"(?<=[^\s.!?…”’\"])  +(?=\S)"), " ", "Two spaces stand here.", ProofMark.CLOSE_UP),
    (
        re.compile(r"(?<=\w)[ \u00a0]+(?=[,;:?!](?:\s|[”’\"]|$)|\.(?! ?\.)(?:[ ”’\"]|$))"),
        "",
        "A space stands before this mark.",
        ProofMark.CLOSE_UP,
    ),
    (re.compile(r",(?:\s*,)+"), ",", "This comma stands twice.", ProofMark.DELETE),
    (re.compile(r"(?<=[\w”’])(?:;;+|::+)"), "", "This mark stands twice.", ProofMark.DELETE),
    (
        re.compile(r"(?<=[^\W\d]{2})\.\.(?=\s[A-Z]|$|[”’])"),
        ".",
        "Two full stops stand here.",
        ProofMark.DELETE,
    ),
    (
        re.compile(r"(?<=\w),\.(?!\.)"),
        ".",
        "Two marks stand where one would do.",
        ProofMark.DELETE,
    ),
    (
        re.compile(r"(?<=[^\W\d_]{2})[,;](?=[^\W\d_]{2})"),
        " ",
        "A space is missing after this mark.",
        ProofMark.INSERT,
    ),
    (
        re.compile(r"(?<=[a-z]{2})[.?!](?=[A-Z][a-z]+\s)"),
        " ",
        "A space is missing after this mark.",
        ProofMark.INSERT,
    ),
    (
        re.compile(r"(?<=[(\[]) +(?=\w)| +(?=[)\]])"),
        "",
        "A space stands inside the bracket.",
        ProofMark.CLOSE_UP,
    ),
)


def spacing(read: ReadParagraph, house: House) -> Iterator[Finding]:
    """Doubled spaces and marks, and spaces on the wrong side of a mark, are slips of the hand.

    Spaces between the points of an ellipsis are a way of setting it and are left alone.

    Source: common practice of printers.
    """
    text = read.paragraph.text
    for pattern, proposal, message, mark in _SLIPS:
        for match in pattern.finditer(text):
            new = proposal
            if mark is ProofMark.INSERT:
                new = match[0] + " "
            elif not proposal and not match[0].isspace():
                new = match[0][0]
            start, end = match.span()
            if not new:  # a mark needs something to stand on: take the mark after the space along
                end += 1
                new = text[end - 1]
            yield Finding(start, end, message, new, mark)


OVERLAY = of_paragraph(spacing, Stage.PROOF, ProofMark.CLOSE_UP)
EXAMPLES_MARKED = {
    "The door[  ]stood open.": " ",
    "Then she stopped[ ,] and went on.": ",",
    "The door[,,] the lamp.": ",",
    "The door[,]the lamp.": ", ",
    "It was late[.]Nobody came to the door.": ". ",
}
EXAMPLES_UNMARKED = (
    "It was . . . late. And then … nothing. “What?!” he said. Wait...",
    "At 6 p.m. the U.S.A. paid $1,000. She said, “No.”",
)
