"""Going back to an earlier value without taking along what was done since.

The Page goes back one scene at a time; Contents goes back one change of the book's order at a
time. Neither may lose a word that the other has written meanwhile.
"""

from __future__ import annotations

from dataclasses import dataclass, field, fields, replace

from reglet.errors import CannotArrange
from reglet.manuscript.book import Book, Chapter
from reglet.manuscript.change import Change, Replacement
from reglet.manuscript.scene import Scene
from reglet.voice.coverage import with_hearings_of

_RUN_OF_TYPING_MS = 1500
_FACTS = tuple(each.name for each in fields(Book) if each.name not in ("parts", "offcuts"))


@dataclass(frozen=True)
class Rearrangement:
    """One change of the book's order, division or Offcuts: the book on either side of it."""

    label: str
    before: Book
    after: Book

    def undone(self, now: Book) -> Book:
        """`now` without this change. What was written since in scenes whose text it left alone
        stays; raises CannotArrange where it was written in text that this change moved about.
        """
        return _taken_back(self.label, self.before, self.after, now)

    def redone(self, now: Book) -> Book:
        """`now` with this change made again. Raises CannotArrange as `undone` does."""
        return _taken_back(self.label, self.after, self.before, now)


@dataclass(frozen=True)
class Typing:
    """An edit of one scene's text: the scene before it, and where and when it ended."""

    before: Scene
    at: int
    inserted: bool
    when_ms: int


@dataclass
class Timeline:
    """What has been done to one scene's text, latest last, and what was undone of it."""

    past: list[Typing | Rearrangement] = field(default_factory=list)
    future: list[Scene | Rearrangement] = field(default_factory=list)

    def typed(self, before: Scene, change: Change, when_ms: int, *, joins: bool) -> None:
        """Add an edit. One that `joins` and goes on where the last one ended counts with it."""
        self.future.clear()
        span = change.replacements[-1] if change.replacements else Replacement(0, 0, 0)
        inserted = span.start == span.end
        reached = span.start + span.length
        last = self.past[-1] if self.past else None
        if (
            joins
            and isinstance(last, Typing)
            and when_ms - last.when_ms < _RUN_OF_TYPING_MS
            and last.inserted == inserted
            and last.at == (span.start if inserted else span.end)
        ):
            self.past[-1] = replace(last, at=reached, when_ms=when_ms)
        else:
            # An edit that stands by itself has an `at` which none can go on from.
            self.past.append(Typing(before, reached if joins else -1, inserted, when_ms))

    def arranged(self, step: Rearrangement) -> None:
        """Add a change of order that altered this scene's text."""
        self.future.clear()
        self.past.append(step)


def scene_as_it_was(before: Scene, now: Scene) -> Scene:
    """`now` with the text of `before`, and all that is tied to text where it stood in it. Notes and
    stets made since stay; those removed since stay removed.
    """
    carried = now.rewritten(before.passage, Change.between(now.passage.text, before.passage.text))
    old_notes = {note.id: note for note in before.notes}
    old_cuts = {cut.offcut: cut for cut in before.cuts}
    notes = [
        replace(note, start=old_notes[note.id].start, end=old_notes[note.id].end)
        if note.id in old_notes
        else note
        for note in carried.notes
    ]
    stets = tuple(dict.fromkeys((*before.stets, *carried.stets)))
    cuts = tuple(old_cuts.get(cut.offcut, cut) for cut in carried.cuts)
    return replace(carried, notes=tuple(notes), stets=stets, cuts=cuts)


def _taken_back(label: str, before: Book, after: Book, now: Book) -> Book:
    def scene_back(scene: Scene) -> Scene:
        if not after.has_scene(scene.id):
            return scene
        after_scene, now_scene = after.scene(scene.id), now.scene(scene.id)
        if now_scene == after_scene:
            return scene
        if scene.passage != after_scene.passage and now_scene.passage != after_scene.passage:
            raise CannotArrange(
                f"“{label}” cannot be undone now, as its text has been written in since. Nothing "
                "was changed; the scene's History holds the text as it was."
            )
        if scene.passage != after_scene.passage:
            return replace(scene, sheet=now_scene.sheet, passed=now_scene.passed)
        title = scene.title if scene.title != after_scene.title else now_scene.title
        return replace(now_scene, title=title)

    for scene in now.scenes:
        if not before.has_scene(scene.id) and scene.passage != after.scene(scene.id).passage:
            raise CannotArrange(
                f"“{label}” cannot be undone now, as “{scene.title or 'the new scene'}” has been "
                "written in since. Nothing was changed."
            )

    def chapter_back(chapter: Chapter) -> Chapter:
        return replace(chapter, scenes=tuple(map(scene_back, chapter.scenes)))

    facts = {
        name: getattr(before if getattr(now, name) == getattr(after, name) else now, name)
        for name in _FACTS
    }
    return with_hearings_of(replace(before.with_chapters(chapter_back), **facts), now)
