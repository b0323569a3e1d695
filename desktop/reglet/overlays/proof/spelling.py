"""Overlay: words that are in no dictionary and not in the book's style sheet."""

import re
import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache

from reglet.language.dictionary import Dictionary, dictionary
from reglet.language.frequency import is_mostly_name, zipf
from reglet.language.sentences import is_inside
from reglet.language.words import Word
from reglet.language.words import words as words_of
from reglet.manuscript.book import Book, StyleSheet
from reglet.manuscript.paragraph import Paragraph, SpanKind
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.manuscript.stage import Stage
from reglet.numbers import times
from reglet.overlays.house import House, Strictness
from reglet.overlays.overlay import Finding, of_uses
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph, read_paragraph
from reglet.overlays.tally import Tally, Use

_CLITICS = re.compile("(?:['’](?:s|d|ll|ve)|(?<=s)['’])$")
_STRETCHED = re.compile(r"([a-z])\1{2,}", re.IGNORECASE)
_DRAWN_OUT = re.compile(r"([a-z])[-‐‑](?=\1)\1", re.IGNORECASE)  # "cra-azy"
_SOUND = re.compile(r"[bfghmprstz]+|(?:ha|he|ho|hee|hi|ah|oh|uh|um|la)+h*", re.IGNORECASE)
# Letters dropped in speech: "o’ the", "wi’ it", "goin’ on", "’im", "th’ other".
_DROPPED = re.compile(r"\b(?:o|wi|an|th|t|y|ol|[a-z]+in)’ |(?<= )’[a-z]")
# How far a slip may be from the word that it is surely meant for (see `Suggestion.distance`), by
# how many letters it has, and how common that word must be (Zipf). Our own figures, set with
# `tests.benchmarks.proof_truth`.
_LIKELY = (0.0, 0.0, 0.0, 0.6, 0.96, 0.96, 1.5)
_COMMON, _VERY_COMMON = 2.8, 3.8
_SHORTEST = 5  # letters, below which a word like no other is taken for a sound or a dialect's
_NEAR_BY = 60  # code points within which two unknown words make a crowd
_MANNER = 2  # other strange words in one speech, from which it is a manner of speaking
_NAME_FROM = 3
"""An unknown capitalised word that stands this often is taken for a name (our own figure)."""
_FAR, _FAR_BY_LETTER, _KNOWN_AT_ALL = 1.8, 0.2, 2.0
"""A word farther than this from any word in use (Zipf) is no slip of one, but a word by itself. The
second figure is for each letter of a long one. Our own figures."""
# Small words that show French, German, Spanish, Italian or Latin around them. Our own list.
_FOREIGN = re.compile(
    r"\b(?:le|la|les|des|du|de|au|aux|et|un|une|je|tu|que|qui|ne|mon|mes|sur|sans|el|los|las|del|il|"
    r"che|di|der|das|dem|und|ist|ich|nicht|ein|eine|von|zu|cum|sub|non|quod)\b|\b[cdjlmnqst]’(?=\w)",
    re.IGNORECASE,
)
_OWN_FROM, _OWN_THOUGH_NEAR, _OWN_THOUGH_FAR = 2, 5, 3
"""A word that stands this often is asked about where it stands first; from the second figure on
also one that lies near a common word is taken for the book's own, from the third one that lies
near none is asked about at all."""


def spelling(read: ReadParagraph, house: House) -> Iterator[Use]:
    """A word that no dictionary and no style sheet knows is a slip, or a word of the book's own.

    One of the book's own that recurs is asked about where it stands first, so that one answer
    settles it. Words in a span of another language are left alone; so are letters dropped in
    speech ("runnin’"), drawn-out and wordless sounds, and, unless the overlay is strict, words of
    a dialect or a foreign phrase, which show themselves by standing in a crowd, and a word that
    stands once or twice and is like no other.

    Source: the dictionaries of Hunspell.
    """
    known = dictionary(house.language)
    strict = house.strictness_of("spelling") is Strictness.STRICT
    unknown = [word for word in read.prose.words if not _is_known(word, read, known)]
    for word in unknown:
        if not strict and _is_left_alone(word, unknown, read, known):
            continue
        bare = bare_name(word.text)
        yield Use(bare.lower(), bare, word.start, word.end, word.text)


def _is_left_alone(
    word: Word, unknown: Sequence[Word], read: ReadParagraph, known: Dictionary
) -> bool:
    if word.text[:1].isupper():
        # A name is counted wherever it stands; what opens a sentence may be of a dialect.
        opens = not is_inside(read.paragraph.text, word.start)
        return opens and _speaks_dialect(word, unknown, read)
    # The overlay of varieties has an eye on words of the other variety.
    return known.is_of_other_variety(word.text) or _is_of_another_tongue(word, unknown, read, known)


