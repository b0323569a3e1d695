"""Pages to print hold every letter where it was measured, and their faces."""

import shutil
import subprocess
from datetime import UTC, datetime
from pathlib import Path

import pytest
from reglet.errors import WriterError
from reglet.exchange.print_out import _Printing, print_pages, write_pdf
from reglet.manuscript.book import Book, Chapter, Part, StyleSheet
from reglet.manuscript.editing import rewrite
from reglet.manuscript.front_and_back import add_matter
from reglet.manuscript.matter import Matter
from reglet.manuscript.paragraph import Paragraph, Span, SpanKind, Style, scene_break
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.setting import TRIMS, USUAL_TRIM, pages
from reglet.setting.reader_copy import copy_of, laid_out

WHEN = datetime(2031, 5, 4, 12, 30, tzinfo=UTC)
PROSE = (
    "The ferry came late that evening, and nobody on the landing had thought to wait for it; the "
    "fish fell off the shelf, and she found the office afflicted. “Well,” said AVA, “to Wapping.” "
)
SPANS = (
    Span(4, 9, SpanKind.EMPHASIS),
    Span(15, 19, SpanKind.STRONG),
    Span(34, 40, SpanKind.UNDERLINE),
    Span(50, 57, SpanKind.SMALL_CAPITALS),
)
SCENE = Scene(
    "a",
    "",
    Passage(
        (
            *(Paragraph(PROSE * 6, spans=SPANS) for _ in range(12)),
            scene_break(),
            Paragraph("Two  spaces  stand here. " * 20),
            Paragraph("Row on, row on.", Style.VERSE),
        )
    ),
)
BOOK = Book(
    "Ferry & Quay",
    "A. Writer",
    (
        Part("p1", "Part One", (Chapter("c1", "One", (SCENE,)),)),
        Part("p2", "Part Two", (Chapter("c2", "Two", (Scene("b", "", Passage.plain("End.")),)),)),
    ),
    style_sheet=StyleSheet("en-GB"),
)

needs_poppler = pytest.mark.skipif(shutil.which("pdftotext") is None, reason="needs poppler")


def told(command: str, path: Path, *options: str) -> str:
    asked = [command, *options, str(path), *(["-"] if command == "pdftotext" else [])]
    return subprocess.run(asked, capture_output=True, check=True).stdout.decode()


@pytest.fixture
def printed(tmp_path: Path) -> Path:
    path = tmp_path / "book.pdf"
    assert write_pdf(BOOK, path, when=WHEN) == ""
    return path


def test_each_line_is_as_wide_as_it_was_measured() -> None:
    for name in ("5 x 8 in", "6 x 9 in"):
        sheet = TRIMS[name].in_language("en-GB")
        printing = _Printing(BOOK, sheet, WHEN)
        page = printing.pdf.add_page(sheet.width, sheet.height)
        copy = copy_of("One", [("a", SCENE.passage)])
        made_up = pages((each.paragraph for each in copy), sheet)
        measured = [line for each in made_up for piece in each.pieces for line in piece.lines]
        set_lines = [line for each in made_up for line in laid_out(each, copy, sheet)]
        assert len(measured) == len(set_lines) > 100
        for line, wanted in zip(set_lines, measured, strict=True):
            assert printing._line(page, line, 0.0) == pytest.approx(
                wanted.left + wanted.width, abs=0.3
            )


@needs_poppler
def test_every_letter_is_there_in_order(printed: Path) -> None:
    read = "".join(each for each in told("pdftotext", printed, "-raw") if each.isalpha())
    at = 0
    for paragraph in SCENE.passage.paragraphs:
        for letter in filter(str.isalpha, paragraph.text):
            at = read.index(letter, at) + 1
    # And nothing but the heads besides.
    written = sum(map(str.isalpha, SCENE.passage.text))
    assert written < len(read) < written * 1.1


@needs_poppler
def test_where_things_begin_and_what_stands_at_head_and_foot(printed: Path) -> None:
    leaves = told("pdftotext", printed).split("\f")
    assert "Ferry & Quay" in leaves[0] and not leaves[1].strip()
    assert "Part One" in leaves[2] and not leaves[3].strip()
    assert leaves[4].startswith("One\n") and leaves[4].strip().endswith("\n1")
    assert leaves[5].startswith("A. Writer\n") and leaves[5].strip().endswith("\n2")
    assert leaves[6].startswith("Ferry & Quay\n") and leaves[6].strip().endswith("\n3")
    second = next(at for at, leaf in enumerate(leaves) if leaf.startswith("Part Two"))
    assert second % 2 == 0 and leaves[second + 2].startswith("Two\n")


