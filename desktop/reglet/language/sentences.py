"""Where the sentences of a paragraph begin and end.

A sentence ends at a full stop, question mark, exclamation mark or ellipsis (with the quotation
marks and brackets that close there) when what follows can begin one. Fiction's own cases:

- “Well?” said Dorrel. is one sentence, and so is “Well?” Dorrel said.
- “Go.” He went. is two.
- “I never—” She stopped. is two: a dash ends a sentence only before a closing quotation mark.
- Speech of several sentences is several sentences, inside one pair of quotation marks.
- ‘I … I don’t know.’ is one: an ellipsis ends a sentence only if a new one plainly follows.

The rules are common practice of sentence splitting and our own reading of English fiction.
"""

import re
from collections.abc import Iterator
from typing import NamedTuple

from reglet.language.speech_verbs import SURE_SPEECH_VERBS
from reglet.language.words import plain

CLOSERS = "”’\"')\\]»›"
OPENERS = "“‘\"'(\\[«‹„‚—–¡¿*_-"

_THIN = "\u00a0\u2009\u200a\u202f"  # spaces that do not part: no-break, thin, hair
_DOT_SPACE = " " + _THIN
# One closing mark; a curly one may be spaced off from a mark before it, as in ’ ”.
_CLOSE = rf"(?:[{_THIN}]?[{CLOSERS}]|(?<=[”’]) [”’](?=\s|$))"
_CANDIDATE = re.compile(
    rf"(?P<mark>[.!?…‽]+(?:[{_DOT_SPACE}]?[.…]+)*[!?]*)(?P<close>{_CLOSE}*)(?=\s|$|(?<=[”’\"'])[“‘])"
    rf"|(?P<dash>[—–-]+)(?P<dash_close>(?:[{_THIN}]?[”’\"'])+)(?=\s+\S)"
    r"|(?P<wide>[。！？]+[」』”’]*)"
    r"|(?P<gap>\u2029|\n[ \t]*\n)"
)
# What any candidate begins with: to look for one of these first, and only there for the whole, is
# twice as quick as to try every alternative at every letter.
_BEGINNING = re.compile(r"[.!?…‽—–。！？\u2029\n-]")
_NEXT = re.compile(rf"\s*((?:[{OPENERS}][{_THIN}]?)*)(?:\s*)([^\W_]+(?:['’][^\W_]+)*)?")
_BEFORE = re.compile(r"[^\s“”\"()\[\]—–‘]+$")
_QUOTES = frozenset("”’\"'»›")
_OPEN_QUOTES = frozenset("“‘\"'«‹„‚")
_SPACED_OMISSION = re.compile(rf"\.[{_DOT_SPACE}]\.[{_DOT_SPACE}]\.[{_DOT_SPACE}]\.")
_ENUMERATOR = re.compile(r"\W*(?:\d{1,3}|[A-HJ-Za-hj-z]|[ivxl]{1,5}|[IVXL]{2,5})[.)]{1,2}")
_INITIALS = re.compile(r"(?:[^\W\d_]\.)*[^\W\d_]")

