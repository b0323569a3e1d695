"""A book written as a PDF for the printer: the pages that Reglet measures, at the trim chosen.

Common practice in printed novels: the first page is a right-hand one; the title stands on a page of
its own, and so does a part's; the copyright page is the back of the title page, set at its foot; a
dedication has a right-hand page to itself, set down from the head; a chapter begins a new page;
page numbers are counted from the first page of the story and stand at the foot; the head names the
author on the left and the title on the right, and is left out where something begins.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path

from reglet.exchange.pdf import Face, PageOf, Pdf
from reglet.exchange.saving import save
from reglet.manuscript.book import Book
from reglet.manuscript.front_and_back import is_title_page, printed_back, printed_front
from reglet.manuscript.matter import Matter
from reglet.manuscript.paragraph import LINE_BREAK, Paragraph, Style
from reglet.overlays.house import page_of
from reglet.setting import USUAL_TRIM, Medium, Sheet, faces, pages
from reglet.setting.fount import fount
from reglet.setting.reader_copy import Run, SetLine, Source, copy_of, laid_out

_SMALL = 0.8
"""The size of page numbers and heads, as a share of the text's."""
_RULE = 0.05
"""How thick a line under words is, in ems, and how far below the base line or above it."""
_UNDER, _THROUGH = -0.12, 0.26


_ALONE = (Matter.DEDICATION, Matter.EPIGRAPH)
"""A few words that have a page to themselves."""


@dataclass(frozen=True, slots=True)
class _Leaf:
    """A page to be printed. `opens`: something begins here, so no head stands over it. `counted`:
    it has a page number.
    """

    lines: tuple[SetLine, ...] = ()
    opens: bool = True
    counted: bool = False


def write_pdf(
    book: Book, path: Path, *, overwrite: bool = False, when: datetime | None = None
) -> str:
    """Write `book` as pages of the trim that it is set to, made `when`, or now; the letters that
    no face here has, which are printed as empty boxes ("" where all is well).

    Raises WriterError where `path` is there already (replaced only with `overwrite`, the earlier
    file kept with `.bak` added to its name) or cannot be written; faces.MissingFace.
    """
    chosen = page_of(book.style_sheet)
    sheet = chosen if chosen.medium is Medium.PRINT else USUAL_TRIM
    pdf = print_pages(book, sheet, when or datetime.now(UTC))
    save(path, pdf.content(), overwrite)
    return pdf.missing


def print_pages(book: Book, sheet: Sheet, when: datetime) -> Pdf:
    """The pages of a book."""
    language = book.style_sheet.language or "en"
    printing = _Printing(book, sheet.in_language(language), when)
    first = None
    for number, leaf in enumerate(_leaves(book, printing.sheet)):
        if leaf.counted and first is None:
            first = number
        folio = number - first + 1 if leaf.counted and first is not None else 0
        printing.print(leaf, number, folio)
    return printing.pdf


def _leaves(book: Book, sheet: Sheet) -> Iterator[_Leaf]:
    """Every page in order, blank ones among them; the first is a right-hand page."""
    count = 0

    def on(leaves: Sequence[_Leaf]) -> Iterator[_Leaf]:
        nonlocal count
        for leaf in leaves:
            yield leaf
            count += 1

    def right(leaves: list[_Leaf]) -> Iterator[_Leaf]:
        yield from on([_Leaf()] * (count % 2))
        yield from on(leaves)

    front = printed_front(book)
    if not any(is_title_page(scene, book) for scene in front):
        yield from right(_made_up(_title_page(book), sheet))
    for scene in front:
        leaves = _made_up(copy_of(scene.title, [(scene.id, scene.passage)]), sheet)
        if len(leaves) == 1:
            if is_title_page(scene, book) or scene.matter in _ALONE:
                leaves = [_sunk(leaves[0], sheet)]
            elif scene.matter is Matter.COPYRIGHT:
                leaves = [_at_foot(leaves[0], sheet)]
        if scene.matter is Matter.COPYRIGHT:
            yield from on(leaves)
        else:
            yield from right(leaves)
    begun = False
    for part in book.parts:
        if part.title:
            yield from right(_made_up(copy_of(part.title, ()), sheet))
            begun = False
        for chapter in part.chapters:
            copy = copy_of(chapter.title, ((each.id, each.passage) for each in chapter.scenes))
            leaves = _made_up(copy, sheet, counted=True)
            if begun:
                yield from on(leaves)
            else:
                yield from right(leaves)
            begun = True
    for scene in printed_back(book):
        copy = copy_of(scene.title, [(scene.id, scene.passage)])
        yield from on(_made_up(copy, sheet, counted=True))


def _made_up(copy: tuple[Source, ...], sheet: Sheet, counted: bool = False) -> list[_Leaf]:
    made_up = pages((source.paragraph for source in copy), sheet)
    return [
        _Leaf(laid_out(page, copy, sheet), opens=not number, counted=counted)
        for number, page in enumerate(made_up)
    ]


