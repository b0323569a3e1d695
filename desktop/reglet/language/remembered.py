"""What was worked out for a text, remembered: a novel has few words that differ."""

from __future__ import annotations

from collections.abc import Callable
from typing import Generic, TypeVar

_Value = TypeVar("_Value")


class Remembered(dict[str, _Value], Generic[_Value]):
    """What `work_out` gives for a text, worked out at the first asking.

    When it holds `most` it begins anew. A plain look-up costs half of what `functools.lru_cache`
    does, which brings its entries into a new order each time, and here that is done a hundred
    thousand times for a book.
    """

    def __init__(self, work_out: Callable[[str], _Value], most: int = 100_000) -> None:
        super().__init__()
        self._work_out, self._most = work_out, most

    def __missing__(self, text: str) -> _Value:
        if len(self) >= self._most:
            self.clear()
        value = self[text] = self._work_out(text)
        return value
