"""Writing a file whole or not at all, and never over another one unasked."""

from __future__ import annotations

import os
import shutil
import tempfile
from pathlib import Path

from reglet.errors import WriterError


def save(path: Path, content: bytes, overwrite: bool = False) -> None:
    """Write `content` to `path`, which afterwards holds all of it or what it held before.

    An existing file is replaced only with `overwrite`, and then kept beside it under its name with
    `.bak` added. Raises WriterError where the file is there already or cannot be written.
    """
    if path.exists() and not overwrite:
        raise _there_already(path)
    try:
        handle, name = tempfile.mkstemp(prefix=f".{path.name}.", dir=path.parent)
    except OSError as error:
        raise _unwritable(path, error) from None
    temporary = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        temporary.chmod(0o666 & ~_umask())
        if overwrite and path.exists():
            _keep_earlier(path)
            temporary.replace(path)
        else:
            _set_in_place(temporary, path)
    except OSError as error:
        raise _unwritable(path, error) from None
    finally:
        temporary.unlink(missing_ok=True)


def _set_in_place(temporary: Path, path: Path) -> None:
    """Give the file its name, without a moment in which another program's file could be lost."""
    try:
        path.hardlink_to(temporary)
    except FileExistsError:
        raise _there_already(path) from None
    except OSError:  # a file system without hard links
        if path.exists():
            raise _there_already(path) from None
        temporary.replace(path)


def _keep_earlier(path: Path) -> None:
    backup = path.with_name(path.name + ".bak")
    copied = path.with_name(f".{path.name}.bak.part")
    shutil.copy2(path, copied)
    copied.replace(backup)


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def _there_already(path: Path) -> WriterError:
    return WriterError(
        f"There is a file “{path.name}” there already, and it was left as it is. Choose another "
        "name, or say that it may be replaced."
    )


def _unwritable(path: Path, error: OSError) -> WriterError:
    return WriterError(
        f"“{path}” could not be written: {error.strerror or error}. Your book is as it was. Choose "
        "another place, or make room, and try again."
    )
