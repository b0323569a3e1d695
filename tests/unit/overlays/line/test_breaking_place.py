"""Where a paragraph is broken: between sentences, outside speech, at what changes."""

from hypothesis import given
from hypothesis import strategies as st
from reglet.language.prose import Prose
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.manuscript.stage import Stage
from reglet.overlays.answer import take
from reglet.overlays.examine import Examiner
from reglet.overlays.line.breaking_place import FEWEST_WORDS, breaking_place, places

SENTENCES = (
    "The ledger had been kept by three hands, and the third was the worst of them.",
    "“You might have told me,” she said.",
    "At noon the boat came in.",
    "Dorrel, who had not slept, went down to see it.",
    "It rained.",
)


@given(st.lists(st.sampled_from(SENTENCES), max_size=24))
def test_places_stand_between_sentences_with_enough_on_either_side(chosen):
    prose = Prose(" ".join(chosen))
    starts = {sentence.start for sentence in prose.sentences}
    for place in places(prose):
        assert place.at in starts
        assert len(prose.words_in(0, place.at)) >= FEWEST_WORDS
        assert len(prose.words_in(place.at, len(prose.text))) >= FEWEST_WORDS
        assert not any(q.start < place.at < q.end for q in prose.quotations)


def test_a_change_of_time_and_actor_is_the_place():
    before = "She counted the spoons and put them in the drawer, and then she counted them. " * 3
    after = "Dorrel had been waiting on the quay for the boat, and he had not slept at all. " * 3
    turn = "At noon Dorrel went down. "
    text = f"{before}{turn}{after}".strip()
    assert breaking_place(Prose(text)) == len(before)


def test_a_short_paragraph_has_no_place():
    assert breaking_place(Prose("It rained. She went home.")) is None


def test_taking_the_proposal_parts_the_paragraph_and_loses_nothing():
    text = " ".join([*SENTENCES[:1] * 8, *SENTENCES[2:4], *SENTENCES[:1] * 8])
    scene = Scene("s", passage=Passage.plain(text))
    book = Book(parts=(Part("p", chapters=(Chapter("c", scenes=(scene,)),)),))
    (query,) = Examiner().examine(book, Stage.LINE, overlays=["block"])
    parted = take(book, query).scene("s").passage
    assert len(parted.paragraphs) == 2
    assert parted.text.replace("\n", " ") == text
