"""Words are counted as the book has them now, whatever it had before."""

from collections import Counter

from hypothesis import given
from hypothesis import strategies as st
from reglet.language.speech import Marks
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.overlays.word_counts import WordCounts

texts = st.lists(st.sampled_from(["The oar", "the lamp", "Oar and oar", "no"]), max_size=5)


@given(st.lists(texts, min_size=1, max_size=4))
def test_counting_on_is_counting_anew(states):
    counts = WordCounts()
    for state in states:
        scenes = [Scene(f"s{n}", passage=Passage.plain(text)) for n, text in enumerate(state)]
        found = counts.of(scenes, Marks.DOUBLE)
        assert +Counter(found) == Counter(" ".join(state).lower().split())
