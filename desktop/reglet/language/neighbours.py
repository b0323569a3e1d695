"""What stands around a word: the facts by which one of two words that look alike is told to fit.

A *piece* is a word in small letters with straight apostrophes, or a run of marks. The neighbourhood
of a piece is a list of short strings: the pieces beside it, alone and in twos, their endings, the
part of speech that each would have if it stood alone (so that a wrong word does not colour the tags
of its neighbours), and the longer words within eight pieces.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import NamedTuple

_PIECE = re.compile(r"[^\W_]+(?:['’ʼ‐-][^\W_]+)*|[^\w\s]+")
_MARKS = str.maketrans({"‘": "“", "’": "”", "'": '"', "–": "—", "*": None, "_": None})
_APOSTROPHES = str.maketrans("’ʼ", "''")
_OUTSIDE = "|"
_REACH = 8
_CLASSES: dict[str, str] = {}
_CLASSES_LIMIT = 200_000


class Piece(NamedTuple):
    """One piece and where it stands, in code points."""

    text: str
    start: int
    end: int


def pieces(text: str) -> list[Piece]:
    """The pieces of a paragraph, in order."""
    found = []
    for match in _PIECE.finditer(text):
        start, end = match.span()
        piece = match[0]
        if piece[0].isalnum():
            found.append(Piece(piece.lower().translate(_APOSTROPHES), start, end))
        else:
            mark = piece.translate(_MARKS)[:3]
            if '"' in mark:
                opens = start == 0 or text[start - 1].isspace()
                mark = mark.replace('"', "“" if opens else "”")
            if mark:
                found.append(Piece(mark, start, end))
    return found


def neighbourhood(row: Sequence[str], at: int) -> list[str]:
    """The facts about the place `at` in a row of pieces."""
    count = len(row)
    one = row[at - 1] if at > 0 else _OUTSIDE
    two = row[at - 2] if at > 1 else _OUTSIDE
    after = row[at + 1] if at + 1 < count else _OUTSIDE
    then = row[at + 2] if at + 2 < count else _OUTSIDE
    p, q, n, m = classes((two, one, after, then))
    found = [
        "a" + one,
        "b" + after,
        "c" + two + " " + one,
        "d" + after + " " + then,
        "e" + one + " " + after,
        "f" + two,
        "g" + then,
        "h" + one[-3:],
        "i" + after[-3:],
        "j" + q,
        "k" + n,
        "l" + q + " " + n,
        "m" + n + " " + m,
        "n" + p + " " + q,
        "o" + one + " " + n,
        "p" + q + " " + after,
        "q" + n + " " + then,
    ]
    near = {*row[max(0, at - _REACH) : at], *row[at + 1 : at + _REACH + 1]}
    found += ["x" + word for word in near if len(word) > 3]
    return found


def classes(row: Iterable[str]) -> list[str]:
    """For each piece the part of speech that it would have alone (a Penn Treebank tag)."""
    row = list(row)
    learn_classes(row)
    return [_CLASSES[piece] for piece in row]


def learn_classes(row: Iterable[str]) -> None:
    """Tag the pieces that were not met before, all together, which is quicker than one by one."""
    unknown = [piece for piece in set(row) if piece not in _CLASSES]
    if not unknown:
        return
    # Imported here for the reason given in `prose`: it brings in numpy.
    from reglet.language.tagger import read

    if len(_CLASSES) + len(unknown) > _CLASSES_LIMIT:
        _CLASSES.clear()
        unknown = list(set(row))
    for piece, reading in zip(unknown, read([[piece] for piece in unknown]), strict=True):
        _CLASSES[piece] = reading.tags[0]
