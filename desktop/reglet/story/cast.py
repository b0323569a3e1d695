"""The cast: who is named in the book, under which forms of their name, and where.

Names are proposed from the text; the writer joins forms of one name, which the book remembers in
`Book.cast`. A person is known by the form that the writer chose, else by the fullest one.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache, cached_property

from reglet import resources
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
    if " " in form or is_mostly_name(form):
        return False
    return zipf(form) >= (5.2 if form.lower() in given_names() else 4.6)


def _name_on_its_own(form: str) -> bool:
    return is_mostly_name(form) or form.lower() in given_names()


def _bare(form: str) -> list[str]:
    """The words of a name without its title and initials."""
    words = form.split()[1:] if title_of(form) else form.split()
    return [word for word in words if not word.endswith(".")]


def cast_of(
    mentions: Sequence[tuple[str, Sequence[NameMention]]], known: Sequence[Person] = ()
) -> tuple[CastMember, ...]:
    """The cast, those named most often first; whom the writer put in it stand before the others.

    `mentions` are each scene's id and the names in its text, in book order. `known` is
    `Book.cast`; its people are in the answer even where the text no longer names them.
    """
    counts = person_forms(each for _, scene in mentions for each in scene)
    confirmed = {form: person.name for person in known for form in (person.name, *person.forms)}
    free = {
        form: count for form, count in counts.items() if form not in confirmed and count >= FEWEST
    }
    chosen = _joined(free, confirmed, sexes_told(each for _, scene in mentions for each in scene))
    places: dict[str, list[NamePlace]] = defaultdict(list)
    for scene, names in mentions:
        for each in names:
            if each.form in chosen and not (each.opens and _word_of_its_own(each.form)):
                place = NamePlace(scene, each.start, each.end, each.form)
                places[chosen[each.form]].append(place)
    forms: dict[str, list[str]] = defaultdict(list)
    for form, name in chosen.items():
        if form != name:
            forms[name].append(form)
    members = [
        CastMember(name, (name, *forms[name]), tuple(places[name]), name in confirmed.values())
        for name in dict.fromkeys(chosen.values())
    ]
    return tuple(sorted(members, key=lambda each: (not each.confirmed, -len(each.places))))


def known_as(cast: Iterable[CastMember]) -> dict[str, str]:
    """For each form the name of the member of the cast that it is a form of."""
    return {form: member.name for member in cast for form in member.forms}


def sexes_of(cast: Iterable[CastMember], told: Mapping[str, str]) -> dict[str, str]:
    """ "f" or "m" for each name of the cast where its forms agree on it. `told` is what
    `sexes_told` says of the forms.
    """
    found = {}
    for member in cast:
        sexes = {sex for form in member.forms if (sex := _sex(form, told))}
        if len(sexes) == 1:
            found[member.name] = sexes.pop()
    return found


def sexes_told(mentions: Iterable[NameMention]) -> dict[str, str]:
    """ "f" or "m" for the forms that the text goes on from with "she" or "he" four times in five,
    and three times at least.
    """
    counts: dict[str, Counter[str]] = defaultdict(Counter)
    for mention in mentions:
        if mention.sex:
            counts[mention.form][mention.sex] += 1
    found = {}
    for form, count in counts.items():
        sex, most = count.most_common(1)[0]
        if most >= _TOLD and most >= 0.8 * count.total():
            found[form] = sex
    return found


_TOLD = 3


def _joined(
    free: Mapping[str, int], confirmed: Mapping[str, str], told: Mapping[str, str]
) -> dict[str, str]:
    """For each form the name of its bearer. A form joins another only where no third could claim
    it as well.
    """
    chosen = dict(confirmed)
    whole = {form for form in {*free, *confirmed} if len(_bare(form)) > 1}
    # Titles and middle names aside: "Mr Abel T. Quill" is "Abel Quill".
    fullest: dict[str, str] = {}
    for form in sorted(whole, key=lambda each: (bool(title_of(each)), -free.get(each, 0))):
        bare = _bare(form)
        name = fullest.setdefault(f"{bare[0]} {bare[-1]}", chosen.get(form, form))
        chosen.setdefault(form, name)
    bearers = {chosen[form]: form for form in whole}
    for form in sorted(free, key=lambda each: (bool(title_of(each)), -free[each])):
        if form in chosen:
            continue
        (bare,) = _bare(form)[-1:] or [form]
        claims = {
            name
            for name, full in bearers.items()
            if _may_be(form, bare, full, told)
        }
        if len(claims) == 1:
            chosen[form] = claims.pop()
        elif not claims and title_of(form) and _only_bearer(form, bare, free):
            chosen[form] = chosen.get(bare, bare if bare in free else form)
        else:
            chosen[form] = form
    return chosen


def _may_be(form: str, bare: str, full: str, told: Mapping[str, str]) -> bool:
    """Whether a name of one word, or a title with it, may be short for a full name."""
    first, last = _bare(full)[0], _bare(full)[-1]
    sex, of_full = _sex(form, told), _sex(full, told) or _sex(first, told)
    if sex and of_full and sex != of_full:
        return False
    if bare == last:
        return title_of(form) not in _OF_ANOTHER or sex == of_full
    return bare == first or bare.lower() in _short_forms().get(first.lower(), ())


_OF_ANOTHER = frozenset("Widow Mrs Mme Madame Frau Signora Senora Lady".split())
"""Titles that with a surname name somebody's wife as soon as anybody whose sex is not known."""


