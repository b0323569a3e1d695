"""Overlay: scenes whose sheet does not yet say what happens and what changes."""

from collections.abc import Iterator

from reglet.manuscript.stage import Stage
from reglet.overlays.house import House
from reglet.overlays.overlay import Finding, of_scene
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadScene

_ASKED = {"happens": "what happens", "changes": "what changes", "eyes": "whose eyes see it"}


def sheet_to_fill(scene: ReadScene, house: House) -> Iterator[Finding]:
    """A scene whose sheet cannot say what happens and what changes may not be needed.

    The place, the time and those present may stay blank without a query.
    """
    blank = [words for name, words in _ASKED.items() if name in scene.scene.sheet.empty]
    if blank:
        listed = " and ".join([", ".join(blank[:-1]), blank[-1]] if blank[1:] else blank)
        yield Finding(0, 0, f"The scene sheet does not say {listed}.")


OVERLAY = of_scene(sheet_to_fill, Stage.STRUCTURE, ProofMark.ASK)
