"""Where the data of `resources/` is found, and how its word lists are read.

A word list has remarks after `#`, and may have sections under heads such as `[men]`.
"""

from functools import cache
from importlib.resources import files
from pathlib import Path


def path(*names: str) -> Path:
    """Give the place of a file or folder in `resources/`, as `path("words", "doubles.txt")`.

    It holds in a checkout and when Reglet was installed from a wheel. Whether the file is there is
    not looked at: opening it says so.
    """
    root = files("reglet_resources")
    if not isinstance(root, Path):
        # Only from inside a zip archive, and Qt's own libraries cannot be loaded from there either.
        raise FileNotFoundError("Reglet's resources are packed in an archive; unpack it first.")
    return root.joinpath(*names)


def lines(*names: str) -> list[str]:
    """The lines of a word list, without its remarks and empty lines. Raises OSError."""
    text = path(*names).read_text(encoding="utf-8")
    plain = (line.partition("#")[0].strip() for line in text.splitlines())
    return [line for line in plain if line]


@cache
def sections(*names: str) -> dict[str, frozenset[str]]:
    """The words of each section of a list; those before the first head under "". Raises OSError."""
    words: set[str] = set()
    found = {"": words}
    for line in lines(*names):
        if line.startswith("["):
            words = found.setdefault(line.strip("[]"), set())
        else:
            words.update(line.split())
    return {section: frozenset(each) for section, each in found.items()}


def words(*names: str) -> frozenset[str]:
    """The words of a list, whatever their section. Raises OSError."""
    return frozenset().union(*sections(*names).values())
