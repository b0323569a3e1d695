"""Which lines of a draft are the headings of parts and chapters."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from reglet.exchange.draft import DraftParagraph
from reglet.exchange.headings import Heading, Label, heading, reads_as_title
from reglet.exchange.proposal import Kind, Role, Use
from reglet.manuscript.paragraph import LINE_BREAK, Style

_MOST_HEADING_LENGTH = 200
_MOST_SKIPPED = 2
"""A chapter's number may be this much higher than the last, as writers miscount."""
_LISTED = 3
"""This many headings on end with no text between them are a list of contents."""


def find_headings(paragraphs: Sequence[DraftParagraph], roles: list[Role], title: str = "") -> None:
    """Mark the headings among `paragraphs` in `roles`, which holds the marks found already.

    `title` is the book's, where the file gives it.
    """
    read = [_read(each, role) for each, role in zip(paragraphs, roles, strict=True)]
    levels = _kinds_of_levels(paragraphs, read)
    kinds: list[Kind | None] = [
        _styled(each, found, levels) for each, found in zip(paragraphs, read, strict=True)
    ]
    _without_book_title(paragraphs, kinds, title)
    _typed(paragraphs, read, kinds)
    _lone_numbers(paragraphs, read, kinds)
    if Kind.CHAPTER not in kinds:
        _short_lines_on_new_pages(paragraphs, kinds)
    _without_listed(paragraphs, read, kinds)
    for at, kind in enumerate(kinds):
        if kind is Kind.SCENE:
            roles[at] = Role(Kind.SCENE)
        elif kind:
            roles[at] = Role(kind, Use.TITLE)
    _second_lines(paragraphs, read, roles)


def _read(each: DraftParagraph, role: Role) -> Heading | None:
    if role != Role() or len(each.text) > _MOST_HEADING_LENGTH:
        return None
    first, _, rest = each.text.partition(LINE_BREAK)
    found = heading(first)
    if found and rest and not (found.whole and len(rest) < 100):
        return None
    return found


def _kinds_of_levels(
    paragraphs: Sequence[DraftParagraph], read: Sequence[Heading | None]
) -> dict[int, Kind]:
    """What each outline level in use stands for, told by its headings' own words.

    A level whose headings call themselves chapters is the chapters'; the level above it is the
    parts'. With no such word the level used most is the chapters', unless a deeper one is used
    under each of a few headings: then the upper level is the parts'.
    """
    used = Counter(each.level for each in paragraphs if each.level and not each.list_of_contents)
    if not used:
        return {}
    ranks = sorted(used)
    chapter = _named_level(paragraphs, read, (Label.CHAPTER, Label.NUMBER))
    part = _named_level(paragraphs, read, (Label.PART,))
    if chapter is None or chapter == part:
        if part is not None and any(rank > part for rank in ranks):
            chapter = next(rank for rank in ranks if rank > part)
        elif used[ranks[0]] == 1 and len(ranks) > 1:
            chapter = ranks[1]
        else:
            chapter = ranks[0]
    kinds: dict[int, Kind] = {}
    for rank in ranks:
        if rank < chapter:
            kinds[rank] = Kind.PART
        else:
            kinds[rank] = Kind.CHAPTER if rank == chapter else Kind.SCENE
    return kinds


def _named_level(
    paragraphs: Sequence[DraftParagraph], read: Sequence[Heading | None], labels: tuple[Label, ...]
) -> int | None:
    counted = Counter(
        each.level
        for each, found in zip(paragraphs, read, strict=True)
        if each.level and found and found.label in labels
    )
    return min(counted, key=lambda level: (-counted[level], level)) if counted else None


def _styled(each: DraftParagraph, found: Heading | None, levels: dict[int, Kind]) -> Kind | None:
    """What a heading style makes of a paragraph. What it calls itself goes before its level."""
    if not each.level or each.list_of_contents or len(each.text) > _MOST_HEADING_LENGTH:
        return None
    if found and found.label is Label.PART:
        return Kind.PART
    if found and found.label in (Label.CHAPTER, Label.OPENING):
        return Kind.CHAPTER
    return levels[each.level]


def _without_book_title(
    paragraphs: Sequence[DraftParagraph], kinds: list[Kind | None], title: str
) -> None:
    """One heading above all others, at the very top and unlike a part's, is the book's title."""
    parts = [at for at, kind in enumerate(kinds) if kind is Kind.PART]
    headed = next((at for at, kind in enumerate(kinds) if kind), None)
    if len(parts) != 1 or parts[0] != headed:
        return
    text = paragraphs[headed].text
    if heading(text) is None and title.casefold() in ("", text.casefold()):
        kinds[headed] = None


