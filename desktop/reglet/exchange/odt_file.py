"""An .odt as an archive, and what it holds beside its text: styles, running heads, facts.

Source: OASIS OpenDocument 1.3, part 2 (packages) and part 3 (elements).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

from lxml import etree

from reglet.errors import DraftError
from reglet.exchange.beside import Beside
from reglet.exchange.odt_styles import DC, META, OFFICE, STYLE, TEXT, Styles
from reglet.exchange.safety import Archive, locked, unpacked
from reglet.exchange.signs import sign_of

CONTENT = "content.xml"
_MANIFEST, _KIND = "META-INF/manifest.xml", "mimetype"
_TEXTS = b"application/vnd.oasis.opendocument.text"
_MOST_OF_A_MANIFEST = 1_000_000
_MACROS = ("Basic/", "Scripts/")

P, H, S, TAB, LINE = (TEXT + name for name in ("p", "h", "s", "tab", "line-break"))
ANNOTATION, NOTE = OFFICE + "annotation", TEXT + "note"
UNSAID = frozenset(
    {ANNOTATION, NOTE, TEXT + "ruby-text", TEXT + "script", TEXT + "tracked-changes"}
    | {f"{OFFICE}{name}" for name in ("binary-data", "event-listeners", "forms")}
)
"""Elements whose words are not those of the text that they stand in."""
SPACES = re.compile("[ \t\r\n]+")
"""White space that counts as one space (6.1.2); a no-break space is none."""


@contextmanager
def open_odt(path: Path) -> Iterator[Archive]:
    """An .odt opened for reading its text. Raises DraftError, with a sentence for each cause."""
    with unpacked(path, ".odt") as archive:
        file = Archive(archive, path.name)
        if b"encryption-data" in file.begins(_MANIFEST, _MOST_OF_A_MANIFEST):
            raise locked(path.name)
        kind = file.begins(_KIND, len(_TEXTS)) or _TEXTS
        if not file.has(CONTENT) or kind != _TEXTS:
            raise DraftError(
                f"“{path.name}” is an archive, but not a word-processor document (.odt). Nothing "
                "was changed. Open it in the program that made it and save it as .odt."
            )
        yield file


def beside(file: Archive) -> tuple[Styles, Beside]:
    """The named styles of a document, and what else stands beside its text."""
    styles, running = Styles(), []
    root = file.xml("styles.xml")
    for each in root if root is not None else ():
        if each.tag == OFFICE + "styles":
            styles.add(each)
        elif each.tag == OFFICE + "master-styles":
            running += list(_running(each))
    found = _facts(file.xml("meta.xml"))
    return styles, replace(
        found,
        language=styles.usual.language or "",
        running=tuple(dict.fromkeys(running)),
        macros=any(name.startswith(_MACROS) for name in file.members),
        signed=any(map(sign_of, styles.names)),
    )


def plain_text(element: etree._Element) -> str:
    """The words inside an element, its paragraphs parted by line ends."""
    lines = (_words(each) for each in element.iter(P, H))
    return "\n".join(SPACES.sub(" ", line).strip(" ") for line in lines)


def said(element: etree._Element, name: str) -> str:
    """What the element of this name, or at this path, inside says; nothing where there is none."""
    return (element.findtext(name) or "").strip()


def _words(element: etree._Element) -> str:
    pieces = [element.text or ""]
    for each in element:
        if each.tag in (S, TAB, LINE):
            pieces.append(" ")
        elif isinstance(each.tag, str) and each.tag not in (*UNSAID, P, H):
            pieces.append(_words(each))
        pieces.append(each.tail or "")
    return "".join(pieces)


def _running(masters: etree._Element) -> Iterator[tuple[str, str]]:
    for page in masters.iter(STYLE + "master-page"):
        for each in page:
            kind = etree.QName(each).localname.partition("-")[0]
            words = " ".join(plain_text(each).split())
            if kind in ("header", "footer") and words:
                yield kind, words


def _facts(root: etree._Element | None) -> Beside:
    facts = root.find(OFFICE + "meta") if root is not None else None
    if facts is None:
        return Beside()
    author = said(facts, META + "initial-creator") or said(facts, DC + "creator")
    return Beside(said(facts, DC + "title"), author)
