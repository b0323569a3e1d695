"""Commands that read the book as it stands: its scenes, its text."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Iterator

from reglet.bookfile import BookFile
from reglet.cli.telling import answer, answer_json, on_one_line, remark
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.paragraph import SCENE_BREAK
from reglet.manuscript.scene import Scene
from reglet.manuscript.stage import Stage

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


def _scene_facts(part: Part | None, chapter: Chapter | None, scene: Scene) -> dict[str, object]:
    return {
        "id": scene.id,
        "part": part.title if part else None,
        "chapter": chapter.title if chapter else None,
        "title": scene.title,
        "words": scene.passage.word_count,
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
        line = f"{scene.id:{width}}  {scene.passage.word_count:>7,}  {ticks}"
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