def _typed(
    paragraphs: Sequence[DraftParagraph],
    read: Sequence[Heading | None],
    kinds: list[Kind | None],
) -> None:
    """Headings typed as plain paragraphs that name themselves: “Chapter Seven”, “Prologue”.

    One with nothing else to set it off must come where its number is due.
    """
    alone = _mostly_alone(paragraphs)
    last = 0
    for at, found in enumerate(read):
        if kinds[at] is Kind.PART:
            last = 0
        elif kinds[at] is Kind.CHAPTER:
            last = (found.number if found else None) or last + 1
        if kinds[at] or found is None:
            continue
        shown = paragraphs[at].text == paragraphs[at].text.upper()
        shown = shown or _stands_apart(paragraphs, at, alone)
        number = found.number or 0
        if found.label is Label.CHAPTER:
            due = found.whole and (number == 1 or last < number <= last + _MOST_SKIPPED)
            if shown or due:
                kinds[at] = Kind.CHAPTER
                last = number
        elif shown and found.label is Label.PART:
            kinds[at] = Kind.PART
            last = 0
        elif shown and found.label is Label.OPENING:
            kinds[at] = Kind.CHAPTER


def _mostly_alone(paragraphs: Sequence[DraftParagraph]) -> bool:
    """Whether blank lines part paragraphs throughout, so that one says nothing of a heading."""
    return sum(each.blanks > 0 for each in paragraphs) * 2 > len(paragraphs)


def _stands_apart(paragraphs: Sequence[DraftParagraph], at: int, blanks_usual: bool) -> bool:
    """Whether a line is set off from the text around it by more than being short."""
    each = paragraphs[at]
    after = paragraphs[at + 1].blanks if at + 1 < len(paragraphs) else 1
    return (
        each.set_off
        or each.new_page
        or at == 0
        or each.paragraph.style is Style.CENTRED
        or (each.blanks > 1 if blanks_usual else each.blanks > 0 or after > 0)
    )


def _lone_numbers(
    paragraphs: Sequence[DraftParagraph],
    read: Sequence[Heading | None],
    kinds: list[Kind | None],
) -> None:
    """Lines of nothing but a number (“8.”, “VIII”, “Eight”), or a number and a title, are chapters
    where they continue the chapters' sequence; where they begin again in each chapter, scenes.
    """
    numbers = {
        at: found.number
        for at, found in enumerate(read)
        if found and found.label is Label.NUMBER and found.number and kinds[at] is None
    }
    if not numbers:
        return
    in_order = _in_sequence(paragraphs, read, kinds, numbers)
    if len(in_order) + sum(kind is Kind.CHAPTER for kind in kinds) > 1:
        for at in in_order:
            kinds[at] = Kind.CHAPTER
    rest = [at for at in numbers if kinds[at] is None]
    firsts = [at for at in rest if numbers[at] == 1]
    if Kind.CHAPTER in kinds and firsts:
        expected = 0
        for at in sorted(rest + [at for at, kind in enumerate(kinds) if kind is Kind.CHAPTER]):
            if kinds[at] is Kind.CHAPTER:
                expected = 1
            elif numbers[at] == expected:
                kinds[at] = Kind.SCENE
                expected += 1


def _in_sequence(
    paragraphs: Sequence[DraftParagraph],
    read: Sequence[Heading | None],
    kinds: Sequence[Kind | None],
    numbers: dict[int, int],
) -> list[int]:
    """The lone numbers that each come next after the chapter before, and before the one after."""
    fixed: dict[int, int] = {}
    last = 0
    for at, kind in enumerate(kinds):
        found = read[at]
        if kind is Kind.CHAPTER:
            last = found.number if found and found.number else last + (found is None)
            fixed[at] = last
    taken: list[int] = []
    last = 0
    places = sorted([*numbers, *fixed, *(at for at, kind in enumerate(kinds) if kind is Kind.PART)])
    in_part = False
    for index, at in enumerate(places):
        if kinds[at] is Kind.PART:
            in_part = True
        elif at in fixed:
            last = fixed[at]
            in_part = False
        elif numbers[at] == last + 1 or (in_part and numbers[at] == 1):
            following = _number_after(places[index + 1 :], kinds, fixed)
            found = read[at]
            strong = found is not None and (found.whole or paragraphs[at].set_off)
            if strong and (following is None or following > numbers[at]):
                taken.append(at)
                last = numbers[at]
                in_part = False
    return taken


