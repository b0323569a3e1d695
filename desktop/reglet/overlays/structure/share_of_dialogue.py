"""Overlay: scenes that are nearly all talk, or have none, in a book that is otherwise."""

from collections.abc import Iterator
from statistics import median

from reglet.manuscript.stage import Stage
from reglet.overlays.house import House, Strictness
from reglet.overlays.overlay import Finding, of_book
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadBook

# How far from the book's middle share is far, in parts of the whole (our own figures).
_FAR = {Strictness.LENIENT: 0.45, Strictness.USUAL: 0.35, Strictness.STRICT: 0.25}
_FEWEST_WORDS = 200


def share_of_dialogue(read: ReadBook, house: House) -> Iterator[tuple[str, Finding]]:
    """A scene that is nearly all talk can lose its place and bodies; one with none can grow slow.

    Compared with the middle share of the book's scenes of 200 words or more.

    Source: common practice; the figures are our own.
    """
    shares = {
        each.scene.id: each.spoken_words / each.word_count
        for each in read.scenes
        if each.word_count >= _FEWEST_WORDS
    }
    if not shares:
        return
    middle = median(shares.values())
    far = _FAR[house.strictness_of("share_of_dialogue")]
    for scene_id, share in shares.items():
        if abs(share - middle) <= far:
            continue
        doubt = "Where are they standing?" if share > middle else "Should somebody speak?"
        yield (
            scene_id,
            Finding(
                0,
                0,
                f"{share:.0%} of this scene is spoken; the book's middle share is {middle:.0%}. "
                f"{doubt}",
            ),
        )


OVERLAY = of_book(share_of_dialogue, Stage.STRUCTURE, ProofMark.ASK)
