"""Dictionary forms, and how common a word is."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet.language.frequency import is_mostly_name, zipf
from reglet.language.lemmas import lemma

# lemma, then the forms that must lead to it without any tag
FORMS = """
run: run runs ran running
hope: hope hopes hoped hoping
hop: hop hops hopped hopping
stare: stares stared staring
star: stars starred
visit: visits visited visiting
travel: travels travelled travelling traveled traveling
panic: panics panicked panicking
lie: lies lied lying
dye: dyed
use: used uses using
agree: agrees agreed agreeing
try: tries tried trying
box: boxes boxed
bus: buses
horse: horses
hero: heroes
city: cities
child: child children
wolf: wolf wolves
be: be am is are was were been being
go: goes went gone going
write: writes wrote written writing
house: house houses
always: always
nothing: nothing
morning: morning
glass: glass glasses
"""


@pytest.mark.parametrize("line", FORMS.strip().splitlines())
def test_forms_lead_to_their_lemma(line: str) -> None:
    base, _, forms = line.partition(":")
    assert {form: lemma(form) for form in forms.split()} == dict.fromkeys(forms.split(), base)


@pytest.mark.parametrize(
    ("word", "tag", "base"),
    [
        ("saw", "VBD", "see"),
        ("saw", "NN", "saw"),
        ("leaves", "NNS", "leaf"),
        ("leaves", "VBZ", "leave"),
        ("building", "NN", "building"),
        ("building", "VBG", "build"),
        ("lay", "VBD", "lie"),
        ("lay", "VB", "lay"),
        ("found", "VBD", "find"),
        ("happier", "JJR", "happy"),
        ("biggest", "JJS", "big"),
        ("better", "RBR", "good"),
        ("during", "IN", "during"),
        ("Dorrel’s", "NNP", "dorrel"),
        ("tip-toed", "VBD", "tip-toe"),
    ],
)
def test_a_tag_settles_what_the_form_leaves_open(word: str, tag: str, base: str) -> None:
    assert lemma(word, tag) == base


@given(st.text(), st.sampled_from(["", "NN", "NNS", "VBD", "VBG", "VBZ", "JJR", "RB"]))
def test_any_text_has_a_lemma(word: str, tag: str) -> None:
    assert lemma(word, tag).lower() == lemma(word, tag)


def test_common_words_stand_above_rare_ones() -> None:
    ladder = ["the", "said", "candle", "lantern", "reglet"]
    values = [zipf(word) for word in ladder]
    assert values == sorted(values, reverse=True)
    assert zipf("the") == pytest.approx(7.7, abs=0.2)  # as on the published scale
    assert zipf("reglet") == 0
    assert zipf("The") == zipf("the")


def test_names_are_known_by_their_capital() -> None:
    assert is_mostly_name("London")
    assert not is_mostly_name("Grace")
    assert not is_mostly_name("candle")
