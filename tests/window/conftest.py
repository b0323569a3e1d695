"""What the window's tests share: a small book of our own, its file, a window that shows it."""

from __future__ import annotations

import gc
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
import shiboken6
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from reglet.bookfile.file import BookFile
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.window import dressing
from reglet.window.application import Application
from reglet.window.main_window import MainWindow

LAMP = "The lamp was lit.\nNobody had lit it was was the trouble.\n“Well?” said Dorrel."
SALT = "Salt lay on the sill 🐚 in a line.\nShe did not sweep it up."
MILL = "The mill turned all night."


def small_book() -> Book:
    return Book(
        "The Tide Ledger",
        "L. Garrowby",
        (
            Part(
                "part",
                "",
                (
                    Chapter(
                        "one",
                        "One",
                        (
                            Scene("lamp", "The lamp", Passage.plain(LAMP)),
                            Scene("salt", "", Passage.plain(SALT)),
                        ),
                    ),
                    Chapter("two", "Two", (Scene("mill", "The mill", Passage.plain(MILL)),)),
                ),
            ),
        ),
    )


@pytest.fixture(scope="session")
def qapp_cls() -> type[QApplication]:
    return QApplication


@pytest.fixture(scope="session", autouse=True)
def _faces(qapp: QApplication) -> None:
    dressing.load_faces()


@pytest.fixture
def book_path(tmp_path: Path) -> Path:
    path = tmp_path / "book.reglet"
    BookFile.create(path, small_book()).close()
    return path


@pytest.fixture
def application(qapp: QApplication, qtbot: QtBot, tmp_path: Path) -> Iterator[Application]:
    settings = QSettings(str(tmp_path / "settings.ini"), QSettings.Format.IniFormat)
    application = Application(qapp, settings)
    yield application
    application.window.close()
    shiboken6.delete(application.window)
    del application
    gc.collect()  # what is left of it, before a thread of another test's finds it


@pytest.fixture
def window(application: Application, book_path: Path, qtbot: QtBot) -> MainWindow:
    application.start(book_path)
    qtbot.waitExposed(application.window)
    return application.window


@pytest.fixture
def stored(book_path: Path) -> Callable[[], Book]:
    """The book as it is on the disk now."""

    def read() -> Book:
        with BookFile.open(book_path, read_only=True) as file:
            return file.book

    return read
