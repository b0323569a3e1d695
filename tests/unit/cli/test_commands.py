"""The commands: what they print, what their JSON holds, what they end with."""

import json
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from random import Random
from typing import Any

import pytest
from reglet.__main__ import main
from reglet.bookfile import BookFile, Reason
from reglet.cli import COMMANDS
from reglet.cli.run import parser
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.editing import edit, let_stand, pass_stage
from reglet.manuscript.paragraph import LINE_BREAK, Paragraph, Span, SpanKind, Style, scene_break
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.manuscript.stage import Stage
from reglet.outs import at_hand

from tests.odt_files import members, write_odt

VERSE = Paragraph(f"Row on,{LINE_BREAK}row on.", Style.VERSE, (Span(0, 3, SpanKind.EMPHASIS),))
BOOK = Book(
    "Ferry",
    "A. Writer",
    (
        Part(
            "p1",
            "Part One",
            (
                Chapter(
                    "c1",
                    f"Chapter One{LINE_BREAK}The Quay",
                    (
                        Scene("a", "Quay", Passage.plain("The the ferry 🐚 was teh last.\nRain.")),
                        Scene("b", "", Passage((Paragraph("Night."), scene_break(), VERSE))),
                    ),
                ),
                Chapter("c2", "", (Scene("c", "", Passage.plain("Anna slept.")),)),
            ),
        ),
    ),
    (Scene("f", "Dedication", Passage.plain("To nobody.")),),
    (Scene("z", "", Passage.plain("The end.")),),
)

Run = Callable[..., tuple[int, str, str]]


@pytest.fixture
def book(tmp_path: Path) -> Path:
    path = tmp_path / "Ferry.reglet"
    BookFile.create(path, BOOK).close()
    return path


@pytest.fixture
def reglet(capsys: pytest.CaptureFixture[str]) -> Run:
    def run(*arguments: object) -> tuple[int, str, str]:
        try:
            status = main([str(each) for each in arguments])
        except SystemExit as end:  # argparse's own way out
            status = int(str(end.code))
        said = capsys.readouterr()
        return status, said.out, said.err

    return run


def answered(run: tuple[int, str, str]) -> Any:
    assert run[0] == 0, run
    return json.loads(run[1])


def test_every_command_is_named_once() -> None:
    (commands,) = (each for each in parser()._actions if each.dest not in ("help", "version"))
    assert commands.choices is not None
    assert tuple(commands.choices) == COMMANDS


def test_text(book: Path, reglet: Run) -> None:
    assert reglet("text", book) == (
        0,
        "# Dedication\nTo nobody.\n# Part One\n# Chapter One The Quay\n"
        "The the ferry 🐚 was teh last.\nRain.\n***\nNight.\n***\nRow on,\u2028row on.\n***\n"
        "Anna slept.\n***\nThe end.\n",
        "",
    )
    assert reglet("text", book, "--scene", "b")[1] == "Night.\n***\nRow on,\u2028row on.\n"
    (scene,) = answered(reglet("text", book, "--scene", "b", "--json"))
    assert scene["paragraphs"][2] == {
        "style": "verse",
        "text": VERSE.text,
        "spans": [{"start": 0, "end": 3, "kind": "emphasis", "value": ""}],
    }


def test_scenes(book: Path, reglet: Run) -> None:
    with BookFile.open(book) as file:
        file.save(pass_stage(pass_stage(file.book, "a", Stage.LINE), "a", Stage.STRUCTURE))
    found = answered(reglet("scenes", book, "--json"))
    assert found[1] == {
        "id": "a",
        "part": "Part One",
        "chapter": f"Chapter One{LINE_BREAK}The Quay",
        "title": "Quay",
        "words": 7,
        "stages": ["structure", "line"],
    }
    assert [each["id"] for each in found] == ["f", "a", "b", "c", "z"]
    assert found[0]["part"] is None
    lines = reglet("scenes", book)[1].splitlines()
    assert "a        7  xx-  Quay" in lines
    assert "c        2  ---  Anna slept." in lines
    assert "# Part One / Chapter One The Quay" in lines


def test_a_window_that_cannot_be_opened_is_a_sentence(
    book: Path, monkeypatch: pytest.MonkeyPatch, reglet: Run
) -> None:
    assert "is a folder" in reglet(book.parent)[2]
    if sys.platform == "linux":
        for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
            monkeypatch.delenv(name, raising=False)
        status, _, aside = reglet(book)
        assert status == 2 and "no screen" in aside


