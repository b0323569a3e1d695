"""Reading begun at a word, and what is heard of it."""

from __future__ import annotations

from reglet.manuscript.book import Book
from reglet.voice.moment import Moment
from reglet.window.listening_work import ListeningWork
from reglet.window.main_window import MainWindow

from tests.window.conftest import LAMP

LONG = 20_000
"""Milliseconds after which what was waited for will not come."""


def word(book: Book, moment: Moment) -> str:
    """The word that is heard at a moment, or nothing."""
    return book.scene(moment.scene).passage.text[moment.start : moment.end] if moment.scene else ""


def words_said(work: ListeningWork, window: MainWindow) -> list[str]:
    """A list that grows by each word that is heard from now on."""
    said: list[str] = []

    def note(moment: Moment) -> None:
        if moment.end > moment.start:
            said.append(word(window.desk.book, moment))

    work.word_said.connect(note)
    return said


def read_from(window: MainWindow, words: str) -> None:
    """Read from the sentence of the scene of the lamp that holds these words."""
    at = LAMP.index(words)
    window.desk.show_scene("lamp")
    window.page.editor.select(at, at)
    window.listening_work.play_from_cursor()
