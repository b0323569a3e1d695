"""The row of an overlay says what its strictness costs, and what it lacks."""

from dataclasses import replace

from reglet.overlays.house import Strictness
from reglet.overlays.register import named
from reglet.window.rooms.queries import OverlayRow

LACK = "Words left out cannot be looked for on this machine."


def test_a_row_says_what_its_strictness_costs(qtbot):
    overlay = named("out")
    row = OverlayRow(1, overlay)
    qtbot.addWidget(row)
    said = []
    for step in Strictness:
        row.set_strictness(step)
        assert overlay.told[step] in row.toolTip()
        assert overlay.told[step] in row.accessibleDescription()
        said.append(overlay.told[step])
    assert len(set(said)) == len(Strictness)


def test_a_row_says_what_it_lacks(qtbot):
    row = OverlayRow(1, replace(named("out"), lacks=lambda: LACK))
    qtbot.addWidget(row)
    row.set_count(0)
    assert LACK in row.toolTip()
    assert LACK in row.accessibleDescription()
