"""Where a hyphen may be set: our search gives what pyphen's own gives, and British differs."""

from __future__ import annotations

from itertools import pairwise

import pyphen
import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet.setting import hyphenation

TABLE = [
    # text, language, as it may be divided
    ("typography", "en-US", "ty-pog-ra-phy"),
    ("typography", "en-GB", "ty-po-graphy"),
    ("“Extraordinary,”", "en-US", "“Ex-tra-or-di-nary,”"),
    ("EXTRAORDINARY", "en_US", "EX-TRA-OR-DI-NARY"),
    ("shouldn’t", "en-GB", "shouldn’t"),
    ("couldn’t’ve", "en-GB", "couldn’t’ve"),
    ("window—remembering", "en-US", "win-dow—re-mem-ber-ing"),
    ("well-remembered", "en-US", "well-remembered"),
    ("able", "en-US", "able"),
    ("1914", "en-US", "1914"),
    ("", "en-US", ""),
    ("remembering", "qx", "remembering"),
    ("erinnerungen", "de", "er-in-ne-run-gen"),
    ("İİİİİİİ", "en-GB", "İİİİİİİ"),
]


@pytest.mark.parametrize(("text", "language", "divided"), TABLE)
def test_table(text, language, divided):
    points = [0, *hyphenation.points(text, language), len(text)]
    parts = [text[start:end] for start, end in pairwise(points)]
    assert "-".join(parts) == divided


@pytest.mark.parametrize("language", ["en_GB", "en_US"])
@given(word=st.text("abcdefghilmnoprstuvy", min_size=5, max_size=16))
def test_the_search_finds_what_pyphens_does(language, word):
    theirs = pyphen.Pyphen(
        lang=language, left=hyphenation.LEAST_BEFORE, right=hyphenation.LEAST_AFTER
    )
    assert list(hyphenation.points(word, language)) == theirs.positions(word)
