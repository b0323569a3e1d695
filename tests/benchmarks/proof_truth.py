"""False alarms of the Proof overlays on clean novels, and how well misspellings are found.

    python -m tests.benchmarks.proof_truth CORPUS [--show OVERLAY] [--novel PART_OF_NAME]
                                           [--without OVERLAY,OVERLAY]
    python -m tests.benchmarks.proof_truth CORPUS --misspellings FILE [--number N]
    python -m tests.benchmarks.proof_truth CORPUS --speed [--without OVERLAY,OVERLAY]

CORPUS is a folder of published novels, one a file (`.txt.xz`): a paragraph a line, `# ` before a
heading, `***` between scenes, `*…*` for emphasis. Each is set up as its writer would: with its own
variety of English (the one whose dictionary knows more of it) and a style sheet that has learnt its
names in one pass. Every mark on such a novel counts as a false alarm, though some are slips of its
printers. FILE holds misspellings, a line each, "wrong->right" or "wrong->right, other" (the list
that the PyPI package codespell brings is such a one); they are set into the novels, one in a
paragraph, where the right word stands. With --speed the
processor time is printed of the first look at each novel and of one changed paragraph after it.
Nothing of the novels is kept in this project.
"""

from __future__ import annotations

import argparse
import lzma
import random
import re
import time
from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from reglet.language.dictionary import dictionary
from reglet.manuscript import editing
from reglet.manuscript.book import Book, Chapter, Part, StyleSheet
from reglet.manuscript.paragraph import Paragraph, Span, SpanKind
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.manuscript.stage import Stage
from reglet.manuscript.words import count_words
from reglet.overlays.examine import Examiner
from reglet.overlays.house import House
from reglet.overlays.proof.spelling import meant_by
from reglet.overlays.query import Query
from reglet.overlays.register import of_stage

_EMPHASIS = re.compile(r"\*(\S(?:[^*]*\S)?)\*")
_ENGLISH = ("en-GB", "en-US")


def novel(path: Path) -> Book:
    """A novel of the corpus as a book in its own variety of English, its names learnt."""
    chapters: list[tuple[str, list[list[Paragraph]]]] = [("", [[]])]
    with lzma.open(path, "rt", encoding="utf-8") as lines:
        for line in map(str.strip, lines):
            if line.startswith("# "):
                chapters.append((line[2:], [[]]))
            elif line and not line.strip("* "):
                chapters[-1][1].append([])
            elif line:
                chapters[-1][1][-1].append(paragraph(line))
    made = Book(
        title=path.name.split(".")[0],
        parts=(
            Part(
                "p",
                chapters=tuple(
                    Chapter(f"c{n}", title, tuple(_scenes(n, scenes)))
                    for n, (title, scenes) in enumerate(chapters)
                    if any(scenes)
                ),
            ),
        ),
    )
    made = replace(made, style_sheet=StyleSheet(variety(made)))
    return editing.learn_words(made, Examiner().names(made))


def _scenes(number: int, scenes: list[list[Paragraph]]) -> Iterator[Scene]:
    for n, paragraphs in enumerate(scenes):
        if paragraphs:
            yield Scene(f"s{number}-{n}", passage=Passage(tuple(paragraphs)))


def paragraph(line: str) -> Paragraph:
    """A line with its emphasis as spans."""
    text, spans, at = "", [], 0
    for match in _EMPHASIS.finditer(line):
        text += line[at : match.start()]
        spans.append(Span(len(text), len(text) + len(match[1]), SpanKind.EMPHASIS))
        text += match[1]
        at = match.end()
    return Paragraph(text + line[at:], spans=tuple(spans))


def variety(book: Book) -> str:
    """The variety of English whose dictionary knows more of the book's words."""
    words = Counter(
        word for scene in book.scenes for word in re.findall(r"\b[a-z]{4,}\b", scene.passage.text)
    )
    unknown = {
        tag: sum(n for word, n in words.items() if not dictionary(tag).lists(word))
        for tag in _ENGLISH
    }
    return min(_ENGLISH, key=lambda tag: unknown[tag])


