"""Opening a word processor's file that may be anything: damaged, locked, or made to do harm.

Both .docx and .odt are ZIP archives of XML. Only the few members that hold text are ever inflated,
each as a stream and never past a limit. Nothing that stands outside the file is followed, no macro
or embedded object is opened, and XML that declares a document type or entities is refused
(defusedxml names the attacks).
"""

from __future__ import annotations

import zipfile
import zlib
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import IO
from xml.etree.ElementTree import ParseError

from defusedxml import DefusedXmlException
from defusedxml.ElementTree import iterparse
from lxml import etree

from reglet.errors import DraftError
from reglet.exchange.draft import Progress

MOST_MEMBERS = 20_000
MOST_BYTES_OF_A_MEMBER = 600_000_000
"""A draft of five million words, with all its mark-up, stays well below this."""
MOST_BYTES = 4_000_000_000
STEEPEST = 300
"""Text and its mark-up deflate to a tenth or a fiftieth; a bomb to a thousandth."""
STEEP_MATTERS_FROM = 50_000_000

_PROGRESS_EVERY = 400
_HARMLESS = {
    "resolve_entities": False,
    "load_dtd": False,
    "no_network": True,
    "huge_tree": True,
    "remove_pis": True,
}
"""For lxml: expand no entity, load no document type, open no connection."""


class Archive:
    """An open archive, its members read one at a time. Raises DraftError where it is not sound."""

    def __init__(self, archive: zipfile.ZipFile, name: str) -> None:
        self.name = name
        self._archive = archive
        self._infos = {info.filename: info for info in archive.infolist()}
        self._check_sizes()

    @property
    def members(self) -> Sequence[str]:
        """The names of all that the archive holds."""
        return list(self._infos)

    def has(self, member: str) -> bool:
        """Whether the file holds a member of this name."""
        return member in self._infos

    def begins(self, member: str, most: int) -> bytes:
        """The first bytes of a member, at most so many; none where there is no such member."""
        if not self.has(member):
            return b""
        with self._in_sentences(), self._archive.open(self._infos[member]) as held:
            return held.read(most)

    @contextmanager
    def stream(self, member: str) -> Iterator[IO[bytes]]:
        """A member's bytes, after a look at how its XML begins."""
        with self._in_sentences():
            with self._archive.open(self._infos[member]) as head:
                next(iter(iterparse(head, events=("start",), forbid_dtd=True)), None)
            with self._archive.open(self._infos[member]) as body:
                yield body

    def xml(self, member: str) -> etree._Element | None:
        """A small member parsed whole; None where the file has none of this name."""
        if not self.has(member):
            return None
        with self.stream(member) as stream:
            return etree.parse(stream, etree.XMLParser(**_HARMLESS)).getroot()

    def children(
        self,
        member: str,
        parents: Sequence[str],
        progress: Progress | None,
        tags: Sequence[str] | None = None,
    ) -> Iterator[etree._Element]:
        """The elements right inside `parents`, in order (of `tags` only, where they are given),
        each forgotten before the next is read, so that a long book takes little memory.
        """
        size = max(self._infos[member].file_size, 1)
        with self.stream(member) as stream:
            events = etree.iterparse(stream, tag=tags, **_HARMLESS)
            for count, (_, element) in enumerate(events):
                parent = element.getparent()
                if parent is None or parent.tag not in parents:
                    continue
                yield element
                element.clear()
                while (before := element.getprevious()) is not None:
                    parent.remove(before)
                if progress and not count % _PROGRESS_EVERY:
                    progress(min(1.0, stream.tell() / size))
        if progress:
            progress(1.0)

    @contextmanager
    def _in_sentences(self) -> Iterator[None]:
        """What goes wrong in reading said as a DraftError."""
        try:
            yield
        except DefusedXmlException:
            raise DraftError(
                f"“{self.name}” declares XML entities, which no word processor writes and which "
                "can do harm. It was not opened, and nothing was changed."
            ) from None
        except (zipfile.BadZipFile, zlib.error, EOFError, etree.XMLSyntaxError, ParseError):
            raise damaged(self.name) from None
        except (NotImplementedError, RuntimeError):
            raise locked(self.name) from None

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
                f"“{self.name}” would unpack to far more than a manuscript holds, as a file made "
                "to fill a machine's memory does. It was not opened, and nothing was changed."
            )


@contextmanager
def unpacked(path: Path, ending: str) -> Iterator[zipfile.ZipFile]:
    """The archive that a file with this ending (".docx") is. Raises DraftError where it is none."""
    with path.open("rb") as file:
        start = file.read(2)
        if not start:
            raise DraftError(f"“{path.name}” is empty: there is no draft in it to bring in.")
        if start != b"PK":
            raise DraftError(
                f"“{path.name}” is no {ending}, whatever its name says. Nothing was changed. "
                f"Open it in the program that made it and save it as {ending}, or as plain text "
                "(.txt)."
            )
        try:
            archive = zipfile.ZipFile(file)
        except (zipfile.BadZipFile, EOFError, OSError, ValueError):
            raise damaged(path.name) from None
        with archive:
            yield archive


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
