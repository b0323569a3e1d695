"""Overlay: one paragraph in which two people speak, or may."""

import re
from collections.abc import Iterator

from reglet.language.frequency import is_mostly_name, zipf
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House, Strictness
from reglet.overlays.overlay import Finding, of_paragraph
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph

_TITLES = frozenset(
    "mr mrs ms miss dr sir lady lord aunt uncle captain colonel st father mother old".split()
)
_ACTS = re.compile(r"(?P<who>[A-Z][a-z]+) (?:\w+ly )?(?P<verb>[a-z]+)")
_ENDS = (".", "!", "?", "…", "”", "’")
_IRREGULAR = frozenset(
    "stood sat went came took gave looked laughed rose shook put held kept let said saw heard felt "
    "began ran threw got had was knew thought bent set drew".split()
)


def speaker_turn(read: ReadParagraph, house: House) -> Iterator[Finding]:
    """Each speaker has a paragraph of their own, so that the reader knows who speaks.

    Asked about are two tags with different names in one paragraph, and a speech
    without a tag between what one person does and what another does.
    """
    prose = read.prose
    if len(prose.quotations) < 2:
        return
    yield from _two_tags(read)
    if house.strictness_of("speaker_turn") is Strictness.STRICT:
        yield from _turning(read)


def _two_tags(read: ReadParagraph) -> Iterator[Finding]:
    text, prose = read.paragraph.text, read.prose
    before = ""
    for tag in prose.speech_tags:
        who = text[slice(*tag.speaker)] if tag.speaker else ""
        speech = prose.quotations[tag.quotation]
        gap = text[: speech.start]
        space = len(gap) - len(gap.rstrip())
        if space and gap.rstrip()[-1:] in _ENDS and _are_two(before, who):
            start = speech.start - space
            end = text.find(" ", speech.start, speech.end)
            end = end if end > 0 else speech.end
            message = f"{before} and {who} speak in one paragraph."
            yield Finding(start, end, message, "\n" + text[speech.start : end])
        before = who or before


def _turning(read: ReadParagraph) -> Iterator[Finding]:
    """A speech without a tag between one person's act and another's."""
    text, prose = read.paragraph.text, read.prose
    if prose.speech_tags:
        return
    for speech in prose.quotations:
        if speech.depth or not speech.spoken or not speech.closed:
            continue
        after = _ACTS.match(text, speech.end + 1)
        earlier = [s for s in prose.sentences if s.end <= speech.start]
        first = next(
            (m for s in reversed(earlier) if (m := _ACTS.match(text, s.start)) and _acts(m)), None
        )
        if after and first and _acts(after) and _are_two(first["who"], after["who"]):
            said = f"Does {first['who']} say this, or {after['who']}?"
            yield Finding(*after.span("who"), said, None, ProofMark.ASK)
            return


def _acts(match: re.Match[str]) -> bool:
    verb = match["verb"]
    return verb.endswith("ed") or verb in _IRREGULAR


def _are_two(one: str, other: str) -> bool:
    """Whether two speakers, as named, are surely two: "he" and "she", or names that share no
    word.
    """
    if {one.lower(), other.lower()} == {"he", "she"}:
        return True
    names = [[w for w in each.split() if w.lower() not in _TITLES] for each in (one, other)]
    return all(each and all(_is_name(word) for word in each) for each in names) and not (
        {word.lower() for word in names[0]} & {word.lower() for word in names[1]}
    )


def _is_name(word: str) -> bool:
    return word[:1].isupper() and len(word) > 1 and (is_mostly_name(word) or zipf(word) < 2.0)


OVERLAY = of_paragraph(speaker_turn, Stage.PROOF, ProofMark.NEW_PARAGRAPH)
EXAMPLES_MARKED = {
    "“Go home,” said Abel.[ “I] won’t,” said Nora.": "\n“I",
    "“Go home,” he said.[ “I] won’t,” she said.": "\n“I",
}
EXAMPLES_UNMARKED = (
    "“Go home,” said Abel. “I won’t,” he said.",
    "“Go home,” said Mr Stile. “Now,” said Abel Stile.",
    "Abel put down the lamp. “It was here.” Nora looked at the sill.",
)