def main() -> None:
    """Print the tables."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("corpus", type=Path)
    parser.add_argument("--show", metavar="OVERLAY", help="print its marks, or those of “all”")
    parser.add_argument("--novel", default="", help="only novels with this in their name")
    parser.add_argument("--without", default="", help="overlays that are left out, as slow ones")
    parser.add_argument("--misspellings", type=Path)
    parser.add_argument("--number", type=int, default=2000, help="how many misspellings to set")
    parser.add_argument("--speed", action="store_true")
    asked = parser.parse_args()
    paths = [p for p in sorted(asked.corpus.glob("*.txt.xz")) if asked.novel in p.name]
    books = [novel(path) for path in paths]
    without = frozenset(asked.without.split(","))
    if asked.speed:
        _print_speed(books, without)
    elif asked.misspellings:
        _print_misspellings(books, asked.misspellings, asked.number)
    else:
        _print_false_alarms(books, asked.show, without)


def _print_speed(books: list[Book], without: frozenset[str]) -> None:
    names = [each.name for each in of_stage(Stage.PROOF) if each.name not in without]
    rng = random.Random(1)
    print(f"{'novel':<44}{'first, s':>10}{'a changed paragraph, ms':>26}{'at worst':>10}")
    for book in books:
        examiner, spent = Examiner(), []
        began = time.process_time()
        list(examiner.examine(book, Stage.PROOF, overlays=names))
        first = time.process_time() - began
        for _ in range(21):
            scene = rng.choice(book.scenes)
            at = rng.choice(scene.passage.starts)
            slip = Passage.plain("She said teh lamp was grey. ")
            book = editing.edit(book, scene.id, at, at, slip)
            began = time.process_time()
            list(examiner.examine(book, Stage.PROOF, [scene.id], names))
            spent.append((time.process_time() - began) * 1000)
        print(f"{book.title[:43]:<44}{first:>10.1f}{sorted(spent)[10]:>26.1f}{max(spent):>10.1f}")


def _print_false_alarms(books: list[Book], show: str | None, without: frozenset[str]) -> None:
    names = [each.name for each in of_stage(Stage.PROOF) if each.name not in without]
    totals: Counter[str] = Counter()
    all_words, all_seconds = 0, 0.0
    print(f"{'novel':<44}{'variety':<9}{'words':>9}{'seconds':>9}{'a thousand words':>18}")
    for book in books:
        words = sum(count_words(scene.passage.text) for scene in book.scenes)
        began = time.process_time()
        queries = list(Examiner().examine(book, Stage.PROOF, overlays=names))
        seconds = time.process_time() - began
        totals.update(query.overlay for query in queries)
        all_words += words
        all_seconds += seconds
        print(
            f"{book.title[:43]:<44}{book.style_sheet.language:<9}{words:>9,}{seconds:>9.1f}"
            f"{len(queries) / words * 1000:>18.2f}"
        )
        for query in queries:
            if show in (query.overlay, "all"):
                print("   ", shown(book, query))
    thousands = all_words / 1000
    print(f"\n{'overlay':<24}{'marks':>8}{'a thousand words':>18}")
    for name in names:
        print(f"{name:<24}{totals[name]:>8}{totals[name] / thousands:>18.3f}")
    every = sum(totals.values())
    print(f"{'all Proof overlays':<24}{every:>8}{every / thousands:>18.3f}")
    print(f"{all_words:,} words in {all_seconds:.1f} s of one core")


def shown(book: Book, query: Query) -> str:
    """A mark with what stands around it."""
    text = book.scene(query.scene).passage.text
    before = text[max(0, query.start - 50) : query.start]
    after = text[query.end : query.end + 40]
    line = f"{query.overlay}: {before}[[{query.text}]]{after}".replace("\n", "¶")
    return f"{line}  => {query.proposal}  ({query.message})"


def _print_misspellings(books: list[Book], path: Path, number: int) -> None:
    """Set misspellings in, and count those marked and those whose right word stands first."""
    wrong_for: dict[str, list[str]] = defaultdict(list)
    for line in path.read_text("utf-8").splitlines():
        wrong, arrow, right = line.partition("->")
        if arrow and re.fullmatch(r"[a-z]+->[a-z]+", line):
            wrong_for[right].append(wrong)
    rng = random.Random(5)
    texts = [p.text for book in books for s in book.scenes for p in s.passage.paragraphs]
    rng.shuffle(texts)
    found = first = three = tried = 0
    used: set[str] = set()
    for text in texts:
        places = [m for m in re.finditer(r"\b[a-z]{4,}\b", text) if m[0] in wrong_for]
        places = [m for m in places if set(wrong_for[m[0]]) - used]
        if not places:
            continue
        place = rng.choice(places)
        wrong = rng.choice(sorted(set(wrong_for[place[0]]) - used))
        used.add(wrong)
        tried += 1
        set_in = text[: place.start()] + wrong + text[place.end() :]
        at, end = place.start(), place.start() + len(wrong)
        if (suggested := meant_by(set_in, at, end, House("en-GB"))) is not None:
            found += 1
            first += int(suggested[:1] == (place[0],))
            three += place[0] in suggested[:3]
        if tried == number:
            break
    print(f"{tried} misspellings set into prose: {found / tried:.1%} found;")
    print(f"of those the right word is first for {first / found:.1%}, ", end="")
    print(f"among the first three for {three / found:.1%}")


if __name__ == "__main__":
    main()
