"""Word lists: remarks and empty lines left out, words by their sections."""

import pytest
from reglet import resources

A_LIST = """\
# Of our own.
alder ash

[water trees]
alder   # grows in the wet
# willows follow
osier sallow
"""


@pytest.fixture
def a_list(tmp_path, monkeypatch):
    (tmp_path / "trees.txt").write_text(A_LIST, encoding="utf-8")
    monkeypatch.setattr(resources, "files", lambda _: tmp_path)
    resources.sections.cache_clear()
    yield "trees.txt"
    resources.sections.cache_clear()


def test_a_list_is_read_without_its_remarks(a_list):
    assert resources.lines(a_list) == ["alder ash", "[water trees]", "alder", "osier sallow"]
    assert resources.sections(a_list) == {
        "": {"alder", "ash"},
        "water trees": {"alder", "osier", "sallow"},
    }
    assert resources.words(a_list) == {"alder", "ash", "osier", "sallow"}


def test_a_list_that_is_not_there_is_an_error():
    with pytest.raises(OSError):
        resources.lines("words", "no such list.txt")