def _is_known(word: Word, read: ReadParagraph, known: Dictionary) -> bool:
    if known.knows(word.text):
        return True
    if read.paragraph.text[word.end : word.end + 1] in ("’", "'") and (
        known.knows(word.text + "g") or len(word.text) < 5
    ):
        return True
    foreign = read.paragraph.spans_of(SpanKind.LANGUAGE)
    if any(span.start <= word.start < span.end for span in foreign):
        return True
    plain = _STRETCHED.sub(r"\1", _DRAWN_OUT.sub(r"\1", word.text))
    drawn_out = plain != word.text and (known.knows(plain) or _SOUND.fullmatch(plain) is not None)
    return drawn_out or _SOUND.fullmatch(word.text) is not None or _is_accented(word.text, known)


def _is_accented(word: str, known: Dictionary) -> bool:
    """Known but for its accents, or with an accent that English has not: a foreign word."""
    if word.isascii() or word.replace("’", "'").isascii():
        return False
    return any(unicodedata.category(each) == "Mn" for each in unicodedata.normalize("NFD", word))


def _is_slip(word: str, known: Dictionary) -> bool:
    """Whether it is so near a common word that it is surely meant for it."""
    best = next(iter(known.near(word)), None)
    return (
        best is not None
        and best.distance <= _LIKELY[min(len(word), 6)]
        and zipf(best.word.split(" ")[-1]) >= _COMMON
    )


def _is_far(word: str, known: Dictionary) -> bool:
    """Whether it is like no word in use, and so hardly a slip of one."""
    best = next(iter(known.near(word)), None)
    far = max(_FAR, _FAR_BY_LETTER * len(word))
    return best is None or best.distance > far or zipf(best.word.split(" ")[-1]) < _KNOWN_AT_ALL


def _is_of_another_tongue(
    word: Word, unknown: Sequence[Word], read: ReadParagraph, known: Dictionary
) -> bool:
    """A word of a dialect or another language, as what stands near it shows."""
    crowd = _crowd(word, unknown, read)
    if "’" in word.text or _speaks_dialect(word, unknown, read):
        return True
    told = not read.prose.is_spoken(word.start) and not _emphasised(word, read)
    if crowd > 1 and not (told and _is_slip(word.text, known) and not _is_foreign(word, read)):
        return True
    before = read.paragraph.text[: word.start].rstrip(" \u00a0").rpartition(" ")[2]
    if _FOREIGN.fullmatch(before):
        return True
    alone = crowd == 0 and not _emphasised(word, read)
    short = len(word.text) < _SHORTEST or "-" in word.text
    return (short or not alone) and not _is_slip(word.text, known)


def _crowd(word: Word, unknown: Sequence[Word], read: ReadParagraph) -> int:
    """How many other unknown words, and words with letters dropped, stand near: a dialect, or a
    phrase in another language.
    """
    near = _near(word, read)
    strange = len(_FOREIGN.findall(near))
    strange += (
        sum(abs(each.start - word.start) < _NEAR_BY and each.text[:1].islower() for each in unknown)
        - 1
    )
    return strange + len(_DROPPED.findall(near))


def _near(word: Word, read: ReadParagraph) -> str:
    return read.paragraph.text[max(0, word.start - _NEAR_BY) : word.end + _NEAR_BY]


def _is_foreign(word: Word, read: ReadParagraph) -> bool:
    """Whether small words of another language stand near."""
    return _FOREIGN.search(_near(word, read)) is not None


def _speaks_dialect(word: Word, unknown: Sequence[Word], read: ReadParagraph) -> bool:
    """Whether a word is spoken by one who says other words too in a way of their own."""
    for speech in read.prose.quotations:
        if speech.depth == 0 and speech.start <= word.start < speech.end:
            said = read.paragraph.text[speech.start : speech.end]
            strange = sum(
                speech.start <= each.start < speech.end and each.text.islower() for each in unknown
            )
            others = strange - word.text.islower() + len(_DROPPED.findall(said))
            return others >= _MANNER
    return False


def _emphasised(word: Word, read: ReadParagraph) -> bool:
    return any(
        span.start <= word.start < span.end for span in read.paragraph.spans_of(SpanKind.EMPHASIS)
    )


def bare_name(word: str) -> str:
    """A name without its possessive or contracted ending, and not shouted: "TARROW’S" is Tarrow."""
    bare = _CLITICS.sub("", word)
    return bare.capitalize() if bare.isupper() else bare


def meant_by(text: str, start: int, end: int, house: House) -> tuple[str, ...] | None:
    """What the word at these code points of a paragraph may have meant, likeliest first; None if
    the overlay does not mark it. `house` is the book's.
    """
    scene, sheet = Scene("", passage=Passage.plain(text)), StyleSheet(house.language)
    read = read_paragraph(Paragraph(text), house.marks, False)
    tally = Tally().recounted((scene,), lambda _: spelling(read, house))
    for use in tally.in_scene(""):
        if use.start < end and use.end > start and _judge(use, tally, sheet, house):
            return tuple(each.word for each in dictionary(house.language).near(text[start:end]))
    return None


@lru_cache(maxsize=8)
def names(tally: Tally, sheet: StyleSheet) -> Mapping[str, int]:
    """The unknown capitalised words that stand often enough to be names, and are not in the style
    sheet, with how often each stands.
    """
    return {
        name: count
        for forms in tally.questions.values()
        for name, count in forms.items()
        if count >= _NAME_FROM and name[:1].isupper() and name not in sheet.words
    }


