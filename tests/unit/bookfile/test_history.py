"""Snapshots hold what was there, for ever, and every roll back leads exactly there."""

import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from random import Random
from threading import Thread

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reglet.bookfile import NOW, BookFile, Reason
from reglet.bookfile.rolling_back import rolled_back
from reglet.bookfile.stage_difference import steps_between
from reglet.errors import CannotArrange, FaultOfOurs, UnknownThing
from reglet.manuscript.anchored import Answer, Note, Stet
from reglet.manuscript.arranging import merge_scenes, move_scenes, retitle, split_scene
from reglet.manuscript.book import Book, Chapter, Part, fresh_id
from reglet.manuscript.comparison import Fate
from reglet.manuscript.editing import (
    add_note,
    edit,
    learn_words,
    let_stand,
    pass_stage,
    replace_note,
    set_sheet,
)
from reglet.manuscript.offcuts import cut_passage, cut_scene, put_back
from reglet.manuscript.paragraph import Paragraph, Span, SpanKind, Style
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene, SceneSheet
from reglet.manuscript.stage import Stage

from tests.strategies import books, passages

WHEN = datetime(2031, 5, 4, 12, 30, tzinfo=UTC)
IN_MEMORY = "/dev/shm" if Path("/dev/shm").is_dir() else None
"""Where a thousand commits need not wait for a disk."""

FERRY = Book(
    "Ferry",
    parts=(
        Part(
            "part-1",
            chapters=(
                Chapter(
                    "chapter-1",
                    "One",
                    (
                        Scene("a", passage=Passage.plain("The ferry came late.\nNobody waited.")),
                        Scene("b", passage=Passage.plain("Rain fell on the quay.")),
                        Scene("c", passage=Passage.plain("Anna slept.")),
                    ),
                ),
            ),
        ),
    ),
)


@pytest.fixture
def file(tmp_path: Path) -> Iterator[BookFile]:
    with BookFile.create(tmp_path / "Ferry.reglet", FERRY) as made:
        yield made


def typed(book: Book, scene_id: str, text: str) -> Book:
    return edit(book, scene_id, 0, len(book.scene(scene_id).passage), Passage.plain(text))


def one_operation(book: Book, chance: Random, fragment: Passage) -> Book:
    """Any operation of the manuscript, wherever it falls; the book unchanged where it cannot."""
    scene = chance.choice(book.scenes)
    length = len(scene.passage)
    start = chance.randint(0, length)
    end = chance.randint(start, length)
    words = scene.passage.text[start:end]
    operations = [
        lambda: edit(book, scene.id, start, end, fragment),
        lambda: edit(book, scene.id, start, start, fragment),
        lambda: cut_passage(book, scene.id, start, end, WHEN),
        lambda: cut_scene(book, scene.id, WHEN),
        lambda: put_back(book, chance.choice(book.offcuts).id if book.offcuts else ""),
        lambda: split_scene(book, scene.id, start),
        lambda: merge_scenes(
            book, [scene.id, chance.choice(book.scenes).id], chance.random() < 0.5
        ),
        lambda: move_scenes(book, [scene.id], chance.choice(book.chapters).id, 0),
        lambda: retitle(book, scene.id, words),
        lambda: add_note(book, scene.id, Note(fresh_id("note"), start, end, words, "?", WHEN)),
        lambda: let_stand(book, scene.id, "echo", start, end),
        lambda: pass_stage(book, scene.id, Stage.LINE),
        lambda: set_sheet(book, scene.id, SceneSheet(happens=words)),
        lambda: learn_words(book, [words]),
    ]
    try:
        changed = chance.choice(operations)()
    except (UnknownThing, CannotArrange, IndexError):
        return book
    return changed if changed.scenes else book


@settings(max_examples=12)
@given(
    books(), st.builds(Random, st.integers(0, 2**32)), st.lists(passages(), min_size=5, max_size=5)
)
def test_fifty_operations_roll_back_to_each_snapshot(
    book: Book, chance: Random, fragments: list[Passage]
) -> None:
    with tempfile.TemporaryDirectory(dir=IN_MEMORY) as folder:
        path = Path(folder, "Book.reglet")
        kept: dict[str, Book] = {}
        with BookFile.create(path, book) as file:
            for step in range(50):
                book = one_operation(book, chance, chance.choice(fragments))
                file.save(book)
                if step % 7 == 0:
                    kept[file.snapshot(str(step), when=WHEN).id] = book
        with BookFile.open(path) as file:
            assert file.book == book
            for snapshot_id in chance.sample(sorted(kept), len(kept)):
                then = kept[snapshot_id]
                assert file.state(snapshot_id) == then
                for scene in then.texts:
                    if file.book.has_scene(scene.id):
                        rolled = file.roll_back(scene.id, snapshot_id)
                        assert rolled.scene(scene.id).passage == scene.passage
                        assert file.scene_state(snapshot_id, scene.id) == scene
            assert {each: file.state(each) for each in kept} == kept


