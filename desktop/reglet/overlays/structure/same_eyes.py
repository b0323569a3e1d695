"""Overlay: one pair of eyes for far longer than is this book's way."""

from collections.abc import Iterator
from itertools import groupby
from statistics import median

from reglet.manuscript.stage import Stage
from reglet.overlays.house import House, Strictness
from reglet.overlays.overlay import Finding, of_book
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadBook

# How many times the middle run is far, and the fewest scenes of a long one (our own figures).
_FAR = {Strictness.LENIENT: 5, Strictness.USUAL: 4, Strictness.STRICT: 3}
_FEWEST = 6
# Each of two people must have this share of the scenes for the book to have a way of changing.
_SHARE = 0.2


def same_eyes(read: ReadBook, house: House) -> Iterator[tuple[str, Finding]]:
    """Where a book changes eyes in turn, one pair kept for long makes the reader miss the others.

    Only in a book that is seen through two people or more, a fifth of it at least through each.

    Source: common practice; the figures are our own.
    """
    story = read.story
    names = [eyes.name for eyes in story.eyes]
    often = {name for name in names if name and names.count(name) >= _SHARE * len(names)}
    if len(often) < 2:
        return
    runs = [(name, len(list(group))) for name, group in groupby(filter(None, names))]
    middle = median(length for _, length in runs)
    least = max(_FEWEST, _FAR[house.strictness_of("same_eyes")] * middle)
    known = [index for index, name in enumerate(names) if name]
    at = 0
    for name, length in runs:
        if length >= least:
            first = known[at]
            message = (
                f"From here {length} scenes are seen through {name}; the middle run of the book is "
                f"{middle:.0f}. Are the others missed?"
            )
            yield read.scenes[first].scene.id, Finding(0, 0, message)
        at += length


OVERLAY = of_book(same_eyes, Stage.STRUCTURE, ProofMark.ASK)
