"""The menu of a row of Contents: what can be done with a scene or a chapter."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from PySide6.QtWidgets import QMenu

from reglet.manuscript.scene import Verdict
from reglet.manuscript.stage import REVISING
from reglet.window.contents_model import Kind, Row
from reglet.window.contents_wishes import Wishes


def menu_of(contents: Wishes, row: Row, chosen: Sequence[str]) -> QMenu:
    """A menu for a row; `chosen` are the ids of all scenes chosen, in the book's order."""
    menu = QMenu(contents)
    if row.kind is Kind.SCENE:
        several = list(chosen) if row.id in chosen and len(chosen) > 1 else [row.id]
        if len(several) > 1:
            _several(menu, contents, several)
        else:
            _one(menu, contents, row)
        menu.addSeparator()
        verdicts = menu.addMenu("Verdict")
        for verdict in Verdict:
            verdicts.addAction(
                verdict.replace("_", " ").capitalize(),
                partial(contents.verdict_wanted.emit, several, verdict),
            )
        _passed(menu, contents, row, several)
        menu.addSeparator()
    elif row.kind is Kind.CHAPTER:
        menu.addAction("New scene", lambda: contents.scene_wanted.emit(row.id, len(row.rows)))
        if row.number:
            menu.addAction(
                "Join to the chapter before", lambda: contents.chapter_join_wanted.emit(row.id)
            )
        menu.addSeparator()
    elif row.kind is Kind.MATTER and not row.words:
        menu.addAction("Take it out", lambda: contents.matter_out_wanted.emit(row.id))
        menu.addSeparator()
    if row.kind is not Kind.SCENE or len(several) == 1:
        menu.addAction("Rename\tF2", lambda: contents.title_wanted.emit(row.id))
    return menu


def _one(menu: QMenu, contents: Wishes, row: Row) -> None:
    assert row.above is not None  # a scene stands in its chapter
    chapter, place = row.above.id, row.number
    ids = contents.model.scene_ids()
    behind = ids[ids.index(row.id) + 1 :]
    menu.addAction(
        "Split where the cursor stands\tCtrl+Alt+Return",
        lambda: contents.split_wanted.emit(row.id),
    )
    if behind:
        together = [row.id, behind[0]]
        menu.addAction("Merge with the next\tCtrl+M", lambda: contents.merge_wanted.emit(together))
    menu.addAction("Cut to Offcuts\tDelete", lambda: contents.cut_wanted.emit([row.id]))
    menu.addAction("Keep a copy as another version", lambda: contents.copies_wanted.emit([row.id]))
    versions = contents.model.versions_of(row.id)
    if versions:
        other = menu.addMenu("Put another version in its place")
        for offcut_id, name in versions:
            other.addAction(name, partial(contents.version_wanted.emit, offcut_id))
    menu.addSeparator()
    menu.addAction("New scene behind", lambda: contents.scene_wanted.emit(chapter, place + 1))
    if place:
        menu.addAction("Start a chapter here", lambda: contents.chapter_start_wanted.emit(row.id))


def _several(menu: QMenu, contents: Wishes, ids: list[str]) -> None:
    menu.addAction(
        f"Merge these {len(ids)} scenes\tCtrl+M", lambda: contents.merge_wanted.emit(ids)
    )
    menu.addAction("Cut them to Offcuts\tDelete", lambda: contents.cut_wanted.emit(ids))
    menu.addAction(
        "Keep a copy of each as another version", lambda: contents.copies_wanted.emit(ids)
    )


def _passed(menu: QMenu, contents: Wishes, row: Row, ids: list[str]) -> None:
    for stage in REVISING:
        action = menu.addAction(f"Passed {stage.label}")
        action.setCheckable(True)
        action.setChecked(row.scene is not None and stage in row.scene.passed)
        action.toggled.connect(lambda on, stage=stage: contents.passed.emit(ids, stage, on))
