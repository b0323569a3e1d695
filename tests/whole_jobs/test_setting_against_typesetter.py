"""The demo book, set here and by Typst: as many lines in nearly every paragraph, and pages."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from reglet import setting

from tests.benchmarks.setting_truth import compare, read_novel

TEXT = Path(__file__).parents[2] / "demo_book" / "text"


@pytest.mark.parametrize(
    "sheet", [setting.USUAL_TRIM, setting.USUAL_PHONE, setting.USUAL_EREADER], ids=lambda s: s.name
)
def test_the_demo_book_falls_as_a_typesetter_has_it(sheet):
    chapters = sorted(TEXT.glob("*.md"))
    assert chapters
    novel = "\n".join(f"# {path.stem}\n{path.read_text('utf-8')}" for path in chapters)
    as_typst_sets = replace(sheet, language="en-US", medium=setting.Medium.PRINT)
    found = compare(read_novel(novel), as_typst_sets)
    assert len(found.lines) > 300
    assert found.share_within(1) >= 0.98
    assert found.share_within(0) >= 0.96
    assert found.pages_off <= 0.02