def _sunk(leaf: _Leaf, sheet: Sheet) -> _Leaf:
    """A page with a few lines, as far down as a chapter's heading, where there is room."""
    return _lower(leaf, min(sheet.sink * sheet.leading, _room_below(leaf, sheet)))


def _at_foot(leaf: _Leaf, sheet: Sheet) -> _Leaf:
    return _lower(leaf, _room_below(leaf, sheet))


def _room_below(leaf: _Leaf, sheet: Sheet) -> float:
    return sheet.depth - leaf.lines[-1].top - leaf.lines[-1].leading


def _lower(leaf: _Leaf, by: float) -> _Leaf:
    return replace(leaf, lines=tuple(replace(each, top=each.top + by) for each in leaf.lines))


def _title_page(book: Book) -> tuple[Source, ...]:
    said = [Paragraph(book.title or "Untitled", Style.HEADING)]
    if book.author:
        said += [Paragraph("", Style.CENTRED), Paragraph(book.author, Style.CENTRED)]
    return tuple(Source("", 0, paragraph) for paragraph in said)


class _Printing:
    """Draws the leaves on the pages of a PDF."""

    def __init__(self, book: Book, sheet: Sheet, when: datetime) -> None:
        self.sheet = sheet
        self.pdf = Pdf(book.title or "Untitled", book.author, sheet.language, when)
        self._title, self._author = book.title.replace(LINE_BREAK, " "), book.author
        self._faces: dict[tuple[str, float, bool, bool], Face] = {}

    def print(self, leaf: _Leaf, number: int, folio: int) -> None:
        """Draw the `number`th leaf, from 0, with its page number if it is not 0."""
        sheet = self.sheet
        page = self.pdf.add_page(sheet.width, sheet.height)
        is_right = number % 2 == 0
        left = sheet.inner if is_right else sheet.outer
        for line in leaf.lines:
            self._line(page, line, left)
        if folio:
            self._centred(page, str(folio), left, sheet.bottom * 0.5)
        head = self._title if is_right else self._author or self._title
        if folio and not leaf.opens and head:
            self._centred(page, head, left, sheet.height - sheet.top * 0.6, italic=True)

    def _line(self, page: PageOf, line: SetLine, left: float) -> float:
        """Set a line; where it ends, in points from the left edge of the page."""
        x = left + line.left
        regular = self._face(line.size, Run(""), self.sheet.family)
        ascent, descent = regular.extents
        # As the line stands in its leading on the page that is shown: the spare above and below.
        spare = line.leading - (ascent + descent) * line.size
        y = self.sheet.height - self.sheet.top - line.top - spare / 2 - ascent * line.size
        space = regular.width(" ") * line.size
        spaced = True  # spaces together count as one, as where the line was measured
        for run in line.runs:
            began = x
            for at, word in enumerate(run.text.replace("\t", " ").split(" ")):
                if at and not spaced:
                    self.pdf.word(page, regular, line.size, (x, y), " ")
                    x += space + line.gap
                    spaced = True
                if word:
                    x += self._word(page, line.size, (x, y), word, run)
                    spaced = False
            for wanted, height in ((run.underline, _UNDER), (run.strike, _THROUGH)):
                if wanted:
                    self.pdf.rule(page, began, y + height * line.size, x - began, _RULE * line.size)
        return x

    def _word(
        self, page: PageOf, size: float, at: tuple[float, float], word: str, run: Run
    ) -> float:
        """Set a word, each letter in a face that has it; how wide it is, in points."""
        x, y = at
        own = self.sheet.family
        for family, part in faces.stretches(own, word, bold=run.bold, italic=run.italic):
            face = self._face(size, run, family)
            small = run.small_capitals and family == own
            x += self.pdf.word(page, face, size, (x, y), part, small)
        return x - at[0]

    def _centred(
        self, page: PageOf, text: str, left: float, y: float, italic: bool = False
    ) -> None:
        size = self.sheet.size * _SMALL
        run = Run("", italic=italic)
        set_in = fount(self.sheet.family, size, self.sheet.optical(size), "en", italic=italic)
        words = text.split()
        widths = [set_in.width(word) for word in words]
        x = left + (self.sheet.measure - sum(widths) - set_in.space * (len(words) - 1)) / 2
        for word, width in zip(words, widths, strict=True):
            self._word(page, size, (x, y), word, run)
            x += width + set_in.space

    def _face(self, size: float, run: Run, family: str) -> Face:
        optical = self.sheet.optical(size)
        key = family, optical, run.bold, run.italic
        if key not in self._faces:
            path = faces.file(family, bold=run.bold, italic=run.italic)
            axes = {"wght": 700.0 if run.bold else 400.0, "opsz": optical}
            cut = {(False, False): "Regular", (True, False): "Bold", (False, True): "Italic"}
            name = f"{family.replace(' ', '')}-"
            name += cut.get((run.bold, run.italic), "BoldItalic")
            self._faces[key] = self.pdf.add_face(Face(path, axes, run.italic, name))
        return self._faces[key]
