"""Writing on the page: what keys do to the book, and what is shown of it."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PySide6.QtCore import QMimeData, QPoint, Qt
from PySide6.QtGui import QTextCursor
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from reglet.manuscript.arranging import retitle
from reglet.manuscript.paragraph import LINE_BREAK, Paragraph, Span, SpanKind, Style
from reglet.manuscript.passage import Passage
from reglet.manuscript.stage import Stage
from reglet.overlays.query import Query
from reglet.overlays.register import named
from reglet.window.lettering import Label
from reglet.window.main_window import ZOOMS, MainWindow
from reglet.window.page import conversion, formats, pasting
from reglet.window.page.editor import Editor
from reglet.window.page.pasting import passage_in
from reglet.window.theme import LIGHT, THEMES, Theme

from tests.strategies import passages
from tests.window.conftest import LAMP, small_book

LONG = 20_000


@pytest.fixture
def editor(qtbot: QtBot) -> Editor:
    editor = Editor()
    qtbot.addWidget(editor)
    return editor


def put(editor: Editor, *paragraphs: str | Paragraph) -> None:
    passage = Passage.of(Paragraph(p) if isinstance(p, str) else p for p in paragraphs)
    editor.show_passage(passage)


def test_each_edit_is_reported_once_with_its_place(editor: Editor, qtbot: QtBot) -> None:
    put(editor, "A 🐚 lay.", "Then e\u0301 and é.")
    edits: list[tuple[Passage, object]] = []
    editor.edited.connect(lambda passage, change: edits.append((passage, change)))
    editor.select(4, 4)
    qtbot.keyClicks(editor, "x")
    assert edits[-1][0].text == "A 🐚 xlay.\nThen e\u0301 and é."
    (replacement,) = edits[-1][1].replacements
    assert (replacement.start, replacement.end, replacement.length) == (4, 4, 1)
    qtbot.keyClick(editor, Qt.Key.Key_Backspace)
    qtbot.keyClick(editor, Qt.Key.Key_Backspace)
    qtbot.keyClick(editor, Qt.Key.Key_Backspace)
    assert edits[-1][0].text == "A lay.\nThen e\u0301 and é."
    assert len(edits) == 4


@given(passages(), st.lists(st.sampled_from("a ⏎⌫⌦→←🐚"), max_size=12), st.data())
@settings(max_examples=40)
def test_the_page_never_disagrees_with_the_book(
    qapp: object, passage: Passage, keys: list[str], data: st.DataObject
) -> None:
    editor = Editor()
    editor.show_passage(passage)
    editor.select(*(2 * [data.draw(st.integers(0, len(passage)))]))
    special = {
        "⏎": Qt.Key.Key_Return,
        "⌫": Qt.Key.Key_Backspace,
        "⌦": Qt.Key.Key_Delete,
        "→": Qt.Key.Key_Right,
        "←": Qt.Key.Key_Left,
    }
    from PySide6.QtTest import QTest

    for key in keys:
        if key in special:
            QTest.keyClick(editor, special[key])
        else:
            editor.insertPlainText(key)
        assert editor.passage == conversion.passage_of(editor.document())
    editor.deleteLater()


def test_spans_and_styles_are_set_by_keys(window: MainWindow, qtbot: QtBot) -> None:
    editor = window.page.editor
    editor.select(4, 8)
    for action in editor.actions():
        if action.text() in ("Emphasis", "Small capitals"):
            action.trigger()
    paragraph = window.desk.book.scene("lamp").passage.paragraphs[0]
    assert paragraph.spans == (
        Span(4, 8, SpanKind.EMPHASIS),
        Span(4, 8, SpanKind.SMALL_CAPITALS),
    )
    editor.switch(SpanKind.EMPHASIS)
    assert window.desk.book.scene("lamp").passage.paragraphs[0].spans == (
        Span(4, 8, SpanKind.SMALL_CAPITALS),
    )
    editor.set_style(Style.LETTER)
    assert window.desk.book.scene("lamp").passage.paragraphs[0].style is Style.LETTER
    assert window.desk.book.scene("lamp").passage.text == LAMP
    for _ in range(4):
        qtbot.keyClick(editor, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert window.desk.book.scene("lamp").passage == Passage.plain(LAMP)
    assert conversion.passage_of(editor.document()) == Passage.plain(LAMP)


@pytest.mark.parametrize(
    ("style", "expected"),
    [(Style.HEADING, Style.BODY), (Style.FIRST, Style.BODY), (Style.VERSE, Style.VERSE)],
)
def test_what_follows_a_paragraph(
    editor: Editor, qtbot: QtBot, style: Style, expected: Style
) -> None:
    put(editor, Paragraph("One", style))
    editor.select(3, 3)
    qtbot.keyClick(editor, Qt.Key.Key_Return)
    qtbot.keyClicks(editor, "two")
    assert [p.style for p in editor.passage.paragraphs] == [style, expected]
    assert editor.passage.text == "One\ntwo"


def test_a_line_break_inside_a_paragraph(editor: Editor, qtbot: QtBot) -> None:
    put(editor, Paragraph("One", Style.VERSE))
    editor.select(3, 3)
    qtbot.keyClick(editor, Qt.Key.Key_Return, Qt.KeyboardModifier.ShiftModifier)
    qtbot.keyClicks(editor, "two")
    assert editor.passage == Passage((Paragraph(f"One{LINE_BREAK}two", Style.VERSE),))


def test_a_scene_break_is_set_between_paragraphs(editor: Editor) -> None:
    put(editor, "One two")
    editor.select(3, 3)
    editor.set_style(Style.SCENE_BREAK)
    assert [p.style for p in editor.passage.paragraphs] == [
        Style.BODY,
        Style.SCENE_BREAK,
        Style.BODY,
    ]
    assert editor.passage.text == "One\n***\n two"


@pytest.mark.parametrize(
    ("kind", "content", "expected"),
    [
        ("text", "a\r\nb\u2029c", "a\nb\nc"),
        ("text", "one\ufffctwo\x00", "onetwo"),
        ("html", "<p>a <i>b</i></p><p>c<img src='file:///etc/hostname'></p>", "a b\nc"),
        ("html", "<img src='http://example.invalid/x.png'>", None),
        ("html", "<h1>Head</h1>text", "Head\ntext"),
    ],
)
def test_pasting_takes_words_and_emphasis_only(
    kind: str, content: str, expected: str | None
) -> None:
    data = QMimeData()
    if kind == "html":
        data.setHtml(content)
    else:
        data.setText(content)
    passage = passage_in(data)
    assert (passage and passage.text) == expected
    if expected == "a b\nc":
        assert passage is not None
        assert passage.paragraphs[0].spans == (Span(2, 3, SpanKind.EMPHASIS),)


def test_each_look_of_a_pasted_text_is_asked_for_once(
    editor: Editor, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Asked for at every word, the looks of a novel with emphasis hold the window for seconds."""
    asked = []
    for module, name in ((pasting, "_kinds_of"), (formats, "kinds_of")):
        real = getattr(module, name)
        monkeypatch.setattr(module, name, lambda made, real=real: asked.append(made) or real(made))
    data = QMimeData()
    data.setHtml("<p>" + 50 * "a <i>shell</i> " + "</p><p>and <b>sand</b></p>")
    editor.insertFromMimeData(data)
    assert len(editor.passage.paragraphs[0].spans) == 50
    assert len(asked) == 2 * 3  # plain, italic and bold; as it is pasted, and as it then stands