def _only_bearer(form: str, bare: str, free: Mapping[str, int]) -> bool:
    """Whether all titled forms with this name can be of one person."""
    titles = {title_of(each) for each in free if title_of(each) and _bare(each) == [bare]}
    kinds = {_KINDS.get(title) or _sex(f"{title} {bare}", {}) for title in titles} - {""}
    return len(kinds) < 2


_KINDS = {"Miss": "unmarried", "Mlle": "unmarried", "Mademoiselle": "unmarried", "Widow": "widow"}


def _sex(form: str, told: Mapping[str, str]) -> str:
    title = title_of(form)
    titles = sections("titles.txt")
    if title in titles["men"]:
        return "m"
    if title in titles["women"]:
        return "f"
    bare = _bare(form)
    if form in told or not bare or (title and len(bare) == 1):
        return told.get(form, "")
    given = sections("given_names.txt")
    first = bare[0].lower()
    return "m" if first in given["men"] else "f" if first in given["women"] else ""


@cache
def _short_forms() -> dict[str, frozenset[str]]:
    lines = resources.path("story", "short_names.txt").read_text(encoding="utf-8").splitlines()
    names = (line.split() for line in lines if not line.startswith("#"))
    return {full: frozenset(short) for full, *short in names}


def join(book: Book, name: str, other: str) -> Book:
    """The book with `other` and its forms made forms of `name`, and remembered as such."""
    people = {person.name: person for person in book.cast}
    one, two = people.get(name, Person(name)), people.get(other, Person(other))
    forms = tuple(dict.fromkeys((*one.forms, two.name, *two.forms)))
    joined = Person(name, tuple(form for form in forms if form != name))
    rest = tuple(p for p in book.cast if p.name not in (name, other))
    rest = tuple(
        replace(p, forms=tuple(form for form in p.forms if form not in joined.forms)) for p in rest
    )
    at = next((i for i, p in enumerate(book.cast) if p.name in (name, other)), len(rest))
    return replace(book, cast=(*rest[:at], joined, *rest[at:]))


def confirm(book: Book, member: CastMember) -> Book:
    """The book with a proposed member put in its cast under all their forms."""
    for form in member.forms[1:] or (member.name,):
        book = join(book, member.name, form)
    return book


def part(book: Book, name: str, form: str) -> Book:
    """The book with `form` no longer a form of `name`, but a person of its own."""
    cast: list[Person] = []
    for person in book.cast:
        if person.name == name and form in person.forms:
            cast.append(replace(person, forms=tuple(f for f in person.forms if f != form)))
            cast.append(Person(form))
        else:
            cast.append(person)
    return replace(book, cast=tuple(cast))


def rename(book: Book, name: str, form: str) -> Book:
    """The book with a person known by another of their forms."""
    return replace(
        book,
        cast=tuple(
            Person(form, tuple(f for f in (name, *person.forms) if f != form))
            if person.name == name and form in person.forms
            else person
            for person in book.cast
        ),
    )
