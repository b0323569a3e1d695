"""Overlay: somebody who was much in the book and then is away for long, or is named only once."""

from collections.abc import Iterator

from reglet.manuscript.stage import Stage
from reglet.overlays.house import House, Strictness
from reglet.overlays.overlay import Finding, of_book
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadBook

# The share of the book's scenes that is long, and the fewest (our own figures).
_LONG = {Strictness.LENIENT: 0.5, Strictness.USUAL: 0.33, Strictness.STRICT: 0.25}
_FEWEST_SCENES_AWAY = 8
# Who is to be missed: named this often, in this many scenes.
_OFTEN, _SCENES = 10, 5


def person_away(read: ReadBook, house: House) -> Iterator[tuple[str, Finding]]:
    """A reader forgets somebody who is away for a third of the book, or is named a single time.

    Away: for eight scenes at least, and only of people named ten times in five scenes or more. The
    query stands where they come back. Named once: only of people the writer has put in the cast.

    Source: common practice; the figures are our own.
    """
    story = read.story
    least = max(_FEWEST_SCENES_AWAY, _LONG[house.strictness_of("person_away")] * len(read.scenes))
    for member in story.cast:
        if member.confirmed and member.count == 1:
            place = member.places[0]
            message = f"{member.name} is in the cast and is named in the text this once."
            yield place.scene, Finding(place.start, place.end, message)
        if member.count < _OFTEN or len(member.scenes) < _SCENES:
            continue
        last: int | None = None
        for place in member.places:
            here = story.places[place.scene]
            if last is not None and here - last - 1 >= least:
                message = (
                    f"{member.name} comes back here after {here - last - 1} scenes; last named in "
                    f"{read.called(last)}. Will the reader remember?"
                )
                yield place.scene, Finding(place.start, place.end, message)
            last = here


OVERLAY = of_book(person_away, Stage.STRUCTURE, ProofMark.ASK)
