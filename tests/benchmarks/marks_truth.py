"""How many slips of marks, spaces, capitals and agreement the Proof overlays find and mend.

    python -m tests.benchmarks.marks_truth [CORPUS] [--number N] [--misses KIND]

Slips of one kind at a time are set into a whole book, one in a paragraph, and the book is examined.
Found is a slip that a query of the overlay meant for it stands on; mended one whose proposal gives
the text back as it was. The book is the demo book with its planted faults mended, or each novel of
CORPUS (see `proof_truth`).
"""

from __future__ import annotations

import argparse
import random
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from reglet.manuscript import editing
from reglet.manuscript.book import Book
from reglet.manuscript.passage import Passage
from reglet.manuscript.stage import Stage
from reglet.overlays.examine import Examiner
from reglet.overlays.query import Query

from tests.benchmarks.planted import draft, faults, mended
from tests.benchmarks.proof_truth import novel

_SAYS = r"(?:said|asked|replied|answered|cried|whispered|added)"
_PRONOUN = r"(?:he|she|they)"
_COUNTED = r" (?:two|three|four|five|ten) [a-z]{3,}(?P<at>s)(?=[.;]| (?:of|in|on)\b)"
_TWO_SPEAK = rf"{_SAYS} [A-Z][a-z]+\.(?P<at>\n)(?=“[^\n]*” {_SAYS} [A-Z])"


@dataclass(frozen=True)
class Slip:
    """A kind of slip: where it can be made (the group "at" of the pattern, if it has one), what is
    put there ("~": a small letter, "^": a capital), and which overlay is to find it.
    """

    kind: str
    overlay: str
    where: re.Pattern[str]
    put: str

    def matches(self, text: str, start: int, end: int) -> list[tuple[int, int]]:
        """Where the slip can be made between two offsets."""
        group = "at" if self.where.groupindex else 0
        found = [match.span(group) for match in self.where.finditer(text, start, end)]
        return [
            span for span in found if self.overlay != "agreement" or _is_told(text[start : span[0]])
        ]

    def made_of(self, old: str) -> str:
        """What stands there when the slip is made."""
        if self.put == "~":
            return old.lower()
        return old.upper() if self.put == "^" else self.put


def _slip(kind: str, overlay: str, where: str, put: str) -> Slip:
    return Slip(kind, overlay, re.compile(where, re.MULTILINE), put)


