"""Sending out: the manuscript as a file, and where it went."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from reglet.numbers import counted
from reglet.window.controls import Act
from reglet.window.lettering import Caption, Hairline, Lines, dress_all
from reglet.window.theme import GRID, Theme

_KINDS = (
    (
        ".docx",
        "Manuscript",
        "For an editor, an agent or a publisher: a .docx in standard manuscript format, as is "
        "common practice: 12 point, double spaced, one-inch margins, your name, the title and the "
        "page at the head, # between scenes.",
    ),
    (
        ".epub",
        "E-book",
        "For readers and shops: an .epub, in which each reader chooses the face and its size, with "
        "the cover, if “The book and its style sheet” has one.",
    ),
    (
        ".pdf",
        "Pages to print",
        "For a printer: a .pdf of the pages that Line measures, at the trim chosen there, with its "
        "faces.",
    ),
    (
        ".md",
        "Markdown",
        "For anything else: the words with their emphasis in a text file that any program reads.",
    ),
)
_SOUND = (
    "For the ear: one sound file a chapter, read by the voice of Listening, with a list of what is "
    "heard when."
)
_BACK = (
    "A copy comes back from an editor or a reader: its comments, and what was changed in it, "
    "become notes where their words stand. Your text stays as it is."
)


class SendOutRoom(QWidget):
    """Offers the files that can be made of the book, and takes copies back in."""

    wanted = Signal(str)
    """The ending of the file that is to be written, such as ".docx"."""
    sound_wanted = Signal()
    """The book is to be written as sound files."""
    back_wanted = Signal()
    """A copy with somebody's remarks is to be taken back in."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._caption = Caption("Send out")
        self._told = Lines()
        self._written = QVBoxLayout()
        self._written.setSpacing(GRID // 2)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(GRID)
        layout.addWidget(self._caption)
        layout.addWidget(self._told)
        self._written_caption = Caption("Written")
        self._written_caption.hide()
        layout.addWidget(self._written_caption)
        self._writing = Lines(quiet=True)
        self._writing.hide()
        layout.addWidget(self._writing)
        layout.addLayout(self._written)
        ways_out = [(told, self._way_out(ending, name)) for ending, name, told in _KINDS]
        back, sound = Act("Take a copy back in …"), Act("As sound files …")
        back.clicked.connect(self.back_wanted)
        sound.clicked.connect(self.sound_wanted)
        self._taken_back = Lines()
        self._taken_back.hide()
        # What comes back stands beside what it answers, to be seen without scrolling.
        for told, act in (ways_out[0], (_BACK, back), *ways_out[1:], (_SOUND, sound)):
            layout.addSpacing(GRID)
            layout.addWidget(Hairline())
            layout.addWidget(Lines(told, quiet=True, scale=0.93))
            layout.addWidget(act)
            act.setAccessibleDescription(told)
            if act is back:
                layout.addWidget(self._taken_back)
        layout.addSpacing(2 * GRID)
        layout.addWidget(
            Lines(
                "What you send is a copy. The book stays in its own file with its whole history; "
                "keep a second copy of that file on another disk.",
                quiet=True,
            )
        )
        layout.addStretch(1)
        self._theme: Theme | None = None

    def _way_out(self, ending: str, name: str) -> Act:
        act = Act(f"{name}, {ending}", chief=ending == ".docx")
        act.clicked.connect(lambda: self.wanted.emit(ending))
        return act

    def dress(self, theme: Theme) -> None:
        """Put on the theme."""
        self._theme = theme
        dress_all(self, theme)

    def show_book(self, words: int, open_notes: int, unpassed: int) -> None:
        """Show what is going out: its words, notes still open, scenes not passed by every stage."""
        left = []
        if open_notes:
            left.append(f"{open_notes:,} {'note is' if open_notes == 1 else 'notes are'} open")
        if unpassed:
            scenes = "scene has" if unpassed == 1 else "scenes have"
            left.append(f"{unpassed:,} {scenes} not passed every stage")
        said = f"{counted(words, 'word')}."
        self._told.setText(f"{said} Still to do: {', '.join(left)}." if left else said)

    def show_writing(self, name: str) -> None:
        """Show that a file is being written; "" for none."""
        self._writing.setText(f"Writing {name} …" if name else "")
        self._writing.setVisible(bool(name))

    def show_taken_back(self, said: str) -> None:
        """Tell what came of a copy that was taken back in."""
        self._taken_back.setText(said)
        self._taken_back.show()

    def show_written(self, path: Path, missing: str = "") -> None:
        """Show that a file was written, above those written before; `missing` are letters that its
        face does not have.
        """
        said = f"{path.name}, {path.stat().st_size / 1000:,.0f} kB, in {path.parent}"
        if missing:
            said += f". No face here has “{missing}”; empty boxes are printed in their place."
        label = Lines(said)
        label.setToolTip(str(path))
        if self._theme is not None:
            label.dress(self._theme)
        self._written_caption.show()
        self._written.insertWidget(0, label)
