"""Commands that read the book as it stands: its scenes, its text, the queries of a stage."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Iterator
from typing import TYPE_CHECKING

from reglet.bookfile import BookFile
from reglet.bookfile.store import words_of
from reglet.cli.telling import Progress, answer, answer_json, on_one_line, remark
from reglet.errors import UnknownThing
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.paragraph import SCENE_BREAK
from reglet.manuscript.scene import Scene
from reglet.manuscript.stage import Stage

if TYPE_CHECKING:
    from reglet.overlays.query import Query

_TICK, _NO_TICK = "x", "-"


def read(asked: Namespace) -> Book:
    """The book that a command is about, also while a window has it open."""
    with BookFile.open(asked.book, read_only=True) as file:
        if file.notice:
            remark(file.notice)
        return file.book


def scenes(asked: Namespace) -> int:
    """List the scenes in order."""
    book = read(asked)
    if asked.json:
        answer_json([_scene_facts(*each) for each in book.walk()])
    else:
        answer(_scene_lines(book))
    return 0


def text(asked: Namespace) -> int:
    """Print the text, a paragraph a line."""
    book = read(asked)
    if asked.scene is not None:
        book.scene(asked.scene)
    if asked.json:
        answer_json(
            [
                {**_scene_facts(part, chapter, scene), "paragraphs": _paragraphs(scene)}
                for part, chapter, scene in book.walk()
                if asked.scene in (None, scene.id)
            ]
        )
    elif asked.scene is not None:
        answer([book.scene(asked.scene).passage.text])
    else:
        answer(_text_lines(book))
    return 0


def queries(asked: Namespace) -> int:
    """List what a stage's overlays ask the writer to look at."""
    from reglet.overlays.examine import Examiner  # no other command waits for it to load
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
    places = {scene.id: place for place, scene in enumerate(book.texts)}
    progress = Progress("Examining the book")
    found: list[Query] = []
    for query in Examiner().examine(
        book,
        stage,
        None if asked.scene is None else [asked.scene],
        [asked.overlay] if asked.overlay is not None else _shown(book, stage),
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
                    "proposal": query.proposal,
                    "stet": query.stet,
                }
                for query in found
            ]
        )
    else:
        answer(map(_query_line, found))
    return 0


def _shown(book: Book, stage: Stage) -> list[str]:
    """The overlays of a stage but those that the writer has switched off for this book."""
    from reglet.overlays.register import of_stage

    return [each.name for each in of_stage(stage) if each.name not in book.style_sheet.off]


def _scene_facts(part: Part | None, chapter: Chapter | None, scene: Scene) -> dict[str, object]:
    return {
        "id": scene.id,
        "part": part.title if part else None,
        "chapter": chapter.title if chapter else None,
        "title": scene.title,
        "words": words_of(scene.passage),
        "stages": [stage for stage in Stage if stage in scene.passed],
    }


def _scene_lines(book: Book) -> Iterator[str]:
    width = max((len(scene.id) for scene in book.texts), default=0)
    under: str | None = None
    for part, chapter, scene in book.walk():
        above = " / ".join(each.title for each in (part, chapter) if each and each.title)
        if above and above != under:
            yield on_one_line(f"# {above}")
        under = above
        ticks = "".join(
            _TICK if stage in scene.passed else _NO_TICK
            for stage in (Stage.STRUCTURE, Stage.LINE, Stage.PROOF)
        )
        line = f"{scene.id:{width}}  {words_of(scene.passage):>7,}  {ticks}"
        yield f"{line}  {on_one_line(scene.title) or _beginning(scene)}".rstrip()


def _beginning(scene: Scene) -> str:
    """The first words of a scene, to know it by where it has no title."""
    words = scene.passage.text[:200].split()
    return " ".join(words[:6]) + (" …" if len(words) > 6 else "")


def _paragraphs(scene: Scene) -> list[dict[str, object]]:
    return [
        {
            "style": paragraph.style,
            "text": paragraph.text,
            "spans": [
                {"start": span.start, "end": span.end, "kind": span.kind, "value": span.value}
                for span in paragraph.spans
            ],
        }
        for paragraph in scene.passage.paragraphs
    ]


def _text_lines(book: Book) -> Iterator[str]:
    """The text of the book. A piece of front or back matter is headed by its title; whatever has
    none is parted from what stands before it as a scene is.
    """
    for scene in book.front:
        yield from _headed(scene.title, scene is book.front[0])
        yield scene.passage.text
    follows = bool(book.front)
    for part in book.parts:
        if part.title:
            yield f"# {on_one_line(part.title)}"
            follows = False
        for chapter in part.chapters:
            if chapter.title:
                yield f"# {on_one_line(chapter.title)}"
                follows = False
            for scene in chapter.scenes:
                if follows:
                    yield SCENE_BREAK
                yield scene.passage.text
                follows = True
    for scene in book.back:
        yield from _headed(scene.title, not follows)
        yield scene.passage.text
        follows = True


def _headed(title: str, first: bool) -> Iterator[str]:
    if title:
        yield f"# {on_one_line(title)}"
    elif not first:
        yield SCENE_BREAK


def _query_line(query: Query) -> str:
    line = f"{query.scene} {query.start}-{query.end} {query.overlay}: {query.message}"
    if query.text and len(query.text) <= 60:
        line += f" “{on_one_line(query.text)}”"
    if query.proposal is not None:
        line += f" → “{on_one_line(query.proposal)}”"
    return f"{line} (stet)" if query.stet else line
