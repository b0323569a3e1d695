"""How often a mark of a Line overlay is what the overlay says it is, by judged samples.

    python -m tests.benchmarks.line_precision CORPUS                 draw nothing, count marks
    python -m tests.benchmarks.line_precision CORPUS --draw OVERLAY [--seed N] [--number N]
    python -m tests.benchmarks.line_precision CORPUS --judged [FILE]

CORPUS is a folder of novels, one a file (`.txt.xz`): a paragraph a line, `# ` before a heading,
`***` between scenes, `*…*` for emphasis. `--draw` prints marks of one overlay in their sentences,
numbered, for a reader to judge. FILE (JSON, `tests/data/line_judged.json` unless given) holds the
judgements: for each overlay the seed and number drawn, the numbers of the marks that are not what
the overlay says, and the hash of the marks as they were drawn, so that a judgement is never counted
for marks that it was not made of. An echo may be one and meant: `stands` are the marks that are
what they say and that an editor would let stand. Nothing of the novels is kept in this project.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import lzma
import re
from pathlib import Path

from reglet.language.prose import read_ahead
from reglet.language.sentences import sentences
from reglet.language.speech import detect_marks
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.manuscript.stage import Stage
from reglet.overlays.examine import Examiner
from reglet.overlays.query import Query
from reglet.overlays.reading import read_scene
from reglet.overlays.register import of_stage

JUDGED = Path(__file__).resolve().parents[1] / "data" / "line_judged.json"


def novel(path: Path) -> Book:
    """A novel of the corpus as a book: a chapter for each heading, a scene for each break."""
    chapters: list[Chapter] = []
    scenes: list[Scene] = []
    lines: list[str] = []
    title = ""

    def close_scene() -> None:
        if lines:
            text = re.sub(r"\*(\S(?:[^*]*\S)?)\*", r"\1", "\n".join(lines))
            scenes.append(
                Scene(f"{path.stem[:12]}-{len(chapters)}-{len(scenes)}", "", Passage.plain(text))
            )
            lines.clear()

    def close_chapter() -> None:
        close_scene()
        if scenes:
            chapters.append(Chapter(f"c{len(chapters)}", title, tuple(scenes)))
            scenes.clear()

    with lzma.open(path, "rt", encoding="utf-8") as stream:
        for line in stream.read().splitlines():
            if line.startswith("# "):
                close_chapter()
                title = line[2:]
            elif line.strip("* ") == "" and line:
                close_scene()
            elif line.strip():
                lines.append(line.strip())
    close_chapter()
    return Book(parts=(Part("p", chapters=tuple(chapters)),))


def novels(folder: Path) -> list[Book]:
    """The novels of a folder, by name."""
    return [novel(path) for path in sorted(folder.glob("*.txt.xz"))]


def tagged(book: Book) -> None:
    """Tag a whole book at once, which is quicker than a paragraph at a time."""
    marks = detect_marks(scene.passage.text for scene in book.scenes)
    for scene in book.scenes:
        read_ahead(each.prose for _, each in read_scene(scene, marks).prose())


def sample(books: list[Book], overlay: str, seed: int, number: int) -> list[tuple[Query, str]]:
    """Marks drawn at random, evenly from the novels, each with the text that it stands in."""
    drawn: list[tuple[Query, str]] = []
    pools: list[list[tuple[Query, str]]] = []
    for book in books:
        found = [
            (query, book.scene(query.scene).passage.text)
            for query in Examiner().examine(book, Stage.LINE, overlays=[overlay])
        ]
        found.sort(key=lambda each: _lot(seed, each[0]))
        pools.append(found)
    while len(drawn) < number and any(pools):
        for pool in pools:
            if pool and len(drawn) < number:
                drawn.append(pool.pop())
    return drawn


def _lot(seed: int, query: Query) -> str:
    """The lot of a mark, whatever other marks there are: a better overlay keeps its lots."""
    return hashlib.sha256(f"{seed} {query.scene} {query.start}".encode()).hexdigest()


def shown(query: Query, text: str) -> str:
    """The mark in its sentence and, for an echo, what stands before it."""
    before = text.rfind("\n", 0, query.start) + 1
    after = text.find("\n", query.end)
    paragraph = text[before : after if after >= 0 else len(text)]
    start, end = query.start - before, query.end - before
    around = [each for each in sentences(paragraph) if each.end > start and each.start < end]
    first, last = (around[0].start, around[-1].end) if around else (start, end)
    reach = int(match[1]) if (match := re.search(r"(\d+) words before", query.message)) else 0
    if reach:
        wide = text[: query.start].split(" ")
        first = -len(" ".join(wide[-(reach + 4) :])) + start
    left = text[max(0, before + first) : query.start]
    return f"{left}[[{query.text}]]{paragraph[end:last]}".replace("\n", " | ")


def digest(marks: list[tuple[Query, str]]) -> str:
    """What a judgement was made of, in short."""
    whole = "\n".join(f"{query.scene} {query.start} {query.text}" for query, _ in marks)
    return hashlib.sha256(whole.encode()).hexdigest()[:16]


def main() -> None:
    """Print a table or a sample."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("corpus", type=Path)
    parser.add_argument("--draw")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--number", type=int, default=108)
    parser.add_argument("--judged", type=Path, nargs="?", const=JUDGED)
    asked = parser.parse_args()
    books = novels(asked.corpus)
    for book in books:
        tagged(book)
    if asked.draw:
        marks = sample(books, asked.draw, asked.seed, asked.number)
        for number, (query, text) in enumerate(marks, 1):
            proposal = f" => {query.proposal}" if query.proposal is not None else ""
            print(f"{number}. {shown(query, text)}{proposal[:200]}")
        print(digest(marks))
    elif asked.judged:
        _print_judged(books, json.loads(asked.judged.read_text("utf-8")))
    else:
        _print_counts(books)


def _print_judged(books: list[Book], judged: dict[str, dict[str, object]]) -> None:
    print(f"{'overlay':<22}{'marks':>7}{'right':>7}{'share':>8}{'to change':>11}")
    for overlay in of_stage(Stage.LINE):
        if overlay.name not in judged:
            print(f"{overlay.name:<22}{'not judged':>14}")
            continue
        entry = judged[overlay.name]
        marks = sample(books, overlay.name, int(str(entry["seed"])), int(str(entry["number"])))
        wrong, stands = entry["wrong"], entry.get("stands", [])
        assert isinstance(wrong, list) and isinstance(stands, list)
        stale = "" if digest(marks) == entry["digest"] else "   judged of other marks"
        right = len(marks) - len(wrong)
        change = f"{(right - len(stands)) / len(marks):>11.3f}" if stands else f"{'':>11}"
        share = f"{right / len(marks):>8.3f}"
        print(f"{overlay.name:<22}{len(marks):>7}{right:>7}{share}{change}{stale}")


def _print_counts(books: list[Book]) -> None:
    words = sum(
        each.word_count
        for book in books
        for each in (read_scene(s, detect_marks(s.passage.text)) for s in book.scenes)
    )
    print(f"{len(books)} novels, {words} words\n{'overlay':<22}{'marks':>8}{'in 10,000 words':>18}")
    for overlay in of_stage(Stage.LINE):
        count = sum(
            1
            for book in books
            for _ in Examiner().examine(book, Stage.LINE, overlays=[overlay.name])
        )
        print(f"{overlay.name:<22}{count:>8}{count / words * 10_000:>18.1f}")


if __name__ == "__main__":
    main()