def test_what_was_pasted_is_undone_in_one_step(window: MainWindow) -> None:
    data = QMimeData()
    data.setText("One.\n\nTwo.\nThree.")
    window.page.editor.insertFromMimeData(data)
    assert window.desk.book.scene("lamp").passage.text == f"One.\n\nTwo.\nThree.{LAMP}"
    window.desk.undo_text()
    assert window.desk.book.scene("lamp").passage == Passage.plain(LAMP)


def test_copied_text_comes_back_with_its_emphasis(editor: Editor) -> None:
    put(editor, Paragraph("a 🐚 b", spans=(Span(2, 3, SpanKind.EMPHASIS),)), "second")
    editor.selectAll()
    data = editor.createMimeDataFromSelection()
    assert passage_in(data) == editor.passage


def test_a_theme_or_zoom_changes_no_word(window: MainWindow) -> None:
    book = window.desk.book
    for theme in THEMES:
        window.dress(theme)
        window.zoom(1)
    assert window.desk.book is book


def test_larger_type_is_larger_wherever_the_book_is_read(window: MainWindow) -> None:
    read = (
        window.page.editor,
        window.story_work.first_read.text,
        window.views.history._page,
        window.views.offcuts._text,
    )

    def sizes() -> list[int]:
        return [text.document().defaultFont().pixelSize() for text in read]

    usual = sizes()
    for _ in ZOOMS:
        window.zoom(1)
    # WCAG 2.2, success criterion 1.4.4: up to twice as large
    assert all(large >= 2 * small for small, large in zip(usual, sizes(), strict=True))
    window.zoom(0)
    assert sizes() == usual


