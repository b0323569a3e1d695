"""Overlay: a break within a scene that is typed and not set."""

import re
from collections.abc import Iterator

from reglet.manuscript.paragraph import SCENE_BREAK
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House
from reglet.overlays.overlay import Finding, of_paragraph
from reglet.overlays.query import Choice, Dress, ProofMark
from reglet.overlays.reading import ReadParagraph

_TYPED = re.compile(r"\s*(?:[*#~•◆❦⁂+=_·∗☙–—-]\s*){1,12}")
_CHOICE = Choice("scene breaks", "scene breaks set as such")


def scene_break(read: ReadParagraph, house: House) -> Iterator[Finding]:
    """A scene break that is typed out looks another way each time; set as one, it goes one way.

    Marked is a paragraph of signs alone, "* * *" or "#". A draft's breaks are taken for what they
    are when it is brought in; this one was typed or pasted since, or stood among text.
    """
    text = read.paragraph.text
    if text.strip() and _TYPED.fullmatch(text):
        said = f"“{text.strip()}” stands for a scene break."
        yield Finding(0, len(text), said, SCENE_BREAK, choice=_CHOICE, dress=Dress.SCENE_BREAK)


OVERLAY = of_paragraph(scene_break, Stage.PROOF, ProofMark.REPLACE)
EXAMPLES_MARKED = {
    "He went.\n[* * *]\nShe came.": "***",
    "He went.\n[#]\nShe came.": "***",
}
EXAMPLES_UNMARKED = ("He went.\n1 * 2\nShe came.", "“—”\n…")
