"""Overlay: one compound in two or three ways: "wood stove", "wood-stove", "woodstove"."""

import re
from collections import Counter, defaultdict
from collections.abc import Iterator
from functools import lru_cache

from reglet.manuscript.stage import Stage
from reglet.overlays.house import House
from reglet.overlays.overlay import Finding, of_book
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadBook, ReadParagraph

_HYPHENED = re.compile(r"([a-z]{3,})-([a-z]{3,})")


def compound(book: ReadBook, house: House) -> Iterator[tuple[str, Finding]]:
    """A compound goes one way all through a book, with a hyphen or closed up: the commoner way.

    Compared are compounds with a hyphen and the same letters closed up. Two words apart mean too
    often something else ("a high way") to be told from a compound.
    """
    hyphened: defaultdict[str, list[tuple[str, Finding]]] = defaultdict(list)
    solid: Counter[str] = Counter()
    for scene in book.scenes:
        for start, paragraph in scene.prose():
            for at, word in _hyphened(paragraph):
                place = Finding(start + at, start + at + len(word), "", None)
                hyphened[word.replace("-", "")].append((scene.scene.id, place))
    for scene in book.scenes:
        for _, paragraph in scene.prose():
            solid.update(paragraph.vocabulary & hyphened.keys())
    for joined, places in hyphened.items():
        closed, open_ = solid[joined], len(places)
        if closed > 2 * open_:
            for scene_id, place in places:
                said = f"The book has “{joined}” in {closed} paragraphs, hyphened {open_} times."
                yield scene_id, Finding(place.start, place.end, said, proposal=joined)
    yield from _closed_up(book, hyphened, solid)


def _closed_up(
    book: ReadBook, hyphened: dict[str, list[tuple[str, Finding]]], solid: Counter[str]
) -> Iterator[tuple[str, Finding]]:
    rare = {joined for joined, places in hyphened.items() if 0 < 2 * solid[joined] < len(places)}
    for scene in book.scenes if rare else ():
        for start, paragraph in scene.prose():
            if paragraph.vocabulary.isdisjoint(rare):
                continue
            for word, low in zip(paragraph.prose.words, paragraph.plain_words, strict=True):
                if low in rare:
                    scene_id, first = hyphened[low][0]
                    model = book.book.scene(scene_id).passage.text[first.start : first.end]
                    cut = model.index("-")
                    better = f"{word.text[:cut]}-{word.text[cut:]}"
                    said = f"The book has “{model}” {len(hyphened[low])} times."
                    yield (
                        scene.scene.id,
                        Finding(word.start + start, word.end + start, said, proposal=better),
                    )


@lru_cache(maxsize=16384)
def _hyphened(read: ReadParagraph) -> tuple[tuple[int, str], ...]:
    return tuple(
        (word.start, word.text) for word in read.prose.words if _HYPHENED.fullmatch(word.text)
    )


OVERLAY = of_book(compound, Stage.PROOF, ProofMark.REPLACE)
EXAMPLES_MARKED = {
    "The woodstove.\nThe woodstove glowed.\nA woodstove.\nThe [wood-stove] was cold.": "woodstove",
    "A wood-stove, the wood-stove, his wood-stove.\nThe [woodstove] was cold.": "wood-stove",
}
EXAMPLES_UNMARKED = ("The wood-stove and the woodstove.", "A well-known man, well known.")
