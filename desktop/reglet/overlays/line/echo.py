"""Overlay: an uncommon word that comes back too soon."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from reglet.language.frequency import is_mostly_name, zipf
from reglet.language.lemmas import lemma
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House, Strictness
from reglet.overlays.overlay import Finding, of_scene
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph, ReadScene

# For each strictness, how many words may lie between for a word up to so common on the Zipf scale
# (see `language.frequency`): the rarer the word, the longer the ear keeps it (our own figures).
_REACH = {
    Strictness.LENIENT: ((3.0, 60), (3.9, 40), (4.4, 20)),
    Strictness.USUAL: ((3.0, 90), (3.9, 75), (4.4, 50), (4.8, 40), (5.1, 25)),
    Strictness.STRICT: ((3.5, 140), (4.4, 80), (4.8, 50), (5.4, 25)),
}
_SHORTEST = 4
# Nearer than this a word is repeated on purpose: "louder and louder", "inch by inch".
_NEAREST = 4
# A noun this rare is heard again even where it is plainly the same thing.
_RARE = 3.0
# Three uses in so many words are no slip: the passage is about that.
_ABOUT = 250
# A noun after one of these means the thing spoken of before.
_POINTING = frozenset("the this that these those my your his her its our their".split())


@dataclass(frozen=True, slots=True)
class _Use:
    start: int
    end: int
    text: str
    at: int
    read: ReadParagraph
    within: int


def echo(scene: ReadScene, house: House) -> Iterator[Finding]:
    """An uncommon word that comes back too soon is heard twice, and reads as a slip.

    In narration, counted by its dictionary form, so that "shadow" echoes "shadows"; the rarer the
    word, the further its echo carries. Left out are names, small words, a word that the passage is
    about, and a thing named again because it is the same thing ("a lantern … the lantern").
    """
    reaches = _REACH[house.strictness_of("echo")]
    subject = max(6, scene.word_count // 150)
    for places in _uses(scene, house).values():
        if not 1 < len(places) <= subject:
            continue
        for number, (first, second) in enumerate(pairwise(places)):
            common = max(zipf(first.text), zipf(second.text))
            reach = next((far for most, far in reaches if common <= most), 0)
            between = second.at - first.at - 1
            if not _NEAREST <= between <= reach or _is_about(places, number):
                continue
            if common > _RARE and _same_thing(first, second):
                continue
            yield Finding(
                second.start,
                second.end,
                f"“{second.text}” echoes “{first.text}”, {between} words before.",
            )


def _uses(scene: ReadScene, house: House) -> dict[str, list[_Use]]:
    """The places of each word that could echo, by the root that its forms share."""
    commonest = _REACH[house.strictness_of("echo")][-1][0]
    uses: dict[str, list[_Use]] = {}
    count = 0
    for start, read in scene.prose():
        for word, plain in zip(read.prose.words, read.plain_words, strict=True):
            count += 1
            if len(plain) < _SHORTEST or _carries(plain) > commonest or _may_be_name(word.text):
                continue
            if not read.prose.quotations or not read.prose.is_spoken(word.start):
                use = _Use(start + word.start, start + word.end, word.text, count, read, word.start)
                uses.setdefault(_root(plain), []).append(use)
    return uses


@lru_cache(maxsize=65_536)
def _carries(plain: str) -> float:
    return zipf(plain)


@lru_cache(maxsize=65_536)
def _root(plain: str) -> str:
    """The dictionary form, an adverb's adjective for the adverb: "perfectly" echoes "perfect"."""
    base = lemma(plain)
    if base.endswith("ly") and len(base) > 5:
        stem = base[:-2]
        for adjective in (stem, f"{stem[:-1]}y" if stem.endswith("i") else f"{stem}le"):
            if zipf(adjective) > 2:
                return adjective
    return base


def _is_about(places: list[_Use], number: int) -> bool:
    """Whether the pair is two of three or more uses close together."""
    here = places[number + 1].at
    return sum(abs(each.at - here) <= _ABOUT for each in places) > 2


def _same_thing(first: _Use, second: _Use) -> bool:
    """Whether two uses of a noun name one thing: the second points back ("the", "his", "that")."""
    return all(_tag(use).startswith("NN") for use in (first, second)) and _points(second)


def _tag(use: _Use) -> str:
    return use.read.prose.tags[_token(use)]


def _token(use: _Use) -> int:
    return next(at for at, token in enumerate(use.read.prose.tokens) if token.end > use.within)


def _points(use: _Use) -> bool:
    tokens, tags = use.read.prose.tokens, use.read.prose.tags
    for before in range(_token(use) - 1, -1, -1):
        if tokens[before].text.lower() in _POINTING or tags[before] == "POS":
            return True
        if not tags[before].startswith(("JJ", "NN", "VBN", "VBG", "CD")):
            return False
    return False


def _may_be_name(word: str) -> bool:
    """Capitalised, and English does not write it small: names open sentences as other words do."""
    return word[:1].isupper() and (is_mostly_name(word) or not zipf(word))


OVERLAY = of_scene(echo, Stage.LINE, ProofMark.ASK)
EXAMPLES_MARKED = {
    "The lantern swung in the wind. He went out, and the gate [swung] to behind him.": None,
    "A shadow crossed the sill, and then he saw that there were other [shadows].": None,
    "He went on in perfect peace, and what he did next was [perfectly] wrong.": None,
}
EXAMPLES_UNMARKED = (
    "He went to the door. Then he went out and shut the door behind him.",
    "A lantern hung on the wall. He took the lantern down and went out with it.",
    "It grew fainter and fainter. Dorrel came in, and soon after that Dorrel sat down.",
)
