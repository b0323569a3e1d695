"""What stands before the first chapter and after the last, and what the title page says."""

from __future__ import annotations

import re
from collections.abc import Sequence

from reglet.exchange.draft import DraftParagraph
from reglet.exchange.headings import Heading, Label, heading, reads_as_title
from reglet.exchange.proposal import Kind, Role, Use
from reglet.manuscript.paragraph import LINE_BREAK
from reglet.manuscript.words import count_words

_BY = re.compile(r"(?:a novel\s+)?by:?\s+(?P<name>\S.{1,60})", re.IGNORECASE)
_MOST_WORDS_BEFORE = 2500
_LONG_PARAGRAPH = 40
"""Before a first chapter, more words than that, or several paragraphs of more words than this, are
story that has no heading."""
_MOST_WORDS_OF_A_TITLE_PAGE = 200
_LONG_LINE = 12
"""Before a heading that is not the first chapter's, only what looks like a title page is none."""


def settle(paragraphs: Sequence[DraftParagraph], roles: list[Role]) -> None:
    """Mark front and back matter in `roles`, which holds the chapters already."""
    chapters = [at for at, role in enumerate(roles) if role.opens in (Kind.CHAPTER, Kind.PART)]
    if not chapters:
        return
    first, last = chapters[0], chapters[-1]
    named = {at: found for at in range(len(paragraphs)) if (found := _named(paragraphs[at]))}
    if _is_front(paragraphs, roles, first, named):
        begun = False
        for at in range(first):
            if at in named and roles[at].use is not Use.LEFT_OUT:
                roles[at] = Role(Kind.FRONT, Use.TITLE)
                begun = True
            elif not begun and roles[at].use is not Use.LEFT_OUT:
                roles[at] = Role(Kind.FRONT)
                begun = True
            elif paragraphs[at].new_page and roles[at].use is not Use.LEFT_OUT:
                roles[at] = Role(Kind.FRONT)
            elif roles[at].use is Use.MARK:
                roles[at] = Role(use=Use.MARK)
            elif roles[at].opens:
                roles[at] = Role()
    for at in chapters:
        found = named.get(at)
        if found and found.label in (Label.FRONT, Label.EITHER) and at == first:
            roles[at] = Role(Kind.FRONT, Use.TITLE)
            first = next((each for each in chapters if each > at), at)
    tail = next((at for at in named if at > last and _heads_back(paragraphs, at)), None)
    for at in reversed(chapters):
        found = named.get(at)
        if found is None or found.label is Label.FRONT or at <= first:
            break
        tail = at
    if tail is not None:
        _back(roles, tail, named, paragraphs)


def _back(
    roles: list[Role],
    tail: int,
    named: dict[int, Heading],
    paragraphs: Sequence[DraftParagraph],
) -> None:
    for at in range(tail, len(roles)):
        if at in named and (roles[at].opens or at == tail or _heads_back(paragraphs, at)):
            roles[at] = Role(Kind.BACK, Use.TITLE)
        elif roles[at].opens and roles[at].use is Use.MARK:
            roles[at] = Role(use=Use.MARK)
        elif roles[at].opens and roles[at].use is not Use.TITLE:
            roles[at] = Role()


def _named(each: DraftParagraph) -> Heading | None:
    found = heading(each.text)
    if found and found.label in (Label.FRONT, Label.BACK, Label.EITHER):
        return found
    return None


def _heads_back(paragraphs: Sequence[DraftParagraph], at: int) -> bool:
    each = paragraphs[at]
    return bool(each.set_off or each.new_page or each.level or each.text == each.text.upper())


def _is_front(
    paragraphs: Sequence[DraftParagraph],
    roles: Sequence[Role],
    first: int,
    named: dict[int, Heading],
) -> bool:
    """Whether what stands before the first heading is front matter rather than story."""
    before = [at for at in range(first) if roles[at].use is not Use.LEFT_OUT]
    if not before:
        return False
    if any(at < first for at in named):
        return True
    words = [count_words(paragraphs[at].text) for at in before]
    found = heading(paragraphs[first].text)
    if found and found.number in (None, 1):
        return sum(words) < _MOST_WORDS_BEFORE and sum(n > _LONG_PARAGRAPH for n in words) <= 1
    return sum(words) < _MOST_WORDS_OF_A_TITLE_PAGE and sum(n > _LONG_LINE for n in words) <= 1


def title_and_author(
    paragraphs: Sequence[DraftParagraph], roles: Sequence[Role]
) -> tuple[str, str]:
    """The book's title and author as the title page gives them; empty where it gives none."""
    lines: list[str] = []
    title = author = ""
    for each, role in zip(paragraphs, roles, strict=True):
        if role.opens in (Kind.CHAPTER, Kind.PART, Kind.SCENE):
            break
        if each.level == 0 and not title:
            title = " ".join(each.text.replace(LINE_BREAK, " ").split())
        lines += [line.strip() for line in each.text.split(LINE_BREAK) if line.strip()]
    for at, line in enumerate(lines[:12]):
        match = _BY.fullmatch(line)
        if match:
            author = match["name"].strip()
            before = [each for each in lines[:at] if reads_as_title(each)]
            title = title or (before[-1] if before else "")
            break
        if line.lower() == "by" and at + 1 < len(lines):
            author = lines[at + 1]
            before = [each for each in lines[:at] if reads_as_title(each)]
            title = title or (before[-1] if before else "")
            break
    if not title and lines and reads_as_title(lines[0]) and heading(lines[0]) is None:
        title = lines[0]
    return title, author
