"""What hangs on a draft's text without being part of it: comments, footnotes, tracked changes.

A place is the number of a paragraph and a code point in it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from reglet.exchange.draft import DraftNote, DraftParagraph, Finding

Place = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Comment:
    """A reader's comment. `made` is None where the file gives no time."""

    text: str
    author: str
    made: datetime | None


class Remarks:
    """Collects notes and findings in the order of the text. `comments` are known by their ids; a
    reader that meets them on its way may put in more.
    """

    def __init__(self, comments: dict[str, Comment]) -> None:
        self.comments = comments
        self._notes: list[DraftNote] = []
        self._findings: list[Finding] = []
        self._told: set[str] = set()
        self._began: dict[str, Place] = {}
        self._ended: dict[str, Place] = {}
        self._inserted = self._deleted = 0
        self._first_change: int | None = None

    def tell(self, sentence: str, at: int, once: bool = False) -> None:
        """A finding about paragraph `at`; said a second time only if not `once`."""
        if not once or sentence not in self._told:
            self._told.add(sentence)
            self._findings.append(Finding(sentence, at))

    def comment_begins(self, comment_id: str, place: Place) -> None:
        """The words that a comment is on begin."""
        self._began[comment_id] = place

    def comment_ends(self, comment_id: str, place: Place) -> None:
        """They end."""
        self._ended[comment_id] = place

    def comment_stands(self, comment_id: str, place: Place) -> None:
        """The sign of a comment, which is all there is of one that is on no words."""
        self._began.setdefault(comment_id, place)
        self._ended.setdefault(comment_id, place)

    def aside(self, kind: str, text: str, place: Place) -> None:
        """A "footnote" or "endnote" is called here."""
        article = "A" if kind == "footnote" else "An"
        self.tell(
            f"{article} {kind} stands here; its words are kept in a note on this place.", place[0]
        )
        self._note(place, kind, "", text)

    def hidden(self, text: str, place: Place) -> None:
        """Text that the word processor does not show."""
        self.tell("Hidden text stands here. It is kept in a note, not in the text.", place[0])
        self._note(place, "hidden", text, f"Hidden text in the draft: “{text}”")

    def inserted(self, place: Place) -> None:
        """A tracked insertion."""
        self._inserted += 1
        self._changed(place)

    def deleted(
        self, place: Place, words: str = "", made: datetime | None = None, author: str = ""
    ) -> None:
        """A tracked deletion of `words`, or of a paragraph end alone."""
        self._deleted += 1
        self._changed(place)
        if words.strip():
            self._note(
                place,
                "deletion",
                words,
                f"Deleted in the draft as a tracked change: “{words.strip()}”",
                made,
                author,
            )

    def notes(self, paragraphs: Sequence[DraftParagraph]) -> list[DraftNote]:
        """All notes, given the text that they are on."""
        for comment_id, began in self._began.items():
            comment = self.comments.get(comment_id)
            if comment is None:
                continue
            (first, start), (last, end) = began, self._ended.get(comment_id, began)
            texts = [each.text for each in paragraphs[first : last + 1]]
            if last < first + len(texts):
                end = min(end, len(texts[-1]))
                texts[-1] = texts[-1][:end]
            if texts:
                texts[0] = texts[0][start:]
            made = comment.made or datetime.now().astimezone()
            words = "\n".join(texts)
            self._notes.append(
                DraftNote(
                    first, start, last, end, words, comment.text, made, comment.author, "comment"
                )
            )
        return self._notes

    def findings(self) -> list[Finding]:
        """All findings, with one on tracked changes."""
        if self._first_change is None:
            return self._findings
        inserted = _count(self._inserted, "insertion")
        deleted = _count(self._deleted, "deletion")
        tracked = Finding(
            f"The draft holds tracked changes: {inserted} taken in, {deleted} left out. Each "
            "deleted passage is kept in a note where it stood.",
            self._first_change,
        )
        return [*self._findings, tracked]

    def _changed(self, place: Place) -> None:
        if self._first_change is None:
            self._first_change = place[0]

    def _note(
        self,
        place: Place,
        kind: str,
        words: str,
        text: str,
        made: datetime | None = None,
        author: str = "",
    ) -> None:
        when = made or datetime.now().astimezone()
        self._notes.append(DraftNote(*place, *place, words, text, when, author, kind))


def moment(text: str | None) -> datetime | None:
    """When a comment or change was made, as ISO 8601 writes it; one without a zone counts as this
    machine's. None where nothing is said, or nonsense.
    """
    try:
        return datetime.fromisoformat(text or "").astimezone()
    except (ValueError, OverflowError):
        return None


def _count(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"
