"""Commands that tell what the overlays ask of a book, why, and after whom.

The overlays are loaded where they are asked for: no other command waits for them.
"""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Iterator
from typing import TYPE_CHECKING

from reglet.cli.reading import read
from reglet.cli.telling import Progress, answer, answer_json, on_one_line, remark
from reglet.errors import UnknownThing
from reglet.manuscript.stage import Stage

if TYPE_CHECKING:
    from reglet.overlays.overlay import Overlay
    from reglet.overlays.query import Query

_SHORT = 60
"""What is longer, in code points, is told in JSON alone: a whole paragraph that could be parted."""


def queries(asked: Namespace) -> int:
    """List what a stage's overlays ask the writer to look at."""
    from reglet.overlays.examine import Examiner
    from reglet.overlays.register import named, of_stage

    book = read(asked)
    stage = Stage(asked.stage)
    if asked.overlay is not None and named(asked.overlay).stage is not stage:
        raise UnknownThing(
            f"The overlay “{asked.overlay}” belongs to the stage “{named(asked.overlay).stage}”. "
            f"Those of “{stage}” are: {', '.join(each.name for each in of_stage(stage))}."
        )
    for overlay in of_stage(stage):
        if asked.overlay in (None, overlay.name) and overlay.lacks():
            remark(overlay.lacks())
    shown = [each.name for each in of_stage(stage) if each.name not in book.style_sheet.off]
    places = {scene.id: place for place, scene in enumerate(book.texts)}
    progress = Progress("Examining the book")
    found: list[Query] = []
    for query in Examiner().examine(
        book,
        stage,
        None if asked.scene is None else [asked.scene],
        [asked.overlay] if asked.overlay is not None else shown,
    ):
        found.append(query)
        progress(places[query.scene] / len(places))
    progress.end()
    if asked.json:
        answer_json(
            [
                {
                    "overlay": query.overlay,
                    "stage": query.stage,
                    "scene": query.scene,
                    "start": query.start,
                    "end": query.end,
                    "text": query.text,
                    "message": query.message,
                    "source": named(query.overlay).source,
                    "proposal": query.proposal,
                    "stet": query.stet,
                }
                for query in found
            ]
        )
    else:
        answer(map(_query_line, found))
    return 0


def overlays(asked: Namespace) -> int:
    """List the overlays: what each looks for and why, and the source of its rule."""
    from reglet.overlays.register import OVERLAYS

    found = [each for each in OVERLAYS if asked.stage in (None, each.stage.value)]
    if asked.json:
        answer_json(
            [
                {
                    "overlay": each.name,
                    "stage": each.stage,
                    "reason": each.reason,
                    "source": each.source,
                }
                for each in found
            ]
        )
    else:
        answer(_overlay_lines(found))
    return 0


def _overlay_lines(overlays: list[Overlay]) -> Iterator[str]:
    stage: Stage | None = None
    for each in overlays:
        if each.stage is not stage:
            stage = each.stage
            yield f"# {stage.label}"
        yield f"{each.name}: {each.reason} Source: {each.source}."


def _query_line(query: Query) -> str:
    line = f"{query.scene} {query.start}-{query.end} {query.overlay}: {query.message}"
    if query.text and len(query.text) <= _SHORT:
        line += f" “{on_one_line(query.text)}”"
    if query.proposal is not None and max(len(query.proposal), len(query.text)) <= _SHORT:
        line += f" → “{on_one_line(query.proposal)}”"
    return f"{line} (stet)" if query.stet else line
