"""A gap means less where much else stirs around it, and where it is somebody's way of speaking."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet.outs.surroundings import LEAST, Place, Surroundings

gaps = st.lists(
    st.builds(Place, st.integers(0, 80), st.integers(0, 400), st.floats(LEAST, 1)), max_size=4
)
THREE = ["He went home and slept.", "She stayed where she was, and read on.", "It rained."]


@pytest.mark.parametrize(
    ("others", "lowered"),
    [
        ([[], [(10, 0.9)], []], False),  # the gap itself
        ([[], [(10, 0.9), (12, 0.4)], []], False),  # the same gap, told at two places
        ([[], [(10, 0.9), (30, 0.4)], []], True),  # another in the paragraph
        ([[(3, 0.5)], [(10, 0.9)], []], True),  # another in the paragraph before
        ([[(3, 1.0)], [(10, 0.9)], []], False),  # a word that is surely left out there, too
    ],
)
def test_others_around_it_lower_a_score(others, lowered):
    found = [[Place(word, 0, score) for word, score in each] for each in others]
    alone = Surroundings(THREE, found, unrest=False)
    assert alone.settled(1, Place(10, 0, 0.9)) == 0.9
    assert (Surroundings(THREE, found, unrest=True).settled(1, Place(10, 0, 0.9)) < 0.9) is lowered


@pytest.mark.parametrize(
    ("spoken", "told", "lowered"),
    [
        (12, 0, True),  # only what is said lacks words: a manner of speech
        (12, 12, False),  # so does what is told: slips of the pen
        (0, 12, False),
    ],
)
@pytest.mark.parametrize("unrest", [True, False])
def test_a_manner_of_speech_lowers_a_score_in_speech(unrest, spoken, told, lowered):
    said = "“Boat is come, master, and wind is good, and I carry box to boat now.”"
    narrated = "The boat lay at the end of the pier with her sail half up, and nobody was in her."
    paragraphs = [said, narrated] * 60
    sure = [Place(1, 6, 1.0)]
    found = [
        sure if number < 2 * (spoken if number % 2 == 0 else told) else []
        for number in range(len(paragraphs))
    ]
    middle = Place(1, 6, 0.9)
    assert (Surroundings(paragraphs, found, unrest=unrest).settled(40, middle) < 0.8) is lowered
    assert Surroundings(paragraphs, found, unrest=unrest).settled(41, middle) == pytest.approx(0.9)


@given(st.lists(gaps, min_size=1, max_size=9), st.floats(LEAST, 1), st.data())
def test_a_score_is_never_raised_and_stays_a_share(found, score, data):
    number = data.draw(st.integers(0, len(found) - 1))
    around = Surroundings(["“So,” he said, “it is so.”"] * len(found), found, unrest=True)
    assert 0 <= around.settled(number, Place(10, 3, score)) <= score
