"""Overlay: spots that the writer marked while the book was read aloud."""

from collections.abc import Iterator
from dataclasses import replace

from reglet.manuscript.anchored import BY_EAR, Answer, Note
from reglet.manuscript.book import Book
from reglet.manuscript.editing import replace_note
from reglet.manuscript.scene import Scene
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House
from reglet.overlays.overlay import Finding, of_scene
from reglet.overlays.query import ProofMark, Query
from reglet.overlays.reading import ReadScene


def marked_while_listening(scene: ReadScene, house: House) -> Iterator[Finding]:
    """What the ear caught stands among what the eye is shown, in one list.

    Source: your own ear.
    """
    text = scene.scene.passage.text
    for note in _open(scene.scene):
        if note.start < note.end:
            message = "You marked this while listening."
            if text[note.start : note.end] != note.words:
                message += f" It read “{_line(note.words)}” then."
            yield Finding(note.start, note.end, message)


def answered(book: Book, query: Query, answer: Answer) -> Book:
    """The book with this answer to the notes that a query of this overlay stands for."""
    for note in _open(book.scene(query.scene)):
        if (note.start, note.end) == (query.start, query.end):
            book = replace_note(book, query.scene, replace(note, answer=answer))
    return book


def _open(scene: Scene) -> list[Note]:
    return [note for note in scene.notes if note.kind == BY_EAR and note.answer is Answer.OPEN]


def _line(words: str) -> str:
    return " ".join(words.split())


OVERLAY = of_scene(marked_while_listening, Stage.PROOF, ProofMark.ASK)

EXAMPLES_UNMARKED = ("Nobody has listened to this yet.",)
