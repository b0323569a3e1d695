"""A tally made from the one before is the tally made from nothing."""

from hypothesis import given
from hypothesis import strategies as st
from reglet.manuscript.book import StyleSheet
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.overlays.one_way import one_way
from reglet.overlays.tally import Tally, Use, commoner

WORDS = ("grey", "gray", "colour", "color")
TEXTS = st.lists(st.sampled_from(WORDS), max_size=6).map(" ".join)
BOOKS = st.dictionaries(st.sampled_from(["s1", "s2", "s3"]), TEXTS, max_size=3)


def uses(scene):
    at = 0
    for word in scene.passage.text.split():
        question = "grey or gray" if word.startswith("gr") else "colour or color"
        yield Use(question, word, at, at + len(word), word)
        at += len(word) + 1


def scenes(texts):
    return [Scene(each, passage=Passage.plain(text)) for each, text in texts.items()]


def seen(tally, ids=("s1", "s2", "s3")):
    ways = {question: dict(found) for question, found in tally.questions.items()}
    firsts = {question: tally.first(question) for question in ways}
    return ways, firsts, [tally.in_scene(each) for each in ids]


@given(st.lists(BOOKS, max_size=5))
def test_edits_give_what_a_fresh_count_gives(states):
    tally = Tally()
    for state in states:
        found = scenes(state)
        tally = tally.recounted(found, uses)
        assert seen(tally) == seen(Tally().recounted(found, uses))
        total = sum(len(text.split()) for text in state.values())
        assert sum(sum(ways.values()) for ways in tally.questions.values()) == total


def test_only_a_changed_scene_is_counted_again():
    one, two = scenes({"s1": "grey grey", "s2": "gray"})
    asked = []

    def watched(scene):
        asked.append(scene.id)
        return uses(scene)

    tally = Tally().recounted([one, two], watched)
    assert tally.recounted([one, two], watched) is tally
    changed = Scene("s2", passage=Passage.plain("gray gray"))
    after = tally.recounted([one, changed], watched)
    assert asked == ["s1", "s2", "s2"]
    assert after.ways("grey or gray") == {"grey": 2, "gray": 2}
    assert tally.ways("grey or gray") == {"grey": 2, "gray": 1}


def test_moved_scenes_move_what_stands_first():
    one, two = scenes({"s1": "grey", "s2": "gray"})
    tally = Tally().recounted([one, two], uses)
    assert tally.first("grey or gray").way == "grey"
    assert tally.recounted([two, one], uses).first("grey or gray").way == "gray"


def test_the_rarer_way_is_told_the_commoner():
    tally = Tally().recounted(scenes({"s1": "grey grey gray colour color"}), uses)
    of_gray = tally.in_scene("s1")[2]
    assert commoner(of_gray, tally) == "grey"
    query = one_way(of_gray, tally, StyleSheet(), lambda use, way: way)
    assert query.message == "The book has grey twice and gray once."
    assert commoner(of_gray, tally, most=0.2) is None
    assert [commoner(use, tally) for use in tally.in_scene("s1")].count(None) == 4
