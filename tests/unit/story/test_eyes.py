"""Whose eyes: what tells whose mind is open, whose it is not, and what tells nothing."""

import pytest
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.story.facts import Analyst


def eyes(*texts: str) -> list[str]:
    scenes = tuple(Scene(f"s{n}", passage=Passage.plain(text)) for n, text in enumerate(texts))
    book = Book(parts=(Part("p", chapters=(Chapter("c", scenes=scenes),)),))
    return [each.name for each in Analyst().read(book).eyes]


BOTH = "Anne met Mr Crake. Anne smiled. Mr Crake bowed. Anne turned. Mr Crake stood."
HERS = "Anne knew it. Anne wondered why. She had not thought of the rain."


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("Anne knew it was late. Anne wished for rain.", "Anne"),
        ("It was late, thought Anne. Anne could hear the rain. Anne hoped it would stop.", "Anne"),
        # whoever sees that Mr Crake knew is not he
        ("Anne felt cold. Anne saw that Mr Crake knew it. She wondered why.", "Anne"),
        # what is seen from outside tells nothing
        ("Anne smiled. Anne looked as if it pleased her. Anne seemed to know.", ""),
        # said, and not told
        ("“Anne knew it,” said Mr Crake. “Anne thought so. Anne hoped so.”", ""),
        # two minds with as much
        ("Anne knew it. Mr Crake knew it. Anne hoped so. Mr Crake hoped so.", ""),
        # feeling for a chair is no feeling
        ("Anne felt behind her for the chair. Anne felt inside the bag. Anne felt about.", ""),
    ],
)
def test_one_scene(text: str, wanted: str) -> None:
    assert eyes(f"{BOTH}\n{text}", BOTH)[0] == wanted


def test_a_little_is_enough_for_one_whose_scenes_others_are() -> None:
    little = "Anne came in. She noticed the rain."
    assert eyes(little, BOTH)[0] == ""
    assert eyes(little, HERS, HERS)[0] == "Anne"


def test_a_scene_that_names_nobody_goes_on_with_the_lead() -> None:
    unnamed = (
        "She knew that it was late. She had hoped for rain.\nMrs Bogart came by.\n"
        "She remembered the rain. She wished for more."
    )
    assert eyes(HERS, HERS, unnamed)[2] == "Anne"


def test_an_i_tells_the_whole_of_its_book() -> None:
    told = "I came in.\nI sat down, and I looked at the rain.\nI rose. I went home."
    few = f"{'The rain went on and on over the long grey roofs. ' * 45}\n" + "\n".join(
        ["I sat down."] * 5
    )
    assert eyes(told, told, few) == ["I", "I", "I"]
    assert eyes(few, HERS, HERS)[0] == ""
