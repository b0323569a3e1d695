"""From a draft to a proposal: which of its paragraphs begin parts, chapters and scenes.

A false heading inside the text is worse than a missed one, so a typed line counts as a heading
only where more than one thing speaks for it: its own form, how it is set off, and whether its
number continues the sequence.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from statistics import median_low

from reglet.exchange import front_matter
from reglet.exchange.chapters import find_headings
from reglet.exchange.draft import Draft, DraftParagraph, Finding, Sign
from reglet.exchange.headings import is_last_line, is_mark
from reglet.exchange.proposal import Kind, Proposal, Role, Use
from reglet.exchange.spelling_side import guess_language
from reglet.manuscript.paragraph import LINE_BREAK, Style
from reglet.manuscript.words import count_words

_SIGNED = {
    Sign.PART: Role(Kind.PART, Use.TITLE),
    Sign.CHAPTER: Role(Kind.CHAPTER, Use.TITLE),
    Sign.SCENE: Role(Kind.SCENE, Use.MARK),
    Sign.PAUSE: Role(use=Use.MARK),
    Sign.FRONT: Role(Kind.FRONT, Use.TITLE),
    Sign.BACK: Role(Kind.BACK, Use.TITLE),
    Sign.TITLE_PAGE: Role(use=Use.LEFT_OUT),
}
_SET_APART = (Style.BLOCK_QUOTE, Style.VERSE, Style.LETTER, Style.CENTRED, Style.HEADING)
_MOST_BLANK_BREAKS = 0.12
"""Blank lines that part more of the paragraphs than this are not scene breaks."""
_LONG_SCENE = 5000
"""A scene of more words than this is likely to be several (our own figure)."""
_UNDIVIDED = (
    "No headings and no breaks between scenes were found, so the draft is one long scene. Put the "
    "cursor where a chapter or a scene begins and say so; it can be split later as well."
)


def divide(draft: Draft) -> Proposal:
    """The proposal for a draft, to be looked at by the writer."""
    if draft.signed:
        return _as_signed(draft)
    paragraphs = draft.paragraphs
    roles: list[Role] = [Role() for _ in paragraphs]
    for at, each in enumerate(paragraphs):
        if each.list_of_contents:
            roles[at] = Role(use=Use.LEFT_OUT)
        elif is_mark(each.text):
            roles[at] = Role(Kind.SCENE, Use.MARK)
    findings = list(draft.findings)
    find_headings(paragraphs, roles, draft.title)
    _new_pages(paragraphs, roles)
    _blank_lines(paragraphs, roles)
    front_matter.settle(paragraphs, roles)
    _tidy_marks(roles)
    _begin(roles)
    if sum(role.opens is not None for role in roles) == 1 and _words(paragraphs) >= _LONG_SCENE:
        findings.append(Finding(_UNDIVIDED))
    title, author = front_matter.title_and_author(paragraphs, roles)
    if any(each.list_of_contents for each in paragraphs):
        first = next(at for at, each in enumerate(paragraphs) if each.list_of_contents)
        findings.append(
            Finding("The table of contents is left out: Reglet makes its own from the book.", first)
        )
    return Proposal(
        tuple(_trimmed(each, role) for each, role in zip(paragraphs, roles, strict=True)),
        tuple(roles),
        tuple(sorted(findings, key=lambda each: -1 if each.at is None else each.at)),
        draft.notes,
        title or draft.title,
        author or draft.author,
        guess_language(paragraphs, draft.language),
    )


def _words(paragraphs: Sequence[DraftParagraph]) -> int:
    return sum(count_words(each.text) for each in paragraphs)


def _trimmed(each: DraftParagraph, role: Role) -> DraftParagraph:
    """A title without the spaces or tabs that were typed to put it in its place."""
    paragraph = each.paragraph
    text = paragraph.text.strip()
    if role.use is not Use.TITLE or text == paragraph.text:
        return each
    start = paragraph.text.index(text)
    return replace(each, paragraph=paragraph.slice(start, start + len(text)))


def _as_signed(draft: Draft) -> Proposal:
    """A manuscript that Reglet wrote, divided by its own signs. What a word processor has put in
    since counts as text, or as a chapter's title where it has a heading style.
    """
    roles = []
    for each in draft.paragraphs:
        if each.sign is None and each.level == 1 and each.text.strip():
            roles.append(Role(Kind.CHAPTER, Use.TITLE))
        else:
            roles.append(_SIGNED.get(each.sign, Role()) if each.sign else Role())
    return Proposal(
        draft.paragraphs,
        tuple(roles),
        draft.findings,
        draft.notes,
        draft.title,
        draft.author,
        draft.language or guess_language(draft.paragraphs, ""),
    )


def _new_pages(paragraphs: Sequence[DraftParagraph], roles: list[Role]) -> None:
    """A page begun in the middle of the text begins a scene, or, in a draft without any heading,
    a chapter; a short set-off line at its head then is its title.
    """
    headed = any(role.opens in (Kind.CHAPTER, Kind.PART) for role in roles)
    for at, each in enumerate(paragraphs):
        if not each.new_page or not at or roles[at] != Role():
            continue
        if roles[at - 1].use is Use.TITLE or roles[at - 1].use is Use.MARK:
            continue
        roles[at] = Role(Kind.SCENE if headed else Kind.CHAPTER)


def _blank_lines(paragraphs: Sequence[DraftParagraph], roles: list[Role]) -> None:
    """More blank lines than the draft usually has between paragraphs begin a scene."""
    plain = [
        at
        for at in range(1, len(paragraphs))
        if roles[at] == Role() and roles[at - 1] == Role() and not _apart(paragraphs, at)
    ]
    if not plain:
        return
    usual = median_low([paragraphs[at].blanks for at in plain])
    breaks = [at for at in plain if paragraphs[at].blanks > usual]
    if len(breaks) <= max(3, len(plain) * _MOST_BLANK_BREAKS):
        for at in breaks:
            roles[at] = Role(Kind.SCENE)


def _apart(paragraphs: Sequence[DraftParagraph], at: int) -> bool:
    """Whether a blank line before `at` may be there to set off a letter, a verse or the like."""
    here, before = paragraphs[at].paragraph, paragraphs[at - 1].paragraph
    return (
        here.style in _SET_APART
        or before.style in _SET_APART
        or LINE_BREAK in here.text
        or LINE_BREAK in before.text
        or is_last_line(here.text)
    )


def _begin(roles: list[Role]) -> None:
    """A draft that begins with its story begins with a chapter."""
    first = next((at for at, role in enumerate(roles) if role.use is not Use.LEFT_OUT), None)
    if first is not None and roles[first] in (Role(), Role(Kind.SCENE)):
        roles[first] = Role(Kind.CHAPTER)


def _tidy_marks(roles: list[Role]) -> None:
    """A mark that parts nothing, because a chapter begins or another mark stands there, is left
    to that: no empty scene comes of it.
    """
    mark = Role(Kind.SCENE, Use.MARK)
    for at, role in enumerate(roles):
        if role != mark:
            continue
        after = next((each for each in roles[at + 1 :] if each.use is not Use.LEFT_OUT), None)
        before = roles[at - 1] if at else None
        if after is None or after.opens or before is None or before.use is Use.TITLE:
            roles[at] = Role(use=Use.LEFT_OUT)
