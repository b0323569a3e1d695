"""The one way in, whatever the file."""

from pathlib import Path

import pytest
from reglet.exchange import read_draft, write_docx, write_markdown
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene

BOOK = Book(
    "The Tide",
    "Nora Vale",
    (
        Part(
            "p", "", (Chapter("c", "One", (Scene("s", "", Passage.plain("It rained.\n" * 900)),)),)
        ),
    ),
)


@pytest.mark.parametrize("suffix", [".docx", ".md", ".txt"])
def test_progress_rises_to_the_end(suffix: str, tmp_path: Path) -> None:
    path = tmp_path / f"draft{suffix}"
    if suffix == ".docx":
        write_docx(BOOK, path)
    elif suffix == ".md":
        write_markdown(BOOK, path)
    else:
        path.write_text(BOOK.scenes[0].passage.text)
    told: list[float] = []
    read_draft(path, told.append)
    assert told == sorted(told)
    assert told[-1] == 1.0
    assert len(told) > 1


@pytest.mark.parametrize("name", ["DRAFT.DOCX", "draft.Docx"])
def test_names_in_capitals(name: str, tmp_path: Path) -> None:
    write_docx(BOOK, tmp_path / name)
    assert read_draft(tmp_path / name).title == "The Tide"
