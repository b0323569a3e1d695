"""Running overlays over a book, and keeping what they found as long as the text stays the same."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import lru_cache

from reglet.language.prose import read_ahead
from reglet.manuscript.book import Book, StyleSheet
from reglet.manuscript.scene import Scene
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House, house_of
from reglet.overlays.overlay import Finding, Known, Overlay, Recurrence, Scope
from reglet.overlays.proof.spelling import OVERLAY as SPELLING
from reglet.overlays.proof.spelling import bare_name
from reglet.overlays.query import Query
from reglet.overlays.reading import ReadBook, ReadParagraph, read_scene
from reglet.overlays.register import named, of_stage

FEWEST_FOR_A_NAME = 3
"""An unknown capitalised word that stands this often is taken for a name (our own figure)."""


class Examiner:
    """Examines books. It holds no book, only what overlays found in paragraphs and scenes it has
    seen, so that after an edit the changed paragraph alone is looked at again.

    One examiner is used by one thread at a time.
    """

    def __init__(self, paragraphs: int = 100_000) -> None:
        """`paragraphs`: how many results, a paragraph and an overlay each, are kept at most."""
        self._in_paragraph = lru_cache(maxsize=paragraphs)(_look_at_paragraph)
        self._in_scene = lru_cache(maxsize=4096)(_look_at_scene)

    def examine(
        self,
        book: Book,
        stage: Stage,
        scene_ids: Iterable[str] | None = None,
        overlays: Sequence[str] | None = None,
        house: House | None = None,
    ) -> Iterator[Query]:
        """The queries of a stage, scene by scene in the book's order, by place within a scene.

        `scene_ids` and `overlays` narrow it; `house` is the book's own unless given. Raises
        UnknownThing for a scene or overlay that is not there.
        """
        house = house or house_of(book)
        chosen = [named(name) for name in overlays] if overlays is not None else of_stage(stage)
        chosen = [overlay for overlay in chosen if overlay.stage is stage]
        wanted = [book.scene(each) for each in scene_ids] if scene_ids is not None else book.texts
        known = Known()
        if any(overlay.settle for overlay in chosen):
            known = self._known(book, house)
        of_book = self._of_book(book, house, chosen)
        for scene in wanted:
            found = [
                _query(overlay, scene, finding)
                for overlay, finding in self._of_scene(chosen, scene, house, known)
            ]
            found += [
                _query(overlay, scene, finding)
                for overlay, scene_id, finding in of_book
                if scene_id == scene.id
            ]
            yield from sorted(
                (_stood(query, scene, book.style_sheet) for query in found),
                key=lambda query: (query.start, query.end, query.overlay),
            )

    def names(self, book: Book, house: House | None = None) -> Counter[str]:
        """The unknown capitalised words of the book that stand often enough to be names, with how
        often each stands; those in the style sheet already are left out.
        """
        return Counter(self._known(book, house or house_of(book)).names)

    def _known(self, book: Book, house: House) -> Known:
        """What the book as a whole says of the words that no dictionary has."""
        counts: Counter[str] = Counter()
        recurring: dict[str, Recurrence] = {}
        for scene in book.texts:
            for start, paragraph in read_scene(scene, house.marks).prose():
                for finding in self._in_paragraph(SPELLING, paragraph, house):
                    word = paragraph.paragraph.text[finding.start : finding.end]
                    if word[:1].isupper():
                        counts[bare_name(word)] += 1
                    bare = bare_name(word).lower()
                    first = recurring.get(bare) or Recurrence(scene.id, start + finding.start, 0)
                    recurring[bare] = replace(first, count=first.count + 1)
        words = book.style_sheet.words
        names = {
            name: count
            for name, count in counts.items()
            if count >= FEWEST_FOR_A_NAME and name not in words
        }
        return Known(words, names, recurring)

    def _of_scene(
        self, overlays: Sequence[Overlay], scene: Scene, house: House, known: Known
    ) -> Iterator[tuple[Overlay, Finding]]:
        read = read_scene(scene, house.marks)
        if any(overlay.stage is Stage.LINE for overlay in overlays):
            read_ahead(each.prose for _, each in read.prose())
        of_scene = tuple(overlay for overlay in overlays if overlay.scope is Scope.SCENE)
        if of_scene:
            yield from self._in_scene(of_scene, scene, house)
        of_paragraph = [overlay for overlay in overlays if overlay.scope is Scope.PARAGRAPH]
        for start, paragraph in read.prose():
            for overlay in of_paragraph:
                for finding in self._in_paragraph(overlay, paragraph, house):
                    text = paragraph.paragraph.text[finding.start : finding.end]
                    found: Finding | None = replace(
                        finding, start=finding.start + start, end=finding.end + start
                    )
                    if found and overlay.settle:
                        found = overlay.settle(found, text, scene.id, known, house)
                    if found:
                        yield overlay, found

    def _of_book(
        self, book: Book, house: House, overlays: Iterable[Overlay]
    ) -> list[tuple[Overlay, str, Finding]]:
        chosen = [overlay for overlay in overlays if overlay.scope is Scope.BOOK]
        if not chosen:
            return []
        read = ReadBook(book, tuple(read_scene(scene, house.marks) for scene in book.scenes))
        return [
            (overlay, scene_id, finding)
            for overlay in chosen
            for scene_id, finding in overlay.look(read, house)
        ]


def _look_at_paragraph(
    overlay: Overlay, paragraph: ReadParagraph, house: House
) -> tuple[Finding, ...]:
    return tuple(overlay.look(paragraph, house))


def _look_at_scene(
    overlays: Iterable[Overlay], scene: Scene, house: House
) -> tuple[tuple[Overlay, Finding], ...]:
    read = read_scene(scene, house.marks)
    return tuple(
        (overlay, finding) for overlay in overlays for finding in overlay.look(read, house)
    )


def _query(overlay: Overlay, scene: Scene, finding: Finding) -> Query:
    return Query(
        overlay=overlay.name,
        stage=overlay.stage,
        scene=scene.id,
        start=finding.start,
        end=finding.end,
        text=scene.passage.text[finding.start : finding.end],
        message=finding.message,
        mark=finding.mark or overlay.mark,
        proposal=finding.proposal,
    )


def _stood(query: Query, scene: Scene, sheet: StyleSheet) -> Query:
    """The query marked as stet where the writer has let its words stand."""
    words = (query.overlay, query.text)
    stands = any((a.overlay, a.words) == words for a in scene.allowances | sheet.allowances) or any(
        (each.overlay, each.start, each.end) == (query.overlay, query.start, query.end)
        for each in scene.stets
    )
    return replace(query, stet=True) if stands else query