def _number_after(
    places: Sequence[int], kinds: Sequence[Kind | None], fixed: dict[int, int]
) -> int | None:
    """The number of the next chapter among `places`; None where a part comes first, or nothing."""
    for at in places:
        if kinds[at] is Kind.PART:
            return None
        if at in fixed:
            return fixed[at]
    return None


def _short_lines_on_new_pages(
    paragraphs: Sequence[DraftParagraph], kinds: list[Kind | None]
) -> None:
    """In a draft with no other headings: short lines that stand out at the head of a page."""
    found = [
        at
        for at, each in enumerate(paragraphs)
        if kinds[at] is None
        and each.level is None
        and each.new_page
        and not each.list_of_contents
        and (each.set_off or each.text == each.text.upper())
        and reads_as_title(each.text)
        and at + 1 < len(paragraphs)
        and len(paragraphs[at + 1].text) > len(each.text)
    ]
    if len(found) > 1:
        for at in found:
            kinds[at] = Kind.CHAPTER


def _without_listed(
    paragraphs: Sequence[DraftParagraph],
    read: Sequence[Heading | None],
    kinds: list[Kind | None],
) -> None:
    """Typed headings that follow one another without text are a list of contents, not headings."""
    at = 0
    while at < len(kinds):
        end = at
        while end < len(kinds) and kinds[end] and paragraphs[end].level is None:
            end += 1
        run = range(at, end)
        chapters = sum(kinds[place] is Kind.CHAPTER for place in run)
        if chapters >= _LISTED:
            numbers = [found.number for place in run if (found := read[place])]
            again = kinds[end - 1] if end < len(kinds) and _begins_again(numbers) else None
            for place in run:
                kinds[place] = None
            if again:
                kinds[end - 1] = again
        at = end + 1


def _begins_again(numbers: Sequence[int | None]) -> bool:
    """Whether the last number of a list starts over, so that it heads the text that follows."""
    counted = [number for number in numbers if number]
    return len(counted) > 1 and counted[-1] <= counted[-2]


def _second_lines(
    paragraphs: Sequence[DraftParagraph], read: Sequence[Heading | None], roles: list[Role]
) -> None:
    """The rest of a heading set as a paragraph of its own: “Chapter Seven” / “The Weir”."""
    always_below = _levels_only_below_titles(paragraphs, roles)
    for at, role in enumerate(roles[:-2]):
        found = read[at]
        if role.use is not Use.TITLE or found is None or not found.whole:
            continue
        if found.label not in (Label.CHAPTER, Label.NUMBER, Label.PART):
            continue
        here, following = paragraphs[at], paragraphs[at + 1]
        after = roles[at + 1]
        if found.label is Label.PART and read[at + 1]:
            continue
        if here.level and following.level and following.level >= here.level:
            joins = (
                after.opens is not None
                and read[at + 1] is None
                and not following.new_page
                and (following.level == here.level or following.level in always_below)
            )
        else:
            joins = (
                after == Role()
                and not following.new_page
                and not following.level
                and reads_as_title(following.text)
                and LINE_BREAK not in following.text
                and (
                    following.set_off
                    or following.text == following.text.upper()
                    or (here.level is None and not here.set_off and _text_follows(paragraphs, at))
                )
            )
        if joins:
            roles[at + 1] = Role(use=Use.TITLE)


def _levels_only_below_titles(
    paragraphs: Sequence[DraftParagraph], roles: Sequence[Role]
) -> set[int]:
    """The outline levels whose headings all stand directly below another title: second lines."""
    below: set[int] = set()
    elsewhere: set[int] = set()
    for at, each in enumerate(paragraphs):
        if each.level:
            title_before = at > 0 and roles[at - 1].use is Use.TITLE
            (below if title_before else elsewhere).add(each.level)
    return below - elsewhere


def _text_follows(paragraphs: Sequence[DraftParagraph], at: int) -> bool:
    """Whether a plain line after a plain heading has longer text behind it, as a title would."""
    title, text = paragraphs[at + 1].text, paragraphs[at + 2].text
    return len(title.split()) <= 8 and len(text) > 2 * len(title)
