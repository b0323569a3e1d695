"""Colours can be told apart, and every lettering names a face that is there."""

from __future__ import annotations

import pytest
from PySide6.QtGui import QFont, QFontInfo, QFontMetricsF
from reglet.window import dressing
from reglet.window.main_window import MainWindow
from reglet.window.theme import DARK, EASY_READ, LIGHT, THEMES, Theme, contrast

TEXT = 4.5
"""WCAG 2.2, success criterion 1.4.3, level AA."""

MARK = 3.0
"""WCAG 2.2, success criterion 1.4.11: what is needed to see a control or a mark."""


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
@pytest.mark.parametrize("ground", ["desk", "paper", "card", "selection"])
def test_text_stands_out(theme: Theme, ground: str) -> None:
    inks = ["ink"] if ground == "selection" else ["ink", "quiet", "graphite", "blue", "red"]
    for ink in inks:
        ratio = contrast(getattr(theme, ink), getattr(theme, ground))
        assert ratio >= TEXT, f"{ink} on {ground}: {ratio:.2f}"


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
def test_bars_stand_out_from_their_ground_and_from_the_odd_one(theme: Theme) -> None:
    for other in (theme.desk, theme.paper, theme.card, theme.ink):
        assert contrast(theme.bar, other) >= MARK


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
def test_the_length_of_a_scene_can_be_seen_in_contents(window: MainWindow, theme: Theme) -> None:
    window.dress(theme)
    contents = window.contents.tree
    not_open = window.contents.model.index_of("mill")
    row = contents.visualRect(not_open)
    picture = contents.viewport().grab(row).toImage()
    seen = {picture.pixelColor(14, y).name() for y in range(row.height() - 10, row.height() - 4)}
    assert max(contrast(theme.desk, colour) for colour in seen) >= MARK


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
def test_what_lies_on_filled_shapes_stands_out(theme: Theme) -> None:
    assert contrast(theme.desk, theme.graphite) >= TEXT
    assert contrast(theme.paper, theme.ink) >= TEXT


def test_contrast_runs_from_1_to_21() -> None:
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21)
    assert contrast("#777777", "#777777") == pytest.approx(1)
    # 4.54 by the formula of WCAG 2.2: the lightest grey that passes on white
    assert contrast("#767676", "#FFFFFF") == pytest.approx(4.54, abs=0.005)


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
def test_faces_are_there(theme: Theme) -> None:
    for lettering in (theme.page, theme.title, theme.control):
        assert QFontInfo(dressing.font(lettering)).family() == lettering.family


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
@pytest.mark.parametrize("italic", [False, True])
def test_bold_is_the_cut_that_was_drawn_bold(theme: Theme, italic: bool) -> None:
    """Thickened by Qt, letters keep the widths of the regular cut."""
    for lettering in (theme.page, theme.title, theme.control):
        regular = dressing.font(lettering)
        regular.setItalic(italic)
        bold = QFont(regular)
        bold.setBold(True)
        wide, usual = (QFontMetricsF(face).horizontalAdvance("reglet") for face in (bold, regular))
        assert wide > usual


def test_easy_read_is_larger_wider_and_further_apart() -> None:
    points = EASY_READ.page.size * 72 / 96
    assert points >= 14
    assert EASY_READ.page.line > LIGHT.page.line
    assert EASY_READ.page.letter > 0
    assert EASY_READ.page.word >= 3.5 * EASY_READ.page.letter
    assert DARK.page == LIGHT.page
