"""A .docx as an archive: where its document is, and what that refers to inside the file."""

from __future__ import annotations

import posixpath
import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from typing import IO

from reglet.errors import DraftError
from reglet.exchange.safety import Archive, locked, unpacked

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


class DocxFile(Archive):
    """An open .docx. Raises DraftError where it is none."""

    def __init__(self, archive: zipfile.ZipFile, name: str) -> None:
        super().__init__(archive, name)
        relations = self.relations("")
        documents = [each.target for each in relations.values() if each.kind.endswith(_DOCUMENT)]
        if not documents or not self.has(documents[0]):
            raise DraftError(
                f"“{name}” is an archive, but not a word-processor document (.docx). Nothing was "
                "changed. Open it in the program that made it and save it as .docx."
            )
        self.document = documents[0]

    @contextmanager
    def stream(self, member: str) -> Iterator[IO[bytes]]:
        """A member's bytes, in the namespaces of Transitional whichever it is written in."""
        with super().stream(member) as body:
            start = body.peek(4096)[:4096]  # type: ignore[attr-defined]
            if b"purl.oclc.org/ooxml" in start:
                yield BytesIO(_transitional(body.read()))
            else:
                yield body

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


@contextmanager
def open_docx(path: Path) -> Iterator[DocxFile]:
    """A .docx opened for reading its text. Raises DraftError, with a sentence for each cause."""
    with path.open("rb") as file:
        if file.read(len(_OLE)) == _OLE:
            raise _old_or_locked(path)
    with unpacked(path, ".docx") as archive:
        yield DocxFile(archive, path.name)


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
