"""What the model must not see is taken off the words."""

import pytest
from reglet.outs.levelling import words

LEVEL = [
    ("“Come in,” he said.", '"Come in," he said.'),
    ("“Come in,” he said.", "‘Come in,’ he said."),
    ("“Come in,” he said.", "*“Come in,”* he said."),
    ("It was late—very late.", "It was late -- very late."),
    ("It was late—very late.", "It was late – very late."),
    ("He waited… and waited.", "He waited. . . and waited."),
    ("The dog’s bowl didn’t move.", "The dog's bowl didn't move."),
    ("She was naïve.", "She was naive."),
    ("the road\u2028to the sea", "the road to the sea"),
    ("He will come to-day.", "He will come today."),
]


@pytest.mark.parametrize(("one", "other"), LEVEL)
def test_two_ways_of_setting_are_one_to_the_model(one, other):
    def seen(text):
        return [(w.form, w.case, w.before, w.after) for w in words(text)]

    assert seen(one) == seen(other)


@pytest.mark.parametrize("text", [one for pair in LEVEL for one in pair])
def test_a_word_knows_where_it_stands(text):
    for word in words(text):
        plain = text[word.start : word.end].lower().replace("’", "'").replace("ï", "i")
        assert plain.replace("-", "").startswith(word.form)
