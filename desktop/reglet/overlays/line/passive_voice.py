"""Overlay: passives that hide or put off who does a thing."""

from collections.abc import Iterator, Sequence

from reglet.language.prose import Prose
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House, Strictness
from reglet.overlays.overlay import Finding, of_paragraph
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph

# Nothing is gained by turning these round: who bore or named somebody is seldom the matter.
_LEAVE = frozenset(
    "born supposed called named married used dressed armed situated versed overcome rested".split()
)
_NEAR_WORDS = 30


def passive_voice(read: ReadParagraph, house: House) -> Iterator[Finding]:
    """A passive puts off who does a thing, or hides it; often the doer can come first.

    In narration. A passive with its doer after “by” is marked by itself, others where two stand
    within thirty words; where lenient only the first kind, where strict all.
    """
    strictness = house.strictness_of("passive_voice")
    prose = read.prose
    found = [
        each
        for each in prose.passives
        if not prose.is_spoken(each.start) and _is_act(prose.tokens[each.verb].text.lower())
    ]
    starts = [each.start for each in found]
    for number, each in enumerate(found):
        doer = _doer(prose, each.verb)
        said = prose.text[each.start : each.end]
        if doer:
            yield Finding(each.start, each.end, f"“{said}” {doer}: could the doer come first?")
        elif strictness is Strictness.STRICT or (
            strictness is Strictness.USUAL and _is_near(prose, starts, number)
        ):
            yield Finding(
                each.start, each.end, f"“{said}” is a passive, one of several here. Who does it?"
            )


def _is_act(participle: str) -> bool:
    return participle not in _LEAVE and "-" not in participle


def _is_near(prose: Prose, starts: Sequence[int], number: int) -> bool:
    others = [starts[n] for n in (number - 1, number + 1) if 0 <= n < len(starts)]
    here = starts[number]
    return any(
        len(prose.words_in(min(here, other), max(here, other))) <= _NEAR_WORDS for other in others
    )


def _doer(prose: Prose, verb: int) -> str:
    """What follows "by", if it can be a doer and is no place, time or means; else ""."""
    tokens, tags = prose.tokens, prose.tags
    if tokens[verb + 1 : verb + 2] and tokens[verb + 1].text.lower() == "by":
        after = verb + 2
        if after < len(tags) and tags[after] in ("PRP", "NNP", "DT", "PRP$", "JJ", "NNS"):
            return f"by {tokens[after].text}" if tags[after] in ("PRP", "NNP") else "with “by”"
    return ""


OVERLAY = of_paragraph(passive_voice, Stage.LINE, ProofMark.TRANSPOSE)
EXAMPLES_MARKED = {
    "The bell [was rung] by Isaura at dusk.": None,
    "The bell [wasn’t rung] by Isaura.": None,
    "The lamp had [been filled] and the wick [was trimmed].": None,
}
EXAMPLES_UNMARKED = (
    "The lamp was lit. Isaura went down to the water and sat there.",
    "“It was done by Isaura,” he said.",
    "She was tired, and he was gone.",
)
