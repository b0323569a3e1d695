"""A scene's text put back to what a snapshot holds, all of it or one changed place."""

from __future__ import annotations

from dataclasses import replace

from reglet.errors import UnknownThing
from reglet.manuscript.anchored import in_order
from reglet.manuscript.difference import difference
from reglet.manuscript.scene import Scene


def rolled_back(now: Scene, then: Scene, place: int | None = None) -> Scene:
    """`now` with the text that `then` had, or with one changed place as it was there.

    `place` counts the places of `difference(then.passage, now.passage).changed`. What the scene is
    called and what its sheet says stay as they are now. Notes ride along; those that the snapshot
    has too go back to where they stood there, and its stets hold again, as their words are back.
    Raises UnknownThing if there is no such place.
    """
    found = difference(then.passage, now.passage)
    if place is not None:
        if not 0 <= place < len(found.changed):
            raise UnknownThing(
                f"There is no changed passage {place + 1} between these two states; there are "
                f"{len(found.changed)}. Nothing was rolled back."
            )
        passage = found.taken_back(place)
        return now.rewritten(passage, difference(now.passage, passage).change)
    back = now.rewritten(then.passage, difference(now.passage, then.passage).change)
    notes_then = {note.id: note for note in then.notes}
    cuts_then = {cut.offcut: cut for cut in then.cuts}
    notes = (
        replace(note, start=notes_then[note.id].start, end=notes_then[note.id].end)
        if note.id in notes_then
        else note
        for note in back.notes
    )
    return replace(
        back,
        notes=in_order(notes),
        stets=tuple(dict.fromkeys((*back.stets, *then.stets))),
        cuts=tuple(cuts_then.get(cut.offcut, cut) for cut in back.cuts),
    )
