"""Where sentences end: a case to each rule, then properties over any text."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet.language.sentences import sentences

# The bar stands where one sentence ends and the next begins.
CASES = [
    # end marks
    "The tide was out. | Nobody came.",
    "Who was it? | It was late! | He went in.",
    "No end mark at all",
    "What!? | Never!! | So.",
    # a tag belongs to the sentence of its speech
    "“Well?” said Dorrel. | “Come in.”",
    "“Well?” Dorrel said. | He waited.",
    "“Well?” Mrs. Vane asked softly. | He waited.",
    "“Wait!” I cried. | The boat was gone.",
    "“I never—” she began.",
    "“Go,” he said. | “Now.”",
    "“Yes,” said Ann, “if you like. | I’ll come.”",
    # speech that is not tagged ends with its mark
    "“Go.” | He went.",
    "“Go!” | “No!” | “Then stay.”",
    "“I never—” | She stopped.",
    "“Well?” | He said nothing.",
    "“Go.” | Dorrel went.",
    "'Go.' | He went.",
    '"Is it?" | The door shut.',
    # hair and thin spaces between marks
    "“He said, ‘Go.’\u200a” | She went.",
    "He waited. | “\u200a‘Go,’ she said.”",
    # several sentences in one speech
    "“It rained. | It always rains,” he said.",
    # ellipses
    "“I … I don’t know.” | He left.",
    "She waited… | Nobody came.",
    "He looked … and saw nothing.",
    "I… I can’t.",
    "“So…” | He rose.",
    "She never knew.... | He left.",
    # dashes and brackets
    "He went—why?—to the sea. | She stayed.",
    "He left (nobody saw him.) in the night.",
    "(He left.) | Nobody saw.",
    # shortenings, titles, initials
    "Mr. Vane met Mrs. Orr at St. Anne’s. | They spoke.",
    "Dr. Orr lives on Mill St. | She is old.",
    "She met J. R. Vane. | They spoke.",
    "It was just you and I. | Did you see?",
    "He left at 5 p.m. | The boat had gone.",
    "He left at 5 p.m. and slept.",
    "Turn to p. 55. | Read.",
    "See No. 7. | It is there.",
    "“Will you?” | “No. | Never.”",
    "It cost 3.50. | It was cheap.",
    # a number that heads a paragraph is part of its sentence
    "1. The tide was out. | 2. Nobody came.",
    # other writing
    "他走了。|她留下了。",
    "One.\n\n| Two",
]


@pytest.mark.parametrize("case", CASES)
def test_sentences_end_where_the_bar_stands(case: str) -> None:
    text = case.replace("| ", "").replace("|", "")
    expected = [part.strip() for part in case.split("|")]
    assert [text[s.start : s.end] for s in sentences(text)] == expected


MARKS = st.text(alphabet="ab IM.!?…—-\"'“”‘’()[]\n\u2029 é。sidMr", max_size=60)


@given(st.one_of(st.text(), MARKS))
def test_sentences_cover_all_but_white_space_in_order(text: str) -> None:
    at = 0
    for sentence in sentences(text):
        assert sentence.start < sentence.end
        assert sentence.start >= at
        assert not text[at : sentence.start].strip()
        piece = text[sentence.start : sentence.end]
        assert piece == piece.strip()
        at = sentence.end
    assert not text[at:].strip()
