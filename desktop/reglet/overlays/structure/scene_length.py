"""Overlay: scenes far longer or shorter than the rest."""

from collections.abc import Iterator
from statistics import median

from reglet.manuscript.stage import Stage
from reglet.overlays.house import House, Strictness
from reglet.overlays.overlay import Finding, of_book
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadBook
from reglet.story.views import FAR, FEWEST_SCENES

# How many times the median is far (our own figures).
_FAR = {Strictness.LENIENT: 3.0, Strictness.USUAL: FAR, Strictness.STRICT: 1.7}


def scene_length(read: ReadBook, house: House) -> Iterator[tuple[str, Finding]]:
    """A scene far longer or shorter than the book's others may hold two scenes, or be half of one.

    Compared with the median of the book's scenes that have text, from five scenes on.

    Source: common practice; the figures are our own.
    """
    counts = {each.scene.id: each.word_count for each in read.scenes if each.word_count}
    if len(counts) < FEWEST_SCENES:
        return
    middle = median(counts.values())
    far = _FAR[house.strictness_of("scene_length")]
    for scene_id, count in counts.items():
        if count > far * middle:
            compared, doubt = f"{count / middle:.1f} times", "Are there two scenes in it?"
        elif count * far < middle:
            compared, doubt = f"{count / middle:.0%} of", "Does it stand alone?"
        else:
            continue
        message = f"This scene has {count:,} words, {compared} the middle length of {middle:,.0f}."
        yield scene_id, Finding(0, 0, f"{message} {doubt}")


OVERLAY = of_book(scene_length, Stage.STRUCTURE, ProofMark.LENGTH)
