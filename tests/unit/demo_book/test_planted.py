"""The demo book and its key agree, and draft.docx is what build.py builds from the text."""

import importlib.util
import re
import sys
import tomllib
from pathlib import Path
from types import ModuleType
from typing import Any

import docx
import pytest
from docx.oxml.ns import qn

ROOT = Path(__file__).parents[3]
TEXT = ROOT / "demo_book" / "text"
KEY: dict[str, Any] = tomllib.loads(
    (ROOT / "tests" / "data" / "planted.toml").read_text(encoding="utf-8")
)
SCENES = {path.stem: path.read_text(encoding="utf-8") for path in sorted(TEXT.glob("*.md"))}
BOOK: dict[str, Any] = tomllib.loads((ROOT / "demo_book" / "book.toml").read_text(encoding="utf-8"))

# A word: letters or digits, with apostrophes and hyphens inside it.
WORD = re.compile(r"[^\W_]+(?:[’'-][^\W_]+)*")
COUNTS = {
    "out": 40,
    "double": 20,
    "wrong_word": 25,
    "misspelling": 15,
    "quotation_pair": 10,
    "name": 3,
    "time_contradiction": 2,
    "dropped_thread": 1,
    "block": 8,
    "echo": 12,
    "tighten": 20,
}
EXCERPTS = [kind for kind in COUNTS if kind not in ("name", "dropped_thread")]
BLOCK_WORDS = range(180, 301)


def faults() -> list[dict[str, Any]]:
    """Every fault that has an excerpt, names included."""
    listed = [fault for kind in EXCERPTS for fault in KEY[kind]]
    return listed + [place for name in KEY["name"] for place in name["places"]]


def fair_text() -> dict[str, str]:
    """Each scene with every fault of the key mended."""
    fair = dict(SCENES)
    for fault in faults():
        fair[fault["scene"]] = fair[fault["scene"]].replace(fault["found"], fault["meant"])
    return fair


FAIR = fair_text()


def words(text: str) -> list[str]:
    return WORD.findall(text)


def shown(text: str) -> str:
    """A scene's text without its markup, as a reader of the page sees it."""
    return re.sub(r"(?m)^> ?", "", text).replace("*", "")


@pytest.mark.parametrize(("kind", "count"), COUNTS.items())
def test_each_kind_is_planted_as_often_as_promised(kind: str, count: int) -> None:
    assert len(KEY[kind]) == count


@pytest.mark.parametrize("fault", faults(), ids=lambda fault: f"{fault['scene']}:{fault['found']}")
def test_a_fault_stands_once_and_mends(fault: dict[str, Any]) -> None:
    assert SCENES[fault["scene"]].count(fault["found"]) == 1
    assert fault["found"] not in FAIR[fault["scene"]]
    assert FAIR[fault["scene"]].count(fault["meant"]) == 1
    seen = shown(fault["found"])
    assert fault.get("plain", fault["found"]) == seen
    assert shown(SCENES[fault["scene"]]).count(seen) == 1


def test_a_word_left_out_is_the_only_difference() -> None:
    for fault in KEY["out"]:
        meant = words(fault["meant"])
        assert any(
            meant[i] == fault["word"] and meant[:i] + meant[i + 1 :] == words(fault["found"])
            for i in range(len(meant))
        ), fault


def test_a_double_is_one_word_more() -> None:
    for fault in KEY["double"]:
        found = words(fault["found"])
        assert any(
            found[i] == found[i + 1] == fault["word"]
            and found[:i] + found[i + 1 :] == words(fault["meant"])
            for i in range(len(found) - 1)
        ), fault


@pytest.mark.parametrize("kind", ["wrong_word", "misspelling"])
def test_one_word_stands_for_another(kind: str) -> None:
    for fault in KEY[kind]:
        pairs = zip(words(fault["found"]), words(fault["meant"]), strict=True)
        assert [found for found, meant in pairs if found != meant] == [fault["word"]], fault


def test_a_quotation_pair_is_broken_by_its_marks_alone() -> None:
    marks = re.compile("[“”‘’]")
    for fault in KEY["quotation_pair"]:
        assert marks.sub("", fault["found"]) == marks.sub("", fault["meant"]), fault
        assert fault["found"] != fault["meant"]


def test_a_tightened_sentence_is_shorter() -> None:
    for fault in KEY["tighten"]:
        assert len(words(fault["meant"])) < len(words(fault["found"])), fault


def test_an_echo_has_something_to_echo() -> None:
    for fault in KEY["echo"]:
        assert fault["word"] in words(fault["found"]), fault
        stem = fault["word"].removesuffix("ly")
        assert len(re.findall(stem[:6], SCENES[fault["scene"]])) >= 2, fault


def test_the_blocks_are_the_long_paragraphs() -> None:
    long = {
        (stem, len(words(paragraph)))
        for stem, text in SCENES.items()
        for paragraph in text.split("\n\n")
        if len(words(paragraph)) >= BLOCK_WORDS.start
    }
    assert long == {(block["scene"], block["words"]) for block in KEY["block"]}
    assert all(length in BLOCK_WORDS for _, length in long)


def test_each_spelling_of_a_name_is_in_the_text() -> None:
    everything = "\n".join(SCENES.values())
    for name in KEY["name"]:
        assert name["meant"] in name["variants"]
        for variant in name["variants"]:
            assert re.search(rf"\b{variant}\b", everything), name
            if variant != name["meant"]:
                places = [place for place in name["places"] if variant in words(place["found"])]
                found = re.findall(rf"\b{variant}\b", everything)
                assert len(places) == len(found), name


