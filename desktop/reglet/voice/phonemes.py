"""Which sounds belong to which word.

A voice's dictionary turns a whole clause into sounds, for words change beside one another ("the"
before a vowel, "of the" run together), and says nothing of which word a sound is from. So each
word is also asked for alone, and the two are laid side by side with the fewest differences
(Wagner and Fischer's alignment of two strings, 1974).
"""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass

STRESS = "ˈˌ"
_NOT_SOUNDS = frozenset(STRESS + "ː .,;:!?")
_OTHER, _MISSING, _WORD_START = 10, 9, 2
"""What a changed sound, a sound on one side only, and a word's start within a group cost."""

_VOWELS = frozenset("aeiouyæɐɑɒɔəɚɛɜɝɪʊʌʉɨø")


@dataclass(frozen=True, slots=True)
class Stretch:
    """Phonemes `start` up to `end` of an utterance: one word's."""

    start: int
    end: int


def laid_out(sounds: str) -> list[str]:
    """IPA as the single marks that a voice is fed with: accents parted from their letters."""
    return list(unicodedata.normalize("NFD", sounds))


def stretches(utterance: Sequence[str], words: Sequence[str]) -> list[Stretch]:
    """Where each of `words` (the IPA of each alone) lies in the phonemes of an utterance.

    The stretches are in order and do not overlap; one is empty where a word has no sound of its
    own. A stretch begins with the stress mark before its first sound and leaves out spaces.
    """
    heard = [at for at, phoneme in enumerate(utterance) if _is_sound(phoneme)]
    sounds = [utterance[at] for at in heard]
    opens = [at == 0 or utterance[at - 1] == " " for at in _group_starts(utterance, heard)]
    alone: list[str] = []
    owner: list[int] = []
    for number, word in enumerate(words):
        letters = [p for p in laid_out(word) if _is_sound(p)]
        alone += letters
        owner += [number] * len(letters)
    owners = _owners(sounds, opens, alone, owner)
    return _stretches(utterance, heard, owners, len(words))


def replaced(
    utterance: Sequence[str], where: Sequence[Stretch], sounds: Sequence[str]
) -> tuple[list[str], list[Stretch]]:
    """The utterance with the given sounds (IPA; empty for none given) in place of words'."""
    found: list[str] = []
    moved: list[Stretch] = []
    at = 0
    for stretch, own in zip(where, sounds, strict=True):
        found += utterance[at : stretch.start]
        start = len(found)
        found += laid_out(own) if own else utterance[stretch.start : stretch.end]
        moved.append(Stretch(start, len(found)))
        at = stretch.end
    found += utterance[at:]
    return found, moved


def _is_sound(phoneme: str) -> bool:
    return phoneme not in _NOT_SOUNDS and not unicodedata.combining(phoneme)


def _group_starts(utterance: Sequence[str], heard: Sequence[int]) -> list[int]:
    """For each sound, where it would begin with the stress marks before it."""
    starts = []
    for at in heard:
        while at and utterance[at - 1] in STRESS:
            at -= 1
        starts.append(at)
    return starts


def _owners(
    sounds: Sequence[str], opens: Sequence[bool], alone: Sequence[str], owner: Sequence[int]
) -> list[int | None]:
    """For each sound of the utterance, the number of the word it is from, or None if in doubt."""
    wide = len(alone) + 1
    firsts = [at == 0 or owner[at] != owner[at - 1] for at in range(len(alone))]
    row = [_MISSING * at for at in range(wide)]
    ways: list[bytearray] = []  # 0: one against the other, 1: heard only, 2: alone only
    for at, sound in enumerate(sounds):
        way = bytearray(wide)
        new = [row[0] + _MISSING] + [0] * (wide - 1)
        way[0] = 1
        for of in range(1, wide):
            other = alone[of - 1]
            cost = 0 if sound == other else _cost(sound, other)
            if opens[at] != firsts[of - 1]:
                cost += _WORD_START
            best, how = row[of - 1] + cost, 0
            if row[of] + _MISSING < best:
                best, how = row[of] + _MISSING, 1
            if new[of - 1] + _MISSING < best:
                best, how = new[of - 1] + _MISSING, 2
            new[of], way[of] = best, how
        row = new
        ways.append(way)
    found: list[int | None] = [None] * len(sounds)
    at, of = len(sounds), wide - 1
    while at and of:
        how = ways[at - 1][of]
        if how == 0:
            found[at - 1] = owner[of - 1]
        at -= how != 2
        of -= how != 1
    return found


def _cost(sound: str, other: str) -> int:
    """A vowel is readily another vowel in running speech, and seldom a consonant."""
    return _OTHER // 2 if (sound in _VOWELS) and (other in _VOWELS) else _OTHER


def _stretches(
    utterance: Sequence[str],
    heard: Sequence[int],
    owners: Sequence[int | None],
    count: int,
) -> list[Stretch]:
    first: dict[int, int] = {}
    last: dict[int, int] = {}
    recent = 0
    starts = _group_starts(utterance, heard)
    for place, owner in enumerate(owners):
        if owner is None:
            # A sound that nothing alone answers to belongs to the word begun, unless it opens
            # a group: then it is the next word's.
            opens = starts[place] == 0 or utterance[starts[place] - 1] == " "
            later = next((each for each in owners[place:] if each is not None), recent)
            owner = later if opens else recent
        recent = owner
        first.setdefault(owner, starts[place])
        last[owner] = heard[place]
    found: list[Stretch] = []
    at = 0
    for number in range(count):
        if number not in first:
            found.append(Stretch(at, at))
            continue
        end = last[number] + 1
        while end < len(utterance) and (
            utterance[end] == "ː" or unicodedata.combining(utterance[end])
        ):
            end += 1
        found.append(Stretch(max(at, first[number]), end))
        at = end
    return found
