"""Commands of the Structure stage: reverse outline, cast, views, plan, work list."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from reglet.bookfile import BookFile
from reglet.cli.reading import read
from reglet.cli.telling import answer, answer_json, on_one_line
from reglet.errors import WriterError
from reglet.numbers import counted

if TYPE_CHECKING:
    from reglet.story.outline import OutlineRow
    from reglet.story.work_list import Item


def outline(asked: Namespace) -> int:
    """Print the reverse outline beside the plan."""
    from reglet.story.facts import Analyst  # no other command waits for it to load
    from reglet.story.outline import reverse_outline

    found = reverse_outline(Analyst().read(read(asked)))
    if asked.json:
        answer_json(
            {
                "scenes": [_row_facts(row) for row in found.rows],
                "missing": [{"id": each.id, "text": each.text} for each in found.missing],
            }
        )
        return 0
    answer(line for row in found.rows for line in _row_lines(row))
    answer(f"Not written: {each.text}" for each in found.missing)
    return 0


def cast(asked: Namespace) -> int:
    """List the people named in the book."""
    from reglet.story.facts import Analyst

    members = Analyst().read(read(asked)).cast
    if asked.json:
        answer_json(
            [
                {
                    "name": each.name,
                    "forms": list(each.forms),
                    "mentions": each.count,
                    "scenes": dict(each.scenes),
                    "confirmed": each.confirmed,
                }
                for each in members
            ]
        )
        return 0
    answer(
        f"{each.count:>6,}  {counted(len(each.scenes), 'scene'):>11}  {', '.join(each.forms)}"
        for each in members
    )
    return 0


def views(asked: Namespace) -> int:
    """Draw the whole-book views under one another as one SVG file."""
    from reglet.story.drawing_svg import document
    from reglet.story.facts import Analyst
    from reglet.story.views import all_views

    out: Path = asked.out
    if out.suffix.lower() != ".svg":
        raise WriterError(f"“{out.name}” is not a kind of file that views are drawn in: .svg.")
    if out.exists() and not asked.overwrite:
        raise WriterError(f"{out} is there already and was left as it is. Choose another name.")
    drawn = document(all_views(Analyst().read(read(asked))))
    try:
        out.write_text(drawn, encoding="utf-8")
    except OSError as error:
        raise WriterError(f"{out} could not be written: {error.strerror}.") from error
    answer([f"{out}: the views of the book."])
    return 0


def plan(asked: Namespace) -> int:
    """Set the plan from an outline in plain text or Markdown."""
    from reglet.story.plan import drift, read_plan

    source: Path = asked.plan
    try:
        planned = read_plan(source.read_text(encoding="utf-8-sig"))
    except (OSError, UnicodeDecodeError) as error:
        raise WriterError(f"{source} could not be read as text. The plan was not changed.") from (
            error
        )
    if not planned:
        raise WriterError(f"No planned scene was found in {source}. The plan was not changed.")
    with BookFile.open(asked.book) as file:
        book = replace(file.book, plan=planned)
        file.save(book)
    found = drift(book)
    answer(
        [
            f"{counted(len(planned), 'planned scene')}: {len(found.matches)} written, "
            f"{len(found.missing)} not written, {len(found.out_of_order)} out of order; "
            f"{counted(len(found.unplanned), 'scene')} unplanned."
        ]
    )
    return 0


def work(asked: Namespace) -> int:
    """List what is left to do."""
    from reglet.story.work_list import work_list

    found = work_list(read(asked))
    if asked.json:
        answer_json([_item_facts(item) for item in found.items])
        return 0
    answer(
        f"{'x' if item.done else '-'} {item.minutes:>4} min  "
        f"{f'{item.scene}: ' if item.scene else ''}{on_one_line(item.text)}"
        for item in found.items
    )
    answer([f"{counted(len(found.open), 'item')} to do, {counted(found.minutes, 'minute')}."])
    return 0


def _row_facts(row: OutlineRow) -> dict[str, object]:
    return {
        "scene": row.scene,
        "chapter": row.chapter,
        "title": row.title,
        "words": row.words,
        "who": list(row.sheet.who),
        "eyes": row.sheet.eyes,
        "when": row.sheet.when,
        "where": row.sheet.where,
        "happens": row.sheet.happens,
        "changes": row.sheet.changes,
        "threads": list(row.sheet.threads),
        "verdict": row.sheet.verdict,
        "planned": row.planned.text if row.planned else None,
        "out_of_order": row.out_of_order,
    }


def _row_lines(row: OutlineRow) -> Iterator[str]:
    yield on_one_line(f"{row.scene}  {row.words:,} words  {row.title}".rstrip())
    said = {
        "who": ", ".join(row.sheet.who),
        "eyes": row.sheet.eyes,
        "when": row.sheet.when,
        "happens": row.sheet.happens,
        "opens": "" if row.sheet.happens else row.opening,
        "plan": (row.planned.text if row.planned else "unplanned")
        + (" (out of order)" if row.out_of_order else ""),
    }
    for name, text in said.items():
        if text:
            yield f"    {name}: {on_one_line(text)}"


def _item_facts(item: Item) -> dict[str, object]:
    return {
        "id": item.id,
        "from": item.origin,
        "scene": item.scene or None,
        "start": item.start,
        "end": item.end,
        "text": item.text,
        "minutes": item.minutes,
        "estimated": item.estimated,
        "done": item.done,
    }
