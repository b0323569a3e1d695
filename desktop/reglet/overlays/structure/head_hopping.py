"""Overlay: a scene that looks into a second mind as into that of the person it is seen through."""

from collections.abc import Iterator

from reglet.manuscript.stage import Stage
from reglet.numbers import times
from reglet.overlays.house import House
from reglet.overlays.overlay import Finding, of_book
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadBook
from reglet.story.hops import chief_of, hops


def head_hopping(read: ReadBook, house: House) -> Iterator[tuple[str, Finding]]:
    """A scene seen through one person's eyes loses its hold where it thinks another's thoughts.

    Asked only where the thoughts of both are told several times, with the name of each.
    """
    story = read.story
    for facts, eyes in zip(story.scenes, story.eyes, strict=True):
        for hop in hops(eyes):
            message = (
                f"This scene is seen through {chief_of(eyes)}, and {times(hop.count)} tells what "
                f"{hop.name} thinks or feels, first here. Whose scene is it?"
            )
            yield facts.scene.id, Finding(hop.start, hop.end, message)


OVERLAY = of_book(head_hopping, Stage.STRUCTURE, ProofMark.ASK)
EXAMPLES_MARKED = {
    "Mrs Tarrow thought it late. Mrs Tarrow knew the sum. Mrs Tarrow remembered the boat. "
    "[Mr Dorrel wondered] why. Mr Dorrel felt cold. Mr Dorrel hoped to go.": None
}
EXAMPLES_UNMARKED = (
    "Mrs Tarrow thought it late. Mrs Tarrow knew the sum. Mrs Tarrow remembered the boat. "
    "Mr Dorrel saw the lamp. Mr Dorrel looked cold. Mr Dorrel turned to go.",
)