@needs_poppler
def test_where_front_and_back_matter_stands(tmp_path: Path) -> None:
    book = BOOK
    for kind in Matter:
        book, made = add_matter(book, kind)
        if kind is not Matter.EPIGRAPH:
            book = rewrite(book, made, Passage.plain(f"Words of {kind.label}.", kind.style))
    path = tmp_path / "book.pdf"
    write_pdf(book, path, when=WHEN)
    leaves = [leaf.strip() for leaf in told("pdftotext", path).split("\f")]
    assert leaves[:7] == [
        "Words of Title page.",
        "Words of Copyright page.",
        "Words of Dedication.",
        "",
        "Foreword\nWords of Foreword.",
        "",
        "Part One",
    ]
    ends = [leaf for leaf in leaves if leaf][-3:]
    assert [leaf.split("\n")[0] for leaf in ends] == [
        "Afterword",
        "Acknowledgements",
        "About the author",
    ]
    # At the foot, and down from the head.
    high = [
        float(line.split('yMin="')[1].split('"')[0])
        for line in told("pdftotext", path, "-bbox", "-l", "3").split("\n")
        if ">Words<" in line
    ]
    assert high[1] > USUAL_TRIM.height * 0.8 and high[0] == high[2] > USUAL_TRIM.top * 2


@needs_poppler
def test_the_file_is_sound_and_holds_its_faces(printed: Path) -> None:
    info = told("pdfinfo", printed)
    assert "396 x 612 pts" in info and "Ferry & Quay" in info
    fonts = told("pdffonts", printed).splitlines()[2:]
    assert len(fonts) >= 3
    assert all(line.split()[-5:-2] == ["yes", "yes", "yes"] for line in fonts)


def test_the_same_book_gives_the_same_pages() -> None:
    one, two = (print_pages(BOOK, USUAL_TRIM, WHEN).content() for _ in range(2))
    assert one == two


def one_scene(text: str) -> Book:
    scene = Scene("s", "", Passage.plain(text))
    return Book("T", parts=(Part("p", "", (Chapter("c", "", (scene,)),)),))


@needs_poppler
def test_letters_that_the_face_has_not_are_set_in_another(tmp_path: Path) -> None:
    path = tmp_path / "t.pdf"
    assert write_pdf(one_scene("The tide ❦ turned ♥ at 4‽"), path) == ""
    assert "The tide ❦ turned ♥ at 4‽" in told("pdftotext", path)
    names = {line.split()[0].partition("+")[2] for line in told("pdffonts", path).splitlines()[2:]}
    assert {"Cardo-Regular", "SourceSans3-Regular"} < names


def test_a_line_with_letters_of_another_face_is_as_wide_as_it_was_measured() -> None:
    sheet = USUAL_TRIM.in_language("en-GB")
    passage = Passage.plain("She drew a ♥ on the sill ❦ and thought, “What‽” of it — ❦❦. " * 30)
    printing = _Printing(BOOK, sheet, WHEN)
    page = printing.pdf.add_page(sheet.width, sheet.height)
    copy = copy_of("", [("a", passage)])
    made_up = pages((each.paragraph for each in copy), sheet)
    measured = [line for each in made_up for piece in each.pieces for line in piece.lines]
    set_lines = [line for each in made_up for line in laid_out(each, copy, sheet)]
    for line, wanted in zip(set_lines, measured, strict=True):
        ends = printing._line(page, line, 0.0)
        assert ends == pytest.approx(wanted.left + wanted.width, abs=0.3)


def test_letters_that_no_face_has_are_told(tmp_path: Path) -> None:
    assert write_pdf(one_scene("第 a"), tmp_path / "t.pdf") == "第"
    assert write_pdf(Book(), tmp_path / "empty.pdf") == ""
    with pytest.raises(WriterError, match="there already"):
        write_pdf(Book(), tmp_path / "empty.pdf")
