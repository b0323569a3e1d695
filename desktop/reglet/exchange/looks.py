"""How a word processor's file sets its text: what is said of a run of words, and of a paragraph.

The readers of .docx and .odt put both together, each by the rules of its own standard. Lengths are
twentieths of a point.
"""

from __future__ import annotations

from dataclasses import dataclass, field, fields
from functools import lru_cache
from typing import Any

from reglet.manuscript.paragraph import Style

INCH = 1440
_BY_NAME = (
    (("first paragraph", "no indent", "first para", "body text first"), Style.FIRST),
    (("quote", "quotation", "block text", "extract"), Style.BLOCK_QUOTE),
    (("verse", "poem", "poetry", "lyric", "stanza"), Style.VERSE),
    (("letter", "correspondence"), Style.LETTER),
    (("centred", "centered"), Style.CENTRED),
)


@dataclass(frozen=True, slots=True)
class RunLook:
    """What is said of a run; None where nothing is said. `size` is in half-points."""

    bold: bool | None = None
    italic: bool | None = None
    small_capitals: bool | None = None
    strike: bool | None = None
    hidden: bool | None = None
    underline: bool | None = None
    language: str | None = None
    size: int | None = None

    def over(self, under: RunLook) -> RunLook:
        """These properties where they say something, `under`'s where they do not."""
        return _run_over(self, under)


@dataclass(frozen=True, slots=True)
class ParagraphLook:
    """What is said of a paragraph. `level` is 1 for the highest heading, 0 for plain text;
    `ruled` that a line is drawn above or below.
    """

    level: int | None = None
    centred: bool | None = None
    left: int | None = None
    right: int | None = None
    first: int | None = None
    new_page: bool | None = None
    listed: bool | None = None
    ruled: bool | None = None

    def over(self, under: ParagraphLook) -> ParagraphLook:
        """These properties where they say something, `under`'s where they do not."""
        return _paragraph_over(self, under)


@dataclass(frozen=True, slots=True)
class StyleLook:
    """A style with all it inherits: its own name, how paragraphs in it are set, and its runs."""

    id: str = ""
    name: str = ""
    style: Style = Style.BODY
    paragraph: ParagraphLook = field(default_factory=ParagraphLook)
    run: RunLook = field(default_factory=RunLook)


def style_named(name: str) -> Style | None:
    """The style that a paragraph style of this name stands for; None where its name tells none."""
    lowered = name.lower()
    return next(
        (style for words, style in _BY_NAME if any(word in lowered for word in words)), None
    )


# A document sets its text in few different ways, so each is put together once.
@lru_cache(maxsize=4096)
def _run_over(over: RunLook, under: RunLook) -> RunLook:
    return RunLook(*(_said(getattr(over, f.name), getattr(under, f.name)) for f in fields(over)))


@lru_cache(maxsize=4096)
def _paragraph_over(over: ParagraphLook, under: ParagraphLook) -> ParagraphLook:
    return ParagraphLook(
        *(_said(getattr(over, f.name), getattr(under, f.name)) for f in fields(over))
    )


def _said(over: Any, under: Any) -> Any:
    return under if over is None else over
