"""Overlay: a word or office of the book's own with a capital here and without there."""

import re
from collections.abc import Iterator

from reglet.language.dictionary import dictionary
from reglet.language.frequency import zipf
from reglet.manuscript.book import StyleSheet
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House
from reglet.overlays.one_way import one_way
from reglet.overlays.overlay import Finding, of_uses
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph
from reglet.overlays.tally import Tally, Use

_SHORTEST = 4  # letters of an invented word
_UNCOMMON = 2.0  # Zipf value below which a word is looked up at all
_TERM = re.compile(r"\b[Tt]he (?P<term>(?P<one>[A-Za-z][a-z]{2,}) (?P<two>[A-Za-z][a-z]{2,}))\b")
_OFTEN, _RARE = 4, 2
"""A term of two words is asked about from so many capitalised uses, and up to so many others."""
_INVENTED, _TWO_WORDS = "capital of ", "capitals of the "


def term_capital(read: ReadParagraph, house: House) -> Iterator[Use]:
    """A thing that the book has named itself wants its capital everywhere, or nowhere.

    Looked at are words that no dictionary has, where they do not open a sentence, and two words
    after "the" that mostly have capitals ("the Tide Office"). The commoner way is proposed.
    """
    text = read.paragraph.text
    known = dictionary(house.language)
    for word in read.prose.words:
        low = word.text.lower()
        if (
            len(low) >= _SHORTEST
            and low.isalpha()
            and (word.text == low or word.text == low.capitalize())
            and zipf(low) < _UNCOMMON
            and not _opens_sentence(text, word.start)
            and not known.knows(low)
            and not known.knows(word.text)
        ):
            yield Use(_INVENTED + low, f"“{word.text}”", word.start, word.end, word.text)
    for match in _TERM.finditer(text):
        term = match["term"]
        if term.islower() or (match["one"][0].isupper() and match["two"][0].isupper()):
            yield Use(_TWO_WORDS + term.lower(), f"“{term}”", *match.span("term"), term)


def _opens_sentence(text: str, at: int) -> bool:
    before = text[:at].rstrip()
    return not before or before[-1] in ".!?…:“‘\"'—–"


def _judge(use: Use, tally: Tally, sheet: StyleSheet, house: House) -> Finding | None:
    if use.question.startswith(_TWO_WORDS) and not sheet.way(use.question):
        ways = tally.ways(use.question)
        small = ways.get(f"“{use.text.lower()}”", 0)
        if sum(ways.values()) - small < _OFTEN or small > _RARE:
            return None
    return one_way(use, tally, sheet, lambda _, way: way.strip("“”"))


OVERLAY = of_uses(term_capital, _judge, Stage.PROOF, ProofMark.WRONG_CASE)
EXAMPLES_MARKED = {
    "They lit the Glimworm; a Glimworm, his Glimworm. She lit a [glimworm].": "Glimworm",
    "At the Tide Office. " * 4 + "He went to the [tide office].": "Tide Office",
}
EXAMPLES_UNMARKED = (
    "The Glimworm. A glimworm.",
    "In the High Street, in the high street, at the High Street.",
    "At the old mill. " * 4 + "He went to the Old Mill.",
)
