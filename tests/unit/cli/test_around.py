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