def test_what_a_snapshot_says_of_itself(file: BookFile) -> None:
    whole = file.snapshot("First", when=WHEN)
    scene = file.snapshot("Rain", Reason.BEFORE_REPLACE_ALL, ["b"], WHEN)
    assert (whole.label, whole.reason, whole.scenes, whole.words) == (
        "First",
        Reason.BY_HAND,
        None,
        13,
    )
    assert (scene.scenes, scene.words, scene.made, scene.stage) == (
        ("b",),
        5,
        WHEN,
        Stage.FIRST_READ,
    )
    assert file.snapshots() == (whole, scene)
    assert [(each.id, each.words) for each in file.snapshots("b")] == [(whole.id, 5), (scene.id, 5)]
    assert [each.id for each in file.snapshots("a")] == [whole.id]


@pytest.mark.parametrize("asked", ["", "0", "2", "x", "-1", "²", "9" * 40])
def test_a_snapshot_that_is_not_there(file: BookFile, asked: str) -> None:
    file.snapshot("First")
    with pytest.raises(UnknownThing, match="no snapshot"):
        file.state(asked)


def test_a_snapshot_of_a_scene_holds_that_scene_only(file: BookFile) -> None:
    taken = file.snapshot("Rain", scene_ids=["b"])
    assert file.scene_state(taken.id, "b") == FERRY.scene("b")
    with pytest.raises(UnknownThing, match="holds the scene “b”"):
        file.state(taken.id)
    with pytest.raises(UnknownThing, match="does not hold the scene “a”"):
        file.scene_state(taken.id, "a")
    with pytest.raises(UnknownThing):
        file.snapshot("None", scene_ids=["z"])
    assert len(file.snapshots()) == 1


def test_a_roll_back_can_be_rolled_back(file: BookFile) -> None:
    first = file.snapshot("First")
    file.save(typed(file.book, "b", "Snow fell."))
    assert file.roll_back("b", first.id).scene("b").passage == FERRY.scene("b").passage
    before = file.snapshots("b")[-1]
    assert before.reason is Reason.BEFORE_ROLL_BACK
    assert file.roll_back("b", before.id).scene("b").passage.text == "Snow fell."


def test_one_changed_passage_rolls_back_alone(file: BookFile) -> None:
    first = file.snapshot("First")
    file.save(typed(file.book, "a", "The barge came late.\nEverybody waited."))
    places = file.compare_scene(first.id, NOW, "a").changed
    assert len(places) == 2
    assert file.roll_back("a", first.id, place=1).scene("a").passage.text == (
        "The barge came late.\nNobody waited."
    )
    with pytest.raises(UnknownThing, match="no changed passage 6"):
        file.roll_back("a", first.id, place=5)


def test_spans_and_styles_roll_back(file: BookFile) -> None:
    first = file.snapshot("First")
    scene = file.book.scene("c")
    marked = Passage((Paragraph("Anna slept.", Style.VERSE, (Span(0, 4, SpanKind.EMPHASIS),)),))
    file.save(file.book.with_scene(replace(scene, passage=marked)))
    second = file.snapshot("Second")
    assert file.roll_back("c", first.id).scene("c").passage == scene.passage
    assert file.roll_back("c", second.id).scene("c").passage == marked


def test_notes_and_stets_are_there_after_a_roll_back() -> None:
    then = FERRY.with_scene(replace(FERRY.scene("a"), stets=(Stet("echo", 4, 9, "ferry"),)))
    then = add_note(then, "a", Note("n", 4, 9, "ferry", "Which?", WHEN))
    now = typed(then, "a", "The barge came.")
    answered = replace(now.scene("a").notes[0], answer=Answer.DONE)
    now = replace_note(now, "a", answered)
    now = add_note(now, "a", Note("m", 4, 9, "barge", "Hm.", WHEN))
    assert now.scene("a").stets == ()
    back = rolled_back(now.scene("a"), then.scene("a"))
    notes = {note.id: note for note in back.notes}
    assert (notes["n"].start, notes["n"].end, notes["n"].answer) == (4, 9, Answer.DONE)
    assert "m" in notes
    assert back.stets == (Stet("echo", 4, 9, "ferry"),)


