"""Overlay: the marks and capitals where a speech meets its tag."""

import re
from collections.abc import Iterator

from reglet.language.speech import Quotation
from reglet.language.speech_verbs import TELLING_VERBS
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House
from reglet.overlays.overlay import Finding, of_paragraph
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph

_SMALL = (
    rf"(?:he|she|they|it|we) (?:{TELLING_VERBS})\b"
    rf"|(?:{TELLING_VERBS}) (?:he|she|they|I|the \w+|[A-Z]\w+)\b"
)
_PLAIN = "said|asked|replied|answered|whispered|murmured|muttered|shouted|cried|called"
_LARGE = rf"(?:He|She|They|We|I|[A-Z]\w+) (?:{_PLAIN})(?: \w+ly)?(?:[.;]|,(?! [“‘\"']))"
_TAG = re.compile(rf" (?:(?P<small>{_SMALL})|(?P<large>{_LARGE}))")
_AFTER_COMMA = re.compile(
    rf" (?P<word>He|She|They|It|We|You|The(?= \w+)) (?:\w+ )?(?:{TELLING_VERBS})\b"
)
_SHORTENED = re.compile(r"(?:\b(?:Mr|Mrs|Dr|St|etc|viz|Esq|Co|Jr|[A-Z])|\.\.)\.$")
_PAUSE = tuple(",.:;!?…—”’")


def tag_join(read: ReadParagraph, house: House) -> Iterator[Finding]:
    """A tag belongs to the sentence that is spoken: “Go home,” he said.

    Asked about are a full stop or no mark before a tag, and a capital
    after the comma.
    """
    text = read.paragraph.text
    for quotation in read.prose.quotations:
        if quotation.depth or not quotation.closed or not _opens_speech(text, quotation):
            continue
        inner, end = text[quotation.start : quotation.end - 1], quotation.end
        tag = _TAG.match(text, end)
        if inner.endswith(",") and (match := _AFTER_COMMA.match(text, end)):
            small = match["word"].lower()
            yield Finding(
                *match.span("word"), "The sentence goes on here.", small, ProofMark.WRONG_CASE
            )
        elif tag and inner.endswith(".") and not _SHORTENED.search(inner):
            new = "," + _small_first(text[end - 1 : tag.end()])
            message = "A comma stands before the words that say who speaks."
            yield Finding(end - 2, tag.end(), message, new, ProofMark.REPLACE)
        elif tag and inner[-1:].isalnum():
            message = "A comma is missing before the words that say who speaks."
            yield Finding(end - 1, tag.end(), message, "," + text[end - 1 : tag.end()])


def _opens_speech(text: str, quotation: Quotation) -> bool:
    before = text[: quotation.start].rstrip()
    return text[quotation.start + 1].isupper() and (not before or before.endswith(_PAUSE))


def _small_first(joined: str) -> str:
    """The pronoun after the closing mark with a small letter."""
    return re.sub(r" (He|She|They|We)\b", lambda match: match[0].lower(), joined, count=1)


OVERLAY = of_paragraph(tag_join, Stage.PROOF, ProofMark.INSERT)
EXAMPLES_MARKED = {
    "“Go home[.” he said], and went.": ",” he said",
    "“Go home[.” said Abel] Stile.": ",” said Abel",
    "“Go home[.” She said.]": ",” she said.",
    "“Go home[” he said].": ",” he said",
    "“Go home,” [He] said.": "he",
}
EXAMPLES_UNMARKED = (
    "“Go home.” He said nothing more. “Go!” she said. “Go,” Abel said.",
    "“I saw Mr.” he said. The word “home” he said with care.",
    "“Go home.” Abel asked Nora for the lamp.",
)
