"""The book's own facts on a sheet of paper: title, author, cover, what stands around the story,
and its style sheet.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import replace

from PySide6.QtWidgets import QHBoxLayout, QWidget

from reglet.manuscript.book import Book
from reglet.manuscript.editing import learn_words, restyle
from reglet.overlays.examine import Examiner
from reglet.window.background import Background
from reglet.window.chips import Chips
from reglet.window.controls import Act, Entry
from reglet.window.cover_facts import CoverFacts
from reglet.window.desk import Desk
from reglet.window.laid_sheet import LaidSheet
from reglet.window.lettering import Caption, Label
from reglet.window.matter_facts import MatterFacts
from reglet.window.theme import GRID

_LANGUAGES = (("en-GB", "English, British"), ("en-US", "English, American"))


class BookFacts(LaidSheet):
    """What is changed here is done at once, and can be undone."""

    def __init__(self, desk: Desk, background: Background, parent: QWidget | None = None) -> None:
        super().__init__("The book", parent=parent)
        self._desk, self._background = desk, background
        self._names: Counter[str] = Counter()
        self._title, self._author = Entry("Title of the book"), Entry("Author's name")
        self.cover = CoverFacts(desk)
        self.matter = MatterFacts(desk)
        self._language = Chips("Words are spelt as in this language")
        self._word = Entry("Word to leave alone", "a spelling to leave alone, then Enter")
        self._words = Chips("Leaves the style sheet with a click")
        self._ways = Chips("Is asked about again after a click")
        self._ways_head = Caption("Style sheet · ways settled for the whole book")
        self._proposed = Chips("Goes to the style sheet with a click")
        self._proposed_told = Label(quiet=True)
        self._proposed_told.setWordWrap(True)
        self._take_all = Act("Take all")
        self._lay_out()
        self._title.editingFinished.connect(self._name)
        self._author.editingFinished.connect(self._name)
        self._language.pressed.connect(self._set_language)
        self._word.returnPressed.connect(self._learn_typed)
        self._words.pressed.connect(self._unlearn)
        self._ways.pressed.connect(self._open_again)
        self._proposed.pressed.connect(lambda word: self._learn([word]))
        self._take_all.clicked.connect(lambda: self._learn(self._names))
        self.matter.opened.connect(self.closed)
        desk.arranged.connect(self._follow)

    def show_book(self) -> None:
        """Show the facts of the book on the desk, and look for names in it."""
        self._show_facts()
        book = self._desk.book
        self._proposed_told.setText("Looking for names …")
        self._background.do("names", lambda: Examiner().names(book), self._propose)
        self._title.setFocus()

    def _lay_out(self) -> None:
        column = self.column
        for name, field in (
            ("Title", self._title),
            ("Author", self._author),
            ("Language", self._language),
            ("Cover of the e-book", self.cover),
            ("Before and after the story", self.matter),
        ):
            column.addWidget(Caption(name))
            column.addWidget(field)
            column.addSpacing(GRID)
        column.addSpacing(GRID)
        column.addWidget(Caption("Style sheet · words to leave alone"))
        column.addWidget(self._word)
        column.addWidget(self._words)
        column.addSpacing(2 * GRID)
        column.addWidget(self._ways_head)
        column.addWidget(self._ways)
        column.addSpacing(2 * GRID)
        found = QHBoxLayout()
        found.addWidget(Caption("Names found in the book"), 1)
        found.addWidget(self._take_all)
        column.addLayout(found)
        column.addWidget(self._proposed_told)
        column.addWidget(self._proposed)
        column.addStretch(1)

    def _follow(self) -> None:
        if self.isVisible():
            self._show_facts()
            self._propose(self._names)

    def _show_facts(self) -> None:
        book = self._desk.book
        self._title.setText(book.title)
        self._author.setText(book.author)
        self.cover.show_cover()
        self.matter.show_pieces()
        language = book.style_sheet.language
        self._language.show_words({language: language, **dict(_LANGUAGES)}, chosen=language)
        self._words.show_words(
            {word: word for word in sorted(book.style_sheet.words, key=str.casefold)}
        )

        ways = dict(book.style_sheet.ways)
        self._ways_head.setVisible(bool(ways))
        self._ways.show_words(ways)

    def _propose(self, names: Counter[str]) -> None:
        known = self._desk.book.style_sheet.words
        self._names = Counter({word: n for word, n in names.items() if word not in known})
        self._proposed.show_words({word: f"{word} {n:,}" for word, n in self._names.most_common()})
        self._take_all.setEnabled(bool(self._names))
        self._proposed_told.setText(
            "Words that no dictionary has and that stand in the book three times or more, names "
            "above all. One that is taken is not asked about again."
            if self._names
            else "None that the style sheet does not have."
        )

    def _change(self, label: str, operation: Callable[[Book], Book]) -> None:
        self._desk.perform(label, operation)

    def _name(self) -> None:
        title, author = self._title.text().strip(), self._author.text().strip()
        book = self._desk.book
        if (title, author) != (book.title, book.author):
            self._change("Title and author", lambda book: replace(book, title=title, author=author))

    def _set_language(self, tag: str) -> None:
        def spelt(book: Book) -> Book:
            return restyle(book, replace(book.style_sheet, language=tag))

        self._change("Language", spelt)
        self._show_facts()

    def _learn(self, words: Iterable[str]) -> None:
        chosen = tuple(words)
        self._change("Style sheet", lambda book: learn_words(book, chosen))

    def _learn_typed(self) -> None:
        word = self._word.text().strip()
        self._word.clear()
        if word:
            self._learn([word])

    def _open_again(self, question: str) -> None:
        self._change(
            "Style sheet",
            lambda book: restyle(book, book.style_sheet.with_way(question, "")),
        )

    def _unlearn(self, word: str) -> None:
        self._change(
            "Style sheet",
            lambda book: restyle(
                book, replace(book.style_sheet, words=book.style_sheet.words - {word})
            ),
        )
