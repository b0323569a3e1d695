"""Opening a .docx that may be anything: damaged, locked, or made to do harm.

Only the few members that hold text are ever inflated, each as a stream and never past a limit. No
relationship that points outside the file is followed, no macro or embedded object is opened, and
XML that declares a document type or entities is refused (defusedxml names the attacks).
"""

from __future__ import annotations

import posixpath
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from typing import IO
from xml.etree.ElementTree import ParseError

from defusedxml import DefusedXmlException
from defusedxml.ElementTree import iterparse
from lxml import etree

from reglet.errors import DraftError

MOST_MEMBERS = 20_000
MOST_BYTES_OF_A_MEMBER = 600_000_000
"""A draft of five million words, with all its mark-up, stays well below this."""
MOST_BYTES = 4_000_000_000
STEEPEST = 300
"""Text and its mark-up deflate to a tenth or a fiftieth; a bomb to a thousandth."""
STEEP_MATTERS_FROM = 50_000_000

_OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_DOCUMENT = "/officeDocument"
_STRICT = {
    b"http://purl.oclc.org/ooxml/wordprocessingml/main": (
        b"http://schemas.openxmlformats.org/wordprocessingml/2006/main"
    ),
    b"http://purl.oclc.org/ooxml/officeDocument/relationships": (
        b"http://schemas.openxmlformats.org/officeDocument/2006/relationships"
    ),
}
"""The namespaces of ISO/IEC 29500 Strict, and the Transitional ones that say the same."""


@dataclass(frozen=True)
class Relation:
    """What a member of the file refers to: another member, by its name."""

    kind: str
    target: str


class DocxFile:
    """An open .docx, its members read one at a time. Raises DraftError where it is not sound."""

    def __init__(self, archive: zipfile.ZipFile, name: str) -> None:
        self._archive = archive
        self._name = name
        self._infos = {info.filename: info for info in archive.infolist()}
        self._check_sizes()
        relations = self.relations("")
        documents = [each.target for each in relations.values() if each.kind.endswith(_DOCUMENT)]
        if not documents or documents[0] not in self._infos:
            raise DraftError(
                f"“{name}” is an archive, but not a word-processor document (.docx). Nothing was "
                "changed. Open it in the program that made it and save it as .docx."
            )
        self.document = documents[0]

    def has(self, member: str) -> bool:
        """Whether the file holds a member of this name."""
        return member in self._infos

    def size(self, member: str) -> int:
        """How many bytes a member unpacks to, as the archive declares it."""
        return self._infos[member].file_size

    @contextmanager
    def stream(self, member: str) -> Iterator[IO[bytes]]:
        """A member's bytes, after a look at how its XML begins."""
        try:
            with self._archive.open(self._infos[member]) as head:
                next(iter(iterparse(head, events=("start",), forbid_dtd=True)), None)
            with self._archive.open(self._infos[member]) as body:
                start = body.peek(4096)[:4096]  # type: ignore[attr-defined]
                if b"purl.oclc.org/ooxml" in start:
                    yield BytesIO(_transitional(body.read()))
                else:
                    yield body
        except DefusedXmlException:
            raise DraftError(
                f"“{self._name}” declares XML entities, which no word processor writes and which "
                "can do harm. It was not opened, and nothing was changed."
            ) from None
        except (zipfile.BadZipFile, zlib.error, EOFError, etree.XMLSyntaxError, ParseError):
            raise damaged(self._name) from None
        except (NotImplementedError, RuntimeError):
            raise locked(self._name) from None

    def xml(self, member: str) -> etree._Element | None:
        """A small member parsed whole; None where the file has none of this name."""
        if member not in self._infos:
            return None
        with self.stream(member) as stream:
            return etree.parse(stream, parser()).getroot()

    def relations(self, member: str) -> dict[str, Relation]:
        """What a member refers to inside the file, by relationship id; nothing outside it."""
        folder, base = posixpath.split(member)
        root = self.xml(posixpath.join(folder, "_rels", f"{base}.rels"))
        found = {}
        for each in root if root is not None else ():
            if not isinstance(each.tag, str) or each.get("TargetMode") == "External":
                continue
            target = posixpath.join("/", folder, each.get("Target", ""))
            name = posixpath.normpath(target).lstrip("/")
            found[each.get("Id", "")] = Relation(each.get("Type", ""), name)
        return found

    def _check_sizes(self) -> None:
        infos = self._infos.values()
        steep = any(
            info.file_size > STEEP_MATTERS_FROM
            and info.file_size > STEEPEST * max(info.compress_size, 1)
            for info in infos
        )
        if (
            steep
            or len(infos) > MOST_MEMBERS
            or sum(info.file_size for info in infos) > MOST_BYTES
            or any(
                info.file_size > MOST_BYTES_OF_A_MEMBER
                for info in infos
                if info.filename.endswith((".xml", ".rels"))
            )
        ):
            raise DraftError(
                f"“{self._name}” would unpack to far more than a manuscript holds, as a file made "
                "to fill a machine's memory does. It was not opened, and nothing was changed."
            )


@contextmanager
def open_docx(path: Path) -> Iterator[DocxFile]:
    """A .docx opened for reading its text. Raises DraftError, with a sentence for each cause."""
    with path.open("rb") as file:
        start = file.read(8)
        if not start:
            raise DraftError(f"“{path.name}” is empty: there is no draft in it to bring in.")
        if start == _OLE:
            raise _old_or_locked(path)
        if start[:2] != b"PK":
            raise DraftError(
                f"“{path.name}” is not a .docx, whatever its name says. Nothing was changed. Open "
                "it in the program that made it and save it as .docx, or as plain text (.txt)."
            )
        try:
            archive = zipfile.ZipFile(file)
        except (zipfile.BadZipFile, EOFError, OSError, ValueError):
            raise damaged(path.name) from None
        with archive:
            yield DocxFile(archive, path.name)


def parser() -> etree.XMLParser:
    """An XML parser that expands no entity, loads no document type and opens no connection."""
    return etree.XMLParser(
        resolve_entities=False, load_dtd=False, no_network=True, huge_tree=True, remove_pis=True
    )


def damaged(name: str) -> DraftError:
    """What to say of a file that breaks off or does not hold together."""
    return DraftError(
        f"“{name}” is damaged or was cut short: it cannot be read to its end. Nothing was changed. "
        "Open it in your word processor, which may repair it, save it anew, and bring that in."
    )


def locked(name: str) -> DraftError:
    """What to say of a file that needs a password."""
    return DraftError(
        f"“{name}” is locked with a password. Nothing was changed. Open it in your word processor, "
        "take the password off, save it, and bring that in."
    )


def _old_or_locked(path: Path) -> DraftError:
    """Compound files hold either a locked .docx or the .doc of earlier word processors."""
    if "EncryptedPackage".encode("utf-16-le") in path.read_bytes():
        return locked(path.name)
    return DraftError(
        f"“{path.name}” is in the older .doc format. Nothing was changed. Open it in your word "
        "processor, save it as .docx, and bring that in."
    )


def _transitional(xml: bytes) -> bytes:
    for strict, transitional in _STRICT.items():
        xml = xml.replace(strict, transitional)
    return xml
