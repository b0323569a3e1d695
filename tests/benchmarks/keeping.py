"""Comparing two states of a whole book, and keeping one, against what Python has for it.

    python -m tests.benchmarks.keeping [NOVEL]

NOVEL is a key of `tests.whole_jobs.novels` or a text file. One word in fifty of every paragraph is
changed between the two states. Comparison is measured against difflib on the same tokens of one
scene at a time; a snapshot against copying the file. Prints ratios, and peak memory.
"""

from __future__ import annotations

import difflib
import random
import resource
import shutil
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory

from reglet.bookfile import BookFile
from reglet.manuscript.book import Book
from reglet.manuscript.comparison import compare_books
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.manuscript.token import tokens
from reglet.manuscript.words import count_words

from tests.benchmarks.novel_books import book as novel


def changed(book: Book) -> Book:
    """The book with one word in fifty changed."""
    chance = random.Random(1)

    def revise(scene: Scene) -> Scene:
        lines = (
            " ".join("other" if chance.random() < 0.02 else word for word in line.split(" "))
            for line in scene.passage.text.split("\n")
        )
        return replace(scene, passage=Passage.plain("\n".join(lines)))

    return book.with_chapters(
        lambda chapter: replace(chapter, scenes=tuple(map(revise, chapter.scenes)))
    )


def seconds(work: Callable[[], object]) -> float:
    """How long it takes, once."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def main() -> None:
    """Print the table."""
    old = novel(sys.argv[1] if len(sys.argv) > 1 else "mansfieldpark")
    new = changed(old)
    words = sum(count_words(scene.passage.text) for scene in old.scenes)
    print(f"{words:,} words, {len(old.scenes)} scenes")

    def with_difflib() -> None:
        for one, other in zip(old.scenes, new.scenes, strict=True):
            sides = tokens(one.passage), tokens(other.passage)
            difflib.SequenceMatcher(None, *sides).get_opcodes()

    plain = seconds(with_difflib)
    print(f"{'difflib, word by word':<38}{plain:>8.2f} s   1.00")
    compared = seconds(lambda: compare_books(old, new).words_added)
    print(f"{'compare_books':<38}{compared:>8.2f} s   {compared / plain:.2f}")

    with TemporaryDirectory() as folder:
        path = Path(folder) / "book.reglet"
        with BookFile.create(path, old) as file:
            copied = seconds(lambda: shutil.copyfile(path, Path(folder) / "copy"))
            print(f"{'copy of the file':<38}{copied:>8.4f} s   1.00")
            kept = seconds(lambda: file.snapshot("one"))
            print(f"{'whole-book snapshot':<38}{kept:>8.4f} s   {kept / copied:.2f}")
            saved = seconds(lambda: file.save(new))
            print(f"{'saving every scene changed':<38}{saved:>8.4f} s   {saved / copied:.2f}")
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"peak memory {peak:.0f} MiB")


if __name__ == "__main__":
    main()
