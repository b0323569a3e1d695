"""Overlay: an uncommon word that comes back too soon."""

from collections.abc import Iterator
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

from reglet.language.frequency import is_mostly_name, zipf
from reglet.language.lemmas import lemma
from reglet.language.remembered import Remembered
from reglet.language.sentences import Sentence
from reglet.language.words import Word
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
# Nearer than this a word is mostly repeated on purpose: "louder and louder", "he waited; he always
# waited" (our own figure).
_NEAREST = 8
# Beside a word they say that it is said again and why: "he grinned, and she grinned too".
_AGAIN = frozenset("too also likewise again back same such so neither still having".split())
# Before it they point back at what was said: "this laughter", "their drink".
_POINTING = frozenset("the this that these those such my your his her its our their".split())
# Before a word they make no phrase with it.
_LOOSE = frozenset("the a an and of to in with his her my their its he she it they".split())
_NOT = frozenset("not never no n't cannot hardly without nor".split())
# Nearer than this in one sentence the same form is mostly a figure of speech (our own figure).
_FIGURE = 20
# "As he rode …": the sentence begins with what the last one said.
_TAKES_UP = frozenset("as when while before after once".split())
_NUMBERS = frozenset(
    "three four five seven eight nine eleven twelve thirteen fourteen fifteen sixteen twenty "
    "thirty forty fifty sixty seventy eighty ninety hundred thousand million dozen half third "
    "fourth fifth".split()
)
# Small words beside a word say nothing of whether a whole phrase is repeated.
_SMALL_WORDS = 5.4
# Right after it even a common word makes a phrase of it, but for the very commonest.
_FREE_WORDS = 6.5
# A verb so near, or so common (Zipf), is mostly the same deed told on; an adjective so common, the
# same thing described on (our own figures).
_TOLD_ON_NEAR, _TOLD_ON_COMMON, _DESCRIBED_ON_COMMON = 14, 5.0, 4.8
_LIKENS = frozenset("as than".split())
# Three uses in so many words are no slip: the passage is about that.
_ABOUT = 250


class _Root(NamedTuple):
    """A word that could echo: its place among the words of its paragraph, what it is known by, and
    how common it is (Zipf).
    """

    place: int
    root: str
    zipf: float


class _Use(NamedTuple):
    """A use of a word in a scene: `at` counts the scene's words, `place` its paragraph's."""

    at: int
    start: int
    read: ReadParagraph
    place: int
    zipf: float

    @property
    def word(self) -> Word:
        """The word, in code points of its paragraph."""
        return self.read.prose.words[self.place]


