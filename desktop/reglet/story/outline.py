"""The reverse outline: what is written, scene by scene, beside what was planned."""

from __future__ import annotations

from dataclasses import dataclass

from reglet.language.prose import Prose
from reglet.manuscript.book import PlannedScene
from reglet.manuscript.paragraph import NO_PROSE
from reglet.manuscript.scene import Scene, SceneSheet
from reglet.story.facts import StoryFacts
from reglet.story.plan import drift


@dataclass(frozen=True)
class OutlineRow:
    """One written scene: its sheet, with what is blank proposed from the text, its first sentence,
    and the planned scene that it has become, if any.
    """

    scene: str
    chapter: str
    title: str
    words: int
    sheet: SceneSheet
    opening: str
    planned: PlannedScene | None
    likeness: float
    out_of_order: bool


@dataclass(frozen=True)
class ReverseOutline:
    """Every scene in telling order, and what was planned and is not written, in the plan's."""

    rows: tuple[OutlineRow, ...]
    missing: tuple[PlannedScene, ...]


def reverse_outline(facts: StoryFacts) -> ReverseOutline:
    """The outline of what is written, beside the plan."""
    found = drift(facts.book)
    plan = {each.id: each for each in found.plan}
    matches = {match.scene: match for match in found.matches}
    chapters = {
        scene.id: chapter.title for chapter in facts.book.chapters for scene in chapter.scenes
    }
    rows = []
    for place, each in enumerate(facts.scenes):
        scene = each.scene
        match = matches.get(scene.id)
        rows.append(
            OutlineRow(
                scene.id,
                chapters[scene.id],
                scene.title,
                each.words,
                facts.proposed_sheet(place),
                opening(scene),
                plan[match.planned] if match else None,
                match.likeness if match else 0.0,
                match.out_of_order if match else False,
            )
        )
    return ReverseOutline(tuple(rows), found.missing)


def opening(scene: Scene) -> str:
    """The first sentence of a scene's running text, or ""."""
    for paragraph in scene.passage.paragraphs:
        if paragraph.text.strip() and paragraph.style not in NO_PROSE:
            first = Prose(paragraph.text).sentences[0]
            return paragraph.text[first.start : first.end].strip()
    return ""
