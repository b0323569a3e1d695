"""Overlay: sentences that go on at one length."""

from collections.abc import Iterator

from reglet.manuscript.stage import Stage
from reglet.overlays.house import House, Strictness
from reglet.overlays.overlay import Finding, of_paragraph
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph

# How many sentences running are heard as a beat (our own figures).
_MANY = {Strictness.LENIENT: 5, Strictness.USUAL: 4, Strictness.STRICT: 3}
# Lengths are one if they differ by this share of the longest, or by two words.
_SHARE = 0.2
_FEWEST_WORDS = 4


def monotony(read: ReadParagraph, house: House) -> Iterator[Finding]:
    """Several sentences of one length make a beat that lulls where it is not meant.

    In narration. Of one length are sentences whose words differ by no more than a fifth of the
    longest, or by two.

    Source: common practice; the figures are our own.
    """
    many = _MANY[house.strictness_of("monotony")]
    prose = read.prose
    lengths = prose.sentence_lengths
    first = 0
    while first + many <= len(lengths):
        last = first
        while last < len(lengths) and _alike(lengths[first : last + 1]):
            last += 1
        run = prose.sentences[first:last]
        if last - first >= many and not any(prose.is_spoken(each.start) for each in run):
            shortest, longest = min(lengths[first:last]), max(lengths[first:last])
            span = f"{shortest} to {longest}" if shortest < longest else f"{longest}"
            yield Finding(
                run[0].start,
                run[-1].end,
                f"{last - first} sentences running have {span} words. "
                "Could one be longer, or much shorter?",
            )
            first = last
        else:
            first += 1


def _alike(lengths: tuple[int, ...]) -> bool:
    longest, shortest = max(lengths), min(lengths)
    return shortest >= _FEWEST_WORDS and longest - shortest <= max(2, longest * _SHARE)


OVERLAY = of_paragraph(monotony, Stage.LINE, ProofMark.LENGTH)
EXAMPLES_MARKED = {
    "[She took the lamp down. She set it by the door. The rain had stopped by then. "
    "A cart went by outside. Nobody called to her now.]": None,
}
EXAMPLES_UNMARKED = (
    "She took the lamp down. She set it by the door. It rained. A cart went by outside, and the "
    "man on it called to somebody in the house across the way. Nobody answered him.",
)