# Titles and the like: a name follows, so a sentence never ends here.
_TITLES = frozenset(
    "mr mrs ms messrs mme mmes mlle mlles dr prof rev revd hon gen col maj capt cpl sgt lt cmdr "
    "adm pte insp supt det gov sen rep pres fr mgr msgr sra srta don vs viz cf e.g i.e".split()
)
# A sentence can end here; it does if the next word is one that begins sentences.
_SHORTENINGS = frozenset(
    "st mt ft sr jr snr jnr co inc ltd bros corp esq etc ave rd blvd sq dept univ assn a.m p.m am "
    "pm b.c a.d c.e b.c.e ph.d m.d m.a b.a d.d.s r.n jan feb mar apr jun jul aug sept sep oct nov "
    "dec mon tue tues wed thu thur thurs fri sat sun oz lb lbs hr hrs min mins yd yds approx est "
    "incl misc al orig tel ext".split()
)
# Shortenings only before a number ("No. 5", "p. 55"); "No." alone is a sentence.
_BEFORE_NUMBER = frozenset(
    "no nos p pp vol vols ch chap fig figs art sec op pt bk n° nº nr v ll l".split()
)
# Words that begin English sentences far more often than they begin names. Our own list.
_STARTERS = frozenset(
    "he she it they we you i the a an this that these those there here then but and so or nor yet "
    "for when while if in on at by as after before since until though although because my his her "
    "its our their your what who whom whose why how where which no not yes oh ah well now let did "
    "do does is are was were has have had can could will would shall should may might must please "
    "some any all every each both many most few several one two three with without from to of "
    "into upon over under perhaps maybe once only even just still also again soon later never "
    "always nothing something everything nobody somebody everyone someone it's he's she's they're "
    "we're you're i'm i've i'd i'll that's there's what's don't didn't let's".split()
)
# A name before "said" must not be one of these: “What?” He said … starts anew.
_NOT_NAMES = _STARTERS - {"i"}
_TAG_AHEAD = re.compile(
    r"\s*(?:(?:Mr|Mrs|Ms|Miss|Mx|Dr|Sir|Dame|Lady|Lord|Aunt|Uncle|Captain|Major|Colonel|Sergeant|"
    r"Professor|Father|Mother|Sister|Brother|Inspector|Doctor)\.?\s+)?"
    r"(?P<name>I|[A-Z][\w’'-]+)(?:\s+(?:[A-Z][\w’'.-]*|and|de|von|van|of|the)){0,3}"
    r"(?:\s+[a-z]+ly|\s+then|\s+again|\s+just|\s+only|\s+now)?\s+(?P<verb>[a-z]+)"
)


class Sentence(NamedTuple):
    """One sentence, ``text[start:end]`` of its paragraph, in code points, outer space left out."""

    start: int
    end: int


def sentences(text: str) -> tuple[Sentence, ...]:
    """The sentences of one paragraph, in order.

    Together they cover everything but white space and do not overlap. Never raises; a text with
    no end mark is one sentence, an empty one is none. Text of several paragraphs may be given when
    a blank line or U+2029 parts them.
    """
    found: list[Sentence] = []
    start = _skip_space(text, 0)
    for match in _candidates(text):
        end = match.end()
        if match["gap"] is not None:
            end = match.start()
            cut = end > start
        else:
            cut = end > start and _ends(text, start, match)
        if not cut:
            continue
        if match["mark"] is not None and _omission_opens_next(text, match):
            end = match.start() + 1
        found.append(Sentence(start, _trim(text, start, end)))
        start = _skip_space(text, end)
    if start < len(text):
        found.append(Sentence(start, _trim(text, start, len(text))))
    return tuple(found)


def is_inside(text: str, at: int) -> bool:
    """Whether what begins at ``at`` plainly goes on with a sentence: behind a word, a comma or a
    semicolon.
    """
    before = text[:at].rstrip()[-1:]
    return bool(before) and (before.isalnum() or before in ",;")


def _candidates(text: str) -> Iterator[re.Match[str]]:
    """The matches of `_CANDIDATE`, none overlapping another."""
    beginning = _BEGINNING.search(text)
    while beginning is not None:
        match = _CANDIDATE.match(text, beginning.start())
        if match is not None:
            yield match
        beginning = _BEGINNING.search(text, match.end() if match else beginning.end())


_SPACE = re.compile(r"\s*")


def _skip_space(text: str, at: int) -> int:
    match = _SPACE.match(text, at)
    return match.end() if match else at


def _trim(text: str, start: int, end: int) -> int:
    return start + len(text[start:end].rstrip())


