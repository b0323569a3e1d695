"""How long a 120,000-word .docx takes to bring in, against python-docx reading its paragraphs.

    python tests/benchmarks/importing.py [FILE.docx]

Without a file, a novel from Debian's r-cran-janeaustenr is written to one as a word processor
would, with its emphasis. Prints ratios measured in the same run, and peak memory.
"""

import resource
import sys
import time
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory

sys.path[:0] = [str(Path(__file__).parents[2]), str(Path(__file__).parents[2] / "desktop")]

import docx  # noqa: E402
from reglet.exchange import read_draft, write_docx, write_markdown  # noqa: E402
from reglet.manuscript.words import count_words  # noqa: E402

from tests.whole_jobs.novels import headings, load, paragraphs  # noqa: E402

ROUNDS = 5


def write_novel(path: Path) -> None:
    """A novel with heading styles; what its text sets between underscores is in italics."""
    lines = load("prideprejudice").lines
    heads = {heading.paragraph for heading in headings(lines)}
    document = docx.Document()
    for at, text in enumerate(paragraphs(lines)):
        paragraph = document.add_paragraph(style="Heading 1" if at in heads else None)
        for index, piece in enumerate(text.split("_")):
            paragraph.add_run(piece).italic = True if index % 2 else None
    document.save(str(path))


def seconds(work: Callable[[], object]) -> float:
    """The shortest time of several rounds."""
    times = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


def main() -> None:
    with TemporaryDirectory() as folder:
        path = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(folder) / "novel.docx"
        if len(sys.argv) == 1:
            write_novel(path)
        plain = seconds(lambda: [each.text for each in docx.Document(str(path)).paragraphs])
        book = read_draft(path).book()
        words = sum(count_words(scene.passage.text) for scene in book.texts)
        print(f"{words:,} words, {len(book.chapters)} chapters, {len(book.scenes)} scenes")
        print(f"python-docx, text of all paragraphs    {plain:.3f} s   1.00")
        out, markdown = Path(folder) / "out.docx", Path(folder) / "out.md"
        for name, work in (
            ("read_draft", lambda: read_draft(path)),
            ("read_draft and book", lambda: read_draft(path).book()),
            ("write_docx", lambda: write_docx(book, out, overwrite=True)),
            ("read_draft of our own .docx", lambda: read_draft(out).book()),
            ("write_markdown", lambda: write_markdown(book, markdown, overwrite=True)),
            ("read_draft of our own .md", lambda: read_draft(markdown).book()),
        ):
            took = seconds(work)
            print(f"{name:37}  {took:.3f} s   {took / plain:.2f}")
        print(f"peak memory {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MiB")


if __name__ == "__main__":
    main()
