"""The revision stages a book passes through, in their order."""

from enum import StrEnum


class Stage(StrEnum):
    """One pass over the book. The first and the last read and send; the middle three revise."""

    FIRST_READ = "first_read"
    STRUCTURE = "structure"
    LINE = "line"
    PROOF = "proof"
    SEND_OUT = "send_out"

    @property
    def label(self) -> str:
        """The stage's name as the writer sees it."""
        return self.value.replace("_", " ").capitalize()


REVISING = (Stage.STRUCTURE, Stage.LINE, Stage.PROOF)
"""The stages that a scene is worked through in, one tick each in Contents."""
