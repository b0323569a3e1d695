"""The files of the Structure stage: a plan that comes in, the drawing of the book that goes out."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from PySide6.QtWidgets import QFileDialog

from reglet.story.drawing_svg import Theme as DrawingTheme
from reglet.story.drawing_svg import document
from reglet.story.facts import StoryFacts
from reglet.story.plan import read_plan
from reglet.story.views import all_views
from reglet.window.book_view import BookView
from reglet.window.desk import Desk
from reglet.window.theme import LIGHT, Theme


class StoryFiles:
    """Asks the writer for them, reads and writes them."""

    def __init__(self, desk: Desk, view: BookView) -> None:
        self._desk, self._view = desk, view
        self.theme: Theme = LIGHT

    def choose_plan(self) -> None:
        """Let the writer choose the file of a plan, and bring it in."""
        name, _ = QFileDialog.getOpenFileName(
            self._view, "Bring in a plan", "", "Plain text or Markdown (*.md *.txt)"
        )
        if name:
            self.bring_in_plan(Path(name))

    def bring_in_plan(self, source: Path) -> None:
        """Set the plan of the book from a file."""
        try:
            planned = read_plan(source.read_text(encoding="utf-8-sig"))
        except (OSError, UnicodeDecodeError):
            self._desk.refused.emit(
                f"“{source.name}” could not be read as text. The plan was not changed."
            )
            return
        if not planned:
            self._desk.refused.emit(f"No planned scene was found in “{source.name}”.")
            return
        self._desk.perform("Bring in a plan", lambda book: replace(book, plan=planned))

    def choose_drawing(self, facts: StoryFacts | None) -> None:
        """Let the writer choose where the drawing of the book goes, and write it."""
        name, kind = QFileDialog.getSaveFileName(
            self._view, "The book as a drawing", "book.svg", "SVG (*.svg);;PNG (*.png)"
        )
        if name:
            wanted = ".png" if "png" in kind else ".svg"
            path = Path(name)
            self.write_drawing(path if path.suffix else path.with_suffix(wanted), facts)

    def write_drawing(self, path: Path, facts: StoryFacts | None) -> None:
        """Write the drawing as SVG, or as PNG where the name ends so."""
        if facts is None:
            self._desk.refused.emit("The book is still being read. Try again in a moment.")
            return
        if path.suffix.lower() == ".png":
            done = self._view.picture().save(str(path))
        else:
            try:
                path.write_text(self._svg(facts), encoding="utf-8")
                done = True
            except OSError:
                done = False
        self._desk.refused.emit(
            f"Written: {path.name}" if done else f"“{path}” could not be written."
        )

    def _svg(self, facts: StoryFacts) -> str:
        theme = self.theme
        colours = DrawingTheme(
            theme.paper, theme.ink, theme.quiet, theme.line, theme.bar, theme.graphite
        )
        return document(all_views(facts), colours)
