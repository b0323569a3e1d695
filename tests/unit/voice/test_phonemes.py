import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet.voice.phonemes import Stretch, laid_out, replaced, stretches


def parts(utterance, words):
    laid = laid_out(utterance)
    return ["".join(laid[s.start : s.end]) for s in stretches(laid, words)]


@pytest.mark.parametrize(
    ("utterance", "alone", "found"),
    [
        ("ðə ðə kˈæt.", ["ðə", "ðə", "kˈæt"], ["ðə", "ðə", "kˈæt"]),
        # run together, and changed by what follows
        ("ɪnðɪʲ ʌvðə hˈaʊs", ["ɪn", "ðə", "ʌv", "ðə", "hˈaʊs"], ["ɪn", "ðɪʲ", "ʌv", "ðə", "hˈaʊs"]),
        # one word, many groups
        (
            "ɪn ˈeɪtiːn ˈeɪɾi sˈɛvən.",
            ["ɪn", "ˈeɪtiːn ˈeɪɾi sˈɛvən"],
            ["ɪn", "ˈeɪtiːn ˈeɪɾi sˈɛvən"],
        ),
        ("lˈɔŋ tˈaɪm", ["lˈɔŋ", "", "tˈaɪm"], ["lˈɔŋ", "", "tˈaɪm"]),
        ("", ["ðə"], [""]),
    ],
)
def test_each_word_gets_its_own_sounds(utterance, alone, found):
    assert parts(utterance, alone) == found


def test_a_words_sounds_are_replaced_and_the_others_stay():
    laid = laid_out("ðə kˈæt sˈæt.")
    where = stretches(laid, ["ðə", "kˈæt", "sˈæt"])
    new, moved = replaced(laid, where, ["", "dˈɒɡɪ", ""])
    assert "".join(new) == "ðə dˈɒɡɪ sˈæt."
    assert ["".join(new[s.start : s.end]) for s in moved] == ["ðə", "dˈɒɡɪ", "sˈæt"]


SOUNDS = st.text("abkstæəˈ", min_size=1, max_size=5)


@given(st.lists(SOUNDS, min_size=1, max_size=8))
def test_words_alone_are_found_again_where_they_stand(words):
    laid = laid_out(" ".join(words))
    found = stretches(laid, words)
    assert all(a.end <= b.start for a, b in itertools.pairwise(found))
    if all(word.strip("ˈ") for word in words):
        at = 0
        for word, stretch in zip(words, found, strict=True):
            assert at <= stretch.start <= stretch.end <= at + len(word)
            at += len(word) + 1


@given(st.text("abkæ ˈ.,", max_size=30), st.lists(st.text("abkæ", max_size=4), max_size=6))
def test_any_sounds_and_words_give_stretches_in_order(utterance, words):
    laid = laid_out(utterance)
    found = stretches(laid, words)
    assert len(found) == len(words)
    at = 0
    for stretch in found:
        assert isinstance(stretch, Stretch)
        assert at <= stretch.start <= stretch.end <= len(laid)
        at = stretch.end
