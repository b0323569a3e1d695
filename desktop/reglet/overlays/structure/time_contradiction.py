"""Overlay: what the text says of its days, dates and years that cannot all be so."""

from collections.abc import Iterator

from reglet.manuscript.stage import Stage
from reglet.overlays.house import House
from reglet.overlays.overlay import Finding, of_book
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadBook


def time_contradiction(read: ReadBook, house: House) -> Iterator[tuple[str, Finding]]:
    """A Tuesday that follows the Wednesday of its own week stops a reader who counts along.

    Looks at days in telling order, at counts of days and years, and at dates with their weekdays.
    """
    story = read.story
    for found in story.contradictions:
        # Not the same words three times, but one place of each.
        said = {each.text: each.scene for each in reversed(found.evidence)}
        evidence = "; ".join(
            f"“{text}” in {read.called(story.places[scene])}"
            for text, scene in [*reversed(said.items())][:3]
        )
        message = f"{found.message} Said elsewhere: {evidence}." if evidence else found.message
        yield found.said.scene, Finding(*(found.said.place or (0, 0)), message)


OVERLAY = of_book(time_contradiction, Stage.STRUCTURE, ProofMark.ASK)
EXAMPLES_MARKED = {"It was so [on Monday, 1 January 1901], and so we left.": None}
EXAMPLES_UNMARKED = (
    "It was so on Tuesday, 1 January 1901, and so we left.",
    "On Tuesday they washed. “We did it on Monday,” she said.",
)
