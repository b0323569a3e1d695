"""How fast the Line overlays go over a novel, beside a general pipeline on the same text.

    python -m tests.benchmarks.line_speed NOVEL [--pipeline MODEL]

NOVEL is one file as `line_precision` reads them; it is cut to 120,000 words. Printed are seconds of
processor time and words a second: of all Line overlays over a book not seen before (word tables
are loaded first, with another text), of the same book again, and of one changed paragraph. As in
the examiner's process the collector of cycles is off. MODEL is a small English model of spaCy that
is installed (a test-time extra: the model's wheel is on PyPI under several names); its tagger,
parser and lemmatiser are then run over the same paragraphs, and the ratio is printed.
"""

from __future__ import annotations

import argparse
import gc
import time
from collections.abc import Callable
from pathlib import Path

from reglet.manuscript import editing
from reglet.manuscript.book import Book
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.manuscript.stage import Stage
from reglet.manuscript.words import count_words
from reglet.overlays.examine import Examiner

from tests.benchmarks.line_precision import novel

MOST_WORDS = 120_000
USUAL_SCENE = 2_500
EDITS = 20


def seconds(work: Callable[[], object]) -> float:
    """Processor time of this process, whatever else the machine does."""
    start = time.process_time()
    work()
    return time.process_time() - start


def cut(book: Book) -> Book:
    """The book up to the scene that fills `MOST_WORDS`."""
    left = MOST_WORDS
    kept = set()
    for scene in book.scenes:
        if left > 0:
            kept.add(scene.id)
        left -= count_words(scene.passage.text)
    for scene in book.scenes:
        if scene.id not in kept:
            book = editing.rewrite(book, scene.id, Passage.plain(""))
    return book


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("novel", type=Path)
    parser.add_argument("--pipeline")
    asked = parser.parse_args()
    book = cut(novel(asked.novel))
    words = sum(count_words(scene.passage.text) for scene in book.scenes)
    examiner = Examiner()
    first = book.scenes[0]
    warm = editing.rewrite(book, first.id, Passage.plain(first.passage.text[::-1]))
    list(Examiner().examine(warm, Stage.LINE, [first.id]))

    def all_overlays() -> None:
        list(examiner.examine(book, Stage.LINE))

    gc.collect()
    gc.disable()
    spent = seconds(all_overlays)
    _print("all Line overlays", words, spent)
    _print("the same again", words, seconds(all_overlays))
    by_length = sorted(book.scenes, key=lambda each: count_words(each.passage.text))
    for scene in (min(by_length, key=_from_usual), by_length[-1]):
        _print_edit(examiner, book, scene)
    if asked.pipeline:
        import spacy

        pipeline = spacy.load(asked.pipeline, disable=["ner"])
        texts = [p.text for scene in book.scenes for p in scene.passage.paragraphs]
        gc.enable()
        beside = seconds(lambda: list(pipeline.pipe(texts)))
        _print(f"spaCy {asked.pipeline}", words, beside)
        print(f"all Line overlays take {spent / beside:.3f} of its time")


def _from_usual(scene: Scene) -> int:
    return abs(count_words(scene.passage.text) - USUAL_SCENE)


def _print_edit(examiner: Examiner, book: Book, scene: Scene) -> None:
    spent = []
    for number in range(EDITS):
        book = editing.edit(book, scene.id, 0, 0, Passage.plain(f"Word {number}. "))
        spent.append(seconds(lambda now=book: list(examiner.examine(now, Stage.LINE, [scene.id]))))
    length = count_words(scene.passage.text)
    print(f"a changed paragraph: {sorted(spent)[EDITS // 2] * 1000:.1f} ms", end="")
    print(f" (in a scene of {length} words; the middle of {EDITS} edits)")


def _print(name: str, words: int, spent: float) -> None:
    print(f"{name:<28}{spent:>8.2f} s{words / spent:>14,.0f} words a second")


if __name__ == "__main__":
    main()
