"""Sending out writes a file that reads back as the book, and tells where it went or why not."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot
from reglet.exchange import read_draft
from reglet.window.background import Background
from reglet.window.desk import Desk
from reglet.window.lettering import Label
from reglet.window.rooms.send_out import SendOutRoom
from reglet.window.sending import Sending

from tests.window.conftest import small_book
from tests.window.reaching import press


class Sender:
    """A room with a desk behind it, whose writer always wants the file at `path`."""

    def __init__(self, qtbot: QtBot, path: Path | None) -> None:
        self.desk, self.room, self.background = Desk(), SendOutRoom(), Background()
        self.asked: list[tuple[str, str]] = []
        self.failed: list[str] = []
        self._path = path
        self._holder = QWidget()
        qtbot.addWidget(self._holder)
        qtbot.addWidget(self.room)
        self.sending = Sending(
            self.desk, self.room, self.background, Path.home, self._holder, self._ask
        )
        self.background.failed.connect(self.failed.append)
        self.desk.lay_out(small_book())

    def _ask(self, name: str, ending: str) -> Path | None:
        self.asked.append((name, ending))
        return self._path

    def said(self) -> str:
        return " ".join(label.text() for label in self.room.findChildren(Label))


@pytest.mark.parametrize(
    ("says", "ending"), [("Manuscript, .docx", ".docx"), ("Markdown, .md", ".md")]
)
def test_the_file_reads_back_as_the_book(
    qtbot: QtBot, tmp_path: Path, says: str, ending: str
) -> None:
    sender = Sender(qtbot, tmp_path / "sent")
    press(sender.room, says)
    path = tmp_path / f"sent{ending}"
    qtbot.waitUntil(lambda: path.name in sender.said(), timeout=20_000)
    sender.background.close()
    assert sender.asked == [("The Tide Ledger", ending)]
    read = read_draft(path).book()
    assert [scene.passage for scene in read.scenes] == [
        scene.passage for scene in small_book().scenes
    ]
    assert sender.failed == []


def test_a_file_that_is_there_is_kept_beside_the_new_one(qtbot: QtBot, tmp_path: Path) -> None:
    path = tmp_path / "sent.md"
    path.write_text("the only copy", encoding="utf-8")
    sender = Sender(qtbot, path)
    press(sender.room, "Markdown, .md")
    qtbot.waitUntil(lambda: path.name in sender.said(), timeout=20_000)
    sender.background.close()
    assert "the only copy" in (tmp_path / "sent.md.bak").read_text(encoding="utf-8")


def test_what_cannot_be_written_is_told(qtbot: QtBot, tmp_path: Path) -> None:
    sender = Sender(qtbot, tmp_path / "no such folder" / "sent.docx")
    with qtbot.waitSignal(sender.background.failed, timeout=20_000):
        press(sender.room, "Manuscript, .docx")
    sender.background.close()
    (sentence,) = sender.failed
    assert "could not be written" in sentence and "Your book is as it was" in sentence


def test_nowhere_writes_nothing(qtbot: QtBot, tmp_path: Path) -> None:
    sender = Sender(qtbot, None)
    press(sender.room, "Markdown, .md")
    sender.background.close()
    assert list(tmp_path.iterdir()) == []


def test_what_is_still_to_do_is_said(qtbot: QtBot) -> None:
    sender = Sender(qtbot, None)
    sender.background.close()
    assert "34 words. Still to do: 3 scenes have not passed every stage." in sender.said()


@pytest.mark.parametrize(
    ("says", "ending", "begins"),
    [("E-book, .epub", ".epub", b"PK"), ("Pages to print, .pdf", ".pdf", b"%PDF-1.7")],
)
def test_books_for_readers(
    qtbot: QtBot, tmp_path: Path, says: str, ending: str, begins: bytes
) -> None:
    sender = Sender(qtbot, tmp_path / "sent")
    press(sender.room, says)
    path = tmp_path / f"sent{ending}"
    assert ("Writing sent.pdf …" in sender.said()) == (ending == ".pdf")
    qtbot.waitUntil(lambda: f"{path.name}, " in sender.said(), timeout=60_000)
    assert "Writing" not in sender.said()
    sender.background.close()
    sender.sending.close()
    assert path.read_bytes().startswith(begins) and sender.failed == []


def test_pages_that_cannot_be_written_are_told_of(qtbot: QtBot, tmp_path: Path) -> None:
    sender = Sender(qtbot, tmp_path / "no folder" / "sent.pdf")
    with qtbot.waitSignal(sender.desk.refused, timeout=60_000) as refused:
        press(sender.room, "Pages to print, .pdf")
    assert "could not be written" in refused.args[0]
    sender.background.close()
    sender.sending.close()