def test_queries_point_into_the_text_that_is_printed(book: Path, reglet: Run) -> None:
    with BookFile.open(book) as file:
        file.save(let_stand(file.book, "a", "spelling", 20, 23))
    found = answered(reglet("queries", book, "--stage", "proof", "--scene", "a", "--json"))
    text = reglet("text", book, "--scene", "a")[1]
    assert [(each["overlay"], each["text"], each["stet"]) for each in found] == [
        ("double", "The the", False),
        ("spelling", "teh", True),
    ]
    for each in found:
        assert text[each["start"] : each["end"]] == each["text"]
        assert set(each) == set(
            "overlay stage scene start end text message source proposal stet".split()
        )
    only = answered(reglet("queries", book, "--stage", "proof", "--overlay", "double", "--json"))
    assert [each["overlay"] for each in only] == ["double"]
    assert "(stet)" in reglet("queries", book, "--stage", "proof")[1]


def test_overlays_are_listed_with_their_reasons_and_sources(reglet: Run) -> None:
    found = answered(reglet("overlays", "--stage", "proof", "--json"))
    assert {each["stage"] for each in found} == {"proof"}
    compound = next(each for each in found if each["overlay"] == "compound")
    assert compound["source"] == "New Hart’s Rules, on compound words (from memory)"
    assert "\ncompound: " + compound["reason"] in reglet("overlays", "--stage", "proof")[1]
    assert "# Structure\nscene_length: A scene" in reglet("overlays")[1]