def test_the_thread_is_dropped_after_the_scenes_that_touch_it() -> None:
    (thread,) = KEY["dropped_thread"]
    touched = [
        stem
        for stem, text in SCENES.items()
        if any(re.search(rf"\b{word}\b", text) for word in thread["words"])
    ]
    assert touched == thread["scenes"]


def test_the_fair_text_is_free_of_what_can_be_checked_by_rule() -> None:
    for stem, text in FAIR.items():
        for paragraph in shown(text).split("\n\n"):
            doubled = re.findall(r"\b(\w+) \1\b", paragraph)
            assert set(doubled) <= {"had"}, (stem, paragraph)
            opened, closed = paragraph.count("“"), paragraph.count("”")
            runs_on = paragraph.startswith("“But I left it in")
            assert opened == closed + runs_on, (stem, paragraph)
            assert '"' not in paragraph
            assert "'" not in paragraph
            assert "  " not in paragraph


def test_the_book_is_as_long_as_promised() -> None:
    scenes = [scene["file"] for chapter in BOOK["chapters"] for scene in chapter["scenes"]]
    assert scenes == list(SCENES)
    assert 22 <= len(scenes) <= 26
    assert len(BOOK["chapters"]) == 9
    assert 19_000 <= sum(len(words(text)) for text in SCENES.values()) <= 21_000


def test_the_drift_accounts_for_every_planned_and_every_written_scene() -> None:
    plan = (ROOT / "demo_book" / "plan.md").read_text(encoding="utf-8")
    items = [int(number) for number in re.findall(r"(?m)^(\d+)\. ", plan)]
    assert items == list(range(1, len(items) + 1))
    drift = KEY["plan"]
    missing = [entry["item"] for entry in drift["missing"]]
    unplanned = [entry["scene"] for entry in drift["unplanned"]]
    matched = {match["item"]: match["scene"] for match in drift["matches"]}
    assert (len(missing), len(unplanned), len(drift["out_of_order"])) == (2, 2, 1)
    assert sorted([*missing, *matched]) == items
    assert sorted([*unplanned, *matched.values()]) == list(SCENES)
    (moved,) = drift["out_of_order"]
    assert matched.pop(moved["item"]) == moved["scene"]
    in_order = [matched[item] for item in sorted(matched)]
    assert in_order == sorted(in_order)


@pytest.fixture(scope="module")
def build() -> ModuleType:
    spec = importlib.util.spec_from_file_location("demo_build", ROOT / "demo_book" / "build.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


def accepted_text(path: Path) -> list[str]:
    """The paragraphs of a .docx with insertions taken and deletions left out."""
    document = docx.Document(str(path))
    texts = []
    for paragraph in document.element.body.iter(qn("w:p")):
        pieces = []
        for element in paragraph.iter(qn("w:t"), qn("w:br")):
            pieces.append("\n" if element.tag == qn("w:br") else element.text or "")
        texts.append("".join(pieces))
    return texts


DRAFT = ROOT / "demo_book" / "draft.docx"


def test_the_draft_is_what_is_built(build: ModuleType, tmp_path: Path) -> None:
    first, second = tmp_path / "first.docx", tmp_path / "second.docx"
    build.build(first)
    build.build(second)
    assert first.read_bytes() == second.read_bytes()
    assert accepted_text(first) == accepted_text(DRAFT)


def test_the_draft_holds_every_word_of_the_text() -> None:
    expected = [
        part.strip()
        for chapter in BOOK["chapters"]
        for scene in chapter["scenes"]
        for part in shown(SCENES[scene["file"]]).split("\n\n")
    ]
    headings = {chapter["text"] for chapter in BOOK["chapters"]}
    front = {BOOK["title"], "by", BOOK["author"], BOOK["note"]}
    drawn = [
        text for text in accepted_text(DRAFT) if text not in headings | front | {"", "***", "#"}
    ]
    assert drawn == expected


def test_the_draft_has_its_reader_and_its_tracked_changes() -> None:
    document = docx.Document(str(DRAFT))
    assert [(comment.author, comment.text) for comment in document.comments] == [
        ("Early reader", comment["text"]) for comment in BOOK["comments"]
    ]
    body = document.element.body
    inserted = ["".join(t.text for t in ins.iter(qn("w:t"))) for ins in body.iter(qn("w:ins"))]
    deleted = ["".join(t.text for t in cut.iter(qn("w:delText"))) for cut in body.iter(qn("w:del"))]
    assert inserted == [change["text"] for change in BOOK["insertions"]]
    assert deleted == [change["text"] for change in BOOK["deletions"]]
    assert {change.get(qn("w:author")) for change in body.iter(qn("w:ins"), qn("w:del"))} == {
        BOOK["author"]
    }


def test_chapters_are_headed_in_three_ways_and_scenes_parted_in_three() -> None:
    assert {chapter["heading"] for chapter in BOOK["chapters"]} == {"style", "bold", "plain"}
    marks = {s["after"] for chapter in BOOK["chapters"] for s in chapter["scenes"] if "after" in s}
    assert marks == {"***", "#", "blank"}
    document = docx.Document(str(DRAFT))
    styled = [p.text for p in document.paragraphs if p.style.name == "Heading 1"]
    assert styled == [c["text"] for c in BOOK["chapters"] if c["heading"] == "style"]
    assert any(p.text == "Chapter Seven" and p.runs[0].bold for p in document.paragraphs)
    assert any(p.text == "8." and p.style.name == "Normal" for p in document.paragraphs)
