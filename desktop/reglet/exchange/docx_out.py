"""A book written as a .docx in standard manuscript format (see `manuscript_format`).

Every paragraph carries a named style, by which `read_draft` knows the manuscript again: a break
inside a scene and a boundary between two scenes look alike on the page and are told apart there.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from io import BytesIO
from pathlib import Path
from typing import Any

import docx
from docx.document import Document
from docx.oxml import OxmlElement
from docx.oxml.ns import qn
from lxml import etree

from reglet.exchange.draft import Sign
from reglet.exchange.manuscript_format import (
    DOWN_A_THIRD,
    SCENE_MARK,
    rounded_words,
    set_up,
)
from reglet.exchange.saving import save
from reglet.exchange.signs import SIGN_NAMES, STYLE_NAMES, style_id
from reglet.manuscript.anchored import Note
from reglet.manuscript.book import Book
from reglet.manuscript.front_and_back import is_title_page, printed_back, printed_front
from reglet.manuscript.paragraph import LINE_BREAK, Paragraph, Span, SpanKind, Style
from reglet.manuscript.scene import Scene
from reglet.manuscript.words import count_words

_W = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"
_SPACE = "{http://www.w3.org/XML/1998/namespace}space"
_PIECE = re.compile(rf"[\t{LINE_BREAK}]|[^\t{LINE_BREAK}]+")
_NOT_XML = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff\ud800-\udfff]")
"""Code points that XML 1.0 cannot hold, in any way of writing them (section 2.2)."""
_RUN_TAGS = (
    (SpanKind.STRONG, "b"),
    (SpanKind.EMPHASIS, "i"),
    (SpanKind.SMALL_CAPITALS, "smallCaps"),
    (SpanKind.STRIKE, "strike"),
    (SpanKind.UNDERLINE, "u"),
    (SpanKind.LANGUAGE, "lang"),
)
"""In the order that the schema of run properties asks for."""
_EMU_PER_TWIP = 635


def write_docx(book: Book, path: Path, *, overwrite: bool = False, notes: bool = False) -> None:
    """Write the manuscript of `book`, with its open notes as comments if `notes`.

    Raises WriterError where `path` is there already (replaced only with `overwrite`, the earlier
    file kept with `.bak` added to its name) or cannot be written.
    """
    buffer = BytesIO()
    manuscript(book, notes=notes).save(buffer)
    save(path, buffer.getvalue(), overwrite)


def manuscript(book: Book, *, notes: bool = False) -> Document:
    """The manuscript as a document of python-docx, not yet written."""
    document = docx.Document()
    set_up(document, book)
    _Writer(document, notes).write(book)
    return document


class _Writer:
    """Puts paragraphs into a document's body one after another."""

    def __init__(self, document: Document, notes: bool) -> None:
        self._document = document
        self._notes = notes
        body = document.element.body
        self._end = body.sectPr
        for paragraph in body.findall(qn("w:p")):
            body.remove(paragraph)

    def write(self, book: Book) -> None:
        """The whole book: title page, front matter, parts, chapters, scenes, back matter."""
        front = list(printed_front(book))
        words = sum(count_words(scene.passage.text) for scene in book.scenes)
        self._first_line(book.author, rounded_words(words))
        if front and is_title_page(front[0], book):
            self._own_title_page(front.pop(0))
        else:
            self._title_page(book)
        for scene in front:
            self._sign(Sign.FRONT, scene.title)
            self._scene(scene)
        for index, part in enumerate(book.parts):
            if part.title or index or not part.chapters:
                self._sign(Sign.PART, part.title)
            for chapter in part.chapters:
                self._sign(Sign.CHAPTER, chapter.title)
                for place, scene in enumerate(chapter.scenes):
                    if place:
                        self._sign(Sign.SCENE, SCENE_MARK)
                    self._scene(scene)
        for scene in printed_back(book):
            self._sign(Sign.BACK, scene.title)
            self._scene(scene)

    def _first_line(self, author: str, words: str) -> None:
        properties = self._sign(Sign.TITLE_PAGE, f"{author}\t{words}")
        tabs = etree.SubElement(properties, _W + "tabs")
        tab = etree.SubElement(tabs, _W + "tab")
        tab.set(_W + "val", "right")
        page: Any = self._document.sections[0]
        width = page.page_width - page.left_margin - page.right_margin
        tab.set(_W + "pos", str(width // _EMU_PER_TWIP))

    def _title_page(self, book: Book) -> None:
        lines = [book.title.upper(), "by" if book.author else "", book.author]
        for index, line in enumerate(line for line in lines if line):
            _centre(self._sign(Sign.TITLE_PAGE, line), index == 0)

    def _own_title_page(self, scene: Scene) -> None:
        """The title page as the draft has it, in the place of one made from the book's facts."""
        properties = self._sign(Sign.FRONT, scene.title)
        stays = etree.SubElement(properties, _W + "pageBreakBefore")
        stays.set(_W + "val", "0")
        for each in self._scene(scene):
            _centre(each, False)

    def _sign(self, sign: Sign, text: str) -> Any:
        return self._paragraph(SIGN_NAMES[sign], text, (), ())

    def _scene(self, scene: Scene) -> list[Any]:
        """A scene's paragraphs, and the w:pPr of each."""
        placed = self._comments(scene)
        written = []
        for start, paragraph in zip(scene.passage.starts, scene.passage.paragraphs, strict=True):
            end = start + len(paragraph.text)
            marks = [(place - start, element) for place, element in placed if start <= place <= end]
            written.append(self._styled(paragraph, marks))
        return written

    def _styled(self, paragraph: Paragraph, marks: Iterable[tuple[int, Any]]) -> Any:
        name = STYLE_NAMES[paragraph.style]
        if paragraph.style is Style.SCENE_BREAK:
            return self._paragraph(name, SCENE_MARK, (), ())
        return self._paragraph(name, paragraph.text, paragraph.spans, marks)

    def _paragraph(
        self, style: str, text: str, spans: tuple[Span, ...], marks: Iterable[tuple[int, Any]]
    ) -> Any:
        element = OxmlElement("w:p")
        properties = etree.SubElement(element, _W + "pPr")
        etree.SubElement(properties, _W + "pStyle").set(_W + "val", style_id(style))
        waiting = sorted(marks, key=lambda each: each[0])
        cuts = {0, len(text)}
        cuts.update(span.start for span in spans)
        cuts.update(span.end for span in spans)
        cuts.update(place for place, _ in waiting)
        edges = sorted(cuts)
        for start, end in zip(edges, edges[1:] or [0], strict=False):
            while waiting and waiting[0][0] <= start:
                element.append(waiting.pop(0)[1])
            if start < end:
                here = [span for span in spans if span.start <= start and end <= span.end]
                _run(element, text[start:end], here)
        for _, mark in waiting:
            element.append(mark)
        self._end.addprevious(element)
        return properties

    def _comments(self, scene: Scene) -> list[tuple[int, Any]]:
        """The marks of a scene's notes, each with its place in the scene."""
        placed = []
        for note in scene.notes if self._notes else ():
            placed += self._comment(note)
        return placed

    def _comment(self, note: Note) -> list[tuple[int, Any]]:
        comment = self._document.part._comments_part.comments.add_comment(
            _xml_text(note.text), author=_xml_text(note.author), initials=""
        )
        comment._comment_elm.set(_W + "date", note.made.isoformat(timespec="seconds"))
        marks = []
        for tag, place in (("commentRangeStart", note.start), ("commentRangeEnd", note.end)):
            mark = OxmlElement(f"w:{tag}")
            mark.set(_W + "id", str(comment.comment_id))
            marks.append((place, mark))
        run = OxmlElement("w:r")
        reference = etree.SubElement(run, _W + "commentReference")
        reference.set(_W + "id", str(comment.comment_id))
        marks.append((note.end, run))
        return marks


def _run(paragraph: Any, text: str, spans: Iterable[Span]) -> None:
    run = etree.SubElement(paragraph, _W + "r")
    kinds = {span.kind: span for span in spans}
    if kinds:
        properties = etree.SubElement(run, _W + "rPr")
        for kind, tag in _RUN_TAGS:
            if kind in kinds:
                setting = etree.SubElement(properties, _W + tag)
                if kind is SpanKind.UNDERLINE:
                    setting.set(_W + "val", "single")
                elif kind is SpanKind.LANGUAGE:
                    setting.set(_W + "val", kinds[kind].value)
    for piece in _PIECE.findall(_xml_text(text)):
        if piece == "\t":
            etree.SubElement(run, _W + "tab")
        elif piece == LINE_BREAK:
            etree.SubElement(run, _W + "br")
        else:
            written = etree.SubElement(run, _W + "t")
            written.text = piece
            written.set(_SPACE, "preserve")


def _centre(properties: Any, down: bool) -> None:
    if down:
        spacing = etree.SubElement(properties, _W + "spacing")
        spacing.set(_W + "before", str(int(DOWN_A_THIRD.pt * 20)))
    indent = etree.SubElement(properties, _W + "ind")
    indent.set(_W + "firstLine", "0")
    etree.SubElement(properties, _W + "jc").set(_W + "val", "center")


def _xml_text(text: str) -> str:
    return _NOT_XML.sub("", text)
