"""Six whole novels to try Reglet on, loaded from Debian's package r-cran-janeaustenr when needed.

The package is fetched with apt-get into a cache folder and unpacked there; nothing of it is kept in
this project. R itself is not needed: its file of objects is an index (`Rdata.rdx`, gzip) that gives
each object's offset and length in a second file (`Rdata.rdb`), where it lies as four bytes of
length and a zlib stream. PyPI's rdata reads the serialised objects.
"""

import gzip
import os
import re
import shutil
import subprocess
import tempfile
import zlib
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import pytest
import rdata

PACKAGE = "r-cran-janeaustenr"
KEYS = (
    "emma",
    "mansfieldpark",
    "northangerabbey",
    "persuasion",
    "prideprejudice",
    "sensesensibility",
)

_HEADING = re.compile(r"(?P<kind>volume|chapter) (?:[ivxlc]+|[0-9]+)", re.IGNORECASE)


@dataclass(frozen=True)
class Novel:
    """One novel as the package has it: lines of some 70 characters, blank between paragraphs."""

    key: str
    lines: tuple[str, ...]


@dataclass(frozen=True)
class Heading:
    """A heading of a volume or a chapter, and the paragraph of `paragraphs` that it is."""

    kind: str
    """`volume` or `chapter`."""
    text: str
    paragraph: int


@cache
def load(key: str) -> Novel:
    """The novel of that key, one of `KEYS`.

    Skips the test where there is no apt-get; fails it where the package cannot be fetched.
    """
    return Novel(key, tuple(str(line) for line in _read(_unpacked(), key)))


def paragraphs(lines: Sequence[str]) -> list[str]:
    """The paragraphs, each joined from its lines with single spaces."""
    found: list[list[str]] = [[]]
    for line in lines:
        if line.strip():
            found[-1].append(line.strip())
        elif found[-1]:
            found.append([])
    return [" ".join(each) for each in found if each]


def headings(lines: Sequence[str]) -> list[Heading]:
    """The headings of volumes and chapters, in order; each is a paragraph of its own."""
    matches = ((i, text, _HEADING.fullmatch(text)) for i, text in enumerate(paragraphs(lines)))
    return [Heading(m["kind"].lower(), text, i) for i, text, m in matches if m]


@cache
def _unpacked() -> Path:
    """The folder with the two files, fetched on first use."""
    if shutil.which("apt-get") is None:
        pytest.skip(f"the novels come from Debian's {PACKAGE}, and there is no apt-get here")
    caches = Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache") / "reglet-tests"
    package = caches / PACKAGE
    if not package.exists():
        caches.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(dir=caches) as name:
            _fetch(Path(name))
            # In one step, so that a folder of that name is always whole.
            (Path(name) / "unpacked").rename(package)
    return package / "usr/lib/R/site-library/janeaustenr/data"


def _fetch(folder: Path) -> None:
    def run(*command: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            command, cwd=folder, stdin=subprocess.DEVNULL, capture_output=True, text=True
        )

    fetched = run("apt-get", "download", PACKAGE)
    if fetched.returncode != 0:  # on a new machine the list of packages may not be there yet
        run("apt-get", "update")
        fetched = run("apt-get", "download", PACKAGE)
    if fetched.returncode != 0:
        pytest.fail(f"apt-get could not download {PACKAGE}:\n{fetched.stderr}")
    (archive,) = folder.glob("*.deb")
    unpacked = run("dpkg", "-x", archive.name, "unpacked")
    if unpacked.returncode != 0:
        pytest.fail(f"dpkg could not unpack {archive.name}:\n{unpacked.stderr}")


def _read(folder: Path, key: str) -> Sequence[str]:
    index = _objects(gzip.decompress((folder / "Rdata.rdx").read_bytes()))
    offset, length = map(int, index["variables"][key])
    with (folder / "Rdata.rdb").open("rb") as file:
        file.seek(offset)
        stored = file.read(length)
    serialised = zlib.decompress(stored[4:])
    assert len(serialised) == int.from_bytes(stored[:4], "big")
    return _objects(serialised)


def _objects(serialised: bytes):
    # The extension says which of R's formats it is, where there is no file name to tell it.
    return rdata.conversion.convert(rdata.parser.parse_data(serialised, extension=".rds"))
