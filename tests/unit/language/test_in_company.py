"""Words that are wrong in their company, as the patterns have them."""

import pytest
from reglet.language.in_company import wrong_in_company
from reglet.language.neighbours import pieces


@pytest.mark.parametrize(
    ("text", "wrong", "better"),
    [
        ("It hurt her vocal chords.", "chords", "cords"),
        ("She thought, of coarse.", "coarse", "course"),
        ("A kind of whether hung there.", "whether", "weather"),
        ("You could of told me.", "of", "have"),
        ("He had the sense to loose heart.", "loose", "lose"),
        ("Dropped off the peal and ate.", "peal", "peel"),
        ("Was it you’re dad?", "you're", "your"),
        ("Of course, off the peal of bells.", None, None),
        ("She asked of coarse cloth.", None, None),
        ("The vocal cords. The chords of the song.", None, None),
        ("Whether it rains.", None, None),
    ],
)
def test_patterns(text, wrong, better):
    row = [piece.text for piece in pieces(text)]
    found = [(row[each.at], each.word) for each in wrong_in_company(row)]
    assert found == ([] if wrong is None else [(wrong, better)])