def _ends(text: str, start: int, match: re.Match[str]) -> bool:
    """Whether the marks that ``match`` found end the sentence begun at ``start``."""
    end = match.end()
    if match["wide"] is not None:
        return True
    mark: str = match["mark"] or match["dash"]
    close: str = match["close"] or match["dash_close"] or ""
    ahead = _NEXT.match(text, end)
    if ahead is None or (ahead.end() == len(text) and not ahead[2]):
        return False  # nothing but marks follows; they belong to this sentence
    quoted = not _QUOTES.isdisjoint(close)
    if quoted and not _OPEN_QUOTES.isdisjoint(ahead[1]):
        return mark[-1] not in "—–-" or text[end : end + 1].isspace()  # “Go.” “No.”
    word = ahead[2] or ""
    if word[:1].islower():
        return False
    following = plain(word)
    if quoted and mark[-1] != ".":
        return not _tag_follows(text, end)
    if match["dash"] is not None:
        return True
    if mark[-1] in "!?‽":
        return True
    if "…" in mark or mark.count(".") > 1:
        return _ellipsis_ends(text, start, match.start(), mark, close, following)
    if _is_enumerator(text, start, end):
        return False
    return bool(close) or _stop_ends(text, start, match.start(), following, ahead[1])


def _is_enumerator(text: str, start: int, end: int) -> bool:
    return end - start < 9 and _ENUMERATOR.fullmatch(text, start, end) is not None


def _tag_follows(text: str, at: int) -> bool:
    """Whether what follows a closing quotation mark is a speech tag that begins with a name."""
    tag = _TAG_AHEAD.match(text, at)
    return (
        tag is not None
        and tag["verb"] in SURE_SPEECH_VERBS
        and tag["name"].lower() not in _NOT_NAMES
    )


def _ellipsis_ends(text: str, start: int, at: int, mark: str, close: str, following: str) -> bool:
    if close.startswith("]") and text[at - 1 : at] == "[":
        return False  # an editor's omission: [...]
    if at == start:
        return False  # the ellipsis opens the sentence: “… And so”
    if close:
        return True
    before = _BEFORE.search(text, start, at)
    if before is None:  # a space stands before the ellipsis
        return (
            len(mark) > 5
            or (mark[:1] == "." and mark.count(".") == 4)
            or (following in _STARTERS and following[:1] != "i")
        )
    return plain(before[0]) != following  # else somebody stutters


def _omission_opens_next(text: str, match: re.Match[str]) -> bool:
    """Chicago's four spaced points: the first is the full stop, three are for what is left out."""
    return (
        not match["close"]
        and match.start() > 0
        and not text[match.start() - 1].isspace()
        and _SPACED_OMISSION.fullmatch(match["mark"]) is not None
    )


def _stop_ends(text: str, start: int, at: int, following: str, opening: str) -> bool:
    """Whether a single full stop at ``at`` ends the sentence, given the next word in lower case."""
    before = _BEFORE.search(text, max(start, at - 24), at)
    if before is None:
        return True
    word = before[0].lstrip("*_").lower()
    if word in _TITLES:
        return False
    if word in _BEFORE_NUMBER and following[:1].isdigit():
        return False
    if word == "i":  # you and I. | Albert I. Jones
        return following in _STARTERS or not _name_before(text, start, before.start())
    if word in _SHORTENINGS or _INITIALS.fullmatch(word) is not None:
        if following in _STARTERS:
            return True
        if (
            following in _TITLES
        ):  # at 6 p.m. Mr. Smith left: only if a whole sentence can stand before
            return text.count(" ", start, at) >= 4
        return bool(opening) and opening[0] in '“‘"' and word in _SHORTENINGS
    return True


def _name_before(text: str, start: int, at: int) -> bool:
    """Whether the word before ``at`` is a capitalised one: a first name before an initial."""
    previous = _BEFORE.search(text[start:at].rstrip())
    return (
        previous is not None and previous[0][:1].isupper() and previous[0].lower() not in _STARTERS
    )
