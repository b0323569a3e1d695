"""The cast: who is named in the book, under which forms of their name, and where.

Names are proposed from the text; the writer joins forms of one name, which the book remembers in
`Book.cast`. A person is known by the form that the writer chose, else by the fullest one.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache, cached_property, lru_cache

from reglet import resources
from reglet.language.frequency import is_mostly_name, zipf
from reglet.manuscript.book import Book, Person
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


@dataclass(slots=True)
class FormTally:
    """What the mentions of one form come to. `inside` are those that open no sentence; `m` and `f`
    those that the text goes on from with "he" or "she".
    """

    count: int = 0
    evidence: float = 0.0
    inside: int = 0
    m: int = 0
    f: int = 0

    def add(self, other: FormTally) -> None:
        """Take in the mentions of another tally."""
        self.count += other.count
        self.evidence += other.evidence
        self.inside += other.inside
        self.m += other.m
        self.f += other.f


@dataclass(frozen=True)
class SceneNames:
    """The names in one scene's text, in order."""

    scene: str
    mentions: tuple[NameMention, ...]

    @cached_property
    def tally(self) -> Mapping[str, FormTally]:
        """The mentions that count, form by form: a common word that opens a sentence does not."""
        forms: dict[str, FormTally] = defaultdict(FormTally)
        for mention in self.mentions:
            if not _is_only_a_word(mention):
                forms[mention.form].add(
                    FormTally(
                        1,
                        mention.evidence,
                        not mention.opens,
                        mention.sex == "m",
                        mention.sex == "f",
                    )
                )
        return forms


@dataclass(frozen=True)
class CastMember:
    """Somebody in the book. `forms` are all their names, the one they are known by first; `scenes`
    is how often each scene that names them does, by its id, in book order.

    `confirmed` says that the writer has put them in the cast; others are proposed. `sex` is "f" or
    "m" where their forms agree on it: by a title, by what the text goes on with, or by a given
    name; else "".
    """

    name: str
    forms: tuple[str, ...]
    scenes: Mapping[str, int]
    confirmed: bool = False
    sex: str = ""
    sources: tuple[SceneNames, ...] = field(default=(), repr=False, compare=False)

    @property
    def count(self) -> int:
        """How often they are named."""
        return sum(self.scenes.values())

    @cached_property
    def places(self) -> tuple[NamePlace, ...]:
        """Where they are named, in order."""
        forms = set(self.forms)
        return tuple(
            NamePlace(source.scene, each.start, each.end, each.form)
            for source in self.sources
            if source.scene in self.scenes
            for each in source.mentions
            if each.form in forms and not _is_only_a_word(each)
        )


def person_forms(scenes: Iterable[SceneNames]) -> dict[str, int]:
    """The forms that are taken for names of people, with how often each stands."""
    return _of_people(_together(scenes))


def _together(scenes: Iterable[SceneNames]) -> dict[str, FormTally]:
    forms: dict[str, FormTally] = defaultdict(FormTally)
    for scene in scenes:
        for form, tally in scene.tally.items():
            forms[form].add(tally)
    return forms


def _of_people(forms: Mapping[str, FormTally]) -> dict[str, int]:
    parts: dict[str, float] = defaultdict(float)
    for form, seen in forms.items():
        if " " in form and seen.evidence > 0:
            for word in _bare(form):
                parts[word] += seen.evidence
    found = {}
    for form, seen in forms.items():
        bare = _bare(form)
        support = seen.evidence
        if len(bare) == 1 and not title_of(form):
            # "Tarrow" is a person where "Mrs Tarrow" is one.
            borne = parts.get(form, 0.0)
            support += min(borne, 3.0)
            if not seen.inside and not _is_name_by_itself(form) and borne <= 0:
                continue
        elif bare and not title_of(form):
            alone = forms.get(bare[0])
            support += min(2.0, max(-2.0, alone.evidence)) if alone else 0.0
        if support / seen.count > _enough(seen.count):
            found[form] = seen.count
    return found


def _enough(count: int) -> float:
    """The mean evidence from which a name is a person's: more is asked of a name seen seldom."""
    return 0.25 if count >= 4 else 0.4 if count > 1 else 0.8


def _is_only_a_word(mention: NameMention) -> bool:
    """Whether a mention's capital may come from the sentence that it opens."""
    return mention.opens and _is_word(mention.form)


@lru_cache(maxsize=16_384)
def _is_word(form: str) -> bool:
    if " " in form or is_mostly_name(form):
        return False
    return zipf(form) >= (5.2 if form.lower() in given_names() else 4.6)


def _is_name_by_itself(form: str) -> bool:
    return is_mostly_name(form) or form.lower() in given_names()


@lru_cache(maxsize=16_384)
def _bare(form: str) -> tuple[str, ...]:
    """The words of a name without its title and initials."""
    words = form.split()[1:] if title_of(form) else form.split()
    return tuple(word for word in words if not word.endswith("."))


