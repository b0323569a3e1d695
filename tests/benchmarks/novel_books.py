"""Real novels as books, for benchmarks: each chapter is one scene.

An Austen is loaded from the Debian package that `tests.whole_jobs.novels` fetches; a path to a text
file (`.txt`, `.txt.xz`), a paragraph a line, with "# " before headings, is read as one book.
"""

import lzma
from pathlib import Path

from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene

from tests.whole_jobs import novels


def book(name: str) -> Book:
    """The book of a novel's key (as "emma") or of a text file."""
    if name in novels.KEYS:
        lines = novels.load(name).lines
        paragraphs = novels.paragraphs(lines)
        starts = {h.paragraph for h in novels.headings(lines) if h.kind == "chapter"}
        return made(
            "# " + text if number in starts else text for number, text in enumerate(paragraphs)
        )
    path = Path(name)
    raw = lzma.decompress(path.read_bytes()) if path.suffix == ".xz" else path.read_bytes()
    return made(line.strip() for line in raw.decode("utf-8").split("\n"))


def made(paragraphs) -> Book:
    """A book of paragraphs, a new chapter at each that begins with "# "."""
    chapters: list[tuple[str, list[str]]] = [("", [])]
    for text in filter(None, paragraphs):
        if text.startswith("#"):
            chapters.append((text.lstrip("# "), []))
        else:
            chapters[-1][1].append(text)
    return Book(
        parts=(
            Part(
                "part",
                chapters=tuple(
                    Chapter(
                        f"chapter-{number}",
                        title,
                        (Scene(f"scene-{number}", passage=Passage.plain("\n".join(texts))),),
                    )
                    for number, (title, texts) in enumerate(chapters)
                    if texts
                ),
            ),
        )
    )
