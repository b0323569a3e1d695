"""Overlay: an uncommon word that comes back too soon."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from reglet.language.frequency import is_mostly_name, zipf
from reglet.language.lemmas import lemma
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House, Strictness
from reglet.overlays.overlay import Finding, of_scene
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadScene

# For each strictness, how many words may lie between for a word up to so common on the Zipf scale
# (see `language.frequency`): the rarer the word, the longer the ear keeps it (our own figures).
_REACH = {
    Strictness.LENIENT: ((3.5, 60), (4.5, 20)),
    Strictness.USUAL: ((3.7, 90), (4.6, 35), (5.1, 14)),
    Strictness.STRICT: ((3.9, 140), (4.8, 60), (5.4, 24)),
}
_SHORTEST = 4


@dataclass(frozen=True, slots=True)
class _Use:
    start: int
    end: int
    text: str
    at: int


def echo(scene: ReadScene, house: House) -> Iterator[Finding]:
    """An uncommon word that comes back too soon is heard twice, and reads as a slip.

    Counted by its dictionary form, so that "shadow" echoes "shadows"; the rarer the word in
    English and in the scene, the further its echo carries. Names and small words are left out,
    and so is a word that the scene uses throughout: that is its subject.
    """
    uses = _uses(scene)
    reaches = _REACH[house.strictness_of("echo")]
    subject = max(6, scene.word_count // 150)
    for word, places in uses.items():
        reach = next((far for most, far in reaches if zipf(word) <= most), 0)
        if not reach or len(places) > subject:
            continue
        for first, second in pairwise(places):
            between = second.at - first.at - 1
            if 0 < between <= reach:
                yield Finding(
                    second.start,
                    second.end,
                    f"“{second.text}” echoes “{first.text}”, {between} words before.",
                )


def _uses(scene: ReadScene) -> dict[str, list[_Use]]:
    """The places of each word that could echo, by its dictionary form."""
    uses: dict[str, list[_Use]] = {}
    count = 0
    for start, read in scene.prose():
        for word in read.prose.words:
            count += 1
            if len(word.text) >= _SHORTEST and not _may_be_name(word.text):
                use = _Use(start + word.start, start + word.end, word.text, count)
                uses.setdefault(lemma(word.text), []).append(use)
    return uses


def _may_be_name(word: str) -> bool:
    """Capitalised, and English does not write it small: names open sentences as other words do."""
    return word[:1].isupper() and (is_mostly_name(word) or not zipf(word))


OVERLAY = of_scene(echo, Stage.LINE, ProofMark.ASK)
EXAMPLES_MARKED = {
    "The lantern swung in the wind. He took the [lantern] down and went out.": None,
    "A shadow crossed the sill, and then he saw the other [shadows].": None,
}
EXAMPLES_UNMARKED = (
    "He went to the door. Then he went out and shut the door behind him.",
    "Dorrel came in. Dorrel sat down.",
)
