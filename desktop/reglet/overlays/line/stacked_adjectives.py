"""Overlay: adjectives heaped before one noun."""

from collections.abc import Iterator

from reglet.manuscript.stage import Stage
from reglet.overlays.house import House, Strictness
from reglet.overlays.overlay import Finding, of_paragraph
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph

# How many are a heap.
_MANY = {Strictness.LENIENT: 4, Strictness.USUAL: 3, Strictness.STRICT: 2}
# Adjectives only by their tag: they say which, how many, or in what order.
_NO_QUALITY = frozenset(
    "other same such own last next first second third few many several certain more most less "
    "least much various whole only former latter another half single double main chief "
    "due real mighty enough".split()
)
_JOINS = frozenset((",", "and"))


def stacked_adjectives(read: ReadParagraph, house: House) -> Iterator[Finding]:
    """Of three adjectives before a noun, one is usually the one that shows the thing."""
    many = _MANY[house.strictness_of("stacked_adjectives")]
    tags, tokens = read.prose.tags, read.prose.tokens
    if tags.count("JJ") < many:
        return
    at = 0
    while at < len(tags):
        if tags[at] != "JJ":
            at += 1
            continue
        run = [at]
        ahead = at + 1
        while ahead < len(tags):
            if tags[ahead] == "JJ":
                run.append(ahead)
            elif tokens[ahead].text.lower() not in _JOINS or tokens[ahead - 1].text == ",":
                break
            ahead += 1
        if tags[ahead : ahead + 1] in (("NN",), ("NNS",)) and tags[ahead - 1] == "JJ":
            kept = [each for each in run if _is_quality(tokens[each].text)]
            if len(kept) >= many:
                noun = tokens[ahead].text
                yield Finding(
                    tokens[kept[0]].start,
                    tokens[ahead].end,
                    f"{len(kept)} adjectives before “{noun}”. Which one shows it?",
                )
        at = ahead


def _is_quality(adjective: str) -> bool:
    """Whether it shows the thing; a capital says where the thing is from."""
    return adjective.islower() and adjective not in _NO_QUALITY


OVERLAY = of_paragraph(stacked_adjectives, Stage.LINE, ProofMark.DELETE)
EXAMPLES_MARKED = {
    "He had a [long, thin, white face].": None,
}
EXAMPLES_UNMARKED = ("He had a long white face.", "The other two old men were tall, thin and pale.")
