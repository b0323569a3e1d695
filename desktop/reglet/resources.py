"""Where the word lists, icons, templates and models of `resources/` are found."""

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
