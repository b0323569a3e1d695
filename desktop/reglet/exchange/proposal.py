"""A draft as Reglet proposes to divide it, for the writer to look at and put right.

Every paragraph of the draft keeps its place here whatever is decided about it, so no correction
can lose a word. A place is the number of a paragraph, from 0.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from enum import StrEnum
from functools import cached_property

from reglet.errors import CannotArrange
from reglet.exchange.draft import DraftNote, DraftParagraph, Finding
from reglet.manuscript.anchored import Note
from reglet.manuscript.book import Book, Chapter, Part, StyleSheet, fresh_id
from reglet.manuscript.paragraph import LINE_BREAK, Paragraph, scene_break
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.manuscript.words import count_words


class Kind(StrEnum):
    """What can begin at a paragraph. `FRONT` and `BACK` are pieces of front and back matter."""

    FRONT = "front"
    PART = "part"
    CHAPTER = "chapter"
    SCENE = "scene"
    BACK = "back"


class Use(StrEnum):
    """What becomes of a paragraph: text of its scene; a title, or its next line; a break mark,
    which is printed between scenes and inside them; or left out, being made anew by Reglet.
    """

    TEXT = "text"
    TITLE = "title"
    MARK = "mark"
    LEFT_OUT = "left_out"


@dataclass(frozen=True, slots=True)
class Role:
    """What begins at a paragraph, if anything, and what becomes of it.

    `title` is what the writer wants the thing that begins here to be called instead.
    """

    opens: Kind | None = None
    use: Use = Use.TEXT
    title: str | None = None


@dataclass(frozen=True, slots=True)
class Division:
    """One line of the proposal as it is shown: what begins at paragraph `at`, up to the next.

    `words` counts its text without the title; a part has none of its own. `begins` is the first
    few words of its text.
    """

    at: int
    kind: Kind
    title: str
    words: int
    begins: str


TEXT = Role()


@dataclass(frozen=True)
class Proposal:
    """A draft's paragraphs with a role for each, and what was found while reading it."""

    paragraphs: tuple[DraftParagraph, ...]
    roles: tuple[Role, ...]
    report: tuple[Finding, ...] = ()
    notes: tuple[DraftNote, ...] = ()
    title: str = ""
    author: str = ""
    language: str = "en-US"

    @cached_property
    def divisions(self) -> tuple[Division, ...]:
        """The parts, chapters, scenes and pieces of front and back matter, in order.

        The first scene of a chapter that begins with its title has no line of its own.
        """
        starts = [at for at, role in enumerate(self.roles) if role.opens]
        lines = []
        for at, end in zip(starts, [*starts[1:], len(self.roles)], strict=True):
            kind = self.roles[at].opens
            assert kind is not None
            texts = [self.paragraphs[i].text for i in self._texts(at, end)]
            begins = " ".join(" ".join(texts[:3]).split()[:8])
            words = sum(map(count_words, texts))
            lines.append(Division(at, kind, self._title(at, end), words, begins))
        return tuple(lines)

    def where(self, finding: Finding) -> str:
        """The place of a finding in words: its chapter and the text that stands there."""
        if finding.at is None or not self.paragraphs:
            return ""
        at = min(finding.at, len(self.paragraphs) - 1)
        chapter = next(
            (
                line.title.replace(LINE_BREAK, " ")
                for line in reversed(self.divisions)
                if line.at <= at and line.kind is not Kind.SCENE and line.title
            ),
            "",
        )
        near = " ".join(self.paragraphs[at].text.split()[:8])
        place = f"near “{near}…”" if near else f"at paragraph {at + 1}"
        return f"in “{chapter}”, {place}" if chapter else place

    def join(self, at: int) -> Proposal:
        """What begins at `at` joined to what stands before it: a title becomes text again, a mark
        between scenes a break inside one. Raises CannotArrange where nothing begins.
        """
        self._opening(at)
        roles = list(self.roles)
        for place in self._heading(at):
            roles[place] = TEXT
        if roles[at].use is Use.MARK:
            roles[at] = Role(use=Use.MARK)
        else:
            roles[at] = TEXT
        return self._with(roles)

    def split(self, at: int, kind: Kind = Kind.SCENE) -> Proposal:
        """A new scene (or chapter, and so on, without a title) begun with the text at `at`.

        Raises CannotArrange where something begins already.
        """
        if self._role(at).opens:
            raise CannotArrange("Something begins here already. Change its kind instead.")
        roles = list(self.roles)
        use = Use.MARK if roles[at].use is Use.MARK else Use.TEXT
        roles[at] = Role(kind, use)
        return self._with(roles)

    def head(self, at: int, kind: Kind) -> Proposal:
        """The paragraph at `at` taken for the title of a part, a chapter, or a piece of front or
        back matter that begins there. Raises CannotArrange for a scene: it has no printed title.
        """
        if kind is Kind.SCENE:
            raise CannotArrange("A scene has no printed title. Begin a scene here, then rename it.")
        self._role(at)
        roles = list(self.roles)
        roles[at] = Role(kind, Use.TITLE)
        return self._with(roles)

    def change_kind(self, at: int, kind: Kind) -> Proposal:
        """What begins at `at` made a part, chapter, scene, or front or back matter. A title that
        becomes a scene's is text again. Raises CannotArrange where nothing begins.
        """
        role = self._opening(at)
        roles = list(self.roles)
        if kind is Kind.SCENE and role.use is Use.TITLE:
            for place in self._heading(at):
                roles[place] = TEXT
            roles[at] = Role(kind)
        else:
            roles[at] = replace(role, opens=kind)
        return self._with(roles)

    def rename(self, at: int, title: str) -> Proposal:
        """What begins at `at` called `title`. Raises CannotArrange where nothing begins."""
        roles = list(self.roles)
        roles[at] = replace(self._opening(at), title=title)
        return self._with(roles)

    def leave_out(self, at: int) -> Proposal:
        """The paragraph at `at` not brought in, where nothing begins: an old title page's line.

        Raises CannotArrange where something begins.
        """
        if self._role(at).opens:
            raise CannotArrange("Join what begins here to what stands before it first.")
        roles = list(self.roles)
        roles[at] = Role(use=Use.LEFT_OUT)
        return self._with(roles)

    def book(self, title: str | None = None, author: str | None = None) -> Book:
        """The book as proposed. `title` and `author` are the draft's own unless given."""
        return _Builder(self).book(
            self.title if title is None else title, self.author if author is None else author
        )

    def _with(self, roles: list[Role]) -> Proposal:
        return replace(self, roles=tuple(roles))

    def _role(self, at: int) -> Role:
        if not 0 <= at < len(self.roles):
            raise CannotArrange("The draft has no such paragraph.")
        return self.roles[at]

    def _opening(self, at: int) -> Role:
        role = self._role(at)
        if not role.opens:
            raise CannotArrange("Nothing begins at this paragraph.")
        return role

    def _heading(self, at: int) -> Iterator[int]:
        """The paragraphs that make up the title of what begins at `at`."""
        if self.roles[at].use is not Use.TITLE:
            return
        yield at
        for place in range(at + 1, len(self.roles)):
            if self.roles[place] != Role(use=Use.TITLE):
                return
            yield place

    def _texts(self, at: int, end: int) -> Iterator[int]:
        return (i for i in range(at, end) if self.roles[i].use is Use.TEXT)

    def _title(self, at: int, end: int) -> str:
        given = self.roles[at].title
        if given is not None:
            return given
        lines = [self.paragraphs[i].text for i in self._heading(at) if i < end]
        return LINE_BREAK.join(lines)


