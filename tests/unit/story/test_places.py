"""Where a scene is: what puts somebody somewhere, and what does not."""

import pytest
from reglet.language.prose import Prose
from reglet.story.names import names_in
from reglet.story.places import place_of, places_in


def place(text: str, people: tuple[str, ...] = ("Anne", "Erik")) -> str:
    prose = Prose(text)
    return place_of(places_in(prose, names_in(prose)), dict.fromkeys(people, ""))


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("Anne came into the kitchen and shut the door.", "the kitchen"),
        ("The ferry shed smelt of tar and of two separate dinners.", "the ferry shed"),
        ("She sat in the stern of the ferry with a basket on her knee.", "the ferry"),
        ("They stood on the lower deck, waiting.", "the lower deck"),
        ("At the lake cottage she missed the trains.", "the lake cottage"),
        ("Anne arrived at Bath on Monday. She had stayed in Bath before. It rained in Bath.", ""),
        ("They were in Bath by noon. Anne lived in Bath now; all met in Bath.", "Bath"),
        # only spoken of, looked back on, a person, somebody's, a way of speaking
        ("“He is in the kitchen,” said Anne.", ""),
        ("She had been in the kitchen when it happened.", ""),
        ("Everybody in the village knew it.", ""),
        ("He stared at Erik. He was angry at Erik.", ""),
        ("She was in the way, in the end, in the same house.", ""),
        # two places with as much for them
        ("She stood in the hall. She went into the garden.", ""),
        ("", ""),
    ],
)
def test_where(text: str, wanted: str) -> None:
    assert place(text) == wanted