def test_queries_tell_of_outs_and_of_what_is_missing_to_find_them(
    tmp_path: Path, reglet: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "Out.reglet"
    text = "The lamp had gone out, and nobody in kitchen moved."
    scene = Scene("a", passage=Passage.plain(text))
    BookFile.create(
        path, Book(parts=(Part("p", chapters=(Chapter("c", scenes=(scene,)),)),))
    ).close()
    asked = ("queries", path, "--stage", "proof", "--overlay", "out")
    assert "“in kitchen” → “in the kitchen”" in reglet(*asked)[1]
    monkeypatch.setattr(at_hand, "find_spec", lambda name: None)
    at_hand.reader.cache_clear()
    status, found, aside = reglet(*asked)
    assert (status, found) == (0, "")
    assert "onnxruntime" in aside


def test_history_from_snapshot_to_roll_back(book: Path, reglet: Run) -> None:
    assert "whole book" in reglet("snapshot", book, "--label", "First")[1]
    with BookFile.open(book) as file:
        file.save(edit(file.book, "c", 0, 4, Passage.plain("Nobody, I think,")))
    assert reglet("snapshot", book, "--label", "Nobody", "--scene", "c")[0] == 0
    kept = answered(reglet("history", book, "--json"))
    assert [(each["id"], each["label"], each["scenes"]) for each in kept] == [
        ("1", "First", None),
        ("2", "Nobody", ["c"]),
    ]
    assert reglet("history", book, "--scene", "a")[1].count("\n") == 1

    between = answered(reglet("compare", book, "1", "2", "--scene", "c", "--json"))
    assert (between["words_added"], between["words_cut"]) == (3, 1)
    (passage,) = between["passages"]
    assert (passage["cut"], passage["added"]) == ("Anna", "Nobody, I think,")
    whole = answered(reglet("compare", book, "1", "now", "--json"))
    assert {each["id"]: each["fate"] for each in whole["scenes"] if each["fate"] != "same"} == {
        "c": "changed"
    }
    printed = reglet("compare", book, "1", "now")[1]
    assert "3 words added, 1 cut" in printed and "cut “Anna”" in printed

    status, _, aside = reglet("roll-back", book, "--scene", "c", "--to", "1")
    assert (status, aside) == (0, "To take this back, roll back to snapshot 3.\n")
    assert reglet("text", book, "--scene", "c")[1] == "Anna slept.\n"
    assert reglet("roll-back", book, "--scene", "c", "--to", "3")[0] == 0
    assert reglet("text", book, "--scene", "c")[1] == "Nobody, I think, slept.\n"
    assert reglet("roll-back", book, "--scene", "c", "--to", "1", "--passage", "1")[0] == 0
    assert reglet("text", book, "--scene", "c")[1] == "Anna slept.\n"


def test_a_scene_set_differently_is_told(book: Path, reglet: Run) -> None:
    reglet("snapshot", book, "--label", "First")
    with BookFile.open(book) as file:
        scene = file.book.scene("c")
        strong = Paragraph("Anna slept.", spans=(Span(0, 4, SpanKind.STRONG),))
        file.save(file.book.with_scene(replace(scene, passage=Passage((strong,)))))
    assert "set differently: “Anna”" in reglet("compare", book, "1", "now", "--scene", "c")[1]


def test_fifty_edits_roll_back_exactly_from_the_command_line(book: Path, reglet: Run) -> None:
    chance = Random(7)
    kept = {}
    for step in range(50):
        with BookFile.open(book) as file:
            length = len(file.book.scene("b").passage)
            start = chance.randint(0, length)
            end = min(length, start + chance.randint(0, 4))
            kind = chance.choice(list(SpanKind))
            piece = Paragraph(
                "wäre 🐚", chance.choice([Style.BODY, Style.LETTER]), (Span(0, 4, kind),)
            )
            pieces = Passage((piece,) * chance.randint(1, 2))
            file.save(edit(file.book, "b", start, end, pieces))
            if step % 8 == 0:
                kept[file.snapshot(str(step)).id] = file.book.scene("b").passage
    for snapshot, passage in chance.sample(sorted(kept.items()), len(kept)):
        assert reglet("roll-back", book, "--scene", "b", "--to", snapshot)[0] == 0
        with BookFile.open(book, read_only=True) as file:
            assert file.book.scene("b").passage == passage


def test_new_and_export(tmp_path: Path, reglet: Run) -> None:
    draft = tmp_path / "Draft.md"
    draft.write_text("# Chapter One\n\nThe *ferry* came.\n\n***\n\nRain.\n", "utf-8")
    made, out = tmp_path / "New.reglet", tmp_path / "Out.docx"
    status, said, _ = reglet("new", made, "--from", draft, "--title", "Rain", "--author", "Jo")
    assert (status, said) == (0, f"{made}: 2 scenes in 1 chapter, 4 words.\n")
    with BookFile.open(made) as file:
        assert (file.book.title, file.book.author) == ("Rain", "Jo")
    assert reglet("export", made, out)[0] == 0
    again = tmp_path / "Again.reglet"
    assert reglet("new", again, "--from", out)[0] == 0
    assert reglet("text", again)[1] == reglet("text", made)[1]
    assert reglet("export", made, out)[0] == 2  # it is there already
    assert reglet("export", made, out, "--overwrite")[0] == 0
    assert reglet("export", made, tmp_path / "Out.md")[0] == 0


def test_new_from_an_odt_says_what_became_of_it(tmp_path: Path, reglet: Run) -> None:
    noted = (
        '<text:p>The ferry<text:note text:note-class="footnote"><text:note-body><text:p>A small '
        "one.</text:p></text:note-body></text:note> came.</text:p>"
    )
    draft = write_odt(tmp_path / "Draft.odt", members(f"<text:h>One</text:h>{noted}"))
    made = tmp_path / "New.reglet"
    status, said, aside = reglet("new", made, "--from", draft)
    assert (status, said) == (0, f"{made}: 1 scene in 1 chapter, 3 words.\n")
    assert "A footnote stands here" in aside and "“The ferry came.…”" in aside
    copy = write_odt(
        tmp_path / "Copy.odt",
        members("<text:h>One</text:h><text:p>It came.</text:p><text:p>The ferry came.</text:p>"),
    )
    status, said, _ = reglet("take-back", made, copy)
    assert status == 0 and "1 change became a note" in said


def test_new_without_a_draft_is_one_blank_scene(tmp_path: Path, reglet: Run) -> None:
    assert reglet("new", tmp_path / "New.reglet")[0] == 0
    assert reglet("text", tmp_path / "New.reglet")[1] == "\n"


def test_verify_and_new_from_a_damaged_book(book: Path, tmp_path: Path, reglet: Run) -> None:
    assert answered(reglet("verify", book, "--json")) == {"sound": True, "problems": []}
    whole = book.read_bytes()
    book.write_bytes(whole.replace(b"Anna slept.", b"Anna wept!!"))
    status, said, aside = reglet("verify", book)
    assert status == 2 and "is not what was saved, in the scene “c”" in said
    assert aside.count("\n") == 1
    made = tmp_path / "Saved.reglet"
    assert reglet("new", made, "--from", book)[0] == 0
    assert "Anna wept!!" in reglet("text", made)[1]
    book.write_bytes(whole[:5000])
    status, said, aside = reglet("verify", book, "--json")
    assert status == 2 and not json.loads(said)["sound"]
    assert "Traceback" not in aside


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (["scenes", "None.reglet"], "There is no book at"),
        (["None.reglet"], "There is no file"),
        (["scnes", "BOOK"], "invalid choice"),
        (["scenes"], "BOOK"),
        (["text", "BOOK", "--scene", "none"], "There is no scene “none”"),
        (["queries", "BOOK", "--stage", "proof", "--scene", "none"], "There is no scene “none”"),
        (["queries", "BOOK", "--stage", "proof", "--overlay", "none"], "no overlay “none”"),
        (["queries", "BOOK", "--stage", "line", "--overlay", "double"], "stage “proof”"),
        (["queries", "BOOK", "--stage", "send_out"], "invalid choice"),
        (["snapshot", "BOOK"], "--label"),
        (["snapshot", "BOOK", "--label", "x", "--scene", "none"], "There is no scene “none”"),
        (["history", "BOOK", "--scene", "none"], "There is no scene “none”"),
        (["compare", "BOOK", "1", "now"], "There is no snapshot “1”"),
        (["roll-back", "BOOK", "--scene", "a", "--to", "9"], "There is no snapshot “9”"),
        (["export", "BOOK", "Out.rtf"], "not a kind of file that Reglet writes"),
        (["new", "BOOK"], "is there already"),
        (["new", "New.reglet", "--from", "None.docx"], "There is no file"),
    ],
)
def test_a_mistake_is_one_sentence_and_status_2(
    book: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    reglet: Run,
    arguments: list[str],
    sentence: str,
) -> None:
    monkeypatch.chdir(tmp_path)
    before = book.read_bytes()
    status, said, aside = reglet(*(str(book) if each == "BOOK" else each for each in arguments))
    assert (status, said) == (2, "")
    assert sentence in aside and aside.count("\n") == 1
    assert book.read_bytes() == before
    assert not (tmp_path / "New.reglet").exists()