SLIPS = (
    _slip("comma outside the marks", "stops_with_quotes", rf"(?<=\w),”(?= {_PRONOUN} )", "”,"),
    _slip("full stop before a tag", "tag_join", rf"(?<=\w),”(?= {_PRONOUN} {_SAYS}\b)", ".”"),
    _slip("no comma before a tag", "tag_join", rf"(?<=\w),”(?= {_PRONOUN} {_SAYS}\b)", "”"),
    _slip("capital in a tag", "tag_join", rf"(?<=,” )h(?=e {_SAYS}\b)", "H"),
    _slip("dash between spaces", "dash", r"(?<=[a-z])—(?=[a-z])", " – "),
    _slip("dash closed up", "dash", r"(?<=[a-z]) – (?=[a-z])", "—"),
    _slip("hyphen for a dash", "dash", r"(?<=[a-z]) – (?=[a-z])", " - "),
    _slip("hyphens for a dash", "dash", r"(?<=[a-z])—(?=[a-z])", "--"),
    _slip("three points", "ellipsis", "…", "..."),
    _slip("straight apostrophe", "straight_quote", r"(?<=[a-z])’(?=[a-z])", "'"),
    _slip("straight double mark", "straight_quote", r"[“”]", '"'),
    _slip("turned apostrophe", "apostrophe", r"(?<![\w’“])’(?=(?:em|tis|twas|cause|til)\b)", "‘"),
    _slip("two spaces", "spacing", r"(?<=[a-z,]) (?=[a-z])", "  "),
    _slip("two spaces after a stop", "sentence_space", r"(?<=[a-z]\.) (?=[A-Z])", "  "),
    _slip("comma twice", "spacing", r"(?<=[a-z]),(?= [a-z])", ",,"),
    _slip("space before a mark", "spacing", r"(?<=[a-z])(?=[,;?!.](?:[ ”]|$))", " "),
    _slip("no space after a mark", "spacing", r"(?<=[a-z]{2}[,.]) (?=[A-Z]?[a-z]{2})", ""),
    _slip("no stop at the end", "sentence_end", r"(?<=[a-z])\.$", ""),
    _slip("no stop between sentences", "sentence_end", r"(?<=[a-z])\.(?= [A-Z][a-z])", ""),
    _slip("small letter after a stop", "capital", r"(?<=[a-z]{3}\. )[A-Z](?=[a-z]+\b)", "~"),
    _slip("small letter opens a speech", "capital", r"(?<=[.] “)[A-Z](?=[a-z]+\b)", "~"),
    _slip("small letter opens a paragraph", "capital", r"(?:^“|^)[A-Z](?=[a-z]+\b)", "~"),
    _slip("two capitals", "capital", r"(?<=\b[A-Z])[a-z](?=[a-z]{2})", "^"),
    _slip("closing mark left out", "quotation_marks", r"(?<=[.,?!])”", ""),
    _slip("opening mark left out", "quotation_marks", r"“(?=[A-Z])", ""),
    _slip("closing mark for opening", "quotation_marks", r"(?<=[.,] )“(?=\w)", "”"),
    _slip("two speakers run on", "speaker_turn", _TWO_SPEAK, " "),
    _slip("they was", "agreement", r"(?<=\b[Tt]hey )were\b", "was"),
    _slip("he were", "agreement", r"(?<=^He )was\b|(?<=\. She )was\b", "were"),
    _slip("two lamp", "agreement", _COUNTED, ""),
    _slip("could went", "agreement", r"(?<=\bcould )go\b|(?<=\bwould )go\b|(?<= to )go\b", "went"),
    _slip("a apple", "article", r"(?<=\ba)n(?= [aeio][a-z]+)", ""),
    _slip("an lamp", "article", r"(?<=\ba)(?= [bdglmprst][a-z]+)", "n"),
)  # fmt: skip


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("corpus", type=Path, nargs="?")
    parser.add_argument("--number", type=int, default=40, help="slips of a kind to a book")
    parser.add_argument("--misses", default="", metavar="KIND", help="show those of this kind")
    asked = parser.parse_args()
    books = [novel(path) for path in sorted(asked.corpus.glob("*.txt.xz"))] if asked.corpus else []
    if not books:
        book, ids = draft()
        books = [mended(book, ids, faults())]
    books = [editing.learn_words(book, Examiner().names(book)) for book in books]
    print(f"{'set in':<34}{'overlay':<20}{'slips':>7}{'found':>8}{'mended':>8}")
    for slip in SLIPS:
        made = found = right = 0
        for book in books:
            for is_found, is_right, shown in measured(book, slip, asked.number):
                made += 1
                found += is_found
                right += is_right
                if slip.kind == asked.misses and not is_found:
                    print("   ", shown)
        if made:
            shares = f"{found / made:>8.0%}{right / made:>8.0%}"
            print(f"{slip.kind:<34}{slip.overlay:<20}{made:>7}{shares}")


def measured(book: Book, slip: Slip, number: int) -> Iterator[tuple[bool, bool, str]]:
    """For each slip set into the book: whether it is found, whether it is mended, its words."""
    rng = random.Random(7)
    places = [
        (scene.id, rng.choice(matches))
        for scene in book.scenes
        for start, paragraph in zip(scene.passage.starts, scene.passage.paragraphs, strict=True)
        if (matches := slip.matches(scene.passage.text, start, start + len(paragraph.text) + 1))
    ]
    # More of one slip in agreement is taken for the narrator's way of speaking, and what is done
    # otherwise in more than a third of places is no slip.
    number = min(number, 3) if slip.overlay == "agreement" else min(number, len(places) // 5)
    chosen = rng.sample(places, min(number, len(places)))
    # From the end, so that none moves another.
    chosen.sort(key=lambda place: place[1], reverse=True)
    moved: dict[str, list[tuple[int, int, str]]] = {}
    for scene_id, (first, last) in chosen:
        old = book.scene(scene_id).passage.text[first:last]
        new = slip.made_of(old)
        book = editing.edit(book, scene_id, first, last, Passage.plain(new))
        by = len(new) - len(old)
        earlier = moved.setdefault(scene_id, [])
        moved[scene_id] = [(start + by, end + by, was) for start, end, was in earlier]
        moved[scene_id].append((first, first + len(new), old))
    queries = list(Examiner().examine(book, Stage.PROOF, overlays=[slip.overlay]))
    for scene_id, made in moved.items():
        text = book.scene(scene_id).passage.text
        of_scene = [query for query in queries if query.scene == scene_id]
        for start, end, old in made:
            at = [q for q in of_scene if q.start <= max(end, start + 1) + 1 and q.end >= start - 1]
            wanted = text[:start] + old + text[end:]
            shown = f"{text[max(0, start - 50) : start]}[{text[start:end]}]{text[end : end + 40]}"
            yield bool(at), any(_taken(text, q) == wanted for q in at), shown.replace("\n", "¶")


def _is_told(before: str) -> bool:
    """Whether what comes after stands in narration, as far as its marks say."""
    return before.count("“") == before.count("”")


def _taken(text: str, query: Query) -> str | None:
    if query.proposal is None:
        return None
    return text[: query.start] + query.proposal + text[query.end :]


if __name__ == "__main__":
    main()