def cast_of(scenes: Sequence[SceneNames], known: Sequence[Person] = ()) -> tuple[CastMember, ...]:
    """The cast, those named most often first; whom the writer put in it stand before the others.

    `scenes` are the names of each scene, in book order. `known` is `Book.cast`; its people are in
    the answer even where the text no longer names them.
    """
    forms = _together(scenes)
    confirmed = {form: person.name for person in known for form in (person.name, *person.forms)}
    # A form of one word that stands once may still join a full name; a full name that stands once
    # is somebody spoken of in passing, and gathers none.
    free = {
        form: count
        for form, count in _of_people(forms).items()
        if form not in confirmed and (count >= FEWEST or len(_bare(form)) == 1)
    }
    told = _sexes(forms)
    chosen = _joined(free, confirmed, told)
    counts: dict[str, dict[str, int]] = {name: {} for name in chosen.values()}
    for scene in scenes:
        for form, tally in scene.tally.items():
            if form in chosen:
                of_member = counts[chosen[form]]
                of_member[scene.scene] = of_member.get(scene.scene, 0) + tally.count
    named: dict[str, list[str]] = {name: [name] for name in counts}
    for form, name in chosen.items():
        if form != name:
            named[name].append(form)
    people = {person.name for person in known}
    sources = tuple(scenes)
    members = [
        CastMember(
            name, tuple(named[name]), each, name in people, _one_sex(named[name], told), sources
        )
        for name, each in counts.items()
        if name in people or sum(each.values()) >= FEWEST
    ]
    return tuple(sorted(members, key=lambda each: (not each.confirmed, -each.count)))


def known_as(cast: Iterable[CastMember]) -> dict[str, str]:
    """For each form the name of the member of the cast that it is a form of."""
    return {form: member.name for member in cast for form in member.forms}


def _one_sex(forms: Iterable[str], told: Mapping[str, str]) -> str:
    sexes = {sex for form in forms if (sex := _sex(form, told))}
    return sexes.pop() if len(sexes) == 1 else ""


def _sexes(forms: Mapping[str, FormTally]) -> dict[str, str]:
    """The sex, "f" or "m", of the forms that the text goes on from with "she" or "he" four times in
    five, and three times at least.
    """
    found = {}
    for form, seen in forms.items():
        most = max(seen.m, seen.f)
        if most >= _TOLD and most >= 0.8 * (seen.m + seen.f):
            found[form] = "m" if seen.m > seen.f else "f"
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
        parts = _bare(form)
        # "Mrs Abel Quill" bears her husband's name.
        wife = "Mrs " if _sex(form, told) == "f" and _sex(parts[0], {}) == "m" else ""
        name = fullest.setdefault(f"{wife}{parts[0]} {parts[-1]}", chosen.get(form, form))
        chosen.setdefault(form, name)
    claimed: dict[str, list[str]] = defaultdict(list)
    for form in whole:
        for word in _may_be_called(form):
            claimed[word].append(form)
    for form in sorted(free, key=lambda each: (bool(title_of(each)), -free[each])):
        if form in chosen:
            continue
        bare = _bare(form)[-1] if _bare(form) else form
        claims = {chosen[full] for full in claimed.get(bare, ()) if _may_be(form, bare, full, told)}
        if len(claims) == 1:
            chosen[form] = claims.pop()
        elif not claims and title_of(form) and _only_bearer(form, bare, free):
            chosen[form] = chosen.get(bare, bare if bare in free else form)
        else:
            chosen[form] = form
    return chosen


def _may_be(form: str, bare: str, full: str, told: Mapping[str, str]) -> bool:
    """Whether a name of one word that the full one has in it or is the short form of may, with its
    title, be of the same person.
    """
    first, last = _bare(full)[0], _bare(full)[-1]
    sex, of_full = _sex(form, told), _sex(full, told) or _sex(first, told)
    if sex and of_full and sex != of_full:
        return False
    return bare != last or title_of(form) not in _OF_ANOTHER or sex == of_full


@lru_cache(maxsize=16_384)
def _may_be_called(full: str) -> frozenset[str]:
    """The names of one word that somebody of this full name may go by."""
    first, last = _bare(full)[0], _bare(full)[-1]
    return frozenset({first, last}) | {
        short.capitalize() for short in _short_forms().get(first.lower(), ())
    }


_OF_ANOTHER = frozenset("Widow Mrs Mme Madame Frau Signora Senora Lady".split())
"""Titles that with a surname name somebody's wife as soon as anybody whose sex is not known."""


def _only_bearer(form: str, bare: str, free: Mapping[str, int]) -> bool:
    """Whether all titled forms with this name can be of one person."""
    titles = {title_of(each) for each in free if title_of(each) and _bare(each) == (bare,)}
    kinds = {_KINDS.get(title) or _sex(f"{title} {bare}", {}) for title in titles} - {""}
    return len(kinds) < 2


_KINDS = {"Miss": "unmarried", "Mlle": "unmarried", "Mademoiselle": "unmarried", "Widow": "widow"}


def _sex(form: str, told: Mapping[str, str]) -> str:
    title = title_of(form)
    titles = resources.sections("story", "titles.txt")
    if title in titles["men"]:
        return "m"
    if title in titles["women"]:
        return "f"
    bare = _bare(form)
    if not bare or (title and len(bare) == 1):
        return told.get(form, "")
    given = resources.sections("story", "given_names.txt")
    first = bare[0].lower()
    men, women = first in given["men"], first in given["women"]
    # What goes on with "she" may go on with her through whose eyes he is seen.
    return "m" if men and not women else "f" if women and not men else told.get(form, "")


@cache
def _short_forms() -> dict[str, frozenset[str]]:
    names = (line.split() for line in resources.lines("story", "short_names.txt"))
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
