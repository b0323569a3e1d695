"""Overlay: sentences that a reader must hold in mind for long."""

import re
from collections.abc import Iterator

from reglet.manuscript.stage import Stage
from reglet.overlays.house import House, Strictness
from reglet.overlays.overlay import Finding, of_paragraph
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph

# Words from which a sentence is long (common practice puts it between 30 and 50).
_LONG = {Strictness.LENIENT: 55, Strictness.USUAL: 42, Strictness.STRICT: 30}
_JOINTS = re.compile(r"[;:—–]|, (?:and|but|so|then|while|because|which)\b")


def long_sentence(read: ReadParagraph, house: House) -> Iterator[Finding]:
    """A long sentence asks the reader to hold its beginning until its end.

    Source: common practice, which puts it between 30 and 50 words.
    """
    longest = _LONG[house.strictness_of("long_sentence")]
    prose = read.prose
    for sentence, count in zip(prose.sentences, prose.sentence_lengths, strict=True):
        if count <= longest:
            continue
        joints = len(_JOINTS.findall(prose.text, sentence.start, sentence.end))
        parted = "one place" if joints == 1 else f"{joints} places"
        where = f" It has {parted} where it could be parted." if joints else ""
        yield Finding(sentence.start, sentence.end, f"A sentence of {count} words.{where}")


OVERLAY = of_paragraph(long_sentence, Stage.LINE, ProofMark.LENGTH)
_CLAUSE = "the ledger had been kept by three hands and the third was the worst of them"
EXAMPLES_MARKED = {
    f"[It rained, and {_CLAUSE}, and {_CLAUSE}, and {_CLAUSE}.] It stopped.": None,
}
EXAMPLES_UNMARKED = (f"It rained, and {_CLAUSE}. It stopped.",)
