"""Overlay: talk that goes on for long with nothing but talk."""

from collections.abc import Iterator
from functools import lru_cache

from reglet.manuscript.stage import Stage
from reglet.overlays.house import House, Strictness
from reglet.overlays.overlay import Finding, of_scene
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph, ReadScene

# After how many speeches running with no tag or beat a reader may lose who speaks (our own).
_MANY = {Strictness.LENIENT: 10, Strictness.USUAL: 7, Strictness.STRICT: 5}


def unbroken_talk(scene: ReadScene, house: House) -> Iterator[Finding]:
    """Speech after speech with no tag or gesture leaves voices in the air, and may lose who speaks.

    The speech at which the run becomes long is marked, once in each run. Paragraphs of one speech
    count once.

    Source: common practice; the figures are our own.
    """
    many = _MANY[house.strictness_of("unbroken_talk")]
    run: list[tuple[int, ReadParagraph]] = []
    goes_on = False
    for start, read in [*scene.prose(), (0, None)]:
        if read is not None and _is_all_speech(read):
            if not goes_on:
                run.append((start, read))
            goes_on = not read.prose.quotations[-1].closed
            continue
        goes_on = False
        if len(run) >= many:
            at, marked = run[many - 1]
            quotation = marked.prose.quotations[0]
            yield Finding(
                at + quotation.start,
                at + quotation.end,
                f"{len(run)} speeches running have no tag and no gesture. "
                "Does the reader still see who speaks, and where?",
            )
        run = []


@lru_cache(maxsize=16_384)
def _is_all_speech(read: ReadParagraph) -> bool:
    prose = read.prose
    return bool(prose.speeches) and not any(
        letter.isalnum() for start, end in prose.narration for letter in prose.text[start:end]
    )


OVERLAY = of_scene(unbroken_talk, Stage.LINE, ProofMark.INSERT)
_TALK = "“Is it far?”\n“It’s not far.”\n"
EXAMPLES_MARKED = {f"{_TALK * 3}[“Well?”]\n“Well what?”\nHe rose.": None}
EXAMPLES_UNMARKED = (
    f"{_TALK * 2}“Is it?” She looked up.\n{_TALK * 2}",
    "“It was long ago.\n" * 9 + "“And far.”",
)
