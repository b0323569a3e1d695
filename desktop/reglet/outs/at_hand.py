"""The one reader of a process, where it can be. Loads nothing before it is asked for."""

from __future__ import annotations

import os
from functools import cache
from importlib.util import find_spec
from typing import TYPE_CHECKING

from reglet import resources
from reglet.errors import RegletError

if TYPE_CHECKING:
    from reglet.outs.reader import Reader


class ReaderMissing(RegletError):
    """The reader cannot read, for want of the library that it needs or of its model."""


def what_is_missing() -> str:
    """A sentence to the writer where the reader cannot read; empty where it can."""
    if find_spec("onnxruntime") is None:
        return (
            "Words left out cannot be looked for, as the library onnxruntime is not installed. "
            "Everything else works."
        )
    if not (resources.path("outs") / "network.onnx").exists():
        return (
            "Words left out cannot be looked for, as the model that finds them is not there. "
            "Everything else works; install Reglet anew to have it."
        )
    return ""


@cache
def reader() -> Reader:
    """The one reader of this process, on two cores at most. Raises ReaderMissing."""
    missing = what_is_missing()
    if missing:
        raise ReaderMissing(missing)
    try:
        from reglet.outs.reader import Reader  # brings numpy, which a window does not wait for

        return Reader.load(resources.path("outs"), threads=min(2, os.cpu_count() or 1))
    except (ImportError, OSError, ValueError, KeyError) as error:
        raise ReaderMissing(
            "Words left out cannot be looked for, as the model that finds them cannot be read "
            f"({error}). Everything else works; install Reglet anew to have it."
        ) from error
