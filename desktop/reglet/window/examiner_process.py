"""The process that examines the book, so that Python's lock never makes typing wait for it.

It keeps a copy of the book. Each message brings what has changed and asks for scenes in order; a
newer message ends the work on an older one. Knows no Qt.
"""

from __future__ import annotations

import gc
import os
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass, replace
from itertools import groupby
from multiprocessing.connection import Connection

from reglet.manuscript.book import Book, Chapter
from reglet.manuscript.passage import EMPTY
from reglet.manuscript.scene import Scene
from reglet.manuscript.stage import Stage
from reglet.overlays.examine import Examiner
from reglet.overlays.house import house_of
from reglet.overlays.query import Query
from reglet.window.beside import HUNG_UP, give_way


@dataclass(frozen=True)
class Request:
    """What to examine. `shell` is the book with its scenes' texts left out, `changed` the scenes
    whose text the process does not have yet, `scenes` what to examine, the most wanted first.
    """

    number: int
    stage: Stage
    shell: Book
    changed: tuple[Scene, ...]
    scenes: tuple[str, ...]


@dataclass(frozen=True)
class Result:
    """The queries of one scene, by place; `scene` is empty for the last word on a request."""

    number: int
    scene: str
    queries: tuple[Query, ...] = ()


def shell_of(book: Book) -> Book:
    """The book with its scenes' texts left out."""
    return _with_each(book, lambda scene: replace(scene, passage=EMPTY))


def work(pipe: Connection) -> None:
    """Answer requests until the pipe closes or brings None."""
    give_way()
    # Said before the tagger brings in numpy: its products are too small to share.
    os.environ["OPENBLAS_NUM_THREADS"] = "1"
    # What is made here holds no cycles, and to look for some among the hundred thousand words of a
    # novel would take a third of the time.
    gc.disable()
    examiner = Examiner()
    texts: dict[str, Scene] = {}
    with suppress(*HUNG_UP):
        request = pipe.recv()
        while request is not None:
            # A request that a newer one has overtaken still brings texts.
            texts.update((scene.id, scene) for scene in request.changed)
            book = _with_each(
                request.shell, lambda scene: replace(scene, passage=texts[scene.id].passage)
            )
            for result in _results(examiner, book, request):
                pipe.send(result)
                if pipe.poll():
                    break
            else:
                pipe.send(Result(request.number, ""))
            request = pipe.recv()


def _results(examiner: Examiner, book: Book, request: Request) -> Iterator[Result]:
    if not request.scenes:
        return
    house = house_of(book)
    first, rest = request.scenes[0], request.scenes[1:]
    for wanted in ((first,), rest):
        left = [scene_id for scene_id in wanted if book.has_scene(scene_id)]
        if not left:
            continue
        found = examiner.examine(book, request.stage, left, house=house)
        for scene_id, queries in groupby(found, key=lambda query: query.scene):
            # Scenes come in the order asked for; one without a query is passed over in silence.
            while left and left[0] != scene_id:
                yield Result(request.number, left.pop(0))
            left.pop(0)
            yield Result(request.number, scene_id, tuple(queries))
        for scene_id in left:
            yield Result(request.number, scene_id)


def _with_each(book: Book, revise: Callable[[Scene], Scene]) -> Book:
    def of_chapter(chapter: Chapter) -> Chapter:
        return replace(chapter, scenes=tuple(map(revise, chapter.scenes)))

    return replace(
        book.with_chapters(of_chapter),
        front=tuple(map(revise, book.front)),
        back=tuple(map(revise, book.back)),
        offcuts=(),
    )
