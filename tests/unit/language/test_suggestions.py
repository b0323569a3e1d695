"""What a misspelt word may have meant."""

import pytest
from reglet.language.suggestions import ranked


@pytest.mark.parametrize(
    ("word", "candidates", "first"),
    [
        ("adressing", ["dressing", "addressing"], "addressing"),
        ("inadvertencies", ["inadvertence's", "inadvertence"], "inadvertence"),
        ("incumbrances", ["encumbrance's", "encumbrance", "encumbrances"], "encumbrances"),
        ("dorrels", ["dorrel's", "barrels"], "dorrel's"),  # nothing but the apostrophe is left out
        ("harbour's", ["harbor's", "harbors"], "harbor's"),
    ],
)
def test_the_likeliest_comes_first(word: str, candidates: list[str], first: str) -> None:
    assert ranked(word, candidates)[0].word == first
