"""What is chosen for the work on a book goes into its style sheet."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QSettings
from pytestqt.qtbot import QtBot
from reglet.manuscript.book import StyleSheet
from reglet.manuscript.stage import Stage
from reglet.overlays.house import Strictness
from reglet.window.main_window import MainWindow
from reglet.window.memory import Memory


def test_overlays_and_strictness_are_kept_with_the_book(window: MainWindow) -> None:
    desk = window.desk
    line, proof = window.rooms[Stage.LINE], window.rooms[Stage.PROOF]
    line.toggle(1)
    proof.toggle(2)
    proof.strictness_chosen.emit("spelling", Strictness.STRICT)
    window.line_work.tightening_room.aim_chosen.emit(15)
    sheet = desk.book.style_sheet
    assert sheet.off == {*line.off, *proof.off}
    assert len(sheet.off) == 2
    assert sheet.strictness == (("spelling", 2),)
    assert sheet.aim == 15

    desk.lay_out(replace(desk.book, style_sheet=StyleSheet()))
    assert line.off == proof.off == ()
    assert desk.book.style_sheet == StyleSheet()
    desk.lay_out(replace(desk.book, style_sheet=sheet))
    assert desk.book.style_sheet == sheet == replace(sheet, off=frozenset({*line.off, *proof.off}))


def test_another_strictness_has_the_book_looked_at_again(window: MainWindow, qtbot: QtBot) -> None:
    window.enter(Stage.PROOF)
    scene = window.desk.scene
    assert scene is not None
    qtbot.waitUntil(lambda: not window.examining.is_waiting_for(scene.id), timeout=60_000)
    window.rooms[Stage.PROOF].toggle(1)
    assert not window.examining.is_waiting_for(scene.id)
    window.rooms[Stage.PROOF].strictness_chosen.emit("spelling", Strictness.STRICT)
    assert window.examining.is_waiting_for(scene.id)


def test_the_rhythm_is_remembered_on_this_machine(tmp_path: Path) -> None:
    settings = QSettings(str(tmp_path / "s.ini"), QSettings.Format.IniFormat)
    assert Memory(settings).rhythm
    Memory(settings).showed_rhythm(False)
    settings.sync()
    again = QSettings(str(tmp_path / "s.ini"), QSettings.Format.IniFormat)
    assert not Memory(again).rhythm
