"""What the reader of outs costs: the whole book, one scene, one change, and memory.

    python -m tests.benchmarks.outs_speed NOVEL

NOVEL is a key of `tests.whole_jobs.novels` or a text file (see `novel_books`). It is read to
120,000 words, as often as it takes with its paragraphs in other orders. Beside the clock stands the
processor time, all threads together, which a busy machine does not stretch as much.
"""

from __future__ import annotations

import random
import resource
import sys
import time

from reglet.manuscript.words import count_words
from reglet.outs import at_hand
from reglet.outs.suspicion import Step

from tests.benchmarks.novel_books import book

BOOK, SCENE = 120_000, 2_000


def main() -> None:
    """Print the figures."""
    source = [p.text for s in book(sys.argv[1]).scenes for p in s.passage.paragraphs]
    paragraphs = _of_length(source, BOOK)
    scene = _of_length(source[len(source) // 2 :], SCENE)
    before = _memory()
    reader = at_hand.reader()
    _timed("one scene", scene, lambda: reader.suspicions(scene, Step.WIDE))
    middle = len(scene) // 2
    changed = [*scene[:middle], scene[middle] + " It was so.", *scene[middle + 1 :]]
    _timed("after a change", changed, lambda: reader.suspicions(changed, Step.WIDE))
    _timed("the book", paragraphs, lambda: reader.suspicions(paragraphs, Step.WIDE))
    _timed("the book again, kept", paragraphs, lambda: reader.suspicions(paragraphs, Step.WIDE))
    print(f"memory added at most: {_memory() - before:.0f} MB")


def _timed(name, paragraphs, work):
    clock, processor = time.perf_counter(), time.process_time()
    work()
    clock, processor = time.perf_counter() - clock, time.process_time() - processor
    count = sum(map(count_words, paragraphs))
    print(f"{name:<22}{count:>9,} words {clock:>8.2f} s, processor {processor:.2f} s", flush=True)


def _of_length(source: list[str], most: int) -> list[str]:
    """Paragraphs of so many words; each time round they come in another order."""
    rng, taken, count = random.Random(1), [], 0
    order = list(source)
    while True:
        for text in order:
            if count >= most:
                return taken
            taken.append(text)
            count += count_words(text)
        rng.shuffle(order)


def _memory() -> float:
    """The most memory that this process has held, in MB."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


if __name__ == "__main__":
    main()