def test_the_title_is_changed_where_it_stands(window: MainWindow, qtbot: QtBot) -> None:
    window.page.rename()
    field = window.page.findChild(type(window.page._title))
    field.setText("Another lamp")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert window.desk.book.scene("lamp").title == "Another lamp"


def test_a_chapter_of_one_scene_gives_it_its_name(window: MainWindow) -> None:
    window.desk.show_scene("mill")
    window.desk.perform("Rename", lambda book: retitle(book, "mill", ""))
    editor = window.page.editor
    assert (editor._eyebrow, editor._otherwise) == ("The Tide Ledger", "Two")
    window.desk.show_scene("salt")
    assert (editor._eyebrow, editor._otherwise) == ("One", "Scene 2 of 2")


# Queries on the page


@pytest.fixture
def proof(window: MainWindow, qtbot: QtBot) -> MainWindow:
    with qtbot.waitSignal(window.examining.finished, timeout=LONG):
        window.enter(Stage.PROOF)
    return window


def double_on(window: MainWindow) -> Query:
    (query,) = (each for each in window.page.places() if each.overlay == "double")
    return query


def test_the_card_names_the_source_of_its_rule(proof: MainWindow) -> None:
    card = proof.page.card

    def seen() -> str:
        return " ".join(each.text() for each in card.findChildren(Label) if each.isVisible())

    proof.page.open_card(double_on(proof))
    assert card.accessibleName().endswith("“was was” → “was”")
    source = f"Source: {named('double').source}"
    assert seen().endswith(source) and card.accessibleDescription() == source
    card.show_end(LIGHT.red, "No more.")
    assert "Source" not in seen() and not card.accessibleDescription()


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
def test_the_card_covers_no_word_of_the_slip(proof: MainWindow, theme: Theme) -> None:
    proof.resize(1280, 800)
    proof.dress(theme)
    QApplication.processEvents()
    proof.page.open_card(double_on(proof))
    card = proof.page.card
    words = [each for each in proof.slip.findChildren(Label) if each.isVisible()]
    edge = min(each.mapTo(proof, QPoint()).x() for each in words)
    assert card.mapTo(proof, QPoint(card.width(), 0)).x() <= edge


def test_a_query_is_taken_with_a_key(proof: MainWindow, qtbot: QtBot) -> None:
    proof.page.open_card(double_on(proof))
    qtbot.keyClick(proof.page.card, Qt.Key.Key_T)
    assert "it was the trouble" in proof.desk.book.scene("lamp").passage.text
    assert not any(each.overlay == "double" for each in proof.page.places())
    proof.desk.undo_text()
    assert proof.desk.book.scene("lamp").passage.text == LAMP


def test_stet_stays_when_examined_again(proof: MainWindow, qtbot: QtBot) -> None:
    proof.page.open_card(double_on(proof))
    with qtbot.waitSignal(proof.examining.finished, timeout=LONG):
        qtbot.keyClick(proof.page.card, Qt.Key.Key_S)
    assert proof.desk.book.scene("lamp").stets
    assert not any(each.overlay == "double" for each in proof.page.places())
    assert proof.desk.book.scene("lamp").passage.text == LAMP


def test_marks_stand_beside_their_words(proof: MainWindow, qtbot: QtBot) -> None:
    query = double_on(proof)
    editor = proof.page.editor
    (placed,) = (each for each in editor.placed() if each.query == query)
    cursor = QTextCursor(editor.document())
    cursor.setPosition(conversion.position_in(editor.document(), editor.passage, query.start))
    caret = editor.cursorRect(cursor)
    assert abs(placed.lines[0].left() - caret.left()) <= 2
    assert abs(placed.lines[0].top() - caret.top()) <= 4
    assert placed.mark.left() > max(rect.right() for rect in placed.lines)


def test_overlays_are_switched_by_number(proof: MainWindow) -> None:
    room = proof.rooms[Stage.PROOF]
    names = [row.overlay.name for row in room._rows]
    assert double_on(proof)
    room.toggle(names.index("double") + 1)
    assert not any(each.overlay == "double" for each in proof.page.places())
    room.toggle(names.index("double") + 1)
    assert double_on(proof)


