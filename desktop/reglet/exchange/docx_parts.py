"""What stands beside the text of a .docx: its styles, comments, footnotes, headers, and facts."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime

from lxml import etree

from reglet.exchange.docx_styles import NS, Styles
from reglet.exchange.draft import Finding
from reglet.exchange.safety import DocxFile
from reglet.exchange.signs import sign_of

_DC = "{http://purl.org/dc/elements/1.1/}"
_T, _TAB, _BR, _P = NS + "t", NS + "tab", NS + "br", NS + "p"
_ASIDE = {"header": "header", "footer": "footer"}


@dataclass(frozen=True, slots=True)
class Comment:
    """A reader's comment. `made` is None where the file gives no time."""

    text: str
    author: str
    made: datetime | None


@dataclass(frozen=True)
class Parts:
    """All members that the text refers to, read. Footnotes and comments are by their ids."""

    styles: Styles
    comments: dict[str, Comment] = field(default_factory=dict)
    footnotes: dict[str, str] = field(default_factory=dict)
    endnotes: dict[str, str] = field(default_factory=dict)
    running: tuple[tuple[str, str], ...] = ()
    title: str = ""
    author: str = ""
    macros: bool = False

    @classmethod
    def read(cls, file: DocxFile) -> Parts:
        """The parts of an open file. Raises DraftError for one that is not sound."""
        members: dict[str, list[str]] = {}
        for relation in file.relations(file.document).values():
            members.setdefault(relation.kind.rpartition("/")[2], []).append(relation.target)

        def first(kind: str) -> etree._Element | None:
            names = members.get(kind, [])
            return file.xml(names[0]) if names else None

        running = []
        for kind in _ASIDE:
            for name in members.get(kind, []):
                root = file.xml(name)
                text = plain_text(root) if root is not None else ""
                if text.strip():
                    running.append((kind, " ".join(text.split())))
        title, author = _facts(file)
        return cls(
            Styles(first("styles")),
            _comments(first("comments")),
            _asides(first("footnotes"), "footnote"),
            _asides(first("endnotes"), "endnote"),
            tuple(dict.fromkeys(running)),
            title,
            author,
            "vbaProject" in members,
        )

    @property
    def signed(self) -> bool:
        """Whether the document has the styles that Reglet gives a manuscript."""
        return any(map(sign_of, self.styles.names))

    @property
    def language(self) -> str:
        """The language that the document declares for its text, or nothing."""
        return self.styles.paragraph(None).run.language or self.styles.defaults.language or ""

    def findings(self) -> list[Finding]:
        """What stands beside the text and is not brought in, each named."""
        found = []
        for kind, text in self.running if not self.signed else ():
            found.append(
                Finding(
                    f"The {kind} “{text}” is left out: a manuscript from Reglet carries a running "
                    "head of its own."
                )
            )
        if self.macros:
            found.append(Finding("The draft holds macros. None was run, and none is kept."))
        return found


def plain_text(element: etree._Element) -> str:
    """The words inside an element, its paragraphs parted by line ends."""
    lines = []
    for paragraph in element.iter(_P):
        pieces = []
        for each in paragraph.iter(_T, _TAB, _BR):
            pieces.append(each.text or "" if each.tag == _T else " ")
        lines.append("".join(pieces))
    return "\n".join(lines)


def _comments(root: etree._Element | None) -> dict[str, Comment]:
    return {
        each.get(NS + "id", ""): Comment(
            plain_text(each).strip(), each.get(NS + "author", ""), time_of(each)
        )
        for each in (root if root is not None else ())
        if each.tag == NS + "comment"
    }


def time_of(element: etree._Element) -> datetime | None:
    """The w:date of a comment or tracked change. One without a zone counts as this machine's."""
    try:
        return datetime.fromisoformat(element.get(NS + "date", "")).astimezone()
    except (ValueError, OverflowError):
        return None


def _asides(root: etree._Element | None, kind: str) -> dict[str, str]:
    """Footnotes or endnotes by id, without those that only draw the line above them."""
    return {
        each.get(NS + "id", ""): plain_text(each).strip()
        for each in (root if root is not None else ())
        if each.tag == NS + kind and each.get(NS + "type") in (None, "normal")
    }


def _facts(file: DocxFile) -> tuple[str, str]:
    root = file.xml("docProps/core.xml")
    if root is None:
        return "", ""
    title, author = root.find(_DC + "title"), root.find(_DC + "creator")
    return (
        (title.text or "").strip() if title is not None else "",
        (author.text or "").strip() if author is not None else "",
    )
