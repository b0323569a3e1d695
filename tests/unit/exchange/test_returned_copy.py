"""A returned copy: every remark becomes a note where its words stand, and the text stays."""

from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest
from docx import Document
from hypothesis import given, settings
from reglet.errors import DraftError
from reglet.exchange import read_draft, read_returned, take_back, write_docx
from reglet.manuscript.anchored import Note
from reglet.manuscript.arranging import move_scenes
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.editing import edit
from reglet.manuscript.front_and_back import add_matter
from reglet.manuscript.matter import Matter
from reglet.manuscript.offcuts import cut_scene
from reglet.manuscript.paragraph import LINE_BREAK, Span, SpanKind, Style
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene

from tests.strategies import books

WHEN = datetime(2031, 5, 4, 12, 30, tzinfo=UTC)
LAMP = "The lamp was lit.\nNobody had lit it.\n“Well?” said Dorrel, who had come in by the stairs."
SALT = (
    "Salt lay on the sill 🐚 in a line.\nShe did not sweep it up.\nIt was morning before she did."
)
MILL = "The mill turned all night.\nIn the morning it stood still."


def a_book() -> Book:
    scenes = [Scene(name.lower(), name, Passage.plain(text)) for name, text in TEXTS]
    one, two = Chapter("c1", "One", tuple(scenes[:2])), Chapter("c2", "Two", tuple(scenes[2:]))
    return Book("Ledger", "L. G.", (Part("p", "", (one, two)),))


TEXTS = (("Lamp", LAMP), ("Salt", SALT), ("Mill", MILL))


def edited(book: Book, scene_id: str, old: str, new: str) -> Book:
    """The book with the first `old` in a scene given way to `new`."""
    at = book.scene(scene_id).passage.text.index(old)
    return edit(book, scene_id, at, at + len(old), Passage.plain(new) if new else Passage())


def noted(book: Book, scene_id: str, words: str, text: str) -> Book:
    """The book with an editor's comment on `words`."""
    scene = book.scene(scene_id)
    at = scene.passage.text.index(words)
    note = Note("n", at, at + len(words), words, text, WHEN, "Ada", "comment")
    return book.with_scene(replace(scene, notes=(*scene.notes, note)))


def found(now: Book, returned: Book, *states: Book) -> list[str]:
    """The notes that taking `returned` back makes, as "scene: words under them: text"."""
    done = take_back(now, read_returned(states or (now,), returned, "copy.docx"))
    for scene in done.book.texts:
        assert scene.passage == now.scene(scene.id).passage
    return [
        f"{scene.id}: {scene.passage.text[note.start : note.end]}: {note.text}"
        for scene in done.book.texts
        for note in scene.notes
    ]


@pytest.mark.parametrize(
    ("scene", "old", "new", "note"),
    [
        ("lamp", "Nobody", "No one", "lamp: Nobody: “Nobody” → “No one”"),
        ("lamp", " lit it", " yet lit it", "lamp: : Put in: “yet”"),
        ("salt", " 🐚 in a line", "", "salt:  🐚 in a line: Taken out: “🐚 in a line”"),
        ("lamp", "it.\n“Well", "it. “Well", "lamp: \n: Paragraphs are joined here."),
        (
            "salt",
            "She did not sweep it up.\n",
            "",
            "salt: She did not sweep it up.\n: Taken out: “She did not sweep it up.”",
        ),
        (
            "salt",
            "It was morning",
            "It rained.\nIt was morning",
            "salt: : Put in: “It rained.”",
        ),
        (
            "lamp",
            "come in by the stairs",
            "gone out by a door",
            "lamp: come in by the stairs: “come in by the stairs” → “gone out by a door”",
        ),
    ],
)
def test_a_change_becomes_a_note(scene: str, old: str, new: str, note: str) -> None:
    book = a_book()
    (said,) = found(book, edited(book, scene, old, new))
    assert said == note


def italic(book: Book, scene_id: str, words: str, kind: SpanKind = SpanKind.EMPHASIS) -> Book:
    """The book with the first `words` in a scene set in italics, or otherwise."""
    scene = book.scene(scene_id)
    at = scene.passage.text.index(words)
    part = scene.passage.slice(at, at + len(words))
    set_so = Passage(
        tuple(
            replace(each, spans=(*each.spans, Span(0, len(each.text), kind)))
            for each in part.paragraphs
        )
    )
    return edit(book, scene_id, at, at + len(words), set_so)


