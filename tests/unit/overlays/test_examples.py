"""Each overlay marks what the table under it says, and no more."""

import importlib
import pkgutil

import pytest
from reglet import overlays
from reglet.manuscript.book import Book, Chapter, Part, StyleSheet
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.overlays.examine import Examiner
from reglet.overlays.register import OVERLAYS


def modules():
    found = []
    for stage in ("structure", "line", "proof"):
        package = importlib.import_module(f"{overlays.__name__}.{stage}")
        for info in pkgutil.iter_modules(package.__path__, f"{package.__name__}."):
            module = importlib.import_module(info.name)
            if hasattr(module, "OVERLAY"):
                found.append(module)
    return found


def cases():
    for module in modules():
        name = module.OVERLAY.name
        for marked, proposal in getattr(module, "EXAMPLES_MARKED", {}).items():
            yield pytest.param(name, marked, proposal, id=f"{name}: {marked[:40]}")
        for unmarked in getattr(module, "EXAMPLES_UNMARKED", ()):
            yield pytest.param(name, unmarked, None, id=f"{name}, not: {unmarked[:40]}")


def one_scene(text):
    scene = Scene("scene", passage=Passage.plain(text))
    parts = (Part("part", chapters=(Chapter("chapter", scenes=(scene,)),)),)
    return Book(parts=parts, style_sheet=StyleSheet("en-GB"))


@pytest.mark.parametrize(("name", "drawn", "proposal"), list(cases()))
def test_an_overlay_marks_its_examples(name, drawn, proposal):
    text = drawn.replace("[", "").replace("]", "")
    overlay = next(each for each in OVERLAYS if each.name == name)
    queries = list(Examiner().examine(one_scene(text), overlay.stage, overlays=[name]))
    again = text
    for query in reversed(queries):
        again = f"{again[: query.start]}[{query.text}]{again[query.end :]}"
        assert query.text == text[query.start : query.end]
        assert query.message.endswith((".", "?"))
    assert again == drawn
    if proposal is not None:
        assert [query.proposal for query in queries] == [proposal]


def test_every_overlay_is_registered_with_a_reason():
    assert {module.OVERLAY.name for module in modules()} == {each.name for each in OVERLAYS}
    for overlay in OVERLAYS:
        assert overlay.reason.endswith(".")
        assert 40 < len(overlay.reason) < 140
