"""A snapshot: a state of the book, or of some of its scenes, that is kept for good."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from reglet.manuscript.stage import Stage

NOW = "now"
"""Stands for the book as it is, wherever the id of a snapshot can be given."""


class Reason(StrEnum):
    """Why a snapshot was taken: by the writer's hand, or by Reglet before it changes much."""

    BY_HAND = "by_hand"
    ENTERING_STAGE = "entering_stage"
    BEFORE_ROLL_BACK = "before_roll_back"
    BEFORE_IMPORT = "before_import"
    BEFORE_REPLACE_ALL = "before_replace_all"

    @property
    def label(self) -> str:
        """The reason as the writer sees it."""
        return self.value.replace("_", " ").capitalize()


@dataclass(frozen=True, slots=True)
class Snapshot:
    """What is known of a snapshot without reading its text."""

    id: str
    label: str
    reason: Reason
    stage: Stage
    """The stage the book was in; for one taken on entering a stage, that stage."""
    made: datetime
    scenes: tuple[str, ...] | None
    """The ids of the scenes it holds; None if it holds the whole book."""
    words: int
    """Words it holds, front and back matter and Offcuts aside; where one scene's history was asked
    for, the words of that scene.
    """
