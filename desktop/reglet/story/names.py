"""Names as they stand in one paragraph, each with what its surroundings say of its bearer.

A person is told from a place by what stands around the name: a title, a speech tag, the verb of a
subject, a possessive, a call ("Go home, Caspar!") speak for a person; a preposition of place, an
article, a word such as "Street" behind it speak against. One place seldom settles it, so the
evidence is a number that ``cast`` adds up over the book. The figures were set on LitBank (Bamman,
Popat and Shen 2019) by ``tests/benchmarks/story_truth.py``.
"""

import re
from collections.abc import Sequence
from functools import cache, lru_cache
from typing import NamedTuple

from reglet import resources
from reglet.language.frequency import is_mostly_name, zipf
from reglet.language.prose import Prose
from reglet.language.speech import Quotation
from reglet.language.speech_verbs import SPEECH_VERBS


class NameMention(NamedTuple):
    """A name in a paragraph: ``text[start:end]``, in code points.

    ``form`` is the name as one writes it ("Mrs. Tarrow" is "Mrs Tarrow"). ``evidence`` is above
    zero where a person bears it, below where not. ``opens`` says that it opens a sentence, where
    any word has a capital. ``spoken`` says that it stands in speech. ``sex`` is "m" or "f" where
    the sentence goes on with "he" or "she", else "".
    """

    start: int
    end: int
    form: str
    evidence: float
    opens: bool
    spoken: bool
    sex: str = ""


_CAPITAL = r"(?:(?:O|D|L|M)['’])?[A-ZÀ-ÖØ-Þ][^\W\d_]+(?:[-‐‑][A-ZÀ-ÖØ-Þ][^\W\d_]+)*"
_INITIAL = r"[A-Z]\.(?=[ \u00a0]?[A-Z])"
_ABBREVIATED = "Mr Mrs Ms Mx Dr St Prof Rev Capt Col Gen Maj Sgt Lt Hon Messrs Mme Mlle M".split()
_POINT = rf"(?:(?:{'|'.join(rf'(?<=[^A-Za-z]{each})|(?<=^{each})' for each in _ABBREVIATED)})\.)?"
_RUN = re.compile(
    rf"(?<![\w’'-])(?:{_INITIAL}|{_CAPITAL})"
    rf"(?:{_POINT}[ \u00a0](?:(?:de|la|le|du|van|von|der|den|del|da)[ \u00a0])?"
    rf"(?:{_INITIAL}|{_CAPITAL}))*(?![\w]|[’'](?!s\b)[a-z])"
)
_WORD_BEFORE = re.compile(r"([\w’'-]+)([,;:]?)[ \u00a0]$")
_WORDS_AFTER = re.compile(r"([,]?)[ \u00a0]([a-z][\w’'-]*)(?:[ \u00a0]([a-z]+))?")
_ENDS_CALL = re.compile(r"[,.!?;—–-]+(?:[ \u00a0”’\"']|$)")
_SENTENCE_END = ".!?:;…—–-“‘\"'(*_[\u2028"

_ADJECTIVES = frozenset(
    "Old Young Poor Little Dear Dearest Great Big Good Sweet Mad Fat Blind Lucky Ol".split()
)
_PLACES_BEFORE = frozenset(
    "in at into near through throughout via around across above outside reached leaving "
    "left visit visited".split()
)
_PEOPLE_BEFORE = frozenset(
    "told asked said named called with tell ask and poor dear old young little replied "
    "cried answered marry married thanked kissed loved met saw please".split()
)
_BE = frozenset("was is were are had has have would could did does might must should".split())
_PERSONAL = frozenset(
    "who whose whom himself herself thought knew felt wondered looked glanced smiled laughed "
    "nodded turned sat stood walked ran shook rose wished hoped remembered supposed "
    "believed wanted loved hated saw heard came went took gave made held put began seemed "
    "never always".split()
)
_IRREGULAR_PAST = frozenset(
    "thought knew felt sat stood ran shook rose saw heard came went took gave made held put began "
    "got let left kept told wrote read spoke lay fell drew threw caught brought bent broke bit "
    "drank ate sang swung wore wept woke won lost led leant leaned slept spent sprang stole stuck "
    "swore tore understood meant met paid set shot shut bought chose crept drove flew grew hung "
    "hit bowed hurt sent found".split()
)
_HE_OR_SHE = re.compile(r"\b(?:(?P<m>he|him|his|himself)|(?P<f>she|her|herself))\b|[.!?;:“”]|[A-Z]")
_NO_ADVERB = frozenset("family only early holy reply".split())


def names_in(prose: Prose) -> tuple[NameMention, ...]:
    """The names of a paragraph, in order. Never raises."""
    text = prose.text
    found = list(_RUN.finditer(text))
    if not found:
        return ()
    speakers = {tag.speaker for tag in prose.speech_tags if tag.speaker}
    mentions = (
        _mention(text, match.start(), match[0], speakers, prose.speeches) for match in found
    )
    return tuple(mention for mention in mentions if mention)


