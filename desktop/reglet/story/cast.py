"""The cast: who is named in the book, under which forms of their name, and where.

Names are proposed from the text; the writer joins forms of one name, which the book remembers in
`Book.cast`. A person is known by the form that the writer chose, else by the fullest one.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from reglet.language.frequency import is_mostly_name, zipf
from reglet.manuscript.book import Book, Person
from reglet.story.listed import sections
from reglet.story.names import NameMention, given_names, title_of

FEWEST = 2
"""A name that stands less often is not proposed, unless the writer has it in the cast."""
_RARE = 3.6
"""Zipf value below which a word that has a capital only where a sentence opens may be a name."""


@dataclass(frozen=True, slots=True)
class NamePlace:
    """Where a name stands: a scene's id, code points in its text, and the form."""

    scene: str
    start: int
    end: int
    form: str


@dataclass(frozen=True)
class CastMember:
    """Somebody in the book. `forms` are all their names, the one they are known by first.

    `confirmed` says that the writer has put them in the cast; others are proposed.
    """

    name: str
    forms: tuple[str, ...]
    places: tuple[NamePlace, ...]
    confirmed: bool = False

    @cached_property
    def scenes(self) -> Mapping[str, int]:
        """How often they are named in each scene that names them, by its id, in book order."""
        return Counter(place.scene for place in self.places)


@dataclass(slots=True)
class _Form:
    count: int = 0
    evidence: float = 0.0
    inside: int = 0  # times it stands where no sentence opens


def person_forms(mentions: Iterable[NameMention]) -> dict[str, int]:
    """The forms that are taken for names of people, with how often each stands."""
    forms = _tally(mentions)
    parts: dict[str, float] = defaultdict(float)
    for form, seen in forms.items():
        for word in _bare(form):
            parts[word] += max(0.0, seen.evidence) if " " in form else 0.0
    found = {}
    for form, seen in forms.items():
        bare = _bare(form)
        support = seen.evidence
        if len(bare) == 1 and not title_of(form):
            # "Tarrow" is a person where "Mrs Tarrow" is one.
            support += min(parts[form], 3.0)
            if not seen.inside and not _name_on_its_own(form) and parts[form] <= 0:
                continue
        elif not title_of(form):
            alone = forms.get(bare[0])
            support += min(2.0, max(-2.0, alone.evidence)) if alone else 0.0
        if support / seen.count > _enough(seen.count):
            found[form] = seen.count
    return found


def _enough(count: int) -> float:
    """The mean evidence from which a name is a person's: more is asked of a name seen seldom."""
    return 0.25 if count >= 4 else 0.4 if count > 1 else 0.8


def _tally(mentions: Iterable[NameMention]) -> dict[str, _Form]:
    forms: dict[str, _Form] = defaultdict(_Form)
    for mention in mentions:
        seen = forms[mention.form]
        if mention.opens and _word_of_its_own(mention.form):
            continue
        seen.count += 1
        seen.evidence += mention.evidence
        seen.inside += not mention.opens
    return {form: seen for form, seen in forms.items() if seen.count}


def _word_of_its_own(form: str) -> bool:
    """Whether a form is also a common word, whose capital may come from the sentence's opening."""
    return (
        " " not in form
        and zipf(form) >= 4.8
        and not is_mostly_name(form)
        and form.lower() not in given_names()
    )


def _name_on_its_own(form: str) -> bool:
    return is_mostly_name(form) or form.lower() in given_names()


def _bare(form: str) -> list[str]:
    """The words of a name without its title and initials."""
    words = form.split()[1:] if title_of(form) else form.split()
    return [word for word in words if not word.endswith(".")]
