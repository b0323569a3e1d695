"""Overlay: one name spelt in two ways."""

from collections import Counter
from collections.abc import Iterator, Mapping

from reglet.language.frequency import zipf
from reglet.manuscript.stage import Stage
from reglet.numbers import times
from reglet.overlays.house import House
from reglet.overlays.overlay import Finding, of_book
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadBook
from reglet.story.names import given_names, title_of

# The rarer spelling stands at most this often, and in this share of the commoner one's places.
_RARE, _SHARE = 3, 0.34
_FEWEST_LETTERS = 4
# A word as common as this is a word before it is a slip of a name (Zipf scale).
_A_WORD = 3.5


def name_variant(read: ReadBook, house: House) -> Iterator[tuple[str, Finding]]:
    """A name with a C here and a K there may be one person to the writer and two to the reader.

    Looks at names that differ by a letter easily set for another, of which one is rare; two given
    names that are both common (Jean and Jane) are left alone, and so are plurals.
    """
    counts, inside = _name_words(read)
    people = frozenset(
        word for member in read.story.cast for form in member.forms for word in form.split()
    )
    meant = {
        rare: usual
        for rare, count in counts.items()
        if count <= _RARE and rare in inside and (usual := _usual(rare, counts, people))
    }
    if not meant:
        return
    for facts in read.story.scenes:
        for mention in facts.named.mentions:
            for word in mention.form.split():
                if word in meant:
                    text = facts.scene.passage.text
                    start = text.find(word, mention.start, mention.end)
                    if start < 0:
                        continue
                    message = (
                        f"“{word}” stands {times(counts[word])} and “{meant[word]}” "
                        f"{times(counts[meant[word]])}. Are they one name?"
                    )
                    yield (
                        facts.scene.id,
                        Finding(start, start + len(word), message, meant[word]),
                    )


def _name_words(read: ReadBook) -> tuple[Counter[str], frozenset[str]]:
    """How often each word of a name stands, and which of them stand where no sentence opens."""
    counts: Counter[str] = Counter()
    inside: set[str] = set()
    for facts in read.story.scenes:
        for form, tally in facts.named.tally.items():
            for word in form.split()[1 if title_of(form) else 0 :]:
                counts[word] += tally.count
                if tally.inside:
                    inside.add(word)
    return counts, frozenset(inside)


def _usual(rare: str, counts: Mapping[str, int], people: frozenset[str]) -> str | None:
    if len(rare) < _FEWEST_LETTERS or zipf(rare) >= _A_WORD:
        return None
    for near in people:
        if near != rare and counts[near] >= 3 and counts[rare] <= _SHARE * counts[near]:
            both_given = {rare.lower(), near.lower()} <= given_names()
            if not both_given and may_be_misspelt(rare.lower(), near.lower()):
                return near
    return None


def may_be_misspelt(one: str, two: str) -> bool:
    """Whether two words in lower case differ by one letter that is easily set for the other: a
    vowel for a vowel, one consonant for another of its sound, a letter doubled or not, an "h" or a
    vowel inside more or less, two neighbours set the wrong way round.
    """
    one, two = sorted((one, two), key=len)
    if one == two or len(two) - len(one) > 1:
        return False
    at = next((i for i, (a, b) in enumerate(zip(one, two, strict=False)) if a != b), len(one))
    if len(one) < len(two):
        letter, before, after = two[at], two[at - 1 : at], two[at + 1 : at + 2]
        if one[at:] != two[at + 1 :]:
            return False
        # At its end a letter more makes a plural, an adjective, or a woman's name of a man's.
        return letter in (before, after) or (letter in "haeiouy" and 0 < at < len(one))
    rest = one[at + 1 :] == two[at + 1 :]
    if rest:
        last = at == len(one) - 1
        return not last and any(one[at] in each and two[at] in each for each in _ALIKE)
    return one[at : at + 2] == two[at : at + 2][::-1] and one[at + 2 :] == two[at + 2 :]


_ALIKE = ("aeiouy", "ckq", "csz", "gj", "fv", "mn", "dt", "bp")


OVERLAY = of_book(name_variant, Stage.STRUCTURE, ProofMark.ASK)
EXAMPLES_MARKED = {
    "Then Dorrel rose. Then Dorrel sat. Then Dorrel spoke, and poor [Dorrell] wept.": "Dorrel",
    "They saw Caspar, met Caspar, lost Caspar and found [Kaspar] again.": "Caspar",
}
EXAMPLES_UNMARKED = (
    "They saw Jane, met Jane, lost Jane and found Jean again.",
    "They saw Perry, met Perry, lost Perry and called on the Perrys again.",
    "They saw Dorrel, met Dorrel, lost Dorrel and found Tarrow again.",
)
