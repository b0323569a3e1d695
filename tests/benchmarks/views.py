"""How long the book takes to be drawn scene by scene, beside as many plain rectangles.

    python -m tests.benchmarks.views NOVEL

NOVEL is a text file or an Austen's key; its text is repeated or cut to 250,000 words in scenes of
1,250 words. Printed are milliseconds of processor time, the middle of nine runs.
"""

import os
import sys
import time
from collections.abc import Callable
from statistics import median

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtWidgets import QApplication
from reglet.manuscript import editing
from reglet.manuscript.passage import Passage
from reglet.story.facts import Analyst
from reglet.window import dressing
from reglet.window.book_drawing import BookDrawing, BookPictures

from tests.benchmarks import novel_books
from tests.benchmarks.story_speed import of_length

WIDTH = 1000


def ms(act: Callable[[], object], runs: int = 9) -> float:
    taken = []
    for _ in range(runs):
        start = time.process_time()
        act()
        taken.append((time.process_time() - start) * 1000)
    return median(taken)


def main() -> None:
    QApplication([])
    dressing.load_faces()
    book = of_length(novel_books.book(sys.argv[1]), 250_000)
    analyst = Analyst()
    pictures = BookPictures.of(analyst.read(book))
    image = QImage(WIDTH, round(BookDrawing(pictures, WIDTH).height), QImage.Format.Format_RGB32)

    def draw(shown: BookPictures = pictures) -> None:
        painter = QPainter(image)
        BookDrawing(shown, WIDTH).paint(painter)
        painter.end()

    rows = len(pictures.people) + len(pictures.threads)
    count = len(book.scenes) * (rows + 4)

    def rectangles() -> None:
        painter = QPainter(image)
        for at in range(count):
            box = QRectF(at % WIDTH, at * 7 % image.height(), 4, 8)
            painter.fillRect(box, QColor("#55514A"))
        painter.end()

    edits = iter(range(100))

    def after_an_edit() -> None:
        number = next(edits)
        scene = book.scenes[100].id
        text = Passage.plain(f" It was late, {number} o'clock on Tuesday. ")
        draw(BookPictures.of(analyst.read(editing.edit(book, scene, 5, 5, text))))

    plain, drawn = ms(rectangles), ms(draw)
    print(f"{len(book.scenes)} scenes: drawn from facts in {drawn:.0f} ms, {count:,} plain")
    print(f"rectangles in {plain:.0f} ms: {drawn / plain:.1f} times as long")
    print(f"an edit read and drawn in {ms(after_an_edit):.0f} ms")


if __name__ == "__main__":
    main()
