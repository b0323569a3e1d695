"""The demo book through First read and Structure by hand, from its draft to a plan of work."""

from __future__ import annotations

import gc
import shutil
from pathlib import Path

import shiboken6
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from reglet.window.application import Application

from tests.whole_jobs.first_read_and_structure import go_through
from tests.whole_jobs.writer import Writer

DEMO = Path(__file__).resolve().parents[2] / "demo_book"


def test_by_hand(qapp: QApplication, qtbot: QtBot, tmp_path: Path) -> None:
    draft = tmp_path / "draft.docx"
    shutil.copy(DEMO / "draft.docx", draft)
    settings = QSettings(str(tmp_path / "settings.ini"), QSettings.Format.IniFormat)
    application = Application(qapp, settings)
    try:
        application.window.resize(1280, 800)
        application.start(None)
        go_through(Writer(application), draft, DEMO / "plan.md", tmp_path)
    finally:
        application.window.close()
        shiboken6.delete(application.window)
        del application
        gc.collect()