def test_the_book_compared(file: BookFile) -> None:
    first = file.snapshot("First")
    book = typed(file.book, "b", "Rain fell hard on the quay.")
    book = cut_scene(book, "c", WHEN)
    file.save(split_scene(book, "a", 21, "New"))
    found = file.compare_book(first.id, NOW)
    fates = {each.scene.title or each.scene.id: each.fate for each in found.scenes}
    assert fates == {"a": Fate.CHANGED, "New": Fate.ADDED, "b": Fate.CHANGED, "c": Fate.CUT}
    assert (found.words_added, found.words_cut) == (3, 4)
    assert file.compare_book(first.id, first.id).of(Fate.SAME) == (
        file.compare_book(first.id, first.id).scenes
    )


def test_entering_a_stage(file: BookFile) -> None:
    structure = file.enter_stage(Stage.STRUCTURE)
    assert (file.stage, structure.reason, structure.stage) == (
        Stage.STRUCTURE,
        Reason.ENTERING_STAGE,
        Stage.STRUCTURE,
    )
    file.save(typed(file.book, "a", "The barge came late.\nNobody waited."))
    line = file.enter_stage(Stage.LINE)
    assert file.compare_scene(structure.id, line.id, "a").words_added == 1
    assert file.enter_stage(Stage.STRUCTURE).id != structure.id  # the text is another now
    assert file.enter_stage(Stage.LINE) == line  # nothing changed since
    path = file.path
    file.close()
    with closing(sqlite3.connect(path)) as connection:
        stored = connection.execute("SELECT earlier, later, scene FROM stage_difference").fetchall()
    assert stored == [(int(structure.id), int(line.id), "a")]
    with BookFile.open(path) as again:
        assert again.stage is Stage.LINE


def test_a_difference_that_a_crash_left_out_is_made_up_for(file: BookFile) -> None:
    file.enter_stage(Stage.STRUCTURE)
    file.save(typed(file.book, "a", "The barge came."))
    file.enter_stage(Stage.LINE)
    with closing(sqlite3.connect(file.path)) as connection:
        before = connection.execute("SELECT * FROM stage_difference").fetchall()
        connection.execute("DELETE FROM stage_difference")
        connection.commit()
        file.enter_stage(Stage.PROOF)
        assert connection.execute("SELECT * FROM stage_difference").fetchall() == before


def test_a_difference_that_does_not_prove_is_not_stored(
    file: BookFile, monkeypatch: pytest.MonkeyPatch
) -> None:
    file.enter_stage(Stage.STRUCTURE)
    file.save(typed(file.book, "a", "The barge came."))
    monkeypatch.setattr("reglet.bookfile.stage_difference.follow", lambda old, steps: old)
    with pytest.raises(FaultOfOurs, match="did not prove exact"):
        file.enter_stage(Stage.LINE)
    with closing(sqlite3.connect(file.path)) as connection:
        assert connection.execute("SELECT count(*) FROM stage_difference").fetchone() == (0,)
    assert file.state(file.snapshots()[-1].id) == file.book  # the snapshot is kept all the same


def test_what_is_typed_is_saved_while_differences_are_worked_out(
    file: BookFile, monkeypatch: pytest.MonkeyPatch
) -> None:
    file.enter_stage(Stage.STRUCTURE)
    file.save(typed(file.book, "a", "The barge came."))

    def while_typing(old: Passage, new: Passage) -> str:
        other = Thread(target=file.save, args=(typed(file.book, "b", "Snow."),))
        other.start()
        other.join(10)
        assert not other.is_alive()
        return steps_between(old, new)

    monkeypatch.setattr("reglet.bookfile.file.steps_between", while_typing)
    line = file.enter_stage(Stage.LINE)
    assert file.book.scene("b").passage.text == "Snow."
    assert file.scene_state(line.id, "b") == FERRY.scene("b")


def test_a_snapshot_costs_what_changed(tmp_path: Path) -> None:
    passage = Passage.plain("\n".join(f"Paragraph {n} of a long scene." for n in range(200)))
    scenes = tuple(Scene(f"s{n}", passage=passage) for n in range(60))
    book = Book(parts=(Part("p", chapters=(Chapter("c", scenes=scenes),)),))
    path = tmp_path / "Book.reglet"
    with BookFile.create(path, book) as file:
        file.snapshot("First")
        before = path.stat().st_size
        for number in range(10):
            file.save(edit(file.book, f"s{number}", 0, 0, Passage.plain("x")))
            file.snapshot("Next")
        each = (path.stat().st_size - before) / 10
    assert each < len(passage.text.encode()) * 2  # one scene of sixty was changed
