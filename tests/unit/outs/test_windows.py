"""Every word is judged once, and an edit moves only the windows near it."""

from hypothesis import given
from hypothesis import strategies as st
from reglet.outs.windows import WINDOW, windows

texts = st.lists(
    st.tuples(st.text("abc", max_size=6), st.integers(0, 400)).map(lambda t: (t[0], t[1])),
    max_size=40,
)


@given(texts)
def test_every_word_is_judged_once_in_a_window_of_bounded_length(paragraphs):
    lengths = [length for _, length in paragraphs]
    judged = []
    for window in windows([text for text, _ in paragraphs], lengths):
        assert sum(piece.last - piece.first for piece in window) <= WINDOW
        for piece in window:
            assert piece.first <= piece.begin < piece.end <= piece.last
            judged += [(piece.paragraph, i) for i in range(piece.begin, piece.end)]
    assert judged == [(n, i) for n, length in enumerate(lengths) for i in range(length)]


def test_an_edit_leaves_the_windows_further_on_as_they_were():
    paragraphs = [f"paragraph {n}" for n in range(300)]
    lengths = [20 + n * 7 % 60 for n in range(300)]

    def read():
        return {
            tuple((paragraphs[p.paragraph], p.begin, p.end) for p in window)
            for window in windows(paragraphs, lengths)
        }

    before, changed = read(), []
    for at in range(0, 300, 7):
        paragraphs[at], lengths[at] = f"another {at}", 33
        after = read()
        changed.append(len(after - before))
        before = after
    assert sum(changed) / len(changed) < 3
    assert max(changed) < 20
