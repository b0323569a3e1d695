"""Overlay: adverbs that tell how a line of speech is said."""

import re
from collections.abc import Iterator

from reglet.manuscript.stage import Stage
from reglet.overlays.house import House, Strictness
from reglet.overlays.overlay import Finding, of_paragraph
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph

# They say when, or in what order, and not how.
_NOT_MANNER = frozenset(
    "finally presently immediately eventually shortly recently instantly suddenly lately "
    "simply merely really fairly nearly hardly scarcely directly".split()
)
# "Said Isaura, gently shutting the door": the adverb belongs to what follows; of two adverbs the
# first cannot go alone.
_OF_NEXT_VERB = re.compile(r",? (?:[a-z]+ing|and [a-z]+ly)\b")
_VOLUME = frozenset("quietly softly loudly aloud low loud faintly".split())


def tag_adverb(read: ReadParagraph, house: House) -> Iterator[Finding]:
    """An adverb on a speech tag tells what the speech itself could let the reader hear.

    Adverbs of time are left out, and where lenient those of loudness, which words cannot show.
    """
    prose = read.prose
    if not prose.quotations:
        return
    strictness = house.strictness_of("tag_adverb")
    for tag in prose.speech_tags:
        if tag.adverb is None:
            continue
        start, end = tag.adverb
        adverb = prose.text[start:end]
        if not adverb.endswith("ly") and strictness < Strictness.STRICT:
            continue
        if adverb in _NOT_MANNER or (strictness is Strictness.LENIENT and adverb in _VOLUME):
            continue
        if _OF_NEXT_VERB.match(prose.text, end):
            continue
        yield _finding(prose.text, start, end)


def _finding(text: str, start: int, end: int) -> Finding:
    """The adverb with the space before it, which goes with it when it goes."""
    adverb = text[start:end]
    before = start - 1 if text[start - 1 : start] == " " else start
    while text[before - 1 : before] == ",":
        before -= 1
    verb = max(text.rfind(" ", 0, before), text.rfind("”", 0, before), -1) + 1
    return Finding(
        verb,
        end,
        f"“{adverb}” tells how this is said. Do the words say it themselves?",
        proposal=text[verb:before],
    )


OVERLAY = of_paragraph(tag_adverb, Stage.LINE, ProofMark.DELETE)
EXAMPLES_MARKED = {
    "“Go away,” said [Isaura angrily].": "Isaura",
    "“Go away,” she [said coldly], and went.": "said",
}
EXAMPLES_UNMARKED = (
    "“Go away,” said Isaura finally. “Go,” said Isaura, gently shutting the door.",
    "“Go away.” She spoke coldly to nobody.",
    "He ran quickly. “Stop!”",
)