def echo(scene: ReadScene, house: House) -> Iterator[Finding]:
    """An uncommon word that comes back soon is heard twice: a gain where it is meant, else a slip.

    In narration, counted by its dictionary form, so that "shadow" echoes "shadows"; the rarer the
    word, the further its echo carries. Left out are names, small words, a word that the passage is
    about, a thing named again because it is the same thing ("a lantern … the lantern"), and what is
    plainly said again on purpose: close by, or with a neighbour. Unless strict, so is what mostly
    goes on with what was said: a common verb or adjective, a verb that takes up a noun.

    Source: common practice; the figures are our own.
    """
    strictness = house.strictness_of("echo")
    reaches = _REACH[strictness]
    farthest = reaches[0][1]
    subject = max(6, scene.word_count // 150)
    for places in _uses(scene, reaches[-1][0]):
        if len(places) > subject:
            continue
        for number, (first, second) in enumerate(pairwise(places)):
            between = second.at - first.at - 1
            if not _NEAREST <= between <= farthest:
                continue
            common = max(first.zipf, second.zipf)
            reach = next((far for most, far in reaches if common <= most), 0)
            if between > reach or _is_about(places, number):
                continue
            if _is_meant(first, second) or _same_thing(first, second):
                continue
            if strictness < Strictness.STRICT and _goes_on(first, second, between):
                continue
            word = second.word
            yield Finding(
                second.start + word.start,
                second.start + word.end,
                f"“{word.text}” echoes “{first.word.text}”, {between} words before. Is it meant?",
            )


def _uses(scene: ReadScene, commonest: float) -> Iterator[list[_Use]]:
    """The places of each word that stands twice or more, its forms together."""
    places: dict[str, list[_Use]] = {}
    count = 0
    for start, read in scene.prose():
        for place, root, common in _roots(read, commonest):
            use = _Use(count + place, start, read, place, common)
            places.setdefault(root, []).append(use)
        count += len(read.prose.words)
    return (found for found in places.values() if len(found) > 1)


@lru_cache(maxsize=16_384)
def _roots(read: ReadParagraph, commonest: float) -> tuple[_Root, ...]:
    """The narrated words that could echo."""
    words = read.prose.words
    spoken = [(each.start, each.end) for each in read.prose.quotations if each.spoken]
    found = []
    for place, plain in enumerate(read.plain_words):
        root, common = _ROOTS[plain]
        if not root or common > commonest:
            continue
        if words[place].text[0].isupper() and _may_be_name(read, words[place]):
            continue
        at = words[place].start
        if not spoken or not any(start <= at < end for start, end in spoken):
            found.append(_Root(place, root, common))
    return tuple(found)


def _root(plain: str) -> tuple[str, float]:
    """The dictionary form, an adverb's adjective for the adverb: "perfectly" echoes "perfect"; and
    how common the word is. "" for one that never echoes.
    """
    if len(plain) < _SHORTEST or not plain.isalpha() or plain in _NUMBERS:
        return "", 0.0
    common = zipf(plain)
    base = lemma(plain)
    if base.endswith("ly") and len(base) > 5:
        stem = base[:-2]
        for adjective in (stem, f"{stem[:-1]}y" if stem.endswith("i") else f"{stem}le"):
            if zipf(adjective) > 2:
                return adjective, common
    return base, common


_ROOTS = Remembered(_root)


def _is_about(places: list[_Use], number: int) -> bool:
    """Whether the pair is two of three or more uses close together."""
    here = places[number + 1].at
    return sum(abs(each.at - here) <= _ABOUT for each in places) > 2


def _is_meant(first: _Use, second: _Use) -> bool:
    """Whether the word is said again on purpose.

    So it is if a neighbour comes back with it, if a word such as "too" or "again" stands beside it,
    if one of the two is denied and the other not, if it opens a sentence, which takes it up, or
    if it stands in one sentence with the first, close by in the same form, which is a figure of
    speech, or likened to it.
    """
    one, two = first.place, second.place
    words, others = first.read.plain_words, second.read.plain_words
    near = {*words[max(0, one - 2) : one], *words[one + 1 : one + 3]}
    again = {*others[max(0, two - 2) : two], *others[two + 1 : two + 3]}
    if not near.isdisjoint(each for each in again if zipf(each) < _SMALL_WORDS):
        return True
    if one > 1 and words[one - 2 : one] == others[max(0, two - 2) : two]:
        return True
    left, right = words[max(0, one - 1) : one], words[one + 1 : one + 3]
    if right and right == others[two + 1 : two + 3]:
        return True
    if right[:1] == others[two + 1 : two + 2] and right and zipf(right[0]) < _FREE_WORDS:
        return True
    if left and left == others[max(0, two - 1) : two] and _LOOSE.isdisjoint(left):
        return True
    if not _AGAIN.isdisjoint(again) or _is_denied(words, one) != _is_denied(others, two):
        return True
    sentence = _sentence(second)
    opening = second.read.prose.words_in(sentence.start, second.word.start)
    if not opening or (len(opening) < 4 and opening[0].text.lower() in _TAKES_UP):
        return True
    together = first.read is second.read and first.word.start >= sentence.start
    if together and not _LIKENS.isdisjoint(words[one + 1 : two]):
        return True
    return together and words[one] == others[two] and second.at - first.at <= _FIGURE


def _is_denied(words: tuple[str, ...], at: int) -> bool:
    return any(each in _NOT or each.endswith("n't") for each in words[max(0, at - 2) : at])


def _sentence(use: _Use) -> Sentence:
    return next(each for each in use.read.prose.sentences if each.end > use.word.start)


def _same_thing(first: _Use, second: _Use) -> bool:
    """Whether the two are likely to name one thing, or one kind of thing: two nouns of one root, a
    noun that points back at a verb ("he laughed … this laughter"), or an adjective that tells
    again which thing is meant ("the elderly man").
    """
    one, two = _tag(first), _tag(second)
    before = second.read.plain_words[max(0, second.place - 1) : second.place]
    if first.word.text.lower() == second.word.text.lower() and not _POINTING.isdisjoint(before):
        return True
    if two.startswith(("NN", "VBG")) and one.startswith("VB") and _points(second):
        return True
    if one.startswith("JJ") and two.startswith("JJ") and _points(second):
        return True
    nouns = "NN" in (one[:2], two[:2]) and {one[:2], two[:2]} <= {"NN", "JJ"}
    return nouns and (one[:2] == two[:2] or lemma(first.word.text) == lemma(second.word.text))


def _goes_on(first: _Use, second: _Use, between: int) -> bool:
    """Whether the second is likely to go on with what the first said: a deed, how a thing is, what
    is done with it.
    """
    one, two = _tag(first)[:2], _tag(second)[:2]
    common = max(first.zipf, second.zipf)
    if one == two == "VB":
        return between <= _TOLD_ON_NEAR or common >= _TOLD_ON_COMMON
    if one == two == "JJ":
        return common >= _DESCRIBED_ON_COMMON
    return one == "NN" and two == "VB"


def _tag(use: _Use) -> str:
    return use.read.prose.tags[_token(use)]


def _token(use: _Use) -> int:
    return next(at for at, token in enumerate(use.read.prose.tokens) if token.end > use.word.start)


def _points(use: _Use) -> bool:
    before = use.read.plain_words[max(0, use.place - 2) : use.place]
    return not _POINTING.isdisjoint(before)


def _may_be_name(read: ReadParagraph, word: Word) -> bool:
    """Whether a capitalised word is a name: it opens no sentence, or English writes it so."""
    opens = any(0 <= word.start - sentence.start < 2 for sentence in read.prose.sentences)
    return not opens or is_mostly_name(word.text) or not zipf(word.text)


OVERLAY = of_scene(echo, Stage.LINE, ProofMark.ASK)
EXAMPLES_MARKED = {
    "The lantern swung in the wind. He went out without a word to her or to anybody, and the gate "
    "behind him [swung] to.": None,
    "He shadowed his eyes and looked for a while at the wall; and a [shadow] crossed it.": None,
    "He went on in perfect peace, and what he said and did next was [perfectly] wrong.": None,
}
EXAMPLES_UNMARKED = (
    "He went to the door. Then he went out and shut the door behind him.",
    "A lantern hung on the wall. He rose, and in the dark took the lantern down, and went.",
    "It grew fainter and fainter. Dorrel came in, and soon after that Dorrel sat down.",
    "They came upon a shell on the road, and in the end their guns had shelled the hill.",
    "He mumbled to his wife, and what he said to her then was long; and he mumbled to his wife.",
    "She grinned at the man who stood before her in the rain, and he grinned too.",
)
