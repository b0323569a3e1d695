"""Overlay: an opening quotation mark where an apostrophe belongs."""

import re
from collections.abc import Iterator

from reglet.language.speech import Marks
from reglet.language.words import APHAERESES
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House
from reglet.overlays.overlay import Finding, of_paragraph
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph

_DROPPED = re.compile(
    rf"‘(?=(?:{'|'.join(APHAERESES)}|n|tude|neither|nuff|way|stead|lectric)(?![\w])|\d\ds?\b)", re.I
)
_SURELY_DROPPED = re.compile(r"‘(?=(?:tis|twas|twere|twill|twould|em)(?!\w)|\d\ds?\b)", re.I)
_INSIDE_WORD = re.compile(r"(?<=[^\W\d_])‘(?=[^\W\d_])")


def apostrophe(read: ReadParagraph, house: House) -> Iterator[Finding]:
    """A word whose first letter is dropped begins with an apostrophe: ’tis, ’em, ’twas, ’90s.

    Programs that curl marks take it for the beginning of a speech and turn it.
    """
    text = read.paragraph.text
    dropped = _SURELY_DROPPED if house.marks is Marks.SINGLE else _DROPPED
    opening = {each.start for each in read.prose.quotations}
    for match in (*dropped.finditer(text), *_INSIDE_WORD.finditer(text)):
        if match.start() not in opening:
            message = "Letters are dropped here, which an apostrophe shows."
            yield Finding(*match.span(), message, "’")


OVERLAY = of_paragraph(apostrophe, Stage.PROOF, ProofMark.REPLACE)
EXAMPLES_MARKED = {
    "“[‘]Tis late,” she said. “Give [‘]em the lamp.”": None,
    "It was late in the [‘]90s.": "’",
    "“Don[‘]t go.”": "’",
}
EXAMPLES_UNMARKED = (
    "“’Tis late,” she said, “and ’twas later in the ’90s.”",
    "“He said, ‘Tis a pity,’ and went.”",
)
