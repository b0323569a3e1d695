"""Overlay: paragraphs that stop without a mark."""

import re
from collections.abc import Iterator

from reglet.manuscript.paragraph import Style
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House
from reglet.overlays.overlay import Finding, of_paragraph
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph

_LAST_WORD = re.compile(r"(?P<word>[^\W\d_]+)(?P<comma>,?)(?P<close>[”’\"']?)\s*$")
_EARLIER_END = re.compile(r"[.!?…][”’\"']? [A-Z“‘\"]")
_RUNNING_TEXT = (Style.BODY, Style.FIRST)
_FEWEST = 6  # words, below which a paragraph may be a list's line, a sign, an address


def sentence_end(read: ReadParagraph, house: House) -> Iterator[Finding]:
    """A paragraph of prose that breaks off with no mark has lost its full stop, or its end.

    Verse, letters and lines of a few words are left alone.
    """
    text = read.paragraph.text
    if read.paragraph.style not in _RUNNING_TEXT or len(read.prose.words) < _FEWEST:
        return
    match = _LAST_WORD.search(text)
    if match is None or "\u2028" in text or not _EARLIER_END.search(text):
        return
    start, end = match.start("word"), match.end("close")
    proposal = match["word"] + "." + match["close"]
    yield Finding(start, end, "This sentence has no mark at its end.", proposal)


OVERLAY = of_paragraph(sentence_end, Stage.PROOF, ProofMark.INSERT)
EXAMPLES_MARKED = {
    "The door stood open. She went through it and [down]": "down.",
    "“The door is open. Go through it and [down”]": "down.”",
}
EXAMPLES_UNMARKED = (
    "The door stood open. She went through it and said:",
    "Dear Mrs Tarrow, the lamps of the parish",
    "It was late. She went through the door and—",
)
