"""The one way in: a draft file of any kind that Reglet reads, divided into a proposal."""

from __future__ import annotations

from pathlib import Path

from reglet.errors import DraftError
from reglet.exchange.division import divide
from reglet.exchange.docx_in import read_docx
from reglet.exchange.draft import Progress
from reglet.exchange.markdown_in import read_markdown
from reglet.exchange.odt_in import read_odt
from reglet.exchange.proposal import Proposal
from reglet.exchange.safety import damaged
from reglet.exchange.text_in import read_text


def read_draft(path: Path, progress: Progress | None = None) -> Proposal:
    """The proposal for the draft in a .docx, .docm, .odt, .txt or .md file, told by its name.

    `progress` is called with how far the reading has come, from 0.0 to 1.0. Raises DraftError, its
    text a sentence for the writer, where the file cannot be read.
    """
    kind = path.suffix.lower()
    if path.is_dir():
        raise DraftError(f"“{path}” is a folder. Name the draft's file inside it.")
    try:
        if kind in (".docx", ".docm"):
            draft = read_docx(path, progress)
        elif kind == ".odt":
            draft = read_odt(path, progress)
        elif kind in (".md", ".markdown"):
            draft = read_markdown(path, progress)
        elif kind in (".txt", ".text"):
            draft = read_text(path, progress)
        else:
            raise DraftError(
                f"“{path.name}” is not a kind of file that Reglet reads. Save it as .docx or "
                ".odt in the program that made it, or as .txt or .md, and bring that in."
            )
    except FileNotFoundError:
        raise DraftError(f"There is no file “{path}”. Look whether its name is right.") from None
    except RecursionError:  # mark-up nested as deep as no word processor nests it
        raise damaged(path.name) from None
    except OSError as error:
        raise DraftError(
            f"“{path}” could not be read: {error.strerror or error}. Nothing was changed."
        ) from None
    if not draft.signed and not any(each.text.strip() for each in draft.paragraphs):
        raise DraftError(f"There is no text in “{path.name}” to bring in. Nothing was changed.")
    return divide(draft)
