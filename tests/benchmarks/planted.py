"""How many of the demo book's planted faults the overlays find, and what they mark wrongly.

    python -m tests.benchmarks.planted [--misses]

Recall is counted on the draft, each fault against the overlay that is meant for it. False alarms
are the marks that are left when every planted fault has been mended, a thousand words; the book's
names are taken into its style sheet first, as a writer would do.
"""

from __future__ import annotations

import re
import sys
import tomllib
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from reglet.exchange import read_draft
from reglet.manuscript import editing
from reglet.manuscript.book import Book
from reglet.manuscript.stage import Stage
from reglet.manuscript.words import count_words
from reglet.overlays.examine import Examiner
from reglet.overlays.query import Query

ROOT = Path(__file__).parents[2]
MEANT_FOR = {
    "double": ("double",),
    "misspelling": ("spelling",),
    "quotation_pair": ("quotation_marks",),
    "name": ("spelling", "name_form"),
    "block": ("block",),
    "echo": ("echo",),
    "out": ("out",),
    "wrong_word": ("wrong_word",),
}


@dataclass(frozen=True)
class Fault:
    """One planted fault, in the plain text that a reader sees."""

    kind: str
    scene: str
    found: str
    meant: str


def faults() -> list[Fault]:
    """Every fault of the key that stands at one place."""
    key = tomllib.loads((ROOT / "tests/data/planted.toml").read_text("utf-8"))
    return list(_faults(key))


def draft() -> tuple[Book, dict[str, str]]:
    """The demo book brought in from its .docx, and the id of each scene by its file's name."""
    contents = tomllib.loads((ROOT / "demo_book/book.toml").read_text("utf-8"))
    stems = [scene["file"] for chapter in contents["chapters"] for scene in chapter["scenes"]]
    book = read_draft(ROOT / "demo_book/draft.docx").book()
    if len(book.scenes) != len(stems):
        raise SystemExit(f"{len(book.scenes)} scenes came in, {len(stems)} were written")
    return book, dict(zip(stems, (scene.id for scene in book.scenes), strict=True))


def mended(book: Book, ids: dict[str, str], planted: list[Fault]) -> Book:
    """The book with every fault put right."""
    for fault in planted:
        scene = book.scene(ids[fault.scene])
        at = _on_one_line(scene.passage.text).find(fault.found)
        if at >= 0:
            new = scene.passage.dressed(fault.meant, at, at + len(fault.found))
            book = editing.edit(book, scene.id, at, at + len(fault.found), new)
    return book


def main() -> None:
    """Print the tables."""
    book, ids = draft()
    planted = faults()
    examiner = Examiner()
    book = editing.learn_words(book, examiner.names(book))
    queries = [q for stage in (Stage.LINE, Stage.PROOF) for q in examiner.examine(book, stage)]
    names = {q.overlay for q in queries}
    print(f"{'planted':<16}{'found':>8}{'of':>5}   by")
    for kind, overlays in MEANT_FOR.items():
        of_kind = [fault for fault in planted if fault.kind == kind]
        missed = [f for f in of_kind if not _is_marked(book, ids, f, queries, overlays)]
        by = ", ".join(overlays) if names & set(overlays) else "(no overlay yet)"
        print(f"{kind:<16}{len(of_kind) - len(missed):>8}{len(of_kind):>5}   {by}")
        if "--misses" in sys.argv:
            for fault in missed:
                print(f"    missed in {fault.scene}: {fault.found[:80]!r}")
    _print_false_alarms(mended(book, ids, planted), examiner)


def _print_false_alarms(fair: Book, examiner: Examiner) -> None:
    fair = editing.learn_words(fair, examiner.names(fair))
    thousands = sum(count_words(scene.passage.text) for scene in fair.scenes) / 1000
    queries = list(examiner.examine(fair, Stage.PROOF))
    print(f"\nmarks on the mended text, {thousands:.1f} thousand words")
    for overlay, count in sorted(Counter(query.overlay for query in queries).items()):
        print(f"{overlay:<16}{count:>8}   {count / thousands:.2f} a thousand words")
    print(f"{'all Proof':<16}{len(queries):>8}   {len(queries) / thousands:.2f} a thousand words")
    if "--misses" in sys.argv:
        for query in queries:
            text = fair.scene(query.scene).passage.text
            near = text[max(0, query.start - 30) : query.end + 30]
            print(f"    {query.overlay}: {near!r} ({query.proposal})")


def _is_marked(
    book: Book, ids: dict[str, str], fault: Fault, queries: list[Query], overlays: tuple[str, ...]
) -> bool:
    scene_id = ids[fault.scene]
    start = _on_one_line(book.scene(scene_id).passage.text).find(fault.found)
    end = start + len(fault.found)
    return start >= 0 and any(
        query.scene == scene_id
        and query.overlay in overlays
        and ((query.start < end and query.end > start) or _echoes(fault, query, start))
        for query in queries
    )


def _echoes(fault: Fault, query: Query, start: int) -> bool:
    """Whether the mark of an echo stands on the later word of the pair that the fault makes."""
    if query.overlay != "echo" or not 0 <= query.start - start < 600:
        return False
    first = query.message.split("echoes “")[1].split("”")[0]
    return f" {first} " in f" {fault.found} "


def _faults(key: dict[str, Any]) -> Iterator[Fault]:
    for kind, entries in key.items():
        if not isinstance(entries, list):
            continue
        for entry in entries:
            for place in entry.get("places", [entry]):
                if "found" in place and "meant" in place:
                    found, meant = place.get("plain", place["found"]), place["meant"]
                    yield Fault(kind, place["scene"], _plain(found), _plain(meant))


def _on_one_line(text: str) -> str:
    """A line break inside a paragraph, which the key does not know of, as a space."""
    return text.replace("\u2028", " ")


def _plain(text: str) -> str:
    """Markup taken off, and each paragraph on one line."""
    text = re.sub(r"^> ?", "", text.replace("*", ""), flags=re.MULTILINE)
    return "\n".join(" ".join(block.split("\n")) for block in re.split(r"\n\s*\n", text))


if __name__ == "__main__":
    main()
