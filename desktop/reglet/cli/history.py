"""Commands on the history: take a snapshot, list them, compare two, roll back to one."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Iterator

from reglet.bookfile import BookFile, Snapshot
from reglet.cli.telling import Progress, answer, answer_json, on_one_line, remark
from reglet.manuscript.comparison import BookComparison, Fate, SceneComparison
from reglet.manuscript.difference import ChangedPassage, Difference
from reglet.manuscript.token import text_of
from reglet.numbers import counted

_LONGEST = 200
"""Code points of a changed passage that a line shows."""


def snapshot(asked: Namespace) -> int:
    """Keep the book, or one scene, as it is."""
    with BookFile.open(asked.book) as file:
        taken = file.snapshot(
            asked.label, scene_ids=None if asked.scene is None else (asked.scene,)
        )
    if asked.json:
        answer_json(_facts(taken))
    else:
        answer([_line(taken)])
    return 0


def history(asked: Namespace) -> int:
    """List the snapshots, oldest first."""
    with BookFile.open(asked.book, read_only=True) as file:
        found = file.snapshots(asked.scene)
        if asked.scene is not None and not found:
            file.book.scene(asked.scene)  # an unknown scene is an error, one without history none
    if asked.json:
        answer_json([_facts(each) for each in found])
    else:
        answer(map(_line, found))
    return 0


def compare(asked: Namespace) -> int:
    """Show what changed between two states of the book or of a scene."""
    with BookFile.open(asked.book, read_only=True) as file:
        if asked.scene is not None:
            changes = file.compare_scene(asked.earlier, asked.later, asked.scene)
            if asked.json:
                answer_json({**_ends(asked), "scene": asked.scene, **_difference_facts(changes)})
            else:
                answer(_difference_lines(changes))
            return 0
        found = file.compare_book(asked.earlier, asked.later)
    progress = Progress("Comparing")
    for done, each in enumerate(found.scenes):
        progress(done / len(found.scenes))
        if each.fate is not Fate.SAME:
            _ = each.difference  # worked out here, kept for what is told below
    progress.end()
    if asked.json:
        answer_json(
            {
                **_ends(asked),
                "words_added": found.words_added,
                "words_cut": found.words_cut,
                "scenes": [_scene_facts(each) for each in found.scenes],
            }
        )
    else:
        answer(_book_lines(found))
    return 0


def roll_back(asked: Namespace) -> int:
    """Put a scene back as a snapshot has it, or one changed passage of it."""
    with BookFile.open(asked.book) as file:
        place = None if asked.passage is None else asked.passage - 1
        file.roll_back(asked.scene, asked.to, place)
        before = file.snapshots(asked.scene)[-1]
    answer([f"“{asked.scene}” is as snapshot {asked.to} has it."])
    remark(f"To take this back, roll back to snapshot {before.id}.")
    return 0


def _facts(taken: Snapshot) -> dict[str, object]:
    return {
        "id": taken.id,
        "label": taken.label,
        "reason": taken.reason,
        "stage": taken.stage,
        "made": taken.made.isoformat(),
        "scenes": None if taken.scenes is None else list(taken.scenes),
        "words": taken.words,
    }


def _line(taken: Snapshot) -> str:
    of = "whole book" if taken.scenes is None else ", ".join(taken.scenes)
    line = (
        f"{taken.id:>4}  {taken.made:%Y-%m-%d %H:%M}  {taken.stage.label}  {taken.reason.label}  "
        f"{of}  {counted(taken.words, 'word')}"
    )
    return f"{line}  {on_one_line(taken.label)}".rstrip()


def _ends(asked: Namespace) -> dict[str, object]:
    return {"from": asked.earlier, "to": asked.later}


def _difference_facts(changes: Difference) -> dict[str, object]:
    return {
        "words_added": changes.words_added,
        "words_cut": changes.words_cut,
        "passages": [
            {
                "old_start": each.old_start,
                "old_end": each.old_end,
                "new_start": each.new_start,
                "new_end": each.new_end,
                "cut": text_of(each.cut),
                "added": text_of(each.added),
            }
            for each in changes.changed
        ],
    }


def _difference_lines(changes: Difference) -> Iterator[str]:
    yield _totals(changes)
    for number, each in enumerate(changes.changed, 1):
        yield f"{number:>4}. at {each.new_start}: {_told(each)}"


def _told(each: ChangedPassage) -> str:
    cut, added = text_of(each.cut), text_of(each.added)
    if cut == added:
        return f"set differently: “{_short(cut)}”"
    parts = [f"cut “{_short(cut)}”"] if cut else []
    parts += [f"added “{_short(added)}”"] if added else []
    return ", ".join(parts)


def _scene_facts(each: SceneComparison) -> dict[str, object]:
    facts = {
        "id": each.scene.id,
        "title": each.scene.title,
        "fate": each.fate,
        "moved": each.moved,
        "words_added": each.words_added,
        "words_cut": each.words_cut,
    }
    if each.fate is Fate.CHANGED:
        facts["passages"] = _difference_facts(each.difference)["passages"]
    return facts


def _book_lines(found: BookComparison) -> Iterator[str]:
    yield _totals(found)
    for each in found.scenes:
        if each.fate is Fate.SAME and not each.moved:
            continue
        became = [each.fate.value] if each.fate is not Fate.SAME else []
        became += ["moved"] if each.moved else []
        line = f"{each.scene.id}  {' and '.join(became)}"
        if each.fate is not Fate.SAME:
            line += f", {_totals(each)}"
        yield f"{line}  {on_one_line(each.scene.title)}".rstrip()
        if each.fate is Fate.CHANGED:
            yield from list(_difference_lines(each.difference))[1:]


def _totals(found: Difference | SceneComparison | BookComparison) -> str:
    return f"{counted(found.words_added, 'word')} added, {found.words_cut:,} cut"


def _short(text: str) -> str:
    text = on_one_line(text)
    return text if len(text) <= _LONGEST else f"{text[: _LONGEST // 2]} … {text[-_LONGEST // 2 :]}"
