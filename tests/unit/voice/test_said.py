import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet.manuscript.words import word_pattern
from reglet.voice.said import possessive_sound, units


def read_out(text, said_as=None):
    return " ".join(
        (f"[[{u.sounds}]]" if u.sounds else u.said) + u.mark for u in units(text, said_as)
    )


@pytest.mark.parametrize(
    ("text", "said"),
    [
        # Slips stand.
        ("The the cat was was in the of the house.", "The the cat was was in the of the house."),
        # Shortenings.
        ("Mr Smith met Mrs. Jones.", "mister Smith met missus Jones."),
        ("Dr. Tarrow, of St. James St.", "doctor Tarrow, of saint James street."),
        ("At 10.05 p.m. and 9 a.m. sharp", "At 10 oh 5 PM and 9 AM sharp."),
        ("No. 5, and No.", "number 5, and No."),
        ("The U.S.A. and etc., and", "The USA and etcetera, and."),
        # Numbers.
        ("In 1887, 1905, 1900 and 2004.", "In 18 87, 19 oh 5, 19 hundred and 2004."),
        ("In the 1920s or the ’80s.", "In the 19 twenties or the eighties."),
        ("From 1939–45.", "From 19 39 to 45."),
        ("£3, £1, $4.50 and £2 million.", "3 pounds, 1 pound, 4 dollars 50 and 2 million pounds."),
        ("At 10.30 it weighed 10.30 pounds.", "At 10 30 it weighed 10.30 pounds."),
        ("At 7:00 and 14:00.", "At 7 o'clock and 14 hundred."),
        ("He had 12,345 and 3.14.", "He had 12,345 and 3.14."),
        ("Chapter XII", "Chapter 12."),
        ("Henry VIII and I", "Henry the 8th and I."),
        # Marks.
        (
            "“Well?” said Dorrel—from the door… and then.",
            "Well? said Dorrel; from the door, and then.",
        ),
        ("“Go,” he said (low)\u2028and went", "Go, he said, low, and went."),
        ("Shh, now.", "[[ʃːː]], now."),
        ("cafe\u0301", "café."),
        ("***", ""),
        ("", ""),
    ],
)
def test_said_as_a_reader_says_it(text, said):
    assert read_out(text) == said


@pytest.mark.parametrize(
    ("word", "said"),
    [
        ("Isaura", "eye-sora"),
        ("ISAURA", "eye-sora"),
        ("Isaura’s", "eye-sora's"),
        ("Tarrow’s", "[[tæroʊz]]"),
        ("Jess’s", "[[dʒɛsɪz]]"),
        ("Tarrows", "Tarrows"),
    ],
)
def test_the_books_own_dictionary(word, said):
    own = {"isaura": "eye-sora", "tarrow": "[[tæroʊ]]", "jess": "[[dʒɛs]]"}
    assert read_out(f"{word} came.", own) == f"{said} came."


def test_possessives_sound_as_english_has_them():
    assert [possessive_sound(s) for s in ("kæt", "dɒɡ", "hɔːs", "tæroʊ")] == ["s", "z", "ɪz", "z"]


@given(st.text("aB1.,’“”—…?! £X\u2028é", max_size=60))
def test_every_word_is_said_once_and_in_order(text):
    found = units(text)
    assert all(a.end <= b.start for a, b in itertools.pairwise(found))
    assert all(text[u.start : u.end].strip() and (u.said or u.sounds) for u in found)
    covered = {at for u in found for at in range(u.start, u.end)}
    for word in word_pattern(text).finditer(text):
        assert word.start() in covered
    assert not found or found[-1].mark
