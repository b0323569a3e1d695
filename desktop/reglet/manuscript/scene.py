"""A scene: its text, what is tied to that text, and what the writer knows about it."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from enum import StrEnum

from reglet.manuscript.anchored import Allowance, CutPlace, Note, Stet
from reglet.manuscript.change import Change
from reglet.manuscript.heard import Heard
from reglet.manuscript.matter import Matter
from reglet.manuscript.passage import EMPTY, Passage
from reglet.manuscript.stage import Stage


class Verdict(StrEnum):
    """What the writer means to do with a scene in the Structure stage."""

    KEEP = "keep"
    REWORK = "rework"
    MOVE = "move"
    MERGE = "merge"
    CUT = "cut"
    TO_WRITE = "to_write"


@dataclass(frozen=True, slots=True)
class SceneSheet:
    """The facts of a scene as the writer states them. `who` and `threads` are names."""

    happens: str = ""
    changes: str = ""
    who: tuple[str, ...] = ()
    eyes: str = ""
    where: str = ""
    when: str = ""
    threads: tuple[str, ...] = ()
    verdict: Verdict | None = None

    @property
    def empty(self) -> tuple[str, ...]:
        """The names of the fields that are still blank, the verdict aside."""
        return tuple(
            f.name for f in fields(self) if f.name != "verdict" and not getattr(self, f.name)
        )

    def joined(self, other: SceneSheet) -> SceneSheet:
        """One sheet for two scenes merged: nothing that either says is dropped."""

        def both(one: str, two: str) -> str:
            return one if two in (one, "") else f"{one}; {two}" if one else two

        return SceneSheet(
            happens=both(self.happens, other.happens),
            changes=both(self.changes, other.changes),
            who=tuple(dict.fromkeys(self.who + other.who)),
            eyes=both(self.eyes, other.eyes),
            where=both(self.where, other.where),
            when=both(self.when, other.when),
            threads=tuple(dict.fromkeys(self.threads + other.threads)),
            verdict=self.verdict or other.verdict,
        )


@dataclass(frozen=True)
class Scene:
    """The unit a book is written, moved and revised in. `passed` holds the stages done with;
    `matter` says what a piece of front or back matter is, where the writer has said so.
    """

    id: str
    title: str = ""
    passage: Passage = EMPTY
    sheet: SceneSheet = SceneSheet()
    passed: frozenset[Stage] = frozenset()
    notes: tuple[Note, ...] = ()
    stets: tuple[Stet, ...] = ()
    allowances: frozenset[Allowance] = frozenset()
    cuts: tuple[CutPlace, ...] = ()
    heard: tuple[Heard, ...] = ()
    matter: Matter | None = None

    def rewritten(self, passage: Passage, change: Change) -> Scene:
        """This scene with a new text; `change` is what turned the old text into it."""
        stets = (stet.carried(change) for stet in self.stets)
        return replace(
            self,
            passage=passage,
            notes=tuple(note.carried(change) for note in self.notes),
            stets=tuple(stet for stet in stets if stet is not None),
            cuts=tuple(cut.carried(change) for cut in self.cuts),
        )

    def edited(self, start: int, end: int, fragment: Passage) -> Scene:
        """This scene with `fragment` in place of code points `start` up to `end`."""
        return self.rewritten(
            self.passage.replace(start, end, fragment), Change.at(start, end, len(fragment))
        )
