"""Overlay: one name spelt in two ways."""

from collections import Counter, defaultdict
from collections.abc import Iterator
from functools import lru_cache

from reglet.manuscript.stage import Stage
from reglet.overlays.house import House
from reglet.overlays.overlay import Finding, of_book
from reglet.overlays.proof.spelling import bare_name
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadBook, ReadParagraph

_SHORTEST = 5
_OFTEN, _RARE = 8, 3  # how often the common form stands at least, and the rare one at most
_ENDS_SENTENCE = '.!?…:“‘”"—–*'
# Letters and groups that are written for one another in names, each as one sign.
_ALIKE = (
    ("ph", "f"),
    ("ck", "k"),
    ("c", "k"),
    ("y", "i"),
    ("ie", "i"),
    ("ee", "i"),
    ("z", "s"),
    ("ae", "e"),
    ("gh", "g"),
    ("th", "t"),
)


def name_form(book: ReadBook, house: House) -> Iterator[tuple[str, Finding]]:
    """One name spelt in two ways makes two people of one; the commoner spelling is proposed.

    Forms that sound alike are compared ("Caspar", "Kaspar"; "Dorrel", "Dorrell"), and a form is
    asked about only where it is rare beside the other and never stands beside it in one paragraph.
    """
    places: defaultdict[str, list[tuple[str, int, int]]] = defaultdict(list)
    for scene in book.scenes:
        for start, paragraph in scene.prose():
            for name, at in _names_in(paragraph):
                places[name].append((scene.scene.id, start + at, start + at + len(name)))
    alike: defaultdict[str, list[str]] = defaultdict(list)
    for name in places:
        alike[_sound(name)].append(name)
    counts = Counter({name: len(found) for name, found in places.items()})
    for forms in alike.values():
        common = max(forms, key=lambda form: (counts[form], form))
        if counts[common] < _OFTEN:
            continue
        for form in forms:
            if form != common and counts[form] <= min(_RARE, counts[common] // 4):
                said = f"The book has “{common}” {counts[common]} times."
                for scene_id, start, end in places[form]:
                    yield scene_id, Finding(start, end, said, proposal=common)


@lru_cache(maxsize=16384)
def _names_in(read: ReadParagraph) -> tuple[tuple[str, int], ...]:
    """Capitalised words that do not open a sentence, without possessive endings."""
    text = read.paragraph.text
    found = []
    for word in read.prose.words:
        name = word.text
        if len(name) < _SHORTEST or not name[0].isupper() or name.isupper():
            continue
        before = text[: word.start].rstrip()[-1:]
        if before and before not in _ENDS_SENTENCE:
            bare = bare_name(name)
            if bare.isalpha() and len(bare) >= _SHORTEST:
                found.append((bare, word.start))
    return tuple(found)


@lru_cache(maxsize=65536)
def _sound(name: str) -> str:
    low = name.lower()
    for group, sign in _ALIKE:
        low = low.replace(group, sign)
    last = "s" if low.endswith("s") else ""
    once = "".join(letter for at, letter in enumerate(low) if at == 0 or letter != low[at - 1])
    return once + last


OVERLAY = of_book(name_form, Stage.PROOF, ProofMark.REPLACE)
_OFTEN_SAID = "He saw Caspar go. " * _OFTEN
EXAMPLES_MARKED = {_OFTEN_SAID + "He saw [Kaspar] come.": "Caspar"}
EXAMPLES_UNMARKED = ("He saw Caspar go. He saw Kaspar come.", _OFTEN_SAID + "He saw Casper come.")
