"""Overlay: paragraphs that stand on a page or screen as a solid block."""

from collections.abc import Iterator

from reglet.manuscript.stage import Stage
from reglet.overlays.house import House, Strictness
from reglet.overlays.line.breaking_place import breaking_place
from reglet.overlays.overlay import Finding, of_paragraph
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph
from reglet.setting import paragraph_fill

# The share of a phone screen from which a paragraph is a block (our own figures).
_BLOCK = {Strictness.LENIENT: 1.0, Strictness.USUAL: 0.6, Strictness.STRICT: 0.5}
# No letter is so wide on the average, in parts of the type's size: most paragraphs cannot fill so
# much and are spared the measuring.
_WIDEST = 0.52


def block(read: ReadParagraph, house: House) -> Iterator[Finding]:
    """A paragraph that is middling in print can fill a phone with a solid block of text.

    Measured with real type on the phone that the book is meant for. Where it could
    be broken is proposed: where the speaker, the time, who acts or what is spoken of changes.

    Source: our own figures, measured with real type.
    """
    text = read.paragraph.text
    share = _BLOCK[house.strictness_of("block")]
    phone = house.phone
    most_lines = len(text) * phone.size * _WIDEST / phone.measure + 1
    if most_lines * phone.leading / phone.depth < share:
        return
    screen = paragraph_fill(read.paragraph, phone)
    if screen.share < share:
        return
    place = breaking_place(read.prose)
    asked = "Could it be parted?"
    if place is not None:
        words = [word.text for word in read.prose.words if word.start >= place][:3]
        asked = f"It could break before “{' '.join(words)}”."
    yield Finding(
        0,
        len(text),
        f"This paragraph fills {_screens(screen.share)}, {screen.lines} lines. {asked}",
        None if place is None else f"{text[:place].rstrip()}\n{text[place:]}",
    )


def _screens(share: float) -> str:
    return f"{share:.1f} phone screens" if share >= 1 else f"{share:.0%} of a phone screen"


OVERLAY = of_paragraph(block, Stage.LINE, ProofMark.NEW_PARAGRAPH)
_SENTENCE = "The ledger had been kept by three hands, and the third was the worst of them. "
EXAMPLES_MARKED = {f"[{_SENTENCE * 15}It rained.]": None}
EXAMPLES_UNMARKED = (_SENTENCE * 8,)
