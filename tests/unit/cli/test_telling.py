"""Progress is told only where somebody may be waiting."""

from itertools import count

import pytest
from reglet.cli.telling import Progress


@pytest.mark.parametrize(
    ("seconds_a_step", "told"),
    [
        (0.01, ""),
        (0.4, "Reading:  30%\nReading:  50%\nReading:  70%\nReading:  90%\n"),
    ],
)
def test_progress(
    seconds_a_step: float,
    told: str,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    clock = count(0, seconds_a_step)
    monkeypatch.setattr("time.monotonic", lambda: next(clock))
    progress = Progress("Reading")
    for step in range(1, 11):
        progress(step / 10)
    progress.end()
    assert capsys.readouterr() == ("", told)
