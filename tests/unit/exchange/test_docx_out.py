"""The manuscript: its format, checked in the file that is written."""

from datetime import UTC, datetime
from pathlib import Path

import docx
import pytest
from docx.document import Document
from docx.shared import Inches, Pt
from reglet.exchange import read_draft, write_docx
from reglet.exchange.docx_out import manuscript
from reglet.exchange.manuscript_format import rounded_words, running_head, surname
from reglet.manuscript.anchored import Note
from reglet.manuscript.book import Book, Chapter, Part, StyleSheet
from reglet.manuscript.paragraph import Paragraph, Style, scene_break
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene


def scene(name: str, *texts: str) -> Scene:
    return Scene(name, "", Passage.of(Paragraph(text) for text in texts))


def book(**facts: object) -> Book:
    first = scene("scene-1", "It rained.")
    paused = Scene("scene-2", "Late", Passage((Paragraph("A"), scene_break(), Paragraph("B"))))
    chapters = (
        Chapter("chapter-1", "Chapter One", (first, paused)),
        Chapter("chapter-2", "Chapter Two", (scene("scene-3", "It went on."),)),
    )
    return Book("The Tide", "Nora Vale", (Part("part-1", "", chapters),), **facts)


def lines(document: Document) -> list[str]:
    return [paragraph.text for paragraph in document.paragraphs]


def test_what_is_printed() -> None:
    assert lines(manuscript(book())) == [
        "Nora Vale\tabout 100 words",
        "THE TIDE",
        "by",
        "Nora Vale",
        "Chapter One",
        "It rained.",
        "#",
        "A",
        "#",
        "B",
        "Chapter Two",
        "It went on.",
    ]


def test_the_drafts_own_title_page_stands_for_ours() -> None:
    own = scene("scene-0", "The Tide", "a novel by Nora Vale")
    assert lines(manuscript(book(front=(own,))))[:4] == [
        "Nora Vale\tabout 100 words",
        "",
        "The Tide",
        "a novel by Nora Vale",
    ]


def test_the_page() -> None:
    section = manuscript(book()).sections[0]
    margins = {section.left_margin, section.right_margin, section.top_margin, section.bottom_margin}
    assert margins == {Inches(1)}
    assert (section.page_width, section.page_height) == (Inches(8.5), Inches(11))
    assert section.different_first_page_header_footer
    assert not section.first_page_header.paragraphs[0].text
    assert section.header.paragraphs[0].text == "Vale / THE TIDE / 2"


def test_british_paper_for_british_english() -> None:
    section = manuscript(book(style_sheet=StyleSheet("en-GB"))).sections[0]
    assert (section.page_width.mm, section.page_height.mm) == pytest.approx((210, 297), abs=0.2)


def test_the_body() -> None:
    styles = manuscript(book()).styles
    normal, body = styles["Normal"], styles["Reglet body"]
    assert (normal.font.name, normal.font.size) == ("Times New Roman", Pt(12))
    assert body.paragraph_format.line_spacing == 2.0
    assert body.paragraph_format.first_line_indent == Inches(0.5)
    assert styles["Reglet chapter"].paragraph_format.page_break_before
    assert styles["Reglet scene break"].paragraph_format.alignment == 1
    for style in ("block quote", "verse", "letter"):
        assert styles[f"Reglet {style}"].paragraph_format.left_indent >= Inches(0.5)


@pytest.mark.parametrize(
    ("author", "expected"),
    [("Nora Vale", "Vale"), ("N. Vale, Jr.", "Vale"), ("Vale", "Vale"), ("", ""), ("A B III", "B")],
)
def test_surname(author: str, expected: str) -> None:
    assert surname(author) == expected


def test_running_head_without_facts() -> None:
    assert running_head(Book()) == ""
    assert running_head(Book("Tide")) == "TIDE / "


@pytest.mark.parametrize(
    ("count", "expected"),
    [
        (0, "about 0 words"),
        (12, "about 100 words"),
        (1_249, "about 1,200 words"),
        (17_449, "about 17,400 words"),
        (20_400, "about 20,000 words"),
        (121_567, "about 122,000 words"),
    ],
)
def test_word_counts(count: int, expected: str) -> None:
    assert rounded_words(count) == expected


def noted() -> Book:
    when = datetime(2026, 1, 2, 3, 4, tzinfo=UTC)
    notes = (
        Note("note-1", 3, 9, "rained", "Again?", when, "Reader"),
        Note("note-2", 0, 15, "It rained.\nMore", "Both", when),
    )
    passage = Passage((Paragraph("It rained."), Paragraph("More.", Style.FIRST)))
    first = Scene("scene-1", "", passage, notes=notes)
    return Book("T", "A", (Part("p", "", (Chapter("c", "One", (first,)),)),))


def test_notes_go_out_as_comments_only_when_asked(tmp_path: Path) -> None:
    write_docx(noted(), tmp_path / "plain.docx")
    write_docx(noted(), tmp_path / "noted.docx", notes=True)
    assert not list(docx.Document(str(tmp_path / "plain.docx")).comments)
    (found,) = read_draft(tmp_path / "noted.docx").book().scenes
    assert found.passage == noted().scenes[0].passage
    back = {(n.start, n.end, n.words, n.text, n.made, n.author) for n in found.notes}
    assert back == {
        (n.start, n.end, n.words, n.text, n.made, n.author) for n in noted().scenes[0].notes
    }
    assert not read_draft(tmp_path / "plain.docx").notes
