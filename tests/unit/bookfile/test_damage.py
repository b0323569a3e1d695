"""A damaged book file is found out, left as it is, and what can be read of it is."""

import sqlite3
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reglet.bookfile import BookFile, salvage
from reglet.errors import DamagedBookFile
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.passage import Passage
from reglet.manuscript.picture import Picture
from reglet.manuscript.scene import Scene
from reglet.manuscript.stage import Stage

PAGE = 4096


def scene(number: int) -> Scene:
    lines = (f"Line {line} of scene {number}, with some words to fill it." for line in range(40))
    return Scene(f"s{number}", f"Scene {number}", Passage.plain("\n".join(lines)))


BOOK = Book(
    "Ferry",
    parts=(Part("p", chapters=(Chapter("c", "One", tuple(map(scene, range(20)))),)),),
    cover=Picture("image/png", 3, 5, b"not looked at here"),
)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "Ferry.reglet"
    with BookFile.create(path, BOOK) as file:
        file.enter_stage(Stage.STRUCTURE)
        changed = replace(BOOK.scene("s3"), passage=Passage.plain("Quite another text."))
        file.save(BOOK.with_scene(changed))
        file.enter_stage(Stage.LINE)
    return path


def changed(path: Path, statement: str) -> None:
    with closing(sqlite3.connect(path)) as connection:
        connection.execute(statement)
        connection.commit()


def test_a_sound_file_has_no_problems(path: Path) -> None:
    told: list[tuple[int, int]] = []
    with BookFile.open(path, read_only=True) as file:
        assert file.verify(lambda done, of: told.append((done, of))) == []
    assert told[0][0] == 0 and told[-1][0] == told[-1][1]


@pytest.mark.parametrize(
    ("statement", "problem"),
    [
        ("UPDATE paragraph SET text = 'Other' WHERE id = 5", "Paragraph 5 is not what was saved"),
        ("UPDATE paragraph SET style = 'verse' WHERE id = 5", "in the scene “s0”"),
        ('UPDATE paragraph SET spans = \'[[0,1,"strong",""]]\' WHERE id = 5', "Paragraph 5"),
        ("DELETE FROM passage_paragraph WHERE passage = 20 AND number = 2", "Text 20"),
        ("UPDATE document SET body = body || ' ' WHERE id = 3", "Document 3"),
        ("UPDATE picture SET data = x'00'", "Picture 1 is not what was saved"),
        ("DELETE FROM picture", "a cover of the book, is not there"),
        ("UPDATE scene_state SET words = 7 WHERE id = 20", "7 words noted"),
        ("UPDATE scene_state SET scene = 's9' WHERE id = 20", "says that it is of “s19”"),
        ("DELETE FROM state_scene WHERE state = 2 AND place = 1", "Snapshot 1 cannot be read"),
        ("UPDATE snapshot SET made = 'soon' WHERE id = 1", "snapshot 1"),
        ("UPDATE stage_difference SET steps = '[[\"kept\",3]]'", "does not hold: a stored"),
        (
            "UPDATE stage_difference SET steps = replace(steps, 'Quite', 'Quiet')",
            "it leads to another text",
        ),
    ],
)
def test_each_broken_promise_is_named(path: Path, statement: str, problem: str) -> None:
    with BookFile.open(path, read_only=True) as file:
        changed(path, statement)
        found = file.verify()
    assert any(problem in each for each in found), found


def test_a_value_that_cannot_be_read_is_damage(path: Path) -> None:
    changed(path, "UPDATE paragraph SET style = 'loud' WHERE id = 5")
    with pytest.raises(DamagedBookFile, match="reglet new"):
        BookFile.open(path)


def test_salvage_of_a_sound_file_is_the_book(path: Path) -> None:
    with BookFile.open(path, read_only=True) as file:
        found = salvage(path)
        assert (found.book, found.losses) == (file.book, ())


def test_a_scene_that_is_lost_is_taken_from_a_snapshot(path: Path) -> None:
    changed(path, "DELETE FROM paragraph WHERE text = 'Quite another text.'")
    found = salvage(path)
    assert found.book.scene("s3") == BOOK.scene("s3")
    assert found.losses == ("“Scene 3” is as an earlier snapshot has it.",)


def test_a_cover_that_is_lost_costs_nothing_else(path: Path) -> None:
    with BookFile.open(path, read_only=True) as file:
        book = file.book
    changed(path, "DELETE FROM picture")
    found = salvage(path)
    assert found.book == replace(book, cover=None)
    assert found.losses == ("The picture of the cover cannot be read; choose it again.",)


def test_the_readable_paragraphs_of_a_scene_are_kept(path: Path) -> None:
    changed(path, "UPDATE paragraph SET spans = 'torn' WHERE text LIKE 'Line 7 of scene 5,%'")
    found = salvage(path)
    assert found.book.scene("s5").passage == BOOK.scene("s5").passage
    assert len(found.losses) == 1


def test_without_its_order_the_scenes_stand_in_one_chapter(path: Path) -> None:
    changed(path, "UPDATE document SET body = '' WHERE body LIKE '%parts%'")
    found = salvage(path)
    assert {scene.id: scene for scene in found.book.scenes} == {
        **{scene.id: scene for scene in BOOK.scenes},
        "s3": replace(BOOK.scene("s3"), passage=Passage.plain("Quite another text.")),
    }


def test_a_file_cut_short_still_gives_what_is_there(path: Path) -> None:
    whole = path.read_bytes()
    path.write_bytes(whole[: len(whole) * 2 // 3 // PAGE * PAGE])
    cut_short = path.read_bytes()
    with pytest.raises(DamagedBookFile, match="left as it is"):
        BookFile.open(path)
    lines = {p.text for scene in salvage(path).book.texts for p in scene.passage.paragraphs}
    assert len(lines) > 200
    assert path.read_bytes() == cut_short


@settings(max_examples=40)
@given(st.data())
def test_no_torn_page_ends_in_anything_but_a_sentence(
    tmp_path_factory: pytest.TempPathFactory, data: st.DataObject
) -> None:
    path = tmp_path_factory.mktemp("torn") / "Ferry.reglet"
    with BookFile.create(path, BOOK) as file:
        file.snapshot("First")
    content = bytearray(path.read_bytes())
    for _ in range(data.draw(st.integers(1, 3))):
        at = data.draw(st.integers(0, len(content) - 1))
        torn = data.draw(st.binary(min_size=1, max_size=300))
        content[at : at + len(torn)] = torn[: len(content) - at]
    path.write_bytes(content)
    try:
        with BookFile.open(path, read_only=True) as file:
            file.verify()
    except Exception as error:
        assert type(error).__module__ == "reglet.errors", error
    try:
        salvage(path)
    except Exception as error:
        assert type(error).__module__ == "reglet.errors", error
