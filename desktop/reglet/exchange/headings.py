"""What a line says about where it stands: a typed heading, a number, a scene-break mark.

Everything here looks at one line by itself; whether it is a heading is decided in `division` from
what stands around it. The forms are common practice in novels, British and American.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache


class Label(StrEnum):
    """What a typed heading calls itself. `NUMBER` is a number and nothing more."""

    PART = "part"
    CHAPTER = "chapter"
    NUMBER = "number"
    OPENING = "opening"  # prologue, epilogue: chapters without a number
    FRONT = "front"
    BACK = "back"
    EITHER = "either"  # front or back matter, by where it stands


@dataclass(frozen=True, slots=True)
class Heading:
    """A line read as a heading. `whole` says that it is nothing but a label and its number, so
    that the next line may be the rest of the title.
    """

    label: Label
    number: int | None = None
    whole: bool = True


_ONES = (
    "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen "
    "sixteen seventeen eighteen nineteen"
).split()
_TENS = "twenty thirty forty fifty sixty seventy eighty ninety".split()
_ORDINALS = (
    "first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth thirteenth "
    "fourteenth fifteenth sixteenth seventeenth eighteenth nineteenth"
).split()
_TENTHS = "twentieth thirtieth fortieth fiftieth sixtieth seventieth eightieth ninetieth".split()


def _number_words() -> dict[str, int]:
    words = {word: n for n, word in enumerate(_ONES, 1)}
    words |= {word: n for n, word in enumerate(_ORDINALS, 1)}
    for tens, (word, tenth) in enumerate(zip(_TENS, _TENTHS, strict=True), 2):
        words[word] = words[tenth] = tens * 10
        for one in range(1, 10):
            for unit in (_ONES[one - 1], _ORDINALS[one - 1]):
                words[f"{word} {unit}"] = tens * 10 + one
    for word, n in list(words.items()):
        words[f"one hundred and {word}"] = words[f"one hundred {word}"] = 100 + n
    words["one hundred"] = words["a hundred"] = 100
    return words


_WORDS = _number_words()
_ROMAN = re.compile(r"m{0,3}(cm|cd|d?c{0,3})(xc|xl|l?x{0,3})(ix|iv|v?i{0,3})", re.IGNORECASE)
_ROMAN_VALUES = {"i": 1, "v": 5, "x": 10, "l": 50, "c": 100, "d": 500, "m": 1000}

_DASHES = "–—-"  # the hyphen last: it then stands for itself in a class
_NUMBER = (
    r"(?:\d{1,3}|[ivxlc]{1,9}|(?:the )?(?:(?:one|a) hundred(?: and)?[ -]?)?"
    rf"(?:(?:{'|'.join(_TENS)})[ -](?:{'|'.join(_ONES[:9] + _ORDINALS[:9])})"
    rf"|{'|'.join(sorted(_ONES + _ORDINALS + _TENS + _TENTHS, key=len, reverse=True))})?)"
)
_LABELLED = re.compile(
    rf"(?P<label>chapter|chap\.?|ch\.|part|book|volume|vol\.)\s+(?P<number>{_NUMBER})"
    rf"(?P<rest>(?![\w’']).*)",
    re.IGNORECASE,
)
_NUMBERED_LABEL = re.compile(
    rf"(?:the\s+)?(?P<number>{_NUMBER})\s+(?P<label>chapter|part|book|volume)\s*[.:]?",
    re.IGNORECASE,
)
_ALONE = re.compile(rf"[\[({_DASHES}]?\s*(?P<number>{_NUMBER})\s*[.:)\]{_DASHES}]*", re.IGNORECASE)
_NUMBER_AND_TITLE = re.compile(
    rf"(?P<number>\d{{1,3}}|[IVXLC]{{1,9}})\s*[.:{_DASHES}]\s*(?P<rest>[^\W\d].*)"
)
_MOST_TITLE_WORDS = 14
_CHAPTER_LABELS = ("chapter", "chap", "ch")

_NAMED = {
    Label.OPENING: "prologue|epilogue|prelude|interlude|intermission|coda|finale|postlude",
    Label.FRONT: (
        "dedication|epigraph|contents|table of contents|foreword|copyright|title page|"
        "list of illustrations|dramatis personae|praise"
    ),
    Label.BACK: (
        "afterword|about the author|glossary|appendix|bibliography|reading group questions|"
        "postscript"
    ),
    Label.EITHER: (
        "acknowledge?ments?|author[’']s note|a note on the text|note on the text|historical note|"
        "preface|introduction|advertisement|also by .{1,40}|notes?"
    ),
}
_NAMED_LINES = {
    label: re.compile(
        rf"(?:the\s+)?(?:{names})\s*[.:]?(?P<rest>(?:(?<=[.:])\s+.*)?)", re.IGNORECASE
    )
    for label, names in _NAMED.items()
}

_MARK = re.compile(
    r"""(?:
        (?:\*\s*)+ | (?:\#\s*)+ | (?:~\s*)+ | (?:⁂\s*)+ | (?:[•●◦○·∙]\s*)+ | (?:[§❦☙❧※◆◇♦✦✧★☆]\s*)+
      | (?:-\s*){3,} | (?:[–—]\s*){2,} | (?:_\s*){3,} | (?:=\s*){3,} | (?:\+\s*){3,} | (?:⸻\s*)+
      | -+\s*(?:\*|\#|o|0|x)(?:\s*(?:\*|\#|o|0|x))*\s*-+ | oOo | o0o
      | \[\s*(?:scene\ )?break\s*\] | <\s*(?:scene\ )?break\s*>
    )""",
    re.VERBOSE | re.IGNORECASE,
)


def is_mark(text: str) -> bool:
    """Whether a line is a scene-break mark and nothing else."""
    stripped = text.strip()
    return 0 < len(stripped) <= 40 and _MARK.fullmatch(stripped) is not None


def is_last_line(text: str) -> bool:
    """Whether a line only says that the book ends."""
    return text.strip(" .*#—–-").lower() in ("the end", "end", "finis", "fin")


@lru_cache(maxsize=4096)
def heading(text: str) -> Heading | None:
    """How a line reads as a heading; None where it does not, as most lines."""
    line = " ".join(text.split())
    if not line or len(line) > 120:
        return None
    match = _LABELLED.fullmatch(line)
    if match and (number := value(match["number"])) is not None:
        rest = match["rest"]
        if rest.strip(f" .:{_DASHES}") and not _may_be_title(rest):
            return None
        label = match["label"].lower().rstrip(".")
        kind = Label.CHAPTER if label in _CHAPTER_LABELS else Label.PART
        return Heading(kind, number, whole=not rest.strip(f" .:{_DASHES}"))
    match = _NUMBERED_LABEL.fullmatch(line)
    if match and (number := value(match["number"])) is not None:
        kind = Label.CHAPTER if match["label"].lower() == "chapter" else Label.PART
        return Heading(kind, number)
    match = _ALONE.fullmatch(line)
    if match and (number := value(match["number"])) is not None:
        return Heading(Label.NUMBER, number)
    for named, pattern in _NAMED_LINES.items():
        match = pattern.fullmatch(line)
        if match and (not match["rest"] or _may_be_title(match["rest"])):
            return Heading(named, whole=not match["rest"])
    match = _NUMBER_AND_TITLE.fullmatch(line)
    if match and (number := value(match["number"])) is not None and _may_be_title(match["rest"]):
        return Heading(Label.NUMBER, number, whole=False)
    return None


def value(text: str) -> int | None:
    """The number that a word, a roman numeral or figures stand for; None for none of them."""
    text = text.lower().removeprefix("the ").replace("-", " ").strip()
    if text.isdigit() and text.isascii():
        return int(text)
    if text in _WORDS:
        return _WORDS[text]
    if text and _ROMAN.fullmatch(text):
        values = [_ROMAN_VALUES[letter] for letter in text]
        following = [*values[1:], 0]
        return sum(-one if one < two else one for one, two in zip(values, following, strict=True))
    return None


def reads_as_title(text: str) -> bool:
    """Whether a line could be a title: short, one line, begun like one, and no sentence."""
    line = text.strip()
    words = line.split()
    if not words or len(words) > _MOST_TITLE_WORDS or len(line) > 80:
        return False
    if line[-1] in ".,;…—–-" or line[0] in "“\"‘'—–-(…" or not line[0].isalnum():
        return False
    if line == line.upper():
        return True
    long_words = [word for word in words if len(word) > 3 and word[0].isalpha()]
    return words[0][:1].isupper() and all(word[0].isupper() for word in long_words)


def _may_be_title(rest: str) -> bool:
    """Whether what follows a label and number is a title, rather than a sentence's beginning."""
    parted = rest.lstrip()
    if parted[:1] in f".:{_DASHES}":
        title = parted.lstrip(f" .:{_DASHES}")
        return 0 < len(title.split()) <= _MOST_TITLE_WORDS and title[-1:] not in ".,;"
    return reads_as_title(rest)
