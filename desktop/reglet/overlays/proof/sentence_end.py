"""Overlay: paragraphs that stop without a mark."""

import re
from collections.abc import Iterator

from reglet.manuscript.paragraph import LINE_BREAK, RUNNING_TEXT
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House
from reglet.overlays.overlay import Finding, of_paragraph
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph

_LAST_WORD = re.compile(r"(?P<word>[^\W\d_](?:[\w’'-]*\w)?)(?P<close>[”’\"']?)\s*$")
_EARLIER_END = re.compile(r"[.!?…][”’\"']? [A-Z“‘\"]")
# A word that nearly always opens a sentence where it has a capital, after a word that may end one.
_RUN_ON = re.compile(
    r"(?P<word>\b[a-z]{2,}) (?:She|They|We|There|But|Then|When|(?P<his>He|His|Her|Their|It))"
    r"(?= [a-z])"
)
_OF_GOD = re.compile(r"\b(?:God|Lord|Him|Christ|Jesus|Saviour|Maker|Almighty|Heaven)\b")
# Words that end no sentence, and those that seldom do.
_NO_END = frozenset(
    "a an the of to at from with as than that what who whom which when where while if and or but "
    "nor because my its our your their".split()
)
_SELDOM_ENDS = _NO_END | frozenset(
    "in on by for though until till before after then his her me is was were be been are had has "
    "have will would could should may might must do did not all into upon over under about against "
    "between through without said called named".split()
)
_FINITE = frozenset("was were had is are has have said went came could would did".split())
_LETTER = re.compile(r"(?:\b(?:Yours|Dear|remain|am|love|Sincerely|respectfully)\b.{0,40}|,)\s*$")
_FEWEST = 6  # words, below which a paragraph may be a list's line, a sign, an address


def sentence_end(read: ReadParagraph, house: House) -> Iterator[Finding]:
    """A sentence that breaks off with no mark has lost its full stop, or its end.

    Asked about are the ends of paragraphs, and a word that opens a sentence ("She", "The") in the
    middle of one. Verse, letters and lines of a few words are left alone.
    """
    text = read.paragraph.text
    if read.paragraph.style not in RUNNING_TEXT or LINE_BREAK in text:
        return
    for ended in _RUN_ON.finditer(text):
        if ended["word"] in _SELDOM_ENDS or (ended["his"] and _OF_GOD.search(text)):
            continue
        message = "A sentence seems to begin here, and the one before has no end."
        yield Finding(*ended.span("word"), message, ended["word"] + ".")
    match = _LAST_WORD.search(text)
    if match is None or len(read.prose.words) < _FEWEST or _LETTER.search(text):
        return
    if match["word"] in _NO_END or _is_title(read):
        return  # what follows is part of it: a verse, a sign, a letter
    if not _EARLIER_END.search(text) and not _is_clause(read):
        return
    start, end = match.start("word"), match.end("close")
    proposal = match["word"] + "." + match["close"]
    yield Finding(start, end, "This sentence has no mark at its end.", proposal)


def _is_title(read: ReadParagraph) -> bool:
    """Whether its words have capitals, as those of a title."""
    words = [word.text for word in read.prose.words if len(word.text) > 3]
    return all(word[:1].isupper() for word in words)


def _is_clause(read: ReadParagraph) -> bool:
    """Whether a line says something, and is no heading, sign or list."""
    words = read.plain_words
    return not _FINITE.isdisjoint(words) or any(
        word.endswith("ed") and word[:1].islower() for word in words[1:]
    )


OVERLAY = of_paragraph(sentence_end, Stage.PROOF, ProofMark.INSERT)
EXAMPLES_MARKED = {
    "The door stood open. She went through it [home]": "home.",
    "She went through the door and into the [lamp-room]": "lamp-room.",
    "The door stood [open] She went through it and down.": "open.",
    "“The door is open. Go through it and [down”]": "down.”",
}
EXAMPLES_UNMARKED = (
    "The door stood open. She went through it and said:",
    "She asked what He who made the lamb had made.",
    "The Keeper of the Lamps of the Parish",
    "Dear Mrs Tarrow, the lamps of the parish",
    "It was late. She went through the door and—",
)
