"""Build the demo book's draft.docx as its writer's word processor would have saved it.

    python demo_book/build.py [OUT.docx]

The words are in text/, one scene a file; book.toml says how they fall into chapters, how each
chapter heading was typed and what stands between scenes, and holds an early reader's comments and
the writer's tracked changes. The same text gives the same bytes: every date is fixed.

The markup of a scene file: a blank line ends a paragraph, *asterisks* are italics, and lines that
begin with "> " are a quoted letter, in which a single line end is a line break.
"""

from __future__ import annotations

import re
import sys
import tomllib
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from docx import Document
from docx.enum.text import WD_ALIGN_PARAGRAPH, WD_LINE_SPACING
from docx.oxml import OxmlElement
from docx.oxml.ns import qn
from docx.shared import Cm, Pt, RGBColor
from docx.text.paragraph import Paragraph as DocxParagraph
from docx.text.run import Run

HERE = Path(__file__).parent
WRITTEN = datetime(2024, 3, 4, 9, 0)
"""The one moment at which everything in the file was made."""

WRITTEN_XML = WRITTEN.strftime("%Y-%m-%dT%H:%M:%SZ")


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of one paragraph that is set in one way."""

    text: str
    italic: bool


@dataclass(frozen=True, slots=True)
class Paragraph:
    """A paragraph of a scene: its pieces, and whether it belongs to a quoted letter."""

    pieces: tuple[Piece, ...]
    quoted: bool

    @property
    def text(self) -> str:
        """Its words without markup; "\\n" is a line break inside a letter."""
        return "".join(piece.text for piece in self.pieces)


def read_book() -> dict[str, Any]:
    """The contents of book.toml."""
    return tomllib.loads((HERE / "book.toml").read_text(encoding="utf-8"))


def read_scene(stem: str) -> tuple[Paragraph, ...]:
    """The paragraphs of text/STEM.md."""
    source = (HERE / "text" / f"{stem}.md").read_text(encoding="utf-8")
    return tuple(paragraph for block in source.strip().split("\n\n") for paragraph in _block(block))


def _block(block: str) -> Iterator[Paragraph]:
    if not block.startswith(">"):
        yield Paragraph(_pieces(block), quoted=False)
        return
    unmarked = re.sub(r"^> ?", "", block, flags=re.MULTILINE)
    for part in unmarked.split("\n\n"):
        yield Paragraph(_pieces(part), quoted=True)


def _pieces(source: str) -> tuple[Piece, ...]:
    parts = source.split("*")
    return tuple(Piece(part, italic=i % 2 == 1) for i, part in enumerate(parts) if part)


def build(out: Path) -> None:
    """Write the draft to OUT, replacing what is there."""
    book = read_book()
    document = Document()
    _set_defaults(document, book)
    _title_page(document, book)
    for chapter in book["chapters"]:
        _heading(document, chapter)
        for scene in chapter["scenes"]:
            for paragraph in read_scene(scene["file"]):
                _marked_up(document, _body(document, paragraph), paragraph, scene["file"], book)
            if "after" in scene:
                _scene_break(document, scene["after"])
    document.save(str(out))
    _fix_dates(out)


def _set_defaults(document: Any, book: dict[str, Any]) -> None:
    normal = document.styles["Normal"]
    normal.font.name = "Times New Roman"
    normal.font.size = Pt(12)
    normal.paragraph_format.line_spacing_rule = WD_LINE_SPACING.ONE_POINT_FIVE
    normal.paragraph_format.space_after = Pt(0)
    heading = document.styles["Heading 1"]
    heading.font.size = Pt(16)
    heading.font.color.rgb = RGBColor(0, 0, 0)
    heading.paragraph_format.space_before = Pt(24)
    heading.paragraph_format.space_after = Pt(18)
    language = document.styles.element.find(".//" + qn("w:lang"))
    language.set(qn("w:val"), book["language"])
    properties = document.core_properties
    properties.title = book["title"]
    properties.author = properties.last_modified_by = book["author"]
    properties.comments = ""
    properties.language = book["language"]
    properties.created = properties.modified = WRITTEN
    properties.revision = 41


def _title_page(document: Any, book: dict[str, Any]) -> None:
    lines = [(book["title"], 26, True), ("by", 12, False), (book["author"], 14, False)]
    lines.append((book["note"], 12, False))
    for i, (text, size, bold) in enumerate(lines):
        paragraph = document.add_paragraph()
        paragraph.alignment = WD_ALIGN_PARAGRAPH.CENTER
        paragraph.paragraph_format.space_before = Pt(200 if i == 0 else 12)
        run = paragraph.add_run(text)
        run.font.size = Pt(size)
        run.bold = bold or None
        run.italic = (text == book["note"]) or None


def _heading(document: Any, chapter: dict[str, Any]) -> None:
    kind = chapter["heading"]
    if kind == "style":
        paragraph = document.add_paragraph(chapter["text"], style="Heading 1")
    else:
        paragraph = document.add_paragraph()
        run = paragraph.add_run(chapter["text"])
        paragraph.paragraph_format.space_before = Pt(24)
        paragraph.paragraph_format.space_after = Pt(12)
        if kind == "bold":
            run.bold = True
            paragraph.alignment = WD_ALIGN_PARAGRAPH.CENTER
    paragraph.paragraph_format.page_break_before = chapter["page_break"] or None


def _body(document: Any, paragraph: Paragraph) -> DocxParagraph:
    added: DocxParagraph = document.add_paragraph()
    if paragraph.quoted:
        added.paragraph_format.left_indent = added.paragraph_format.right_indent = Cm(1.5)
    else:
        added.paragraph_format.first_line_indent = Cm(1)
    return added


def _marked_up(
    document: Any, added: DocxParagraph, paragraph: Paragraph, stem: str, book: dict[str, Any]
) -> None:
    """Set the paragraph's runs, with the comment or the tracked change that falls in it."""
    comments = _here(book["comments"], stem, "on", paragraph)
    insertions = _here(book["insertions"], stem, "text", paragraph)
    deletions = _here(book["deletions"], stem, "after", paragraph)
    cuts = [(item["on"], "comment", item) for item in comments]
    cuts += [(item["text"], "insertion", item) for item in insertions]
    for piece in paragraph.pieces:
        for text, kind, item in _cut(piece.text, cuts):
            run = added.add_run(text)
            run.italic = piece.italic or None
            if kind == "comment":
                comment = document.add_comment(run, item["text"], "Early reader", "ER")
                comment._comment_elm.date = WRITTEN
            elif kind == "insertion":
                _track(run, "w:ins", book["author"])
    for item in deletions:
        run = added.add_run(item["text"])
        run._r.find(qn("w:t")).tag = qn("w:delText")
        _track(run, "w:del", book["author"])


