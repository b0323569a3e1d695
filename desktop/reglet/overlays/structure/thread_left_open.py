"""Overlay: a thread that is raised and never touched again."""

from collections.abc import Iterator

from reglet.manuscript.stage import Stage
from reglet.overlays.house import House
from reglet.overlays.overlay import Finding, of_book
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadBook

_LISTED = 3
"""The most scenes that are named."""


def thread_left_open(read: ReadBook, house: House) -> Iterator[tuple[str, Finding]]:
    """A thread that is raised and never touched again leaves the reader waiting for its end.

    Looks at the book's threads, and at objects that early scenes come back to and later ones
    forget. The query stands at the last touch.
    """
    story = read.story
    for trail in (*story.trails, *story.proposed_trails):
        if not (trail.left_open or trail.proposed):
            continue
        last = trail.touches[-1]
        scenes = sorted({touch.index for touch in trail.touches})
        listed = ", ".join(read.called(at) for at in scenes[-_LISTED:])
        if len(scenes) > _LISTED:
            listed = f"{len(scenes)} scenes, last in {listed}"
        name = f"the {trail.thread.name}" if trail.proposed else trail.thread.name
        follow = trail.scenes - 1 - last.index
        message = (
            f"{name[:1].upper()}{name[1:]} is not touched again in the {follow} scenes that "
            f"follow; it was in {listed}. Does it end?"
        )
        yield last.scene, Finding(last.start, last.end, message)


OVERLAY = of_book(thread_left_open, Stage.STRUCTURE, ProofMark.ASK)
