"""Overlay: phrases that have a shorter way to be said."""

from collections.abc import Iterator

from reglet.manuscript.stage import Stage
from reglet.overlays.house import House, Strictness
from reglet.overlays.line.word_lists import Found, phrases
from reglet.overlays.overlay import Finding, of_paragraph
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph

_QUANTITIES = frozenset(("much", "many", "most", "some", "enough", "too few", "a few"))
_DETERMINERS = frozenset(
    "the this that these those my your his her its our their it them us you".split()
)


def wordy_phrase(read: ReadParagraph, house: House) -> Iterator[Finding]:
    """A longer way to say a short thing; the shorter one is proposed.

    In narration; where strict in speech too; where lenient only what saves two words or more.

    Source: the Federal Plain Language Guidelines (United States, 2011), for pairs of this kind;
    the list is ours.
    """
    strictness = house.strictness_of("wordy_phrase")
    prose = read.prose
    for found in phrases("wordy_phrases.txt").found_in(read):
        shorter = _before_determiner(read, found) or found.phrase.instead
        if strictness < Strictness.STRICT and prose.is_spoken(found.start):
            continue
        if strictness is Strictness.LENIENT and _saved(found.phrase.words, shorter) < 2:
            continue
        said = prose.text[found.start : found.end]
        if shorter:
            shorter = shorter[:1].upper() + shorter[1:] if said[:1].isupper() else shorter
            yield Finding(found.start, found.end, f"“{said}” says “{shorter}”.", shorter)
        else:
            yield Finding(found.start, found.end, f"The sentence may not need “{said}”.")


def _before_determiner(read: ReadParagraph, found: Found) -> str | None:
    """Give “much of”, “most of” before “the” and its like, for what is “much” before a noun."""
    after = read.prose.words_in(found.end, len(read.prose.text))[:1]
    if found.phrase.instead in _QUANTITIES and after and after[0].text.lower() in _DETERMINERS:
        return f"{found.phrase.instead} of"
    return None


def _saved(words: tuple[object, ...], shorter: str | None) -> int:
    return len(words) - len((shorter or "").split())


OVERLAY = of_paragraph(wordy_phrase, Stage.LINE, ProofMark.REPLACE)
EXAMPLES_MARKED = {
    "[Due to the fact that] it rained, they stayed.": "Because",
    "He went [in order to] see her.": "to",
    "She spent [a great deal of] her time there.": "much of",
}
EXAMPLES_UNMARKED = ("She put the jars in order. To see them pleased her.",)