def own_words(tally: Tally, sheet: StyleSheet, language: str) -> Mapping[str, int]:
    """What the book seems to have of its own and the style sheet could learn: its `names`, and the
    other unknown words that stand as often and are no slips, with how often each stands.
    """
    spelt = dictionary(language)
    others = {
        word: count
        for forms in tally.questions.values()
        for word, count in forms.items()
        if count >= _NAME_FROM
        and word[:1].islower()
        and word not in sheet.words
        and not _is_slip(word, spelt)
    }
    return {**names(tally, sheet), **others}


def taught(book: Book) -> StyleSheet:
    """The style sheet with what the book's own pages tell besides: the names in its titles, of its
    author, and of its cast.
    """
    titles = [book.title, book.author]
    titles += [part.title for part in book.parts]
    titles += [chapter.title for chapter in book.chapters]
    titles += [name for person in book.cast for name in (person.name, *person.forms)]
    found = {bare_name(word.text) for title in titles for word in words_of(title)}
    named = {word for word in found if word[:1].isupper()}
    return replace(book.style_sheet, words=book.style_sheet.words | named)


def _judge(use: Use, tally: Tally, sheet: StyleSheet, house: House) -> Finding | None:
    word, bare, words = use.text, use.way, sheet.words
    found = names(tally, sheet)
    if not words.isdisjoint((word, bare, word.lower(), bare.lower())) or bare in found:
        return None
    if bare[:1].isupper() and bare.endswith("s") and (bare[:-1] in words or bare[:-1] in found):
        return None  # the Tarrows
    near = _near_name(bare, {*found, *words})
    if near:
        said = f"“{word}” stands beside “{near}” elsewhere in the book."
        return Finding(use.start, use.end, said, proposal=word.replace(bare, near))
    spelt = dictionary(house.language)
    slip = _is_slip(word, spelt)
    strict = house.strictness_of("spelling") is Strictness.STRICT
    if word[:1].isupper() and not strict and not _is_capital_slip(word, spelt):
        return None
    unknown = f"“{word}” is in no dictionary"
    count = sum(tally.ways(use.question).values())
    if not strict and count < _OWN_THOUGH_FAR and _is_far(word, spelt):
        return None
    if count >= _OWN_FROM and tally.first(use.question) is not use:
        return None
    if count >= (_OWN_THOUGH_NEAR if slip else _OWN_FROM):
        own = "If it is a word of the book’s own, let it stand throughout."
        return Finding(use.start, use.end, f"{unknown} and stands {times(count)}. {own}")
    if count > 1:
        unknown += f" and stands {times(count)}"
    meant = [each.word for each in spelt.near(word)[:3]]
    if not meant:
        return Finding(use.start, use.end, f"{unknown}.")
    others = f" Perhaps {' or '.join(f'“{each}”' for each in meant)}?"
    return Finding(use.start, use.end, f"{unknown}.{others}", proposal=meant[0])


def _is_capital_slip(word: str, spelt: Dictionary) -> bool:
    """Whether a capitalised word is a slip for one that is often capitalised, or opens a sentence
    and is a slip for a long common word; other capitalised words are taken for names.
    """
    best = next(iter(spelt.near(word)), None)
    if best is None or len(word) < 6 or best.distance > _LIKELY[5]:
        return False
    common = zipf(best.word) >= _VERY_COMMON
    return common and (not is_mostly_name(best.word) or spelt.lists(best.word))


def _near_name(word: str, known: set[str]) -> str | None:
    """The book's name that differs from `word` by one letter, if there is one."""
    if not word[:1].isupper() or len(word) < 4 or "." in word:
        return None
    return next((name for name in sorted(known) if _is_misspelt_name(word, name)), None)


def _is_misspelt_name(word: str, name: str) -> bool:
    return name[:1].isupper() and _one_letter_apart(word, name)


def _one_letter_apart(one: str, other: str) -> bool:
    if abs(len(one) - len(other)) > 1 or one == other:
        return False
    start = next(
        (i for i, (a, b) in enumerate(zip(one, other, strict=False)) if a != b),
        min(len(one), len(other)),
    )
    rest, rest_other = one[start:], other[start:]
    return (
        rest[1:] == rest_other[1:]
        or rest[1:] == rest_other
        or rest == rest_other[1:]
        or (rest[:2] == rest_other[:2][::-1] and rest[2:] == rest_other[2:])
    )


OVERLAY = of_uses(spelling, _judge, Stage.PROOF, ProofMark.REPLACE)
EXAMPLES_MARKED = {
    "The [teh] door stood open.": "the",
    "She was [definately] late.": "definitely",
}
EXAMPLES_UNMARKED = (
    "The harbour-master’s grey lamp, the o’clock chimes, the 1970s.",
    "“I’m runnin’ late,” he said. “Don’t wait.”",
    "The SALT MILL stood empty; the mill-wheel’s paddles hung still.",
)
