"""A draft as a reader gives it: its paragraphs in order, with what the file says about each.

The readers (`docx_in`, `odt_in`, `text_in`, `markdown_in`) only say what stands in the file; what
is a chapter and what a scene is decided in `division`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from reglet.manuscript.paragraph import Paragraph

Progress = Callable[[float], None]
"""Told how far a long work has come, from 0.0 to 1.0."""


class Sign(StrEnum):
    """What a paragraph is, where the file itself says so in a manuscript that Reglet wrote.

    `PAUSE` is a break inside a scene. `FRONT` and `BACK` head a piece of front or back matter.
    """

    TEXT = "text"
    PART = "part"
    CHAPTER = "chapter"
    SCENE = "scene"
    PAUSE = "pause"
    FRONT = "front"
    BACK = "back"
    TITLE_PAGE = "title_page"


@dataclass(frozen=True, slots=True)
class DraftParagraph:
    """One paragraph of a draft.

    `level` is its outline level, 1 and deeper for headings, 0 for the title of the whole.
    `set_off` says that it stands out from the text: all bold, centred, or set larger. `blanks` is
    the number of blank lines or empty paragraphs before it. `list_of_contents` marks the lines of
    a table of contents that a word processor made.
    """

    paragraph: Paragraph
    level: int | None = None
    set_off: bool = False
    new_page: bool = False
    blanks: int = 0
    list_of_contents: bool = False
    sign: Sign | None = None

    @property
    def text(self) -> str:
        """The paragraph's text."""
        return self.paragraph.text


@dataclass(frozen=True, slots=True)
class DraftNote:
    """A remark on a draft: from code point `start` of paragraph `first` to `end` of `last`."""

    first: int
    start: int
    last: int
    end: int
    words: str
    text: str
    made: datetime
    author: str = ""
    kind: str = ""


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing to tell the writer about a draft: a sentence, and the paragraph it is about."""

    sentence: str
    at: int | None = None


@dataclass(frozen=True, slots=True)
class Draft:
    """A whole draft as read, not yet divided. `title`, `author` and `language` are what the file
    says of itself; `signed` that Reglet wrote it, so that its signs are to be trusted.
    """

    paragraphs: tuple[DraftParagraph, ...]
    notes: tuple[DraftNote, ...] = ()
    findings: tuple[Finding, ...] = ()
    title: str = ""
    author: str = ""
    language: str = ""
    signed: bool = False
