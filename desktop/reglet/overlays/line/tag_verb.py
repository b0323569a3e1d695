"""Overlay: speech tags that draw the eye, where there are many."""

from collections import deque
from collections.abc import Iterator

from reglet.manuscript.stage import Stage
from reglet.overlays.house import House, Strictness
from reglet.overlays.line.word_lists import words_by_strictness
from reglet.overlays.overlay import Finding, of_scene
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadScene

# How many tags that are not plain make many, and in how many words (our own figures).
_MANY = {Strictness.LENIENT: 5, Strictness.USUAL: 4, Strictness.STRICT: 2}
_WORDS = 500


def tag_verb(scene: ReadScene, house: House) -> Iterator[Finding]:
    """“Exclaimed” and “retorted” are noticed where “said” is not; many together are heard.

    The fourth and each further one within 500 words is marked.
    """
    plain = words_by_strictness("plain_tags.txt")
    many = _MANY[house.strictness_of("tag_verb")]
    near: deque[int] = deque()
    count = 0
    for start, read in scene.prose():
        prose = read.prose
        for tag in prose.speech_tags if prose.quotations else ():
            verb = prose.text[slice(*tag.verb)]
            if verb.lower() in plain:
                continue
            place = count + len(prose.words_in(0, tag.verb[0]))
            while near and place - near[0] > _WORDS:
                near.popleft()
            near.append(place)
            if len(near) >= many:
                yield Finding(
                    start + tag.verb[0],
                    start + tag.verb[1],
                    f"“{verb}”: {len(near)} tags in {_WORDS} words are other than plain. "
                    "Would “said” do here?",
                )
        count += len(prose.words)


OVERLAY = of_scene(tag_verb, Stage.LINE, ProofMark.REPLACE)
_PLAIN = "“So,” he said.\n“So,” she asked.\n"
EXAMPLES_MARKED = {
    f"{_PLAIN}“No,” he grumbled.\n“No,” she wailed.\n“No,” he bleated.\n“No,” she [jeered].": None,
}
EXAMPLES_UNMARKED = (_PLAIN * 6, "“No,” he grumbled.\n“No,” she wailed.")
