"""First read and Structure from a draft's file to a plan of work, by hand, each act undone."""

from __future__ import annotations

from pathlib import Path

from tests.whole_jobs.bringing_in import bring_in, notes_in_order, read, rest
from tests.whole_jobs.facts_of_the_story import (
    fill_a_sheet,
    join_names,
    look_at_the_book,
    match_the_plan,
)
from tests.whole_jobs.order_of_scenes import (
    change_the_order_in_contents,
    change_the_order_there,
    keep_versions,
    split,
    try_another_order,
)
from tests.whole_jobs.plan_of_work import compare, work_off
from tests.whole_jobs.writer import Writer


def go_through(writer: Writer, draft: Path, plan: Path, out: Path) -> None:
    """All of it. `plan` is the file of an outline, `out` a folder for what is written."""
    bring_in(writer, draft)
    rest(writer)
    read(writer)
    notes_in_order(writer)
    fill_a_sheet(writer)
    join_names(writer)
    look_at_the_book(writer, plan, out)
    match_the_plan(writer)
    change_the_order_there(writer)
    try_another_order(writer)
    change_the_order_in_contents(writer)
    split(writer)
    keep_versions(writer)
    work_off(writer)
    compare(writer)
