"""Speech in a story: the stretches in quotation marks, the tags that say who speaks, and narration.

Quotation marks may be double or single, curly or straight, American (double outside) or British
(single outside); guillemets and low-9 marks are known too. An apostrophe is told from a closing
single mark by what stands around it and by whether a better closing mark is still to come:
in ‘The dogs’ bowls,’ he said, the mark after "dogs" is an apostrophe.

Speech that runs over several paragraphs opens each of them and closes only the last (common
practice of printers); ``quotations_in`` follows it from paragraph to paragraph.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from functools import lru_cache

from reglet.language.speech_verbs import SPEECH_VERBS
from reglet.language.words import APHAERESES


class Marks(Enum):
    """Which quotation mark stands outermost in a text."""

    DOUBLE = "double"
    SINGLE = "single"


@dataclass(frozen=True, slots=True)
class Quotation:
    """One stretch in quotation marks; ``text[start:end]`` has the marks in it, in code points.

    ``depth`` is 0 outside and 1 or more inside another quotation. ``opened`` and ``closed`` say
    whether the mark itself stands in this paragraph: an unclosed one ends with the paragraph, or
    where the next speech opens. ``spoken`` is false for a word or phrase that is merely quoted
    (a so-called “friend”, a title). ``continues`` is true where speech goes on from the paragraph
    before; only ``quotations_in`` knows that.
    """

    start: int
    end: int
    depth: int
    opened: bool
    closed: bool
    spoken: bool
    continues: bool = False


_MARK = re.compile("[\"“”„‟«»'‘’‛‚‹›]")
_SINGLES = frozenset("'‘’‛‚‹›")
_DROPPED = re.compile(r"(?:" + "|".join(APHAERESES) + r")(?![^\W_])|\d\ds?\b", re.IGNORECASE)
_SURELY_DROPPED = re.compile(
    r"(?:tis|twas|twere|twill|twould|em)(?![^\W_])|\d\ds?\b", re.IGNORECASE
)
_OPENS_AFTER = frozenset("([{—–-“‘\"'/¿¡*_…")
_ENDS_SPEECH = frozenset(".,!?…—–-;:‽*_)")

_SINGLE_OPENING = re.compile(r"(?:(?<=^)|(?<=[\s(\[—–]))['‘](?=[^\W\d_]|[—…])", re.MULTILINE)
_DOUBLE_ANY = re.compile('[“„«]|(?:(?<=^)|(?<=[\\s(\\[—–]))"(?=\\S)', re.MULTILINE)


def detect_marks(texts: str | Iterable[str]) -> Marks:
    """Which mark a text uses outermost: double unless single ones plainly open more stretches."""
    counts = [openings(text) for text in ([texts] if isinstance(texts, str) else texts)]
    doubles, singles = (sum(count) for count in zip(*counts, strict=True)) if counts else (0, 0)
    return Marks.SINGLE if singles > doubles else Marks.DOUBLE


@lru_cache(maxsize=16_384)
def openings(text: str) -> tuple[int, int]:
    """How many double and how many single marks open a stretch; kept, as a book's way with them is
    asked for at every edit.
    """
    singles = sum(
        1
        for match in _SINGLE_OPENING.finditer(text)
        if match[0] == "‘" or not _DROPPED.match(text, match.end())
    )
    return len(_DOUBLE_ANY.findall(text)), singles


@lru_cache(maxsize=16_384)
def quotations(
    text: str, marks: Marks | None = None, continued: bool = False
) -> tuple[Quotation, ...]:
    """The stretches in quotation marks of one paragraph, by their start; outer before inner.

    ``marks`` is the book's way (``detect_marks``); without it the paragraph's own is taken.
    ``continued`` says that speech was left open by the paragraph before. Never raises.
    """
    if _MARK.search(text) is None:
        return (Quotation(0, len(text), 0, False, False, True, True),) if continued and text else ()
    return _Reading(text, marks or detect_marks(text)).read(continued)


def quotations_in(
    paragraphs: Sequence[str], marks: Marks | None = None
) -> tuple[tuple[Quotation, ...], ...]:
    """The quotations of each paragraph of a passage, with speech followed over paragraph ends.

    Speech goes on if the paragraph before left it open and this one opens with a mark again (the
    rule), or closes one that it did not open.
    """
    way = marks or detect_marks(paragraphs)
    found: list[tuple[Quotation, ...]] = []
    left_open = False
    for text in paragraphs:
        here = quotations(text, way, False)
        if left_open and here and here[0].start == _first_ink(text):
            here = (replace(here[0], continues=True), *here[1:])
        elif left_open and _closes_first(text):
            here = quotations(text, way, True)
        found.append(here)
        outer = [q for q in here if q.depth == 0]
        left_open = bool(outer) and not outer[-1].closed and outer[-1].spoken
    return tuple(found)


def _first_ink(text: str) -> int:
    return len(text) - len(text.lstrip())


def _closes_first(text: str) -> bool:
    for match in _MARK.finditer(text):
        if match[0] == "”":
            return True
        if match[0] in '“"„«‘':
            return False
    return False


class _Reading:
    """One pass over the marks of a paragraph."""

    def __init__(self, text: str, marks: Marks) -> None:
        self.text = text
        self.marks = marks
        self.found: list[Quotation] = []
        self.stack: list[tuple[str, int]] = []  # the opening mark, its offset (-1: before the text)
        self.at = [match.start() for match in _MARK.finditer(text)]

    def read(self, continued: bool) -> tuple[Quotation, ...]:
        text = self.text
        if continued:
            self.stack.append(("‘" if self.marks is Marks.SINGLE else "“", -1))
        for number, i in enumerate(self.at):
            mark = text[i]
            if mark in _SINGLES:
                self._single(number, i, mark)
            else:
                self._double(i, mark)
        while self.stack:
            mark, start = self.stack.pop()
            if mark not in _SINGLES or (self.marks is Marks.SINGLE and not self.stack):
                self._add(start, len(text.rstrip()), closed=False)
        self.found.sort(key=lambda q: (q.start, -q.end))
        return tuple(self.found)

    def _around(self, i: int) -> tuple[str, str]:
        text = self.text
        return (text[i - 1] if i else " "), (text[i + 1] if i + 1 < len(text) else " ")

    def _double(self, i: int, mark: str) -> None:
        is_open = any(m not in _SINGLES for m, _ in self.stack)
        if mark in "”»":
            opens = False
        elif mark == "“":
            opens = not (is_open and self.stack[-1][0] == "„")
        elif mark == '"':
            opens = self._straight_opens(i, is_open)
        else:
            opens = True
        if not opens:
            if is_open:
                self._close_double(i + 1)
            return
        if is_open:  # a mark is missing: the speech before ends where this one opens
            self._close_double(i, closed=False)
        self.stack.append((mark, i))

    def _straight_opens(self, i: int, is_open: bool) -> bool:
        before, after = self._around(i)
        can_open = (before.isspace() or before in _OPENS_AFTER) and not after.isspace()
        can_close = not before.isspace() and not after.isalnum()
        if can_open == can_close:
            return not is_open
        return can_open

    def _close_double(self, end: int, closed: bool = True) -> None:
        while self.stack:
            mark, start = self.stack.pop()
            if mark in _SINGLES:
                continue  # an inner single mark never closed: an apostrophe after all
            if not closed:
                end = max(start, 0) + len(self.text[max(start, 0) : end].rstrip())
            self._add(start, end, closed)
            return

    def _single(self, number: int, i: int, mark: str) -> None:
        opens = self._single_opens(number, i, mark)
        if opens is None:
            return
        if opens:
            if self.stack and self.stack[-1][0] in _SINGLES:
                if self.marks is Marks.SINGLE and len(self.stack) == 1 and mark == "‘":
                    start = self.stack.pop()[1]
                    whole = self.text[max(start, 0) : i].rstrip()
                    self._add(start, max(start, 0) + len(whole), False)
                else:
                    return
            self.stack.append((mark, i))
            return
        if self.stack and self.stack[-1][0] in _SINGLES:
            strength = self._closing(i)
            if strength == 2 or (strength == 1 and not self._better_close_ahead(number)):
                self._add(self.stack.pop()[1], i + 1, True)

    def _single_opens(self, number: int, i: int, mark: str) -> bool | None:
        """True: it opens; False: it may close; None: it is an apostrophe."""
        before, after = self._around(i)
        if mark in "‚‹":
            return True
        if mark in "’›":
            return None if after.isalnum() else False
        if before.isalnum():
            return None if after.isalnum() else False
        starts = before.isspace() or before in _OPENS_AFTER
        if starts and not after.isspace():
            inside = mark == "‘" and bool(self.stack) and self.stack[-1][0] in _SINGLES
            if self._is_dropped(i, mark) and (inside or not self._better_close_ahead(number)):
                return None
            return not (mark == "'" and before in "…—–-" and not after.isalnum())
        if mark == "‘":
            return None
        return None if after.isalnum() else False

    def _is_dropped(self, i: int, mark: str) -> bool:
        """Whether letters seem to be dropped after the mark. A curly opening mark in a book that
        opens speech with it is taken for an apostrophe only before a word that is nothing else.
        """
        sure = mark == "‘" and self.marks is Marks.SINGLE
        return (_SURELY_DROPPED if sure else _DROPPED).match(self.text, i + 1) is not None

    def _closing(self, i: int) -> int:
        """2: a mark that surely closes; 1: it may as well be an apostrophe; 0: an apostrophe."""
        before, after = self._around(i)
        if after.isalnum():
            return 0
        if before in _ENDS_SPEECH or before in '”"’':
            return 2
        if before.isspace():  # between two closing marks, or after a dash
            return 2 if i > 1 and self.text[i - 2] in '”"’—–…' else 0
        return 1

    def _better_close_ahead(self, number: int) -> bool:
        for i in self.at[number + 1 :]:
            mark = self.text[i]
            if mark in _SINGLES:
                before, after = self._around(i)
                if mark == "‘" or (mark == "'" and (before.isspace() and not after.isspace())):
                    return False
                if mark in "’'" and self._closing(i) == 2:
                    return True
            elif mark in '”"' and self.marks is Marks.DOUBLE:
                return False
        return False

    def _add(self, start: int, end: int, closed: bool) -> None:
        opened = start >= 0
        start = max(start, 0)
        depth = len(self.stack)
        spoken = not opened or self._is_spoken(start, end, closed)
        self.found.append(Quotation(start, end, depth, opened, closed, spoken, not opened))

    def _is_spoken(self, start: int, end: int, closed: bool) -> bool:
        """Whether a stretch is speech (or thought, or reading aloud), not merely quoted words.

        Speech ends in a mark of its own and stands after a pause or a verb of speech; a short
        phrase in the run of a sentence ("known as a “Penang lawyer.”") is quoted.
        """
        text = self.text
        inner = text[start + 1 : end - 1 if closed else end].strip(" *_\u00a0")
        if not inner:
            return False
        if not closed:
            return True
        before = text[max(0, start - 40) : start].rstrip(" *_\u00a0")
        after_pause = not before or not before[-1].isalnum()
        last = inner.rstrip("’'”\"*_ ")[-1:]
        if last not in "!?…—–-.,;:‽":
            return after_pause and before[-1:] in ",:" and inner[:1].isupper() and " " in inner
        if after_pause:
            return before[-1:] != "(" or inner.count(" ") > 3
        if inner.count(" ") >= _QUOTED_WORDS:
            return True
        word = _LAST_WORD.search(before)
        return word is not None and word[0].lower() in _INTRODUCING


# A phrase with its own end mark and this many spaces or more is speech wherever it stands.
_QUOTED_WORDS = 7
# "call" and its forms bring in names oftener than words spoken.
_INTRODUCING = SPEECH_VERBS - {"call", "calls", "called"}
_LAST_WORD = re.compile(r"[^\W\d_]+$")


def narration(text: str, found: Sequence[Quotation]) -> tuple[tuple[int, int], ...]:
    """What is not spoken: the stretches between the outermost spoken quotations, in order."""
    gaps: list[tuple[int, int]] = []
    at = 0
    for quotation in found:
        if quotation.depth == 0 and quotation.spoken:
            if text[at : quotation.start].strip():
                gaps.append((at, quotation.start))
            at = max(at, quotation.end)
    if text[at:].strip():
        gaps.append((at, len(text)))
    return tuple(gaps)
