"""How long the facts of a story take: the first reading, and what follows an edit.

    python -m tests.benchmarks.story_speed NOVEL

NOVEL is a text file or an Austen's key; its text is repeated or cut to 120,000 and 250,000 words,
in scenes of 1,250 words.
"""

import sys
import time

from reglet.manuscript import editing
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.manuscript.words import count_words
from reglet.story import views
from reglet.story.facts import Analyst

from tests.benchmarks import novel_books


def main() -> None:
    novel = novel_books.book(sys.argv[1])
    for words in (120_000, 250_000):
        book = of_length(novel, words)
        analyst = Analyst()
        first = clock(analyst, book)
        scene = book.scenes[len(book.scenes) // 2]
        edited = editing.edit(book, scene.id, 5, 5, Passage.plain(" It was late on Tuesday. "))
        after = clock(analyst, edited)
        print(
            f"{words:,} words, {len(book.scenes)} scenes: first {first:.2f} s, "
            f"after an edit {after * 1000:.0f} ms"
        )


def clock(analyst: Analyst, book: Book) -> float:
    """Seconds of processor time until every view is there."""
    start = time.process_time()
    views.all_views(analyst.read(book))
    return time.process_time() - start


def of_length(novel: Book, wanted: int) -> Book:
    scenes: list[Scene] = []
    held: list[str] = []
    count = total = 0
    while total < wanted:
        for scene in novel.scenes:
            for paragraph in scene.passage.paragraphs:
                # Each repetition differs, so that nothing is read once for two places.
                text = f"{paragraph.text} {len(scenes)}." if total > 100_000 else paragraph.text
                held.append(text)
                count += count_words(text)
                if count >= 1250:
                    scenes.append(
                        Scene(f"scene-{len(scenes)}", passage=Passage.plain("\n".join(held)))
                    )
                    total += count
                    held, count = [], 0
                    if total >= wanted:
                        break
            if total >= wanted:
                break
    return Book(parts=(Part("part", chapters=(Chapter("chapter", scenes=tuple(scenes)),)),))


if __name__ == "__main__":
    main()