def _mention(
    text: str,
    start: int,
    run: str,
    speakers: set[tuple[int, int]],
    speeches: Sequence[Quotation],
) -> NameMention | None:
    end = start + len(run)
    opens = _opens_sentence(text, start)
    words = run.replace("\u00a0", " ").replace(".", ". ").split()
    # What opens a sentence has its capital from that, so a common word there is left out.
    while words and (
        words[0] in _ADJECTIVES
        or (opens and len(words) > 1 and _is_common(words[0]))
        or (words[0] in ("The", "A", "An") and len(words) > 1)
    ):
        start = text.index(words[1], start + 1) if len(words) > 1 else end
        words, opens = words[1:], False
    if not words:
        return None
    plain = [word.rstrip(".") for word in words]
    if len(plain) > 1 and plain[-1] in _stops() and plain[0] not in _titles():
        if plain[-1] in place_ends():
            return None
        end = start + text[start:end].rindex(plain[-1])
        end = len(text[:end].rstrip())
        plain, words = plain[:-1], words[:-1]
    titled = plain[0] in _titles() and len(plain) > 1
    if not _may_name(plain, titled):
        return None
    form = " ".join(
        word if len(word) == 2 and word.endswith(".") else word.rstrip(".") for word in words
    )
    in_speech = any(q.start <= start < q.end for q in speeches)
    evidence = _evidence(text, start, end, plain, titled, in_speech)
    if any(a <= start and end <= b for a, b in speakers):
        evidence += 3
    follows = _HE_OR_SHE.search(text, end)
    sex = (follows.lastgroup or "") if follows else ""
    return NameMention(start, end, form, evidence, opens and not titled, in_speech, sex)


def _may_name(plain: list[str], titled: bool) -> bool:
    name = plain[1:] if titled else plain
    if any(word.isupper() and len(word) > 1 for word in plain) or len(name[-1]) < 2:
        return False
    if len(name) > 1:
        return True
    (word,) = name
    if word in _titles() or word in _never() or word.removesuffix("s") in _never():
        return False
    return titled or not (word in _stops() or _is_function_word(word))


def _is_function_word(word: str) -> bool:
    """Whether a word is so common in itself that its capital makes it no name."""
    plain = word.lower()
    if plain in _HEADS:
        return True
    return zipf(plain) >= 5.4 and not is_mostly_name(word) and plain not in given_names()


def _opens_sentence(text: str, start: int) -> bool:
    before = text[:start].rstrip(" \u00a0")
    return not before or before[-1] in _SENTENCE_END or before[-1] in "”’"


def _is_common(word: str) -> bool:
    return (
        word not in _titles()
        and zipf(word) >= 4.2
        and not is_mostly_name(word)
        and word.lower() not in given_names()
    ) or word.lower() in _HEADS


_HEADS = frozenset(
    "but and then when if so for now yet or nor as at in on by to from with of that this these "
    "those he she it they we you i his her my our your their what why who how where there here "
    "even only perhaps oh no yes well poor both not after before until till while since".split()
)


def _evidence(
    text: str, start: int, end: int, plain: list[str], titled: bool, spoken: bool
) -> float:
    last = plain[-1]
    score = 4.0 if titled else 0.0
    first = plain[1] if titled else plain[0]
    if not titled and first.lower() in given_names():
        score += 0.6 if len(plain) == 1 else 1.5
    if last in place_ends() and len(plain) > 1 and not titled:
        score -= 5
    if first in _places() and not titled:
        score -= 1.5
    possessive = text[end : end + 2] in ("’s", "'s") or (
        last.endswith("s") and text[end : end + 1] in "’'"
    )
    before = _WORD_BEFORE.search(text, max(0, start - 24), start)
    if before:
        word, mark = before[1].lower(), before[2]
        if word in ("the", "a", "an", "this", "these") and not titled:
            score -= 2.5
        elif word in _PLACES_BEFORE and not mark and not possessive and not titled:
            score -= 1.2 if word != "at" else 0.6
        elif word in _PEOPLE_BEFORE:
            score += 1
        elif mark == "," and spoken and _ENDS_CALL.match(text, end):
            score += 1.5
    elif spoken and text[start - 1 : start] in "“‘\"'" and text[end : end + 1] in (",", "!"):
        score += 1
    if possessive:
        return score + 0.7
    after = _WORDS_AFTER.match(text, end)
    if after:
        score += _subject(after[1], after[2], after[3] or "")
    return score


def _subject(comma: str, word: str, following: str) -> float:
    """What the word behind a name says: whether it is the verb of a person."""
    if word in ("who", "whose", "whom"):
        return 2
    if comma:
        return 0
    if word.endswith("ly") and word not in _NO_ADVERB:
        word = following
    if word in _PERSONAL:
        return 2
    if word in SPEECH_VERBS or word in _IRREGULAR_PAST:
        return 1.5
    if word.endswith("ed") and len(word) > 4:
        return 1
    if word in _BE:
        return 0.5
    if word in ("and", "or", "with", "to", "in", "at", "from", "as", "on", "by", "for", "but"):
        return 0
    return -0.4


@cache
def _titles() -> frozenset[str]:
    return resources.words("story", "titles.txt")


@cache
def given_names() -> frozenset[str]:
    """The given names that are commonly borne, in lower case."""
    return resources.words("story", "given_names.txt")


@lru_cache(maxsize=16_384)
def title_of(form: str) -> str:
    """The title a form opens with, or ""."""
    first, _, rest = form.partition(" ")
    return first if rest and first in _titles() else ""


@cache
def _stops() -> frozenset[str]:
    listed = resources.sections("story", "not_people.txt")
    named = ("peoples", "calendar", "sacred", "offices", "places end in")
    return frozenset().union(*(listed[name] for name in named))


@cache
def _never() -> frozenset[str]:
    listed = resources.sections("story", "not_people.txt")
    return listed["peoples"] | listed["sacred"]


@cache
def _places() -> frozenset[str]:
    return resources.sections("story", "not_people.txt")["places"]


@cache
def place_ends() -> frozenset[str]:
    """The words that a place's name ends in, such as "Street"."""
    return resources.sections("story", "not_people.txt")["places end in"]