@pytest.mark.parametrize(
    ("sent", "returned", "notes"),
    [
        (["all night"], ["all night", "lit"], ["lamp: lit: Set in italics: “lit”"]),
        (["all night", "lit"], ["all night"], ["lamp: lit: No longer in italics: “lit”"]),
        (
            ["all night", "The lamp"],
            ["all night", "lamp was lit"],
            [
                "lamp: The : No longer in italics: “The”",
                "lamp:  was lit: Set in italics: “was lit”",
            ],
        ),
        (
            ["all night"],
            ["all night", "lit.\nNobody"],
            ["lamp: lit.: Set in italics: “lit.”", "lamp: Nobody: Set in italics: “Nobody”"],
        ),
        (["all night"], ["all night", " "], []),
        (["all night"], ["all night", "."], []),
        (["all night"], ["all night"], []),
    ],
)
def test_changed_italics_become_notes(
    sent: list[str], returned: list[str], notes: list[str]
) -> None:
    books = []
    for words in (sent, returned):
        book = a_book()
        for each in words:
            book = italic(book, "mill" if each == "all night" else "lamp", each)
        books.append(book)
    assert found(books[0], books[1]) == notes


@pytest.mark.parametrize(
    ("kind", "said"),
    [
        (SpanKind.STRONG, "Set in bold: “mill”"),
        (SpanKind.SMALL_CAPITALS, "Set in small capitals: “mill”"),
        (SpanKind.UNDERLINE, "Set underlined: “mill”"),
        (SpanKind.STRIKE, "Set struck through: “mill”"),
    ],
)
def test_other_dress_becomes_notes(kind: SpanKind, said: str) -> None:
    assert found(a_book(), italic(a_book(), "mill", "mill", kind)) == [f"mill: mill: {said}"]


def test_a_language_is_no_change() -> None:
    assert found(a_book(), italic(a_book(), "mill", "mill", SpanKind.LANGUAGE)) == []


@pytest.mark.parametrize(
    ("inside", "outside", "note"),
    [
        ("", "Nobody", "“Nobody” → “No one” (in italics)"),
        ("Nobody", "", "“Nobody” → “No one” (no longer in italics)"),
        ("Nobody", "Nobody", "“Nobody” → “No one”"),
    ],
)
def test_other_words_in_other_dress(inside: str, outside: str, note: str) -> None:
    sent = italic(a_book(), "mill", "mill")
    returned = edited(sent, "lamp", "Nobody", "No one")
    if inside:
        sent = italic(sent, "lamp", inside)
    if outside:
        returned = italic(returned, "lamp", "No one")
    assert found(sent, returned) == [f"lamp: Nobody: {note}"]


def test_words_put_in_are_measured_by_what_stands_before_them() -> None:
    sent = italic(a_book(), "lamp", "had lit it")
    returned = italic(edited(a_book(), "lamp", "lit it", "ever lit it"), "lamp", "had ever lit it")
    assert found(sent, returned) == ["lamp: : Put in: “ever”"]
    plain = italic(edited(sent, "mill", "all night", "all the night"), "mill", "the")
    assert found(sent, plain) == ["mill: : Put in: “the” (in italics)"]


def test_a_copy_without_any_italics_is_said_to_have_none() -> None:
    sent = italic(a_book(), "mill", "all night")
    copy = read_returned([sent], edited(a_book(), "lamp", "lit", "dark"), "copy.txt")
    assert [each.text for each in copy.remarks] == ["“lit” → “dark”"]
    assert copy.aside == "The copy has no italics at all; no notes were made of that."


def test_paragraphs_in_another_style_are_counted() -> None:
    book = a_book()
    mill = book.scene("mill")
    quoted = Passage(tuple(replace(p, style=Style.LETTER) for p in mill.passage.paragraphs))
    copy = read_returned([book], book.with_scene(replace(mill, passage=quoted)), "c")
    assert copy.remarks == ()
    assert "2 paragraphs are set in another style" in copy.aside


def titled(book: Book, **titles: str) -> Book:
    """The book with chapters of other titles."""
    return book.with_chapters(lambda each: replace(each, title=titles.get(each.id, each.title)))


@pytest.mark.parametrize(
    ("was", "becomes", "notes"),
    [
        ("Two", "The Mill", ["mill: : Chapter title: “Two” → “The Mill”"]),
        ("Two", "", ["mill: : Chapter title taken out: “Two”"]),
        ("", "Two", ["mill: : Chapter title put in: “Two”"]),
        ("Two", f"Two{LINE_BREAK}", []),
    ],
)
def test_a_changed_chapter_title_becomes_a_note(was: str, becomes: str, notes: list[str]) -> None:
    assert found(titled(a_book(), c2=was), titled(a_book(), c2=becomes)) == notes


def test_titles_of_parts_and_of_front_and_back_matter() -> None:
    front, back = Scene("f", "For", Passage.plain("A. B.")), Scene("b", "Thanks", MATTER)
    sent = replace(a_book(), front=(front,), back=(back,))
    returned = replace(
        sent,
        parts=(replace(sent.parts[0], title="Part One"),),
        front=(replace(front, title="To"),),
        back=(replace(back, title="With thanks"),),
    )
    assert found(sent, returned) == [
        "f: : Title: “For” → “To”",
        "lamp: : Part title put in: “Part One”",
        "b: : Title: “Thanks” → “With thanks”",
    ]


MATTER = Passage.plain("To all who read it first.")


