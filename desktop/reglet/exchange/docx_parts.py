"""What stands beside the text of a .docx: its styles, comments, footnotes, headers, and facts."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from lxml import etree

from reglet.exchange.beside import Beside
from reglet.exchange.docx_file import DocxFile
from reglet.exchange.docx_styles import NS, Styles
from reglet.exchange.looks import RunLook
from reglet.exchange.remarks import Comment, moment
from reglet.exchange.signs import sign_of

_DC = "{http://purl.org/dc/elements/1.1/}"
_T, _TAB, _BR, _P = NS + "t", NS + "tab", NS + "br", NS + "p"
_ASIDE = {"header": "header", "footer": "footer"}


@dataclass(frozen=True)
class Parts:
    """All members that the text refers to, read. Footnotes and comments are by their ids."""

    styles: Styles
    comments: dict[str, Comment] = field(default_factory=dict)
    footnotes: dict[str, str] = field(default_factory=dict)
    endnotes: dict[str, str] = field(default_factory=dict)
    beside: Beside = field(default_factory=Beside)

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
        styles = Styles(first("styles"))
        return cls(
            styles,
            _comments(first("comments")),
            _asides(first("footnotes"), "footnote"),
            _asides(first("endnotes"), "endnote"),
            Beside(
                title,
                author,
                styles.paragraph(None).run.language or styles.defaults.language or "",
                tuple(dict.fromkeys(running)),
                macros="vbaProject" in members,
                signed=any(map(sign_of, styles.names)),
            ),
        )

    @property
    def usual(self) -> RunLook:
        """How the document sets the words of its usual paragraphs."""
        run = self.styles.paragraph(None).run
        return run if run.size else replace(run, size=self.styles.defaults.size)


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
            plain_text(each).strip(), each.get(NS + "author", ""), moment(each.get(NS + "date"))
        )
        for each in (root if root is not None else ())
        if each.tag == NS + "comment"
    }


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
