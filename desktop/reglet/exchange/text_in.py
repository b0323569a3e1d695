"""A draft read from plain text: its paragraphs told from line lengths, blank lines and indents."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from pathlib import Path

from reglet.exchange.decoding import decode
from reglet.exchange.draft import Draft, DraftParagraph, Finding, Progress
from reglet.exchange.headings import heading, is_mark
from reglet.exchange.indents import without_typed_indents
from reglet.manuscript.paragraph import LINE_BREAK, Paragraph, Style

_LONGEST_WRAPPED = 120
_FILLED = 0.8
"""Lines are wrapped by a program if this share of them could not have taken one word more."""
_PROSE = 0.3
"""And if no fewer than this share are at least half as wide as the widest."""
_EVEN = 0.6
_GOING_ON = 0.4
_LONG_VERSE = 38
"""Lines of verse are seldom longer, in signs."""
_SET_IN = 2
_PAGE = "\f"


def read_text(path: Path, progress: Progress | None = None) -> Draft:
    """The draft in a .txt. Raises DraftError where its encoding cannot be told, OSError."""
    text, findings = decode(path.read_bytes(), path.name)
    if progress:
        progress(0.5)
    lines = [line.rstrip(" \t") for line in text.split("\n")]
    width = wrap_width(lines)
    paragraphs = _Lines(width, _blank_lines_part(lines, width)).paragraphs(lines)
    if width:
        findings.append(
            Finding(f"Lines that end at about {width} signs are joined into paragraphs.")
        )
    told: list[Finding] = []
    if not width:
        paragraphs, _, told = without_typed_indents(paragraphs, [])
    if progress:
        progress(1.0)
    return Draft(tuple(paragraphs), findings=(*findings, *told))


def wrap_width(lines: Sequence[str]) -> int:
    """The width to which a program has wrapped these lines, in signs; 0 where they are not.

    Told from each line that has another directly below: if the lines are wrapped, the first word
    of the one below would not have fitted any more. Lines set in from the margin together, as a
    quoted letter's, do not count.
    """
    pairs = [
        (len(line.lstrip(_PAGE)), len(below.split(None, 1)[0]))
        for line, below in pairwise(lines)
        if line.strip() and below.strip() and not (_set_in(line) and _set_in(below))
    ]
    lengths = sorted(length for length, _ in pairs)
    if len(lengths) < 3:
        return 0
    width = lengths[min(len(lengths) - 1, int(len(lengths) * 0.98))]
    if width > _LONGEST_WRAPPED or width < 30:
        return 0
    # Short lines (of verse, an address, a list) are left out of the count.
    long = [length + 1 + word > width for length, word in pairs if length > width / 2]
    prose = len(long) > _PROSE * len(pairs) and sum(long) > _FILLED * len(long)
    return width if prose else 0


def _set_in(line: str) -> bool:
    return line[:1] in (" ", "\t")


def _blank_lines_part(lines: Sequence[str], width: int) -> bool:
    """Whether blank lines stand between paragraphs, rather than only between scenes."""
    blocks = sum(
        bool(line.strip()) and not above.strip()
        for above, line in zip(["", *lines], lines, strict=False)
    )
    written = sum(bool(line.strip()) for line in lines)
    if width:
        inside = sum(
            _set_in(line) and bool(above.strip()) and not _set_in(above)
            for above, line in pairwise(lines)
        )
        return inside < blocks
    return blocks * 2 > written


@dataclass
class _Lines:
    """Puts lines together into paragraphs."""

    width: int
    blank_parts: bool
    found: list[DraftParagraph] = field(default_factory=list)
    block: list[str] = field(default_factory=list)
    blanks: int = 0
    new_page: bool = False

    def paragraphs(self, lines: Sequence[str]) -> list[DraftParagraph]:
        """The paragraphs that these lines make."""
        for line in lines:
            if _PAGE in line:
                self._close()
                self.new_page = True
                line = line.replace(_PAGE, "")
            if not line.strip():
                self._close()
                self.blanks += 1
            elif self._begins(line):
                self._close()
                self.block = [line]
            else:
                self.block.append(line)
        self._close()
        return self.found

    def _begins(self, line: str) -> bool:
        """Whether a line begins a paragraph though no blank line stands before it."""
        if not self.block:
            return True
        if is_mark(line) or is_mark(self.block[-1]):
            return True
        if self.width:
            if self.blank_parts:
                return False
            return _set_in(line) or heading(line) is not None
        return not self.blank_parts

    def _close(self) -> None:
        if not self.block:
            return
        lines, self.block = self.block, []
        text, style = self._joined(lines)
        capitals = len(lines) == 1 and text == text.upper() and text != text.lower()
        centred = lines[0].startswith(" " * 8) and len(lines) == 1
        self.found.append(
            DraftParagraph(
                Paragraph(text, style),
                set_off=capitals or centred,
                new_page=self.new_page,
                blanks=self.blanks,
            )
        )
        self.blanks, self.new_page = 0, False

    def _joined(self, lines: list[str]) -> tuple[str, Style]:
        if len(lines) == 1:
            return (lines[0].strip() if self.width else lines[0]), Style.BODY
        stripped = [line.strip() for line in lines]
        if not self.width:
            return LINE_BREAK.join(stripped), Style.BODY
        set_in = min(len(line) - len(line.lstrip()) for line in lines) >= _SET_IN
        if _filled(stripped, self.width * 0.9) * 2 >= len(lines) - 1:
            return " ".join(stripped), Style.BODY
        if _narrower(stripped):
            return " ".join(stripped), Style.BLOCK_QUOTE if set_in else Style.BODY
        return LINE_BREAK.join(stripped), Style.VERSE if set_in else Style.BODY


def _filled(lines: Sequence[str], width: float) -> int:
    """How many lines could not have taken the first word of the next within `width`."""
    return sum(
        len(line) + 1 + len(below.split(None, 1)[0]) > width for line, below in pairwise(lines)
    )


def _narrower(lines: Sequence[str]) -> bool:
    """Whether lines are prose in a narrower measure, as a quoted letter is, rather than verse: many
    go on with a small letter, and they are long and much of one length.
    """
    going_on = sum(line[0].islower() for line in lines[1:])
    width = max(map(len, lines))
    even = all(len(line) > width * _EVEN for line in lines[:-1])
    return (
        len(lines) > 2 and going_on > _GOING_ON * (len(lines) - 1) and width >= _LONG_VERSE and even
    )