@dataclass
class _Builder:
    """Goes through a proposal once and puts the book together."""

    proposal: Proposal
    front: list[Scene] = field(default_factory=list)
    parts: list[Part] = field(default_factory=list)
    back: list[Scene] = field(default_factory=list)
    places: dict[int, tuple[str, int]] = field(default_factory=dict)
    """For each paragraph of the draft, its scene and its start there."""

    def book(self, title: str, author: str) -> Book:
        proposal = self.proposal
        starts = [at for at, role in enumerate(proposal.roles) if role.opens]
        if not starts or starts[0] > 0:
            starts.insert(0, 0)
        for at, end in zip(starts, [*starts[1:], len(proposal.roles)], strict=True):
            self._open(at, end)
        book = Book(
            title,
            author,
            tuple(self.parts),
            tuple(self.front),
            tuple(self.back),
            style_sheet=StyleSheet(language=proposal.language),
        )
        return self._with_notes(book)

    def _open(self, at: int, end: int) -> None:
        role, title = self.proposal.roles[at], self.proposal._title(at, end)
        if role.opens in (Kind.FRONT, Kind.BACK):
            pieces = self.front if role.opens is Kind.FRONT else self.back
            pieces.append(self._scene(at, end, title))
        elif role.opens is Kind.PART:
            self.parts.append(Part(fresh_id("part"), title))
            if any(self._kept(at, end)):
                self._add_chapter(Chapter(fresh_id("chapter")))
                self._add_scene(self._scene(at, end))
        elif role.opens is Kind.CHAPTER:
            self._add_chapter(Chapter(fresh_id("chapter"), title))
            if any(self._kept(at, end)):
                self._add_scene(self._scene(at, end))
        elif role.opens is Kind.SCENE or any(self._kept(at, end)):
            self._add_scene(self._scene(at, end, title if role.use is not Use.TITLE else ""))

    def _kept(self, at: int, end: int) -> Iterator[bool]:
        return (bool(self._as_text(i)) for i in range(at, end))

    def _as_text(self, at: int) -> Paragraph | None:
        role = self.proposal.roles[at]
        if role.use is Use.TEXT:
            return self.proposal.paragraphs[at].paragraph
        if role.use is Use.MARK and role.opens is None:
            return scene_break()
        return None

    def _scene(self, at: int, end: int, title: str = "") -> Scene:
        scene_id = fresh_id("scene")
        paragraphs = []
        offset = 0
        for place in range(at, end):
            self.places[place] = (scene_id, offset)
            paragraph = self._as_text(place)
            if paragraph is not None:
                paragraphs.append(paragraph)
                offset += len(paragraph.text) + 1
        return Scene(scene_id, title, Passage.of(paragraphs))

    def _add_chapter(self, chapter: Chapter) -> None:
        if not self.parts:
            self.parts.append(Part(fresh_id("part")))
        part = self.parts[-1]
        self.parts[-1] = replace(part, chapters=(*part.chapters, chapter))

    def _add_scene(self, scene: Scene) -> None:
        if not self.parts or not self.parts[-1].chapters:
            self._add_chapter(Chapter(fresh_id("chapter")))
        part = self.parts[-1]
        chapter = part.chapters[-1]
        chapter = replace(chapter, scenes=(*chapter.scenes, scene))
        self.parts[-1] = replace(part, chapters=(*part.chapters[:-1], chapter))

    @cached_property
    def _order(self) -> list[int]:
        return sorted(self.places)

    def _with_notes(self, book: Book) -> Book:
        found: dict[str, list[Note]] = {}
        for note in self.proposal.notes:
            placed = self._placed(book, note)
            if placed:
                found.setdefault(placed[0], []).append(placed[1])
        for scene_id, notes in found.items():
            notes.sort(key=lambda note: (note.start, note.end))
            book = book.with_scene(replace(book.scene(scene_id), notes=tuple(notes)))
        return book

    def _placed(self, book: Book, note: DraftNote) -> tuple[str, Note] | None:
        """A note in the scene it belongs to, or, made on a title, at the start of the next."""
        if not self.places:
            return None
        order = self._order
        first = order[min(bisect_left(order, note.first), len(order) - 1)]
        scene_id, base = self.places[first]
        length = len(book.scene(scene_id).passage)
        start = base + note.start if first == note.first and self._as_text(first) else base
        last_scene, last_base = self.places.get(note.last, ("", 0))
        if last_scene != scene_id:
            end = start if first != note.first else length
        else:
            end = last_base + note.end if self._as_text(note.last) else last_base
        start = min(start, length)
        end = max(start, min(end, length))
        words = note.words
        return scene_id, Note(
            fresh_id("note"), start, end, words, note.text, note.made, note.author, note.kind
        )
