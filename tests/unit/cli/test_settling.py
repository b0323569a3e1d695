"""One way is put through the whole book from the command line, after a snapshot."""

import pytest
from reglet.__main__ import main
from reglet.bookfile import BookFile

from tests.unit.overlays.test_examine import a_book

TEXTS = ("The grey sea.\n" * 4 + "A gray boat.", "A gray dog.\nThe grey sky.\nHe rested.")


@pytest.fixture
def path(tmp_path):
    made = tmp_path / "Ferry.reglet"
    BookFile.create(made, a_book(*TEXTS)).close()
    return made


def run(capsys, *arguments):
    status = main([str(each) for each in arguments])
    return status, capsys.readouterr().out + capsys.readouterr().err


def texts(path):
    with BookFile.open(path, read_only=True) as file:
        return tuple(scene.passage.text for scene in file.book.scenes)


@pytest.mark.parametrize(
    ("options", "said", "after"),
    [
        (["--list"], "“gray” → “grey”: 2 places\n", TEXTS),
        ([], "2 places settled", tuple(t.replace("gray", "grey") for t in TEXTS)),
        (
            ["--words", "gray", "--to", "gray"],
            "5 places settled",
            tuple(t.replace("grey", "gray") for t in TEXTS),
        ),
        (["--words", "boat"], "nothing to settle", TEXTS),
    ],
)
def test_settle(path, capsys, options, said, after):
    status, told = run(capsys, "settle", path, "variety", *options)
    assert status == 0
    assert said in told
    assert texts(path) == after
    with BookFile.open(path, read_only=True) as file:
        labels = [each.label for each in file.snapshots()]
    assert ("Before settling: variety" in labels) == (after != TEXTS)


@pytest.mark.parametrize(
    "arguments", [("no_such_overlay",), ("variety", "--words", "gray", "--to", "green")]
)
def test_what_is_not_there_changes_nothing(path, capsys, arguments):
    status, _ = run(capsys, "settle", path, *arguments)
    assert status == 2
    assert texts(path) == TEXTS
