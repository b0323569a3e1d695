"""Words and tokens: what is one, what is two, and where they stand."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet.language.words import parts, tokens, words
from reglet.manuscript.words import count_words, word_pattern

WORDS = [
    ("a plain sentence.", ["a", "plain", "sentence"]),
    ("“Don’t,” she said.", ["Don’t", "she", "said"]),
    ("It wasn't Dorrel's.", ["It", "wasn't", "Dorrel's"]),
    ("’Tis late; give ’em time. 'Twas so.", ["’Tis", "late", "give", "’em", "time", "'Twas", "so"]),
    ("the dogs’ bowls", ["the", "dogs", "bowls"]),
    ("‘The end,’ he said.", ["The", "end", "he", "said"]),
    ("twenty-one well-worn mother-in-law’s", ["twenty-one", "well-worn", "mother-in-law’s"]),
    ("wait—no – stop--there", ["wait", "no", "stop", "there"]),
    ("well…what... now", ["well", "what", "now"]),
    ("at 5 a.m. in the U.S.A.", ["at", "5", "a.m.", "in", "the", "U.S.A."]),
    ("1,000.50 and 10:30", ["1,000.50", "and", "10:30"]),
    ("and/or", ["and", "or"]),
    ("one.Two", ["one", "Two"]),
    ("*** & — …", []),
    ("the *very* _word_", ["the", "very", "word"]),
    (
        "see www.example.org/a-b and a.b@example.org.",
        ["see", "www.example.org/a-b", "and", "a.b@example.org"],
    ),
    ("Zoe\u0308 na\u00efve cafe\u0301s", ["Zoe\u0308", "na\u00efve", "cafe\u0301s"]),
    ("a line\u2028broken", ["a", "line", "broken"]),
    ("", []),
]


@pytest.mark.parametrize(("text", "expected"), WORDS)
def test_words_are_parted_as_a_novelist_counts_them(text: str, expected: list[str]) -> None:
    assert [word.text for word in words(text)] == expected
    assert count_words(text) == len(expected)


@pytest.mark.parametrize(
    ("word", "expected"),
    [
        ("didn’t", ("did", "n’t")),
        ("couldn't've", ("could", "n't", "'ve")),
        ("she’s", ("she", "’s")),
        ("mother-in-law’s", ("mother-in-law", "’s")),
        ("o’clock", ("o’clock",)),
        ("cannot", ("can", "not")),
        ("’em", ("’em",)),
    ],
)
def test_contracted_words_come_apart_where_the_grammar_does(
    word: str, expected: tuple[str, ...]
) -> None:
    assert parts(word) == expected
    assert tuple(token.text for token in tokens(word)) == expected


def test_a_mark_is_a_token_and_no_word() -> None:
    marked = tokens("“Go—” he said...")
    assert [token.text for token in marked] == ["“", "Go", "—", "”", "he", "said", "..."]
    assert [word.text for word in words("“Go—” he said...")] == ["Go", "he", "said"]


@given(st.text())
def test_offsets_slice_back_to_the_words(text: str) -> None:
    found = words(text)
    assert all(text[word.start : word.end] == word.text for word in found)
    assert all(a.end <= b.start for a, b in itertools.pairwise(found))
    assert count_words(text) == len(found)


@given(st.text())
def test_tokens_cover_all_but_white_space(text: str) -> None:
    at = 0
    for token in tokens(text):
        assert text[token.start : token.end] == token.text
        assert not text[at : token.start].strip()
        assert token.start >= at
        at = token.end
    assert not text[at:].strip()


@given(st.text(alphabet="ab’'-–.,1_\u00a0\t “é\u0301@/:wW", max_size=30))
def test_stretches_cut_one_by_one_are_cut_as_the_whole(text: str) -> None:
    assert [(w.start, w.end, w.text) for w in words(text)] == [
        (*match.span(), match[0]) for match in word_pattern(text).finditer(text)
    ]
