"""Where code points meet Qt: it counts UTF-16 units, Reglet counts code points.

A character outside the Basic Multilingual Plane (most emoji) is one code point and two units; a
letter with combining marks is several of each. No other module converts one to the other.
"""

from __future__ import annotations


def units(text: str) -> int:
    """The length of `text` in UTF-16 units."""
    return len(text) if text.isascii() else len(text.encode("utf-16-le", "surrogatepass")) // 2


def to_units(text: str, position: int) -> int:
    """The UTF-16 offset of the code point at `position` of `text`."""
    return units(text[:position])


def to_code_points(text: str, offset: int) -> int:
    """The code point at UTF-16 `offset` of `text`; between the halves of a pair, the one cut."""
    if text.isascii():
        return offset
    raw = text.encode("utf-16-le", "surrogatepass")[: 2 * offset]
    return len(raw.decode("utf-16-le", "ignore"))
