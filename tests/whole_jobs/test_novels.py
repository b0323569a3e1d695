"""The novels that other tests stand on are whole, and their headings are all found."""

from itertools import pairwise

import pytest

from tests.whole_jobs.novels import KEYS, headings, load, paragraphs


# Counted in the package's lines by eye and with grep; the words are `str.split`'s.
@pytest.mark.parametrize(
    ("key", "volumes", "chapters", "words"),
    [
        ("emma", 3, 55, 157_441),
        ("mansfieldpark", 0, 48, 159_540),
        ("northangerabbey", 0, 31, 77_141),
        ("persuasion", 0, 24, 83_283),
        ("prideprejudice", 0, 61, 121_567),
        ("sensesensibility", 0, 50, 118_565),
    ],
)
def test_a_novel_is_whole(key: str, volumes: int, chapters: int, words: int) -> None:
    lines = load(key).lines
    kinds = [heading.kind for heading in headings(lines)]
    assert (kinds.count("volume"), kinds.count("chapter")) == (volumes, chapters)
    whole = paragraphs(lines)
    assert sum(len(paragraph.split()) for paragraph in whole) == words
    assert " ".join(whole).split() == " ".join(lines).split()


@pytest.mark.parametrize("key", KEYS)
def test_headings_say_where_they_stand(key: str) -> None:
    lines = load(key).lines
    whole = paragraphs(lines)
    found = headings(lines)
    assert all(whole[heading.paragraph] == heading.text for heading in found)
    for one, next_one in pairwise(found):
        # Only a volume's heading is followed at once by another; a chapter has text.
        assert next_one.paragraph - one.paragraph > (0 if one.kind == "volume" else 1)
