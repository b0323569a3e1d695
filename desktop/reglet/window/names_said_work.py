"""How names are said: the style sheet's dictionary, each entry heard in a sentence of the book."""

from __future__ import annotations

from collections import Counter

from PySide6.QtCore import QObject

from reglet.errors import WriterError
from reglet.overlays.examine import Examiner
from reglet.voice.said_as import dictionary, sentence_with, with_said
from reglet.window.background import Background
from reglet.window.desk import Desk
from reglet.window.listening_work import ListeningWork
from reglet.window.names_said_view import NamesSaidView
from reglet.window.views import Views

_MOST_NAMES = 60


class NamesSaidWork(QObject):
    """Joins the view of how names are said to the desk."""

    def __init__(
        self,
        desk: Desk,
        work: ListeningWork,
        views: Views,
        background: Background,
        parent: QObject,
    ) -> None:
        super().__init__(parent)
        self._desk, self._work, self._views = desk, work, views
        self._background = background
        self._names: Counter[str] | None = None
        self.view = NamesSaidView()
        views.add(self.view)
        self.view.tried.connect(self._try)
        self.view.hushed.connect(work.sample.hush)
        self.view.kept.connect(self._keep)
        work.sample.begun.connect(lambda: self.view.show_saying(True))
        work.sample.ended.connect(lambda: self.view.show_saying(False))
        work.told.connect(self._told)
        desk.arranged.connect(self._follow)
        desk.replaced.connect(self._follow)

    def show_view(self) -> None:
        """The names; the page again, if they are shown already."""
        if self._views.lay(self.view):
            self._names = None
            self._show()
            book = self._desk.book
            self._background.do("names said", lambda: Examiner().names(book), self._found)
            self.view.begin()

    def _found(self, names: Counter[str]) -> None:
        self._names = names
        self._show()

    def _follow(self) -> None:
        if self.view.isVisible():
            self._show()

    def _show(self) -> None:
        sheet = self._desk.book.style_sheet
        said = dictionary(sheet)
        self.view.show_said(sheet.said_as)
        if self._names is None:
            self.view.show_names(None)
            return
        # Those that the style sheet has among its words came first: they are the book's own.
        own = sorted(word for word in sheet.words if word[:1].isupper())
        found = [*own, *(name for name, _ in self._names.most_common())]
        known = (name for name in dict.fromkeys(found) if name.lower() not in said)
        self.view.show_names([name for name in known if " " not in name][:_MOST_NAMES])

    def _try(self, word: str, said: str) -> None:
        book = self._desk.book
        try:
            tried = with_said(book, word, said)
        except WriterError as error:
            self.view.say(str(error))
            return
        sentence = sentence_with(book, word)
        self.view.say(f"“{sentence}”")
        pace = self._work.choices.pace
        self._work.sample.say(sentence, None, dictionary(tried.style_sheet), pace)

    def _keep(self, word: str, said: str) -> None:
        try:
            with_said(self._desk.book, word, said)
        except WriterError as error:
            self.view.say(str(error))
            return
        if self._desk.perform("How a name is said", lambda book: with_said(book, word, said)):
            if said:
                self.view.show_kept(word)
            else:
                self.view.say(f"The voice says “{word}” its own way.")

    def _told(self, sentence: str) -> None:
        if self.view.isVisible():
            self.view.say(sentence)
