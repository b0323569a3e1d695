"""The text of a word processor's draft while it is read: one paragraph open at a time.

The readers of .docx and .odt know their elements; what becomes of a stretch of words, set so and
so, is decided here, the same for both.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace

from reglet.exchange.beside import Beside
from reglet.exchange.draft import Draft, DraftParagraph
from reglet.exchange.indents import (
    first_paragraphs,
    plain_where_all_is_indented,
    without_typed_indents,
)
from reglet.exchange.looks import INCH, ParagraphLook, RunLook, StyleLook
from reglet.exchange.remarks import Comment, Place, Remarks
from reglet.exchange.signs import sign_of, style_of
from reglet.exchange.usual_language import without_usual_language
from reglet.manuscript.paragraph import (
    LINE_BREAK,
    SCENE_BREAK,
    Paragraph,
    Span,
    SpanKind,
    Style,
)

_ODD = str.maketrans({"\n": " ", "\r": " ", "\u2029": LINE_BREAK})
_LARGER = 1.2
"""A line is set off if it is set this much larger than the text."""
_USUAL_SIZE = 20
"""In half-points, where a document says nothing of it."""
_NO_LANGUAGE = ("x-none", "zxx")
_TOGGLES = (
    (SpanKind.EMPHASIS, "italic"),
    (SpanKind.STRONG, "bold"),
    (SpanKind.SMALL_CAPITALS, "small_capitals"),
    (SpanKind.UNDERLINE, "underline"),
    (SpanKind.STRIKE, "strike"),
)


@dataclass
class _Open:
    """A paragraph while it is read. `under` is the look of its runs that say nothing themselves."""

    style: StyleLook
    look: ParagraphLook
    under: RunLook
    pieces: list[str] = field(default_factory=list)
    length: int = 0
    spans: list[Span] = field(default_factory=list)
    bold: int = 0
    largest: int = 0
    ruled: bool = False
    drawn: bool = False


class DraftText:
    """Takes paragraphs in order. `usual` is how the document sets a run of plain text, `language`
    the one it declares for it.
    """

    def __init__(self, usual: RunLook, language: str, comments: dict[str, Comment]) -> None:
        self.remarks = Remarks(comments)
        self._usual = usual
        self._language = language
        self._paragraphs: list[DraftParagraph] = []
        self._indents: list[int] = []
        self._now: _Open | None = None
        self._carried: _Open | None = None
        self._blanks = 0
        self._new_page = False
        self._listing = False
        self._in_cell = False

    @contextmanager
    def cell(self) -> Iterator[None]:
        """What is read inside stands in a cell of a table, where nothing is a blank line."""
        before, self._in_cell = self._in_cell, True
        yield
        self._in_cell = before

    @contextmanager
    def listing_contents(self, listing: bool) -> Iterator[None]:
        """What is read inside is a table of contents, if `listing`."""
        before, self._listing = self._listing, self._listing or listing
        yield
        self._listing = before

    @property
    def place(self) -> Place:
        """The place that has been reached."""
        return len(self._paragraphs), self._now.length if self._now else 0

    @property
    def style(self) -> StyleLook:
        """The style of the paragraph that is open."""
        return self._now.style if self._now else StyleLook()

    def tell(self, sentence: str, once: bool = False) -> None:
        """A finding about the place that has been reached."""
        self.remarks.tell(sentence, len(self._paragraphs), once)

    def begin(self, style: StyleLook, look: ParagraphLook, under: RunLook) -> None:
        """A paragraph of a named style, looking as `look` says; `under` is the look of its runs."""
        self._now = _Open(style, look, under)
        if self._carried:
            # The text before a deleted paragraph end goes on in this paragraph, and in its style.
            self._now = replace(self._carried, style=style, look=look, under=under)
            self._carried = None
        if look.new_page:
            self._new_page = True

    def add(self, text: str, look: RunLook | None = None) -> None:
        """Words in the paragraph that is open, with what is said of their look."""
        now = self._now
        if now is None or not text:
            return
        if not text.isprintable():
            text = text.translate(_ODD)
        shown = look.over(now.under) if look is not None else now.under
        if shown.hidden:
            self.remarks.hidden(text, self.place)
            return
        start, end = now.length, now.length + len(text)
        now.pieces.append(text)
        now.length = end
        if shown.bold:
            now.bold += len("".join(text.split()))
        if shown.size and shown.size > now.largest:
            now.largest = shown.size
        plain = self._plain(now)
        if shown is plain:
            return
        for kind, name in _TOGGLES:
            if bool(getattr(shown, name)) != bool(getattr(plain, name)):
                now.spans.append(Span(start, end, kind))
        language = shown.language
        if language and language != self._language and language not in _NO_LANGUAGE:
            now.spans.append(Span(start, end, SpanKind.LANGUAGE, language))

    def without_last_space(self) -> None:
        """The space that the open paragraph ends in taken off."""
        if self._now and self._now.pieces and self._now.pieces[-1].endswith(" "):
            self._now.pieces[-1] = self._now.pieces[-1][:-1]
            self._now.length -= 1

    def rule(self) -> None:
        """A line is drawn across, in the paragraph that is open."""
        if self._now:
            self._now.ruled = True

    def leave_out(self, what: str, described: str = "") -> None:
        """A picture or the like, which no book of text can hold, named where it stands."""
        called = f" (“{described}”)" if described else ""
        self.tell(f"{what}{called} stands here and is not brought in: a book holds text.")
        if self._now:
            self._now.drawn = True

    def tell_box(self) -> None:
        """A text box, which its reader takes after the paragraph that it hangs on."""
        self.tell("A text box stands here; its words are kept as paragraphs after this one.")

    def tell_table(self) -> None:
        """A table, which its reader takes cell by cell."""
        self.tell(
            "A table stands here. The words of its cells are kept as paragraphs, row by row; its "
            "columns and lines are not."
        )

    def next_page(self) -> None:
        """What comes next begins a new page."""
        self._new_page = True

    def break_page(self) -> None:
        """A new page begins inside the paragraph that is open, which is parted if it has words."""
        now = self._now
        if now and any(piece.strip() for piece in now.pieces):
            self.end()
            self._now = _Open(now.style, now.look, now.under)
        self._new_page = True

    def end(self, carried: bool = False) -> None:
        """The open paragraph ends; or goes on in the next one, if `carried`."""
        now, self._now = self._now, None
        if now is None:
            return
        if carried:
            self._carried = now
            return
        text = "".join(now.pieces)
        ours = sign_of(now.style.name) is not None
        numbered = bool(now.look.listed and now.look.level)
        if text.strip() or ours or numbered:
            self._keep(now, text)
        elif now.ruled or now.look.ruled:
            self._keep(now, SCENE_BREAK)
        elif not (now.drawn or self._in_cell):  # empty, but no blank line
            self._blanks += 1

    def draft(self, beside: Beside) -> Draft:
        """All that was read, with what the file holds beside it."""
        self._now, self._carried = self._carried, None
        self.end()
        paragraphs = self._paragraphs
        notes = self.remarks.notes(paragraphs)
        findings = [*self.remarks.findings(), *beside.findings()]
        signed = any(each.sign for each in paragraphs)
        if not signed:
            paragraphs = without_usual_language(paragraphs, self._language)
            paragraphs = plain_where_all_is_indented(paragraphs)
            paragraphs, notes, told = without_typed_indents(paragraphs, notes)
            findings += told
            paragraphs = first_paragraphs(paragraphs, self._indents)
        return Draft(
            tuple(paragraphs),
            tuple(notes),
            tuple(findings),
            beside.title,
            beside.author,
            self._language,
            signed,
        )

    def _plain(self, now: _Open) -> RunLook:
        """What counts as not emphasised: for text, the usual style's runs; for the rest its own."""
        if now.style.style in (Style.BODY, Style.FIRST) and not now.look.level:
            return self._usual
        return now.style.run

    def _keep(self, now: _Open, text: str) -> None:
        if now.look.listed:
            self.tell("Numbers or bullets that a list sets by itself are not kept.", once=True)
        level = now.look.level or None
        if now.style.name.lower() == "title":
            level = 0
        lettered = len("".join(text.split())) if now.bold else 0
        self._paragraphs.append(
            DraftParagraph(
                Paragraph(text, _style(now, text, level), tuple(now.spans)),
                level,
                set_off=bool(now.look.centred)
                or now.bold >= lettered > 0
                or now.largest >= (self._usual.size or _USUAL_SIZE) * _LARGER,
                new_page=self._new_page,
                blanks=self._blanks,
                list_of_contents=self._listing or now.style.name.lower().startswith("toc"),
                sign=sign_of(now.style.name),
            )
        )
        self._indents.append(now.look.first or 0)
        self._blanks = 0
        self._new_page = False


def _style(now: _Open, text: str, level: int | None) -> Style:
    """The style of a paragraph: by its named style, or else by how it is set."""
    ours = style_of(now.style.name)
    if ours:
        return ours
    if level is not None:
        return Style.HEADING
    if now.style.style is not Style.BODY:
        return now.style.style
    if now.look.centred:
        return Style.CENTRED
    left, right = now.look.left or 0, now.look.right or 0
    hanging = (now.look.first or 0) < 0
    if left >= INCH // 4 and right >= INCH // 4:
        lines = text.split(LINE_BREAK)
        return Style.VERSE if len(lines) > 2 and max(map(len, lines)) < 60 else Style.BLOCK_QUOTE
    if left >= INCH // 2 and not hanging and not now.look.listed:
        return Style.BLOCK_QUOTE
    return Style.BODY
