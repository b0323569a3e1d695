"""What the whole book does in one of two ways, counted scene by scene and kept with the scene."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass

from reglet.overlays.overlay import Finding
from reglet.overlays.reading import ReadBook, ReadParagraph


@dataclass(frozen=True, slots=True)
class Use:
    """One place where the book chose: which question, which way, and what stands there."""

    question: str
    way: str
    start: int
    end: int
    text: str


Uses = Callable[[ReadParagraph], Iterable[Use]]


def minorities(
    book: ReadBook,
    uses: Uses,
    better: Callable[[Use, str], str],
    most: float = 0.34,
    same_question: Callable[[str], str] = lambda question: question,
) -> Iterator[tuple[str, Finding]]:
    """The places that go the rarer way, each with the scene's id and the commoner way proposed.

    `better(use, way)` is what the place would read in the commoner way. A rarer way that makes up
    more than the share `most` is not called rare, for the book has then no way of its own.
    """
    placed: defaultdict[str, list[tuple[str, Use]]] = defaultdict(list)
    for scene in book.scenes:
        for start, paragraph in scene.prose():
            for use in uses(paragraph):
                moved = Use(use.question, use.way, use.start + start, use.end + start, use.text)
                placed[same_question(use.question)].append((scene.scene.id, moved))
    for question in placed:
        counts = Counter(use.way for _, use in placed[question])
        common, often = counts.most_common(1)[0]
        rare = sum(counts.values()) - often
        if not rare or rare / (rare + often) > most:
            continue
        for scene_id, use in placed[question]:
            if use.way != common:
                yield scene_id, _asked(use, common, counts, better(use, common))


def _asked(use: Use, common: str, counts: Mapping[str, int], proposal: str) -> Finding:
    message = (
        f"The book has {common} {_times(counts[common])} and {use.way} {_times(counts[use.way])}."
    )
    return Finding(use.start, use.end, message, proposal)


def _times(count: int) -> str:
    return {1: "once", 2: "twice"}.get(count, f"{count} times")
