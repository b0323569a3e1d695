"""Overlay: speech tags that draw the eye, where there are many."""

from collections import deque
from collections.abc import Iterator
from functools import lru_cache

from reglet.language.words import Word
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House, Strictness
from reglet.overlays.line.word_lists import words_by_strictness
from reglet.overlays.overlay import Finding, of_scene
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph, ReadScene

# How many tags that are not plain make many, and in how many words (our own figures).
_MANY = {Strictness.LENIENT: 5, Strictness.USUAL: 4, Strictness.STRICT: 2}
_WORDS = 500


def tag_verb(scene: ReadScene, house: House) -> Iterator[Finding]:
    """“Exclaimed” and “retorted” are noticed where “said” is not; many together are heard.

    The fourth and each further one within 500 words is marked.

    Source: common practice; the list and the figures are our own.
    """
    many = _MANY[house.strictness_of("tag_verb")]
    near: deque[int] = deque()
    count = 0
    for start, read in scene.prose():
        for place, verb in _marked_tags(read):
            while near and count + place - near[0] > _WORDS:
                near.popleft()
            near.append(count + place)
            if len(near) >= many:
                yield Finding(
                    start + verb.start,
                    start + verb.end,
                    f"“{verb.text}”: {len(near)} tags in {_WORDS} words are other than plain. "
                    "Would “said” do here?",
                )
        count += len(read.prose.words)


@lru_cache(maxsize=16_384)
def _marked_tags(read: ReadParagraph) -> tuple[tuple[int, Word], ...]:
    """The verbs of speech tags that are not plain, each with how many words stand before it."""
    prose = read.prose
    if not prose.quotations:
        return ()
    plain = words_by_strictness("plain_tags.txt")
    verbs = [Word(*tag.verb, prose.text[slice(*tag.verb)]) for tag in prose.speech_tags]
    return tuple(
        (len(prose.words_in(0, verb.start)), verb)
        for verb in verbs
        if verb.text.lower() not in plain
    )


OVERLAY = of_scene(tag_verb, Stage.LINE, ProofMark.REPLACE)
_PLAIN = "“So,” he said.\n“So,” she asked.\n"
EXAMPLES_MARKED = {
    f"{_PLAIN}“No,” he grumbled.\n“No,” she wailed.\n“No,” he bleated.\n“No,” she [jeered].": None,
}
EXAMPLES_UNMARKED = (_PLAIN * 6, "“No,” he grumbled.\n“No,” she wailed.")
