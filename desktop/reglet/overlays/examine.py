"""Running overlays over a book, and keeping what they found as long as the text stays the same."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from functools import lru_cache

from reglet.language.prose import read_ahead
from reglet.manuscript.book import Book, StyleSheet
from reglet.manuscript.scene import Scene
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House, house_of
from reglet.overlays.overlay import Finding, Overlay, Scope
from reglet.overlays.proof import spelling
from reglet.overlays.query import Query
from reglet.overlays.reading import ReadBook, ReadParagraph, read_scene
from reglet.overlays.register import named, of_stage
from reglet.overlays.tally import Tally, Use, moved
from reglet.overlays.word_counts import WordCounts


class Examiner:
    """Examines books. It holds no book, only what overlays found in paragraphs and scenes it has
    seen, so that after an edit the changed paragraph alone is looked at again.

    One examiner is used by one thread at a time.
    """

    def __init__(self, paragraphs: int = 200_000) -> None:
        """`paragraphs`: how many paragraphs' results are kept at most, for each set of overlays
        that is asked for.
        """
        self._in_paragraph = lru_cache(maxsize=paragraphs)(_look_at_paragraph)
        self._uses_in = lru_cache(maxsize=paragraphs)(_uses_in_paragraph)
        self._in_scene = lru_cache(maxsize=4096)(_look_at_scene)
        self._tallies: dict[Overlay, Tally] = {}
        self._tallied_for: House | None = None
        self._word_counts = WordCounts()

    def examine(
        self,
        book: Book,
        stage: Stage,
        scene_ids: Iterable[str] | None = None,
        overlays: Iterable[str] | None = None,
        house: House | None = None,
    ) -> Iterator[Query]:
        """The queries of a stage, scene by scene in the book's order, by place within a scene.

        `scene_ids` and `overlays` narrow it; `house` is the book's own unless given. Raises
        UnknownThing for a scene or overlay that is not there.
        """
        house = house or house_of(book)
        asked = [named(name) for name in overlays] if overlays is not None else of_stage(stage)
        chosen = tuple(overlay for overlay in asked if overlay.stage is stage)
        wanted = [book.scene(each) for each in scene_ids] if scene_ids is not None else book.texts
        of_book = self._of_book(book, house, chosen)
        tallies = [
            (each, self._tally(each, book, house)) for each in chosen if each.scope is Scope.USES
        ]
        counts: Mapping[str, int] = {}
        if any(each.weigh for each in chosen):
            counts = self._word_counts.of(book.texts, house.marks)
        sheet = spelling.taught(book)
        for scene in wanted:
            found = [
                weighed
                for each in self._of_scene(chosen, scene, house)
                for weighed in _weighed(*each, scene, counts, book.style_sheet, house)
            ]
            for overlay, tally in tallies:
                found += _judged(overlay, scene, tally, sheet, house)
            found += [(overlay, each) for overlay, place, each in of_book if place == scene.id]
            yield from sorted(
                (_query(overlay, scene, each, book) for overlay, each in found),
                key=lambda query: (query.start, query.end, query.overlay),
            )

    def names(self, book: Book, house: House | None = None) -> Counter[str]:
        """The unknown words of the book that stand often enough to be its own, names above all,
        with how often each stands; those in the style sheet already are left out.
        """
        house = house or house_of(book)
        tally = self._tally(spelling.OVERLAY, book, house)
        return Counter(spelling.own_words(tally, spelling.taught(book), house.language))

    def ways(self, overlay: Overlay, question: str, book: Book) -> Mapping[str, int]:
        """How often the book goes each way that answers a question of an overlay of uses."""
        return self._tally(overlay, book, house_of(book)).ways(question)

    def _tally(self, overlay: Overlay, book: Book, house: House) -> Tally:
        """What an overlay's uses in the book add up to."""
        if house != self._tallied_for:
            self._tallies.clear()
            self._tallied_for = house

        def uses(scene: Scene) -> Iterator[Use]:
            for start, paragraph in read_scene(scene, house.marks).prose():
                for use in self._uses_in(overlay, paragraph, house):
                    yield moved(use, start)

        tally = self._tallies.get(overlay, Tally()).recounted(book.texts, uses)
        self._tallies[overlay] = tally
        return tally

    def _of_scene(
        self, overlays: tuple[Overlay, ...], scene: Scene, house: House
    ) -> Iterator[tuple[Overlay, Finding]]:
        read = read_scene(scene, house.marks)
        if any(overlay.stage is Stage.LINE for overlay in overlays):
            read_ahead(each.prose for _, each in read.prose())
        of_scene = tuple(overlay for overlay in overlays if overlay.scope is Scope.SCENE)
        if of_scene:
            yield from self._in_scene(of_scene, scene, house)
        of_paragraph = tuple(each for each in overlays if each.scope is Scope.PARAGRAPH)
        for start, paragraph in read.prose():
            for overlay, found in self._in_paragraph(of_paragraph, paragraph, house):
                yield overlay, replace(found, start=found.start + start, end=found.end + start)

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
    overlays: tuple[Overlay, ...], paragraph: ReadParagraph, house: House
) -> tuple[tuple[Overlay, Finding], ...]:
    return tuple(
        (overlay, finding) for overlay in overlays for finding in overlay.look(paragraph, house)
    )


def _uses_in_paragraph(overlay: Overlay, paragraph: ReadParagraph, house: House) -> tuple[Use, ...]:
    return tuple(overlay.look(paragraph, house))


def _look_at_scene(
    overlays: Iterable[Overlay], scene: Scene, house: House
) -> tuple[tuple[Overlay, Finding], ...]:
    read = read_scene(scene, house.marks)
    return tuple(
        (overlay, finding) for overlay in overlays for finding in overlay.look(read, house)
    )


def _weighed(
    overlay: Overlay,
    finding: Finding,
    scene: Scene,
    counts: Mapping[str, int],
    sheet: StyleSheet,
    house: House,
) -> Iterator[tuple[Overlay, Finding]]:
    if overlay.weigh is None:
        yield overlay, finding
        return
    text = scene.passage.text[finding.start : finding.end]
    left = overlay.weigh(finding, text, counts, sheet, house)
    if left is not None:
        yield overlay, left


def _judged(
    overlay: Overlay, scene: Scene, tally: Tally, sheet: StyleSheet, house: House
) -> Iterator[tuple[Overlay, Finding]]:
    assert overlay.judge is not None
    for use in tally.in_scene(scene.id):
        found = overlay.judge(use, tally, sheet, house)
        if found is not None:
            yield overlay, found


def _query(overlay: Overlay, scene: Scene, finding: Finding, book: Book) -> Query:
    if finding.chapter:
        text = book.chapter(finding.chapter).title
    else:
        text = scene.passage.text[finding.start : finding.end]
    return Query(
        overlay=overlay.name,
        stage=overlay.stage,
        scene=scene.id,
        start=finding.start,
        end=finding.end,
        text=text,
        message=finding.message,
        mark=finding.mark or overlay.mark,
        proposal=finding.proposal,
        stet=_stands(overlay.name, finding, text, scene, book.style_sheet),
        choice=finding.choice,
        dress=finding.dress,
        chapter=finding.chapter,
    )


def _stands(name: str, finding: Finding, text: str, scene: Scene, sheet: StyleSheet) -> bool:
    """Whether the writer has let these words stand."""
    return any(
        (each.overlay, each.words) == (name, text) for each in scene.allowances | sheet.allowances
    ) or any(
        (each.overlay, each.start, each.end) == (name, finding.start, finding.end)
        for each in scene.stets
    )