def test_reading_while_another_window_writes(book: Path, reglet: Run) -> None:
    with BookFile.open(book):
        assert reglet("text", book)[0] == 0
        assert reglet("queries", book, "--stage", "proof")[0] == 0
        status, _, aside = reglet("snapshot", book, "--label", "x")
        assert status == 2 and "open in another window" in aside


def test_a_fault_of_ours_is_a_sentence_or_with_reglet_trace_a_traceback(
    book: Path, monkeypatch: pytest.MonkeyPatch, reglet: Run
) -> None:
    def broken(*_: object, **__: object) -> None:
        raise ZeroDivisionError("by nothing")

    monkeypatch.setattr(BookFile, "open", broken)
    monkeypatch.delenv("REGLET_TRACE", raising=False)
    status, _, aside = reglet("scenes", book)
    assert status == 1 and "ZeroDivisionError" in aside and aside.count("\n") == 1
    monkeypatch.setenv("REGLET_TRACE", "1")
    assert "Traceback" in reglet("scenes", book)[2]


def test_a_reader_who_has_had_enough(book: Path) -> None:
    with BookFile.open(book) as file:
        file.save(edit(file.book, "a", 0, 0, Passage.plain("word " * 100_000)))
    process = subprocess.Popen(
        [sys.executable, "-m", "reglet", "text", str(book)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    assert process.stdout is not None and process.stderr is not None
    process.stdout.read(10)
    process.stdout.close()
    aside = process.stderr.read()
    process.stderr.close()
    assert (process.wait(), aside) == (0, b"")


def test_a_returned_copy_becomes_notes(reglet: Run, book: Path, tmp_path: Path) -> None:
    copy = tmp_path / "copy.md"
    assert reglet("export", book, copy)[0] == 0
    copy.write_text(copy.read_text("utf-8").replace("Anna slept", "Anna never slept"), "utf-8")
    status, out, _ = reglet("take-back", book, copy)
    assert (status, out) == (0, "1 change became a note. Your text stays as it is.\n")
    with BookFile.open(book, read_only=True) as file:
        (note,) = file.book.scene("c").notes
        assert note.text == "Put in: “never”"
        assert file.book.scene("c").passage == BOOK.scene("c").passage
        assert [each.reason for each in file.snapshots()] == [Reason.BEFORE_IMPORT]
    status, out, _ = reglet("take-back", book, copy)
    assert status == 0 and "as it was" in out
    other = tmp_path / "other.txt"
    other.write_text("Something else.", "utf-8")
    status, _, error = reglet("take-back", book, other)
    assert status == 2 and "no copy of this book" in error


def test_a_book_file_is_called_one(reglet: Run, tmp_path: Path) -> None:
    assert reglet("new", tmp_path / "Novel")[0] == 0
    assert (tmp_path / "Novel.reglet").exists() and not (tmp_path / "Novel").exists()


def test_a_folder_is_no_draft(reglet: Run, tmp_path: Path) -> None:
    status, _, error = reglet("new", tmp_path / "Novel.reglet", "--from", tmp_path)
    assert status == 2 and "is a folder" in error
