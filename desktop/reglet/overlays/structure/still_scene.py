"""Overlay: scenes in which no thread moves and nothing changes."""

from collections.abc import Iterator

from reglet.manuscript.stage import Stage
from reglet.overlays.house import House
from reglet.overlays.overlay import Finding, of_book
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadBook

_NOTHING = frozenset(("nothing", "none", "no change", "-", "–", "—"))


def still_scene(read: ReadBook, house: House) -> Iterator[tuple[str, Finding]]:
    """A scene in which no thread moves and nothing changes can be cut without being missed.

    Asked only of scenes whose sheet says what happens, in a book whose threads are named.
    """
    story = read.story
    if not story.threads:
        return
    touched = {touch.scene for trail in story.trails for touch in trail.touches}
    for each in read.scenes:
        sheet = each.scene.sheet
        changes = sheet.changes.strip().lower().rstrip(".")
        if sheet.happens and (not changes or changes in _NOTHING) and each.scene.id not in touched:
            threads = ", ".join(thread.name for thread in story.threads)
            message = (
                f"None of the threads ({threads}) is touched here, and the scene sheet names "
                "nothing that changes. Is the scene needed?"
            )
            yield each.scene.id, Finding(0, 0, message)


OVERLAY = of_book(still_scene, Stage.STRUCTURE, ProofMark.ASK)
