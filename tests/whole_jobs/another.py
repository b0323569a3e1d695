"""Another word processor, if one is here, to open documents with and save them anew."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

OTHER_WORD_PROCESSOR = shutil.which("soffice") is not None


def saved_by_another(source: Path, kind: str, folder: Path) -> Path:
    """A document as it is after it was opened there and saved as `kind` in `folder`."""
    command = f"soffice -env:UserInstallation={(folder / 'home').as_uri()} --headless"
    subprocess.run(
        [*command.split(), "--convert-to", kind, "--outdir", str(folder / "saved"), str(source)],
        check=True,
        capture_output=True,
        timeout=180,
    )
    return folder / "saved" / f"{source.stem}.{kind}"
