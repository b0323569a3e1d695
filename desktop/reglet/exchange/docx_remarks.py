"""What hangs on the text of a .docx without being part of it: comments, footnotes, tracked changes.

A place is the number of a paragraph and a code point in it.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from lxml import etree

from reglet.exchange.docx_parts import Parts, time_of
from reglet.exchange.docx_styles import NS
from reglet.exchange.draft import DraftNote, DraftParagraph, Finding

Place = tuple[int, int]


class Remarks:
    """Collects notes and findings in the order of the text."""

    def __init__(self, parts: Parts) -> None:
        self._parts = parts
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

    def comment_begins(self, element: etree._Element, place: Place) -> None:
        """A w:commentRangeStart."""
        self._began[element.get(NS + "id", "")] = place

    def comment_ends(self, element: etree._Element, place: Place) -> None:
        """A w:commentRangeEnd."""
        self._ended[element.get(NS + "id", "")] = place

    def comment_stands(self, element: etree._Element, place: Place) -> None:
        """A w:commentReference, which is all there is of a comment on no words."""
        comment_id = element.get(NS + "id", "")
        self._began.setdefault(comment_id, place)
        self._ended.setdefault(comment_id, place)

    def aside(self, element: etree._Element, place: Place) -> None:
        """A reference to a footnote or endnote."""
        foot = element.tag == NS + "footnoteReference"
        store = self._parts.footnotes if foot else self._parts.endnotes
        kind = "footnote" if foot else "endnote"
        article = "A" if foot else "An"
        self.tell(
            f"{article} {kind} stands here; its words are kept in a note on this place.", place[0]
        )
        self._note(place, kind, "", store.get(element.get(NS + "id", ""), ""))

    def hidden(self, text: str, place: Place) -> None:
        """Text that the word processor does not show."""
        self.tell("Hidden text stands here. It is kept in a note, not in the text.", place[0])
        self._note(place, "hidden", text, f"Hidden text in the draft: “{text}”")

    def inserted(self, place: Place) -> None:
        """A tracked insertion."""
        self._inserted += 1
        self._changed(place)

    def deleted(self, element: etree._Element | None, place: Place) -> None:
        """A tracked deletion: a w:del, or none for a paragraph end."""
        self._deleted += 1
        self._changed(place)
        if element is None:
            return
        words = "".join(each.text or "" for each in element.iter(NS + "delText", NS + "t"))
        if words.strip():
            self._note(
                place,
                "deletion",
                words,
                f"Deleted in the draft as a tracked change: “{words.strip()}”",
                time_of(element),
                element.get(NS + "author", ""),
            )

    def notes(self, paragraphs: Sequence[DraftParagraph]) -> list[DraftNote]:
        """All notes, given the text that they are on."""
        for comment_id, began in self._began.items():
            comment = self._parts.comments.get(comment_id)
            if comment is None:
                continue
            (first, start), (last, end) = began, self._ended.get(comment_id, began)
            texts = [each.text for each in paragraphs[first : last + 1]]
            if last < first + len(texts):
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


def _count(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"
