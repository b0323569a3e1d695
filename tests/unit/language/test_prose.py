"""One paragraph read as a whole: tags, roles, passives, and what ``Prose`` puts together."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reglet.language.prose import Prose, read_ahead
from reglet.language.speech import Marks

TAGGED = [
    ("He saw the door.", "saw", "VBD"),
    ("He bought a saw.", "saw", "NN"),
    ("She had walked home.", "walked", "VBN"),
    ("She walked home.", "walked", "VBD"),
    ("He spoke softly.", "softly", "RB"),
    ("The old grey house fell.", "grey", "JJ"),
    ("They were running.", "running", "VBG"),
    ("She couldn’t see.", "n’t", "RB"),
    ("Dorrel’s hat fell.", "’s", "POS"),
    ("He’s late.", "’s", "VBZ"),
]


@pytest.mark.parametrize(("text", "form", "tag"), TAGGED)
def test_words_have_the_part_of_speech_that_they_play(text: str, form: str, tag: str) -> None:
    prose = Prose(text)
    assert {t.text: g for t, g in zip(prose.tokens, prose.tags, strict=True)}[form] == tag


@pytest.mark.parametrize(
    ("text", "form", "role"),
    [
        ("He heard the bell.", "heard", "main"),
        ("He heard the bell.", "He", "subject"),
        ("There was a light.", "There", "expletive"),
        ("She had gone.", "had", "auxiliary"),
    ],
)
def test_words_have_the_role_that_they_play(text: str, form: str, role: str) -> None:
    prose = Prose(text)
    assert {t.text: r for t, r in zip(prose.tokens, prose.roles, strict=True)}[form] == role


PASSIVE = [
    ("The door was locked by the ferryman.", ["was locked"]),
    ("He had been beaten.", ["been beaten"]),
    ("It was quickly and quietly done by them.", ["was quickly and quietly done"]),
    ("Were they ever told?", ["Were they ever told"]),
    ("She got thrown out.", ["got thrown"]),
    ("The letter isn’t written yet.", ["is" + "n’t written"]),
    ("Nothing must be said.", ["be said"]),
    ("He was walking home.", []),
    ("She had walked home.", []),
    ("He was tall.", []),
    ("He’s gone.", []),
    ("It’s been years.", []),
    ("She’s broken the jug.", []),
    ("The broken door was old.", []),
    ("He got up.", []),
]


@pytest.mark.parametrize(("text", "expected"), PASSIVE)
def test_passives_run_from_auxiliary_to_participle(text: str, expected: list[str]) -> None:
    assert [text[p.start : p.end] for p in Prose(text).passives] == expected


def test_equal_paragraphs_are_one_key() -> None:
    assert Prose("Go.") == Prose("Go.")
    assert len({Prose("Go."), Prose("Go."), Prose("Go.", Marks.SINGLE)}) == 2


def test_words_in_a_stretch_and_lengths_of_sentences() -> None:
    prose = Prose("One two. Three, four five. ***")
    assert [w.text for w in prose.words_in(*prose.sentences[1])] == ["Three", "four", "five"]
    assert prose.words_in(0, 5) == prose.words[:1]
    assert prose.sentence_lengths == (2, 3)


def test_speech_is_counted_and_placed() -> None:
    prose = Prose("“One two,” said Ann.")
    assert prose.spoken_words == 2
    assert prose.is_spoken(3)
    assert not prose.is_spoken(12)
    assert [prose.text[slice(*tag.verb)] for tag in prose.speech_tags] == ["said"]


@settings(max_examples=50)
@given(st.lists(st.text(max_size=80), max_size=6))
def test_reading_ahead_changes_no_tag(texts: list[str]) -> None:
    together = [Prose(text) for text in texts]
    read_ahead(together)
    for prose in together:
        alone = Prose(prose.text)
        assert prose.tags == alone.tags
        assert prose.roles == alone.roles
        assert len(prose.tags) == len(prose.tokens)


@given(st.text())
def test_any_text_is_read_without_complaint(text: str) -> None:
    prose = Prose(text)
    assert sum(prose.sentence_lengths) == len(prose.words)
    assert prose.spoken_words <= len(prose.words)
    for passive in prose.passives:
        assert 0 <= passive.start < passive.end <= len(text)
