"""Operations on the text and the facts of one scene, and on the book's own facts."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from reglet.manuscript.anchored import Allowance, Note, Stet, in_order
from reglet.manuscript.book import Book, StyleSheet
from reglet.manuscript.change import Change
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import SceneSheet, Verdict
from reglet.manuscript.stage import Stage


def edit(book: Book, scene_id: str, start: int, end: int, fragment: Passage) -> Book:
    """`fragment` set in place of code points `start` up to `end` of a scene.

    Raises UnknownThing for the scene, IndexError for positions outside it.
    """
    return book.with_scene(book.scene(scene_id).edited(start, end, fragment))


def rewrite(book: Book, scene_id: str, passage: Passage, change: Change | None = None) -> Book:
    """A scene's whole text replaced. Without a `change`, what lies between the first and the last
    difference counts as replaced. Raises UnknownThing.
    """
    scene = book.scene(scene_id)
    if change is None:
        change = Change.between(scene.passage.text, passage.text)
    return book.with_scene(scene.rewritten(passage, change))


def set_sheet(book: Book, scene_id: str, sheet: SceneSheet) -> Book:
    """A scene's sheet filled in anew. Raises UnknownThing."""
    return book.with_scene(replace(book.scene(scene_id), sheet=sheet))


def set_verdicts(book: Book, scene_ids: Iterable[str], verdict: Verdict | None) -> Book:
    """The writer's verdict on several scenes, or its withdrawal. Raises UnknownThing."""
    for scene_id in scene_ids:
        sheet = replace(book.scene(scene_id).sheet, verdict=verdict)
        book = set_sheet(book, scene_id, sheet)
    return book


def pass_stage(book: Book, scene_id: str, stage: Stage, passed: bool = True) -> Book:
    """A scene marked as done with in a stage, or not. Raises UnknownThing."""
    scene = book.scene(scene_id)
    stages = scene.passed | {stage} if passed else scene.passed - {stage}
    return book.with_scene(replace(scene, passed=stages))


def add_note(book: Book, scene_id: str, note: Note) -> Book:
    """A note tied to a scene. Raises UnknownThing."""
    scene = book.scene(scene_id)
    return book.with_scene(replace(scene, notes=in_order((*scene.notes, note))))


def replace_note(book: Book, scene_id: str, note: Note) -> Book:
    """The note of the same id given way to `note`: an answer, a changed remark."""
    scene = book.scene(scene_id)
    notes = tuple(note if old.id == note.id else old for old in scene.notes)
    return book.with_scene(replace(scene, notes=notes))


def remove_note(book: Book, scene_id: str, note_id: str) -> Book:
    """A note thrown away. Raises UnknownThing for the scene."""
    scene = book.scene(scene_id)
    notes = tuple(note for note in scene.notes if note.id != note_id)
    return book.with_scene(replace(scene, notes=notes))


def let_stand(book: Book, scene_id: str, overlay: str, start: int, end: int) -> Book:
    """Stet for one overlay at one place. Raises UnknownThing, IndexError."""
    scene = book.scene(scene_id)
    stet = Stet(overlay, start, end, scene.passage.slice(start, end).text)
    return book.with_scene(replace(scene, stets=(*scene.stets, stet)))


def let_stand_in_scene(book: Book, scene_id: str, allowance: Allowance) -> Book:
    """Stet for these words wherever they stand in one scene. Raises UnknownThing."""
    scene = book.scene(scene_id)
    return book.with_scene(replace(scene, allowances=scene.allowances | {allowance}))


def let_stand_in_book(book: Book, allowance: Allowance) -> Book:
    """Stet for these words throughout the book, kept in the style sheet."""
    sheet = book.style_sheet
    return replace(book, style_sheet=replace(sheet, allowances=sheet.allowances | {allowance}))


def restyle(book: Book, sheet: StyleSheet) -> Book:
    """The book with another style sheet."""
    return replace(book, style_sheet=sheet)


def learn_words(book: Book, words: Iterable[str]) -> Book:
    """Spellings taken into the style sheet."""
    sheet = book.style_sheet
    return replace(book, style_sheet=replace(sheet, words=sheet.words | set(words)))