def _here(
    items: list[dict[str, str]], stem: str, key: str, paragraph: Paragraph
) -> list[dict[str, str]]:
    return [item for item in items if item["scene"] == stem and item[key] in paragraph.text]


def _cut(
    text: str, cuts: list[tuple[str, str, dict[str, str]]]
) -> Iterator[tuple[str, str, dict[str, str]]]:
    """The text in order, each marked stretch apart with the kind of its mark."""
    for wanted, kind, item in cuts:
        if wanted in text:
            before, after = text.split(wanted, 1)
            yield from _cut(before, cuts)
            yield wanted, kind, item
            yield from _cut(after, cuts)
            return
    if text:
        yield text, "", {}


def _track(run: Run, tag: str, author: str) -> None:
    """Wrap the run in a tracked insertion or deletion (ISO/IEC 29500-1, 17.13.5)."""
    change = OxmlElement(tag)
    change.set(qn("w:id"), "901" if tag == "w:ins" else "902")
    change.set(qn("w:author"), author)
    change.set(qn("w:date"), WRITTEN_XML)
    run._r.addprevious(change)
    change.append(run._r)


def _scene_break(document: Any, mark: str) -> None:
    paragraph = document.add_paragraph("" if mark == "blank" else mark)
    paragraph.alignment = WD_ALIGN_PARAGRAPH.CENTER if mark != "blank" else None


def _fix_dates(path: Path) -> None:
    """Write the archive again with one date on every member, so that builds compare equal."""
    with zipfile.ZipFile(path) as archive:
        members = [(name, archive.read(name)) for name in archive.namelist()]
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in members:
            entry = zipfile.ZipInfo(name, WRITTEN.timetuple()[:6])
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.external_attr = 0o600 << 16
            archive.writestr(entry, data)


if __name__ == "__main__":
    build(Path(sys.argv[1]) if len(sys.argv) > 1 else HERE / "draft.docx")
