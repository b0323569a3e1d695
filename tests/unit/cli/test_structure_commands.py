"""The commands of Structure."""

import json
from xml.etree import ElementTree

import pytest
from reglet.__main__ import main
from reglet.bookfile import BookFile
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.editing import set_verdicts
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene, Verdict

TEXTS = {
    "ferry": "Then Isaura Venn came in on the ferry, and nobody met Isaura Venn on the landing.",
    "goose": "The goose had got into the chapel again, and bit the verger.",
}
BOOK = Book(
    "Ferry",
    parts=(
        Part(
            "p",
            chapters=(
                Chapter(
                    "c",
                    "One",
                    tuple(Scene(k, k.title(), Passage.plain(text)) for k, text in TEXTS.items()),
                ),
            ),
        ),
    ),
)


@pytest.fixture
def book(tmp_path):
    path = tmp_path / "Ferry.reglet"
    BookFile.create(path, set_verdicts(BOOK, ["goose"], Verdict.CUT)).close()
    return path


@pytest.fixture
def reglet(capsys):
    def run(*arguments):
        with pytest.raises(SystemExit) as ended:
            raise SystemExit(main([str(each) for each in arguments]))
        said = capsys.readouterr()
        return ended.value.code, said.out, said.err

    return run


def test_the_plan_is_set_and_the_outline_stands_beside_it(book, reglet, tmp_path):
    plan = tmp_path / "plan.md"
    said = "1. Isaura comes on the ferry; nobody on the landing.\n2. The inquest.\n"
    plan.write_text(said, encoding="utf-8-sig")  # as some programs of Windows write it
    status, out, _ = reglet("plan", book, plan)
    assert (status, out.split(":")[0]) == (0, "2 planned scenes")
    _, out, _ = reglet("outline", book, "--json")
    found = json.loads(out)
    assert [row["planned"] for row in found["scenes"]] == [
        "Isaura comes on the ferry; nobody on the landing.",
        None,
    ]
    assert [each["text"] for each in found["missing"]] == ["The inquest."]
    assert found["scenes"][0]["who"] == ["Isaura Venn"]
    _, out, _ = reglet("outline", book)
    assert "plan: unplanned" in out
    assert out.endswith("Not written: The inquest.\n")
    status, _, err = reglet("plan", book, tmp_path / "none.md")
    assert (status, "was not changed" in err) == (2, True)
    plan.write_text("")
    assert reglet("plan", book, plan)[0] == 2


def test_the_cast(book, reglet):
    _, out, _ = reglet("cast", book, "--json")
    assert json.loads(out) == [
        {
            "name": "Isaura Venn",
            "forms": ["Isaura Venn"],
            "mentions": 2,
            "scenes": {"ferry": 2},
            "confirmed": False,
        }
    ]
    assert "Isaura Venn" in reglet("cast", book)[1]


def test_views_are_drawn_and_nothing_is_overwritten(book, reglet, tmp_path):
    out = tmp_path / "views.svg"
    assert reglet("views", book, out)[0] == 0
    assert ElementTree.parse(out).getroot().tag.endswith("svg")
    assert reglet("views", book, out)[0] == 2
    assert reglet("views", book, out, "--overwrite")[0] == 0
    assert reglet("views", book, tmp_path / "views.png")[0] == 2


def test_the_work_list(book, reglet):
    _, out, _ = reglet("work", book)
    assert out.splitlines()[-1] == "1 item to do, 10 minutes."
    (item,) = json.loads(reglet("work", book, "--json")[1])
    assert (item["from"], item["scene"], item["minutes"]) == ("verdict", "goose", 10)
