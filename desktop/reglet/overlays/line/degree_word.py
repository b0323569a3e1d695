"""Overlay: words that soften or strengthen what they stand beside."""

from collections.abc import Iterator

from reglet.language.prose import Prose
from reglet.manuscript.stage import Stage
from reglet.numbers import times
from reglet.overlays.house import House, Strictness
from reglet.overlays.line.word_lists import words_by_strictness
from reglet.overlays.overlay import Finding, of_paragraph
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph

_QUALITY = frozenset("JJ RB VBN VBG".split())
# Those that are something else unless a quality follows: "pretty", "the very man", "fairly won".
_NEED_QUALITY = frozenset(
    "very pretty fairly quite rather terribly awfully dreadfully just simply somewhat "
    "thoroughly practically literally".split()
)
# What follows is then no degree: "rather than", "quite a walk", "just as", "very well".
_NOT_BEFORE = frozenset("than a an the so as such like then".split())
_CHOOSES = frozenset("would had 'd or ’d".split())


def degree_word(read: ReadParagraph, house: House) -> Iterator[Finding]:
    """Words such as “very” and “rather” often weaken what they were meant to weigh.

    In narration; where strict, in speech too, and those that say only how sure one is. Where
    lenient, only the second of two that stand in one sentence.

    Source: the amplifiers and downtoners of Quirk, Greenbaum, Leech and Svartvik (1985); the
    list is ours.
    """
    softening = words_by_strictness("downtoners.txt")
    known = softening | words_by_strictness("amplifiers.txt")
    if known.keys().isdisjoint(read.vocabulary):
        return
    strictness = house.strictness_of("degree_word")
    reach = max(strictness, Strictness.USUAL)
    prose = read.prose
    sentence, seen = -1, dict[str, int]()
    for at, token in enumerate(prose.tokens):
        plain = token.text.lower()
        if known.get(plain, reach + 1) > reach or not _is_degree(prose, at, plain):
            continue
        if strictness < Strictness.STRICT and prose.is_spoken(token.start):
            continue
        here = next(n for n, each in enumerate(prose.sentences) if token.start < each.end)
        if here != sentence:
            sentence, seen = here, {}
        seen[plain] = seen.get(plain, 0) + 1
        if strictness is Strictness.LENIENT and sum(seen.values()) < 2:
            continue
        yield Finding(token.start, token.end, _message(prose, at, plain in softening, seen))


def _message(prose: Prose, at: int, softens: bool, seen: dict[str, int]) -> str:
    word = prose.tokens[at].text
    often = seen[word.lower()]
    if often > 1:
        return f"“{word.lower()}” {times(often)} in one sentence."
    after = prose.tokens[at + 1].text if at + 1 < len(prose.tokens) else ""
    if prose.tags[at + 1 : at + 2] not in (("JJ",), ("RB",)) or not after.isalpha():
        does = "takes force from" if softens else "insists on"
        return f"“{word}” {does} what is said. Is it needed?"
    if softens:
        return f"“{word}” takes some of its force from “{after}”. Is it needed?"
    return f"“{word}” leans on “{after}”. Would “{after}” do alone, or a stronger word?"


def _is_degree(prose: Prose, at: int, plain: str) -> bool:
    tags, tokens = prose.tags, prose.tokens
    if not tags[at].startswith("RB") and not (plain == "very" and tags[at] == "JJ"):
        return False
    after = tokens[at + 1].text.lower() if at + 1 < len(tokens) else ""
    before = tokens[at - 1].text.lower() if at else ""
    if after in _NOT_BEFORE or (plain == "rather" and before in _CHOOSES):
        return False
    if plain == "very" and before in ("the", "this", "that", "his", "her", "its", "my", "their"):
        return tags[at + 1 : at + 2] == ("JJ",) and tags[at + 2 : at + 3] in (("NN",), ("NNS",))
    if plain in _NEED_QUALITY:
        return at + 1 < len(tags) and tags[at + 1] in _QUALITY
    return True


OVERLAY = of_paragraph(degree_word, Stage.LINE, ProofMark.DELETE)
EXAMPLES_MARKED = {
    "It was a [very] cold night, and she was [rather] late.": None,
    "He was [really] tired.": None,
}
EXAMPLES_UNMARKED = (
    "This was the very man. She would rather go than stay.",
    "“It’s very cold,” he said.",
    "It was quite a walk, rather than a stroll.",
    "She was pretty.",
)
