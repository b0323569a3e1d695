"""What the overlays of Structure ask of a book, for its false alarms to be counted.

    python -m tests.benchmarks.structure_queries [NOVEL ...]

Without a novel the demo book is taken, and what its key says was planted is ticked off. NOVEL is an
Austen's key or a text file; a published novel holds no planted faults, so what is asked of it is
read by a person. The overlays that depend on the writer's own sheets and lists are silent there.
"""

import sys
import tomllib
from collections import Counter

from reglet.language.speech import detect_marks
from reglet.manuscript.book import Book
from reglet.overlays.house import House
from reglet.overlays.overlay import Scope
from reglet.overlays.reading import ReadBook, read_scene
from reglet.overlays.structure import (
    chapter_number,
    head_hopping,
    name_variant,
    person_away,
    placeholder,
    same_eyes,
    still_scene,
    thread_left_open,
    time_contradiction,
)

from tests.benchmarks import novel_books
from tests.benchmarks.planted import ROOT, draft

OVERLAYS = [
    each.OVERLAY
    for each in (
        chapter_number,
        head_hopping,
        name_variant,
        person_away,
        placeholder,
        same_eyes,
        still_scene,
        thread_left_open,
        time_contradiction,
    )
]


def queries(book: Book) -> list[tuple[str, str, str, str]]:
    """Overlay, scene, words, message."""
    marks = detect_marks(scene.passage.text for scene in book.scenes)
    house = House(marks=marks)
    read = ReadBook(book, tuple(read_scene(scene, marks) for scene in book.scenes))
    found = []
    for overlay in OVERLAYS:
        if overlay.scope is Scope.BOOK:
            for scene, finding in overlay.look(read, house):
                text = book.scene(scene).passage.text[finding.start : finding.end]
                found.append((overlay.name, scene, text, finding.message))
        else:
            for scene in read.scenes:
                for _, paragraph in scene.prose():
                    for finding in overlay.look(paragraph, house):
                        text = paragraph.paragraph.text[finding.start : finding.end]
                        found.append((overlay.name, scene.scene.id, text, finding.message))
    return found


def main() -> None:
    for name in sys.argv[1:]:
        found = queries(novel_books.book(name))
        print(f"{name.rpartition('/')[2]}: {dict(Counter(each[0] for each in found))}")
        for overlay, scene, text, message in found:
            print(f"    {overlay} {scene} “{text}”: {message}")
    if len(sys.argv) > 1:
        return
    book, ids = draft()
    key = tomllib.loads((ROOT / "tests/data/planted.toml").read_text("utf-8"))
    asked = queries(book)
    wanted = [
        ("name_variant", ids[place["scene"]], place["found"])
        for name in key["name"]
        for place in name["places"]
    ]
    wanted += [
        ("time_contradiction", ids[each["scene"]], each["found"])
        for each in key["time_contradiction"]
    ]
    wanted += [
        ("thread_left_open", ids[each["scenes"][-1]], each["words"][0])
        for each in key["dropped_thread"]
    ]
    right = set()
    for overlay, scene, words in wanted:
        hits = {
            each
            for each in asked
            if each[:2] == (overlay, scene) and (each[2] in words or words in each[2])
        }
        right |= hits
        print(f"{'found ' if hits else 'missed'} {overlay}: {words}")
    for overlay, _, text, message in asked:
        if not any(each[0] == overlay and each[2] == text for each in right):
            print(f"not planted: {overlay} “{text}”: {message}")


if __name__ == "__main__":
    main()
