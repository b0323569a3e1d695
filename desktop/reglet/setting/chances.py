"""Where a line may end inside a stretch of text without spaces, or must not end beside one.

A short form of Unicode Standard Annex #14 (Line Breaking) for the characters that English prose
is made of; the rule's number stands beside each. Hyphenation is not part of it.
"""

from __future__ import annotations

import re

_CLOSING = "!?,.;:)\\]}"
_QUOTES = "\"'‘’“”«»‹›"
_DASH = "—"
_SPACES = "\u1680\u2002-\u2006\u2008-\u200a\u205f\u3000"

# After a dash, an ellipsis, a slash, a hyphen, a fixed space; before a dash. Never before closing
# punctuation (LB13), beside a quotation mark (LB19), between two dashes (LB17), before an
# ellipsis (LB22), or between a hyphen and a number (LB25) or at a word's first hyphen (LB20a).
_INSIDE = re.compile(
    rf"""
      (?<=[—])                    (?![{_CLOSING}{_QUOTES}…—\u00a0]) (?!$)      # B2, LB31
    | (?<=[^\s—{_QUOTES}(\[{{])   (?=—)                                       # B2, LB31
    | (?<=[…])                    (?![{_CLOSING}{_QUOTES}…—\-–/\u00a0]) (?!$)  # IN, LB31
    | (?<=[/])                    (?=[^\W\d])                                 # SY, LB31
    | (?<=[^\s—–‐-][-‐–])          (?=[^\W\d])                                 # HY, BA, LB21
    | (?<=--)                     (?=[^\W\d])                                 # HY, LB21
    | (?<=[–])                    (?=\d)                                      # BA
    | (?<=[{_SPACES}])            (?=[\w{_QUOTES}])                           # BA, LB21
    | (?<=\u200b)                 (?!$)                                       # ZW, LB8
    | (?<=[\u3040-\u30ff\u3400-\u9fff\uac00-\ud7a3]) (?=\w)                   # ID, H2, LB31
    """,
    re.VERBOSE,
)
_PLAIN = re.compile(rf"[\w{_CLOSING}{_QUOTES}]*(?<![\u3040-\ud7a3])").fullmatch
"""Most words: nothing in them that a line could end at, seen at a glance."""

_OWN_HYPHEN = frozenset("-‐")


def inside(text: str) -> tuple[int, ...]:
    """The code points of `text`, a stretch without spaces, before which a new line may begin."""
    if _PLAIN(text):
        return ()
    return tuple(match.start() for match in _INSIDE.finditer(text))


def ends_with_hyphen(text: str) -> bool:
    """Whether a line that ends with `text` ends in a hyphen that was written, not set."""
    return text[-1:] in _OWN_HYPHEN


def clings_back(text: str) -> bool:
    """Whether `text` may not begin a line even after a space (LB13, LB15d): a lone full point."""
    return text[0] in "!?,.;:)]}/"


def clings_on(text: str) -> bool:
    """Whether a line may not end after `text` although a space follows (LB14): a bracket."""
    return text[-1] in "([{"
