"""Faces are found, and words are as wide as the face itself says."""

from __future__ import annotations

import pytest
from fontTools.ttLib import TTFont
from reglet.setting import faces
from reglet.setting.fount import fount


@pytest.mark.parametrize("family", faces.FAMILIES)
def test_every_cut_of_every_family_is_there(family):
    assert {path.suffix for path in faces.files(family)} == {".ttf"}
    for bold in (False, True):
        for italic in (False, True):
            assert faces.file(family, bold=bold, italic=italic).is_file()


def test_a_face_that_is_not_there_is_named_in_a_sentence():
    with pytest.raises(faces.MissingFace, match=r"^The typeface Nowhere Roman is not installed"):
        faces.file("Nowhere Roman")


def test_a_letter_is_as_wide_as_the_font_file_says():
    # Atkinson Hyperlegible has no axes, so that fontTools reads the very widths that are set.
    table = TTFont(faces.file(faces.ATKINSON))
    width, _ = table["hmtx"][table.getBestCmap()[ord("n")]]
    assert fount(faces.ATKINSON, 12.0, 12.0, "en").width("n") == pytest.approx(width * 12 / 1000)


@pytest.mark.parametrize(
    ("narrower", "wider"),
    [
        ({"text": "AVAVAV"}, {"letters": "AVAVAV"}),  # kerning
        ({"text": "office", "italic": True}, {"text": "office"}),
        ({"text": "office"}, {"text": "office", "bold": True}),
        ({"text": "office"}, {"text": "office", "small_capitals": True}),
        ({"text": "office", "italic": True, "small_capitals": True}, {"text": "OFFICE"}),
        ({"text": "office", "optical": 40.0}, {"text": "office", "optical": 8.0}),
        ({"text": "office", "size": 11.0}, {"text": "office", "size": 12.0}),
    ],
)
def test_what_is_narrower(narrower, wider):
    assert _width(**narrower) < _width(**wider)


def _width(text="", letters="", size=12.0, optical=12.0, **cut):
    set_in = fount(faces.SOURCE_SERIF, size, optical, "en", **cut)
    return set_in.width(text) if text else sum(map(set_in.width, letters))


@pytest.mark.parametrize("family", faces.FAMILIES)
def test_a_line_is_as_wide_as_its_words_and_spaces(family):
    set_in = fount(family, 12.0, 12.0, "en")
    text = "“Why?” she said, and Anna told him. No answer came from over there — only rain"
    words = text.split(" ")
    apart = sum(map(set_in.width, words)) + (len(words) - 1) * set_in.space
    assert set_in.width(text) == pytest.approx(apart)


@pytest.mark.parametrize("family", faces.FAMILIES)
@pytest.mark.parametrize("letter", "ATVWYflo.,”’!")
def test_kerns_across_a_space_are_too_small_to_matter(family, letter):
    set_in = fount(family, 1.0, 12.0, "en")
    beside = (set_in.width(letter + " "), set_in.width(" " + letter))
    for width in beside:
        assert width == pytest.approx(set_in.width(letter) + set_in.space, abs=0.04)


@pytest.mark.parametrize(
    "word", ["efficient", "shuffling", "e\u0301te\u0301-on", "🐚—a", "sea—wall"]
)
def test_a_divided_word_is_as_wide_as_its_halves(word):
    set_in = fount(faces.LITERATA, 12.0, 12.0, "en-GB")
    hyphen = set_in.width("-")
    divisions = [(place, hyphen) for place in set_in.hyphens[word]]
    divisions += [(place, 0.0) for place in set_in.words[word].divisions]
    assert divisions
    for place, added in divisions:
        assert place.before - added + place.after == pytest.approx(set_in.width(word))
        # Exact but for the letters of a ligature, which share its width, and a kern across the cut.
        assert place.before - added == pytest.approx(set_in.width(word[: place.offset]), abs=0.7)
