"""Quotation marks read as speech, and the tags beside it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet.language.speech import Marks, detect_marks, narration, quotations, quotations_in
from reglet.language.speech_tags import speech_tags

# text, the outermost speech in it, the quoted words in it that are no speech
CASES = [
    ("“Go,” he said. “Now.”", ["“Go,”", "“Now.”"], []),
    ('"Go," he said. "Now."', ['"Go,"', '"Now."'], []),
    ("‘Go,’ he said. ‘Now.’", ["‘Go,’", "‘Now.’"], []),
    ("'Go,' he said. 'Don't.'", ["'Go,'", "'Don't.'"], []),
    ("‘The dogs’ bowls,’ he said.", ["‘The dogs’ bowls,’"], []),
    ("'It's the boys' mother,' he said.", ["'It's the boys' mother,'"], []),
    ("‘’Tis late,’ he said, ‘an’ cold.’", ["‘’Tis late,’", "‘an’ cold.’"], []),
    ("“He said ‘go away,’ to me,” said Ann.", ["“He said ‘go away,’ to me,”"], []),
    ("‘He said “go away,” to me,’ said Ann.", ["‘He said “go away,” to me,’"], []),
    ("She was a “friend” of his.", [], ["“friend”"]),
    ("It is called a “ship’s lantern,” and burns oil.", [], ["“ship’s lantern,”"]),
    ("He cried “Fire!” and ran.", ["“Fire!”"], []),
    ("“I never—”", ["“I never—”"], []),
    ("“So it goes on", ["“So it goes on"], []),
    ("“So it goes on. “Stop!”", ["“So it goes on.", "“Stop!”"], []),
    ("The dog’s bowl and the dogs’ bowls.", [], []),
    ("’Twas ’em, 'twas, in the '90s.", [], []),
    ("Rock ’n’ roll; o’clock.", [], []),
    ("«Va,» said Luc.", ["«Va,»"], []),
    ("„Geh,“ said Luc.", ["„Geh,“"], []),
]


@pytest.mark.parametrize(("text", "spoken", "quoted"), CASES)
def test_speech_is_told_from_quoted_words_and_apostrophes(
    text: str, spoken: list[str], quoted: list[str]
) -> None:
    outer = [q for q in quotations(text) if q.depth == 0]
    assert [text[q.start : q.end] for q in outer if q.spoken] == spoken
    assert [text[q.start : q.end] for q in outer if not q.spoken] == quoted


@pytest.mark.parametrize(
    ("text", "marks"),
    [
        ("“One,” he said. ‘Two’ was quoted.", Marks.DOUBLE),
        ("‘One,’ he said. ‘Two.’ “Three”", Marks.SINGLE),
        ("'One,' he said. 'Don't.'", Marks.SINGLE),
        ("’Twas 'bout time, wasn't it, 'em?", Marks.DOUBLE),
        ("Nothing at all.", Marks.DOUBLE),
    ],
)
def test_the_way_of_a_text_is_the_mark_that_opens_oftenest(text: str, marks: Marks) -> None:
    assert detect_marks(text) is marks


def test_an_unclosed_mark_says_so() -> None:
    text = "“One. “Two.”"
    assert [(q.opened, q.closed) for q in quotations(text)] == [(True, False), (True, True)]


def test_nesting_is_counted() -> None:
    text = "“He said ‘No “never” to me’ once,” she said."
    assert [(text[q.start : q.end], q.depth) for q in quotations(text)][:2] == [
        ("“He said ‘No “never” to me’ once,”", 0),
        ("‘No “never” to me’", 1),
    ] or quotations(text)[0].depth == 0


def test_speech_runs_over_paragraphs_that_open_with_a_mark_again() -> None:
    first, second, third = quotations_in(["“One.", "“Two.”", "“Three.”"])
    assert (first[0].closed, first[0].continues) == (False, False)
    assert (second[0].closed, second[0].continues) == (True, True)
    assert (third[0].closed, third[0].continues) == (True, False)


def test_speech_runs_into_a_paragraph_that_only_closes_it() -> None:
    _, second = quotations_in(["“One.", "two.” He left."])
    assert (second[0].start, second[0].end, second[0].opened) == (0, 5, False)


def test_narration_is_what_is_left() -> None:
    text = "He rose. “Go,” he said. “Now.”"
    assert [text[a:b].strip() for a, b in narration(text, quotations(text))] == [
        "He rose.",
        "he said.",
    ]


# text, verb, adverb, speaker
TAGS = [
    ("“Go,” said Dorrel softly.", "said", "softly", "Dorrel"),
    ("“Go,” he said, quietly.", "said", "quietly", "he"),
    ("“Go,” he quietly said.", "said", "quietly", "he"),
    ("“Go!” the old man growled.", "growled", None, "the old man"),
    ("“Go!” cried the old man.", "cried", None, "the old man"),
    ("“Go?” Mr. Vane asked.", "asked", None, "Mr. Vane"),
    ("“Go?” asked Mr. Tobias Vane.", "asked", None, "Mr. Tobias Vane"),
    ("Dorrel said, “Go.”", "said", None, "Dorrel"),
    ("She whispered quietly: “Go.”", "whispered", "quietly", "She"),
    ("“Fine,” he smiled.", "smiled", None, "he"),
    ("“Why?” I asked.", "asked", None, "I"),
    ("“Well,” he went on, “go.”", "went", None, "he"),
    ("“What?” he entreated.", "entreated", None, "he"),
    ("“Go,” he said only.", "said", None, "he"),
]


@pytest.mark.parametrize(("text", "verb", "adverb", "speaker"), TAGS)
def test_a_tag_has_its_verb_adverb_and_speaker(
    text: str, verb: str, adverb: str | None, speaker: str
) -> None:
    (tag,) = speech_tags(text, quotations(text))
    assert text[slice(*tag.verb)] == verb
    assert (text[slice(*tag.adverb)] if tag.adverb else None) == adverb
    assert tag.speaker is not None
    assert text[slice(*tag.speaker)] == speaker


@pytest.mark.parametrize(
    "text",
    [
        "“Go.” Dorrel said nothing.",
        "“Go.” He rose and left.",
        "“Go!” The door shut.",
        "He rose. “Go.”",
        "The “old man,” tired, left.",
        "Nothing was said.",
    ],
)
def test_what_is_no_tag(text: str) -> None:
    assert speech_tags(text, quotations(text)) == ()


MARKED = st.text(alphabet="ab s,.!—\"'“”‘’«»„ITe", max_size=50)


@given(st.one_of(MARKED, st.text()), st.sampled_from([None, *Marks]), st.booleans())
def test_quotations_nest_and_stay_in_the_text(
    text: str, marks: Marks | None, continued: bool
) -> None:
    found = quotations(text, marks, continued)
    open_until: list[int] = []
    for quotation in found:
        assert 0 <= quotation.start <= quotation.end <= len(text)
        while open_until and open_until[-1] <= quotation.start:
            open_until.pop()
        assert not open_until or quotation.end <= open_until[-1]
        open_until.append(quotation.end)
    at = 0
    for start, end in narration(text, found):
        assert at <= start < end <= len(text)
        at = end
    for tag in speech_tags(text, found):
        assert 0 <= tag.start <= tag.verb[0] < tag.verb[1] <= tag.end <= len(text)
        assert found[tag.quotation].spoken


@given(st.lists(MARKED, max_size=6))
def test_a_passage_is_read_paragraph_by_paragraph(paragraphs: list[str]) -> None:
    found = quotations_in(paragraphs)
    assert len(found) == len(paragraphs)
    assert all(q.end <= len(p) for p, row in zip(paragraphs, found, strict=True) for q in row)
