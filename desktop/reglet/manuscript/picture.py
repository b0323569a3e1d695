"""A picture that belongs to the book: its cover."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from hashlib import blake2b


@dataclass(frozen=True)
class Picture:
    """A picture as its file has it. `media_type` is the name of its kind by RFC 6838, such as
    "image/png"; `width` and `height` are in pixels.
    """

    media_type: str
    width: int
    height: int
    data: bytes = field(repr=False)

    @cached_property
    def digest(self) -> bytes:
        """The 16-byte BLAKE2b (RFC 7693) of the data, by which the picture is known."""
        return blake2b(self.data, digest_size=16).digest()
