"""Overlay: one name spelt in two ways."""

from collections.abc import Iterator
from functools import lru_cache

from reglet.manuscript.book import StyleSheet
from reglet.manuscript.stage import Stage
from reglet.numbers import times
from reglet.overlays.house import House
from reglet.overlays.one_way import as_settled
from reglet.overlays.overlay import Finding, of_uses
from reglet.overlays.proof.spelling import bare_name
from reglet.overlays.query import Choice, ProofMark
from reglet.overlays.reading import ReadParagraph
from reglet.overlays.tally import Tally, Use

_SHORTEST = 5
_OFTEN, _RARE = 8, 3  # how often the common form stands at least, and the rare one at most
_ENDS_SENTENCE = '.!?…:“‘”"—–*'
# Letters and groups that are written for one another in names, each as one sign.
_ALIKE = (
    ("ph", "f"),
    ("ck", "k"),
    ("c", "k"),
    ("y", "i"),
    ("ie", "i"),
    ("ee", "i"),
    ("z", "s"),
    ("ae", "e"),
    ("gh", "g"),
    ("th", "t"),
)


def name_form(read: ReadParagraph, house: House) -> Iterator[Use]:
    """One name spelt in two ways makes two people of one; the commoner spelling is proposed.

    Forms that sound alike are compared ("Caspar", "Kaspar"; "Dorrel", "Dorrell"). Looked at are
    capitalised words that do not open a sentence, without possessive endings; a form is asked about
    only where it is rare beside the other.
    """
    text = read.paragraph.text
    for word in read.prose.words:
        name = word.text
        if len(name) < _SHORTEST or not name[0].isupper() or name.isupper():
            continue
        before = text[: word.start].rstrip()[-1:]
        if before and before not in _ENDS_SENTENCE:
            bare = bare_name(name)
            if bare.isalpha() and len(bare) >= _SHORTEST:
                yield Use(_sound(bare), bare, word.start, word.start + len(bare), bare)


def _judge(use: Use, tally: Tally, sheet: StyleSheet, house: House) -> Finding | None:
    settled = sheet.way(use.question)
    if settled:
        return None if use.way == settled else as_settled(use, settled, settled)
    counts = tally.ways(use.question)
    common = max(counts, key=lambda form: (counts[form], form))
    if counts[common] < _OFTEN or counts[use.way] > min(_RARE, counts[common] // 4):
        return None
    said = f"The book has “{common}” {times(counts[common])}."
    choice = Choice(use.question, common)
    return Finding(use.start, use.end, said, proposal=common, choice=choice)


@lru_cache(maxsize=65536)
def _sound(name: str) -> str:
    low = name.lower()
    for group, sign in _ALIKE:
        low = low.replace(group, sign)
    last = "s" if low.endswith("s") else ""
    once = "".join(letter for at, letter in enumerate(low) if at == 0 or letter != low[at - 1])
    return once + last


OVERLAY = of_uses(name_form, _judge, Stage.PROOF, ProofMark.REPLACE)
_OFTEN_SAID = "He saw Caspar go. " * _OFTEN
EXAMPLES_MARKED = {_OFTEN_SAID + "He saw [Kaspar] come.": "Caspar"}
EXAMPLES_UNMARKED = ("He saw Caspar go. He saw Kaspar come.", _OFTEN_SAID + "He saw Casper come.")
