"""The command that prints what scenes measure, and how many words the Line stage has cut."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Iterator
from datetime import datetime

from reglet.bookfile import BookFile
from reglet.cli.telling import answer, answer_json, remark
from reglet.language.readability import Readability
from reglet.manuscript.book import Book
from reglet.manuscript.stage import Stage
from reglet.overlays.house import house_of
from reglet.overlays.line.figures import book_figures, rhythm
from reglet.overlays.line.tightening import StageStart, Tightening, of_book, of_scene, start_of
from reglet.overlays.reading import read_scene

_HEADING = "   words     cut  sentence  spread  spoken   ease  grade"


def figures(asked: Namespace) -> int:
    """Print the figures of each scene and of the book, or of one scene."""
    with BookFile.open(asked.book, read_only=True) as file:
        if file.notice:
            remark(file.notice)
        book = file.book
        # Nothing has been cut in a stage that is still to begin.
        start = start_of(file, Stage.LINE) or StageStart("", datetime.now().astimezone(), book)
    if asked.scene is not None:
        book.scene(asked.scene)
    found = book_figures(book)
    scenes = {
        each.scene: (each.figures, of_scene(start, book, each.scene))
        for each in found.scenes
        if asked.scene in (None, each.scene)
    }
    whole = found.whole, of_book(start, book)
    if asked.json:
        answer_json(
            {
                "scenes": [
                    {
                        "scene": scene_id,
                        **_facts(*each),
                        "sentences": _lengths(book, scene_id),
                    }
                    for scene_id, each in scenes.items()
                ],
                "book": _facts(*whole),
            }
        )
    else:
        answer(_lines({**scenes, "book": whole}))
    return 0


def _facts(each: Readability, words: Tightening) -> dict[str, object]:
    return {
        "words": words.now,
        "words_at_the_start_of_the_stage": words.then,
        "cut": words.cut,
        "sentence_length": round(each.sentence_length, 2),
        "sentence_spread": round(each.sentence_spread, 2),
        "dialogue": round(each.dialogue, 4),
        "flesch_reading_ease": None if each.ease is None else round(each.ease, 1),
        "flesch_kincaid_grade": None if each.grade is None else round(each.grade, 1),
    }


def _lengths(book: Book, scene_id: str) -> list[int]:
    """The words of each sentence of a scene, in order."""
    return [beat.words for beat in rhythm(read_scene(book.scene(scene_id), house_of(book).marks))]


def _lines(figures: dict[str, tuple[Readability, Tightening]]) -> Iterator[str]:
    width = max(map(len, figures))
    yield f"{'':{width}}{_HEADING}"
    for name, each in figures.items():
        yield f"{name:{width}}{_line(*each)}"


def _line(each: Readability, words: Tightening) -> str:
    ease, grade = (("–" if value is None else f"{value:.1f}") for value in (each.ease, each.grade))
    return (
        f"{words.now:>8,}{words.cut:>8,}{each.sentence_length:>10.1f}{each.sentence_spread:>8.1f}"
        f"{each.dialogue:>8.0%}{ease:>7}{grade:>7}"
    )