def test_a_piece_that_has_no_words_yet_is_not_missed() -> None:
    sent, _ = add_matter(a_book(), Matter.DEDICATION)
    sent, _ = add_matter(sent, Matter.AFTERWORD)
    assert found(sent, edited(a_book(), "lamp", "Nobody", "No one")) == [
        "lamp: Nobody: “Nobody” → “No one”"
    ]


def test_a_title_that_the_writer_changed_since_is_no_change_of_the_editors() -> None:
    sent = a_book()
    now = titled(sent, c1="Light")
    assert found(now, titled(sent, c2="Flour"), now, sent) == [
        "mill: : Chapter title: “Two” → “Flour”"
    ]


def test_titles_where_chapters_were_parted_or_rewritten() -> None:
    sent = a_book()
    one, two = sent.chapters
    parted = (
        replace(one, scenes=one.scenes[:1]),
        Chapter("new", "Salt", one.scenes[1:]),
        replace(two, title="Three"),
    )
    returned = replace(sent, parts=(replace(sent.parts[0], chapters=parted),))
    returned = edited(returned, "mill", "The mill turned all night.", "It turned.\nAll night.")
    assert [each for each in found(sent, returned) if "title" in each] == [
        "mill: : Chapter title: “Two” → “Three”"
    ]


def test_a_comment_stands_where_its_words_stand_now() -> None:
    sent = a_book()
    returned = noted(edited(sent, "salt", "She did not", "She would not"), "salt", "sweep", "Why?")
    now = edited(edited(sent, "salt", "Salt", "Much salt"), "lamp", "The lamp", "A lamp")
    now = move_scenes(now, ["salt"], "c2", 1)
    assert found(now, returned, now, sent) == ["salt: did: “did” → “would”", "salt: sweep: Why?"]


def test_what_the_writer_changed_since_is_no_change_of_the_editors() -> None:
    sent = a_book()
    now = edited(sent, "lamp", "Nobody", "Somebody")
    assert found(now, sent, now, sent) == []


def test_a_remark_on_a_scene_that_is_gone_is_not_lost() -> None:
    sent = a_book()
    returned = noted(sent, "salt", "sweep", "Why?")
    now = cut_scene(sent, "salt", WHEN)
    assert found(now, returned, now, sent) == ["lamp: : Why?"]


def test_the_same_copy_taken_back_again_adds_nothing() -> None:
    book = a_book()
    copy = read_returned(
        [book], noted(edited(book, "mill", "all", "the whole"), "lamp", "lit", "By whom?"), "c"
    )
    once = take_back(book, copy)
    assert (once.comments, once.changes, once.there) == (1, 1, 0)
    again = take_back(once.book, copy)
    assert again.book == once.book and again.there == 2
    assert "as it was" in again.said


def test_another_book_is_no_copy() -> None:
    other = Book(
        parts=(
            Part(
                "p",
                "",
                (
                    Chapter(
                        "c",
                        "",
                        (
                            Scene(
                                "s",
                                "",
                                Passage.plain("Hi."),
                            ),
                        ),
                    ),
                ),
            ),
        )
    )
    with pytest.raises(DraftError, match="no copy of this book"):
        read_returned([a_book()], other, "other.docx")


def test_a_copy_from_a_word_processor(tmp_path: Path) -> None:
    book, path = a_book(), tmp_path / "sent.docx"
    write_docx(book, path)
    document = Document(str(path))
    (paragraph,) = (each for each in document.paragraphs if "Nobody" in each.text)
    document.add_comment(paragraph.runs, text="How long?", author="Ada", initials="A")
    (other,) = (each for each in document.paragraphs if "all night" in each.text)
    other.runs[0].text = other.runs[0].text.replace("all night", "till dawn")
    (title,) = (each for each in document.paragraphs if each.text == "Two")
    title.runs[0].text = "The Mill"
    (well,) = (each for each in document.paragraphs if "Well" in each.text)
    well.runs[0].italic = True
    document.save(str(path))
    returned = read_draft(path).book()
    assert found(book, returned) == [
        "lamp: Nobody had lit it.: How long?",
        f"lamp: {well.text}: Set in italics: “{well.text}”",
        "mill: : Chapter title: “Two” → “The Mill”",
        "mill: all night: “all night” → “till dawn”",
    ]


@settings(max_examples=40)
@given(books(), books())
def test_no_remark_and_no_word_is_lost(one: Book, other: Book) -> None:
    noted_scenes = {
        scene.id: replace(
            scene, notes=(Note(f"n-{scene.id}", 0, len(scene.passage), "", "?", WHEN),)
        )
        for scene in one.texts
    }
    returned = one
    for scene in noted_scenes.values():
        returned = returned.with_scene(scene)
    if not any(p.text.strip() for s in one.texts for p in s.passage.paragraphs):
        return
    copy = read_returned([one, other], returned, "copy")
    assert len(copy.remarks) >= len(returned.texts)
    done = take_back(other, copy)
    assert [s.passage for s in done.book.texts] == [s.passage for s in other.texts]
    if other.texts:
        assert done.comments + done.changes + done.there == len(copy.remarks)