def test_stepping_past_the_last_query_goes_to_the_next_scene_with_queries(
    proof: MainWindow, qtbot: QtBot
) -> None:
    assert not proof.examining.queries("salt")
    with qtbot.waitSignal(proof.examining.finished, timeout=LONG):
        proof.desk.rewrite("mill", Passage.plain("The mill mill turned all night."))
    for _ in range(len(proof.page.places())):
        proof.page.step_query(1)
    assert proof.desk.scene is not None and proof.desk.scene.id == "lamp"
    proof.page.step_query(1)
    assert proof.desk.scene.id == "mill"
    assert proof.page.card.query in proof.page.places()
    qtbot.keyClick(proof.page.card, Qt.Key.Key_N, Qt.KeyboardModifier.ShiftModifier)
    assert proof.desk.scene.id == "lamp"
    qtbot.keyClick(proof.page.card, Qt.Key.Key_N)
    assert proof.desk.scene.id == "mill"


def test_after_the_last_answer_the_keys_are_not_typed(proof: MainWindow, qtbot: QtBot) -> None:
    proof.page.open_card(proof.page.places()[0])
    for _ in range(len(proof.page.places())):
        qtbot.keyClick(proof.page.card, Qt.Key.Key_S)
    before = proof.desk.book.scene("lamp").passage
    assert proof.page.card.hasFocus() and proof.page.card.query is None
    for key in (Qt.Key.Key_S, Qt.Key.Key_T, Qt.Key.Key_J):
        qtbot.keyClick(proof.page.card, key)
    assert proof.desk.book.scene("lamp").passage == before
    qtbot.keyClick(proof.page.card, Qt.Key.Key_D)
    assert Stage.PROOF in proof.desk.book.scene("lamp").passed
    qtbot.keyClick(proof.page.card, Qt.Key.Key_Return)
    assert proof.page.editor.hasFocus()


def press_where_the_keys_are(qtbot: QtBot, *keys: Qt.Key) -> None:
    for key in keys:
        qtbot.keyClick(QApplication.focusWidget(), key)


ANSWERS = (Qt.Key.Key_J, Qt.Key.Key_S, Qt.Key.Key_T, Qt.Key.Key_D)


def test_answers_given_too_soon_are_not_typed(window: MainWindow, qtbot: QtBot) -> None:
    window.activateWindow()
    with qtbot.waitSignal(window.examining.finished, timeout=LONG):
        window.enter(Stage.PROOF)
        window.page.step_query(1)  # nothing is known yet
        press_where_the_keys_are(qtbot, *ANSWERS)
    assert window.desk.book.scene("lamp") == small_book().scene("lamp")
    assert window.page.card.query == window.page.places()[0]
    assert window.page.card.hasFocus()


def test_a_scene_without_a_query_says_so_to_a_writer_who_waits(
    window: MainWindow, qtbot: QtBot
) -> None:
    window.desk.show_scene("mill")
    with qtbot.waitSignal(window.examining.finished, timeout=LONG):
        window.enter(Stage.PROOF)
        window.page.step_query(1)
    assert not window.page.awaits_query
    assert "No query" in window.page.card.accessibleName()
    assert window.page.card.hasFocus()


def test_another_stage_begins_without_the_card_of_the_last(proof: MainWindow) -> None:
    proof.activateWindow()
    proof.page.open_card(double_on(proof))
    proof.enter(Stage.STRUCTURE)
    assert not proof.page.card.isVisible() and proof.page.editor.hasFocus()


def test_past_the_last_query_of_the_book_answers_are_not_typed(
    proof: MainWindow, qtbot: QtBot
) -> None:
    proof.activateWindow()
    proof.desk.show_scene("mill")
    proof.page.setFocus()
    proof.page.step_query(1)
    press_where_the_keys_are(qtbot, *ANSWERS)
    assert proof.desk.book.scene("mill").passage == small_book().scene("mill").passage
    assert "the last query of the book" in proof.page.card.accessibleName()


def test_a_query_that_goes_away_under_the_hand_gives_the_keys_to_the_next(
    proof: MainWindow, qtbot: QtBot
) -> None:
    proof.activateWindow()
    proof.page.open_card(double_on(proof))
    names = [row.overlay.name for row in proof.rooms[Stage.PROOF]._rows]
    proof.rooms[Stage.PROOF].toggle(names.index("double") + 1)
    press_where_the_keys_are(qtbot, Qt.Key.Key_J)
    assert proof.desk.book.scene("lamp").passage.text == LAMP
    assert proof.page.card.hasFocus()


def test_a_book_without_a_scene_says_how_to_go_on(window: MainWindow) -> None:
    ids = [scene.id for scene in window.desk.book.scenes]
    window.contents.cut_wanted.emit(ids)
    assert window.desk.scene is None
    assert window.page.editor._otherwise == "There is no scene in the book"
    assert "begins a new scene" in window.page.editor._eyebrow
