"""The commands on what stands around the story."""

from __future__ import annotations

import json
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest
from reglet.__main__ import main
from reglet.bookfile import BookFile
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.paragraph import Style
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene

from tests.pictures import jpeg, png

Run = Callable[..., tuple[int, str, str]]


@pytest.fixture
def book(tmp_path: Path) -> Path:
    path = tmp_path / "Ferry.reglet"
    chapter = Chapter("c", "One", (Scene("a", "", Passage.plain("The ferry came.")),))
    BookFile.create(path, Book("Ferry", "A. Writer", (Part("p", "", (chapter,)),))).close()
    return path


@pytest.fixture
def reglet(capsys: pytest.CaptureFixture[str]) -> Run:
    def run(*arguments: object) -> tuple[int, str, str]:
        status = main([str(each) for each in arguments])
        said = capsys.readouterr()
        return status, said.out, said.err

    return run


def test_a_cover_is_set_told_sent_and_taken_away(book: Path, reglet: Run, tmp_path: Path) -> None:
    picture, out = tmp_path / "front.jpeg", tmp_path / "out.epub"
    picture.write_bytes(png(1400, 2240))
    assert reglet("cover", book) == (0, "The book has no cover.\n", "")
    status, said, aside = reglet("cover", book, picture)
    assert (status, aside) == (0, "") and said.startswith("1,400 by 2,240 pixels, PNG, ")
    assert reglet("export", book, out)[0] == 0
    with zipfile.ZipFile(out) as archive:
        assert archive.read("EPUB/cover.png") == picture.read_bytes()
    picture.write_bytes(jpeg(160, 100))
    facts = json.loads(reglet("cover", book, picture, "--json")[1])["cover"]
    assert (facts["media_type"], facts["width"], facts["height"]) == ("image/jpeg", 160, 100)
    assert "not upright" in facts["advice"][0] and "1,400 pixels" in facts["advice"][1]
    assert reglet("cover", book, "--none")[1] == "The book has no cover.\n"
    assert json.loads(reglet("cover", book, "--json")[1]) == {"cover": None}


def test_what_is_no_cover_leaves_the_book_as_it_was(
    book: Path, reglet: Run, tmp_path: Path
) -> None:
    other = tmp_path / "cover.png"
    other.write_text("no picture")
    before = book.read_bytes()
    for arguments in ([other], [tmp_path / "none.png"], [other, "--none"]):
        status, said, aside = reglet("cover", book, *arguments)
        assert (status, said) == (2, "") and aside.endswith(".\n")
    assert book.read_bytes() == before


def test_front_and_back_matter_is_written_listed_and_taken_out(
    book: Path, reglet: Run, tmp_path: Path
) -> None:
    words = tmp_path / "words.txt"
    words.write_text("For J.\n")
    status, said, aside = reglet("matter", book, "dedication", "--from", words)
    assert (status, aside) == (0, "") and said.endswith("  front  Dedication, 2 words\n")
    words.write_text("A. Writer keeps a ferry.\n")
    assert reglet("matter", book, "about-the-author", "--from", words)[0] == 0
    status, said, aside = reglet("matter", book, "copyright-page")
    assert status == 0 and "licensed adviser" in aside
    pieces = json.loads(reglet("matter", book, "--json")[1])
    assert [(each["side"], each["kind"], each["title"], each["words"]) for each in pieces] == [
        ("front", "copyright-page", "", 0),
        ("front", "dedication", "", 2),
        ("back", "about-the-author", "About the author", 5),
    ]
    words.write_text("For *J.*, again.\n")
    assert reglet("matter", book, "dedication", "--from", words.rename(tmp_path / "w.md"))[0] == 0
    with BookFile.open(book, read_only=True) as file:
        (paragraph,) = file.book.front[1].passage.paragraphs
        assert (paragraph.text, paragraph.style) == ("For J., again.", Style.CENTRED)
        assert len(paragraph.spans) == 1
        (before,) = file.snapshots()
        assert file.scene_state(before.id, file.book.front[1].id).passage.text == "For J."
    assert reglet("matter", book, "dedication", "--remove")[0] == 2
    assert reglet("matter", book, "copyright-page", "--remove")[0] == 0
    assert reglet("matter", book, "copyright-page", "--remove")[0] == 2
    for arguments in (["--remove"], ["dedication", "--remove", "--from", words]):
        assert reglet("matter", book, *arguments)[0] == 2
    assert len(json.loads(reglet("matter", book, "--json")[1])) == 2
