"""Overlay: verbs of seeing, hearing and feeling between the reader and what is there."""

from collections.abc import Iterator, Sequence

from reglet.language.prose import Prose
from reglet.manuscript.stage import Stage
from reglet.overlays.house import House
from reglet.overlays.line.word_lists import words_by_strictness
from reglet.overlays.overlay import Finding, of_paragraph
from reglet.overlays.query import ProofMark
from reglet.overlays.reading import ReadParagraph

_PEOPLE = frozenset("i he she we they".split())
_HELPERS = frozenset("could can had have has would might 'd must may".split())
_OPENS_CLAUSE = frozenset(", ; : — – - ( . ! ?".split()) | {"``", "''"}
# "Felt sure", "felt able": what is felt is no sensation.
_NO_FEELING = frozenset(
    "sure certain inclined bound obliged confident justified free able ready disposed compelled "
    "equal better entitled called constrained forced tempted convinced capable fully".split()
)
# "Saw no reason", "heard nothing", "felt the need": no image that could stand alone.
_NO_IMAGE = frozenset(
    "no nothing anything little less more much all enough any neither reason chance point sense "
    "need fit way joke service good".split()
)
# "Saw her home", "saw clearly enough", "felt strongly that": seen to, thought, and not sensed.
_WAYS = frozenset("home off strongly clearly necessity carefully".split())
_SENSED_OBJECT = ("DT", "PRP$", "NN", "JJ", "CD", "VBG", "EX", "PDT")
_WHOSE = frozenset("my your his her its our their".split())
_BETWEEN = frozenset("RB RBR".split())
_TELLS_MORE = ("VBG", "VB", "VBN")


def filter_word(read: ReadParagraph, house: House) -> Iterator[Finding]:
    """“She saw”, “he felt” put somebody between the reader and what is there.

    Only where it is the verb of somebody in the story, told and not spoken, and what is sensed
    follows it, so that it could be told without. Subordinate clauses are left out.

    Source: common practice of line editing; the list is ours.
    """
    verbs = words_by_strictness("filter_verbs.txt")
    if verbs.keys().isdisjoint(read.vocabulary):
        return
    strictness = house.strictness_of("filter_word")
    prose = read.prose
    for at, token in enumerate(prose.tokens):
        plain = token.text.lower()
        if verbs.get(plain, strictness + 1) > strictness or not prose.tags[at].startswith("VB"):
            continue
        if prose.tags[at] in ("VBG", "VBN") or prose.is_spoken(token.start):
            continue
        first = _first_of_verb(prose, at)
        if first is not None and _has_subject(prose, first) and _shows(prose, at):
            start = prose.tokens[first].start
            said = prose.text[start : token.end]
            yield Finding(
                start,
                token.end,
                f"“{said}” stands between the reader and what is there. Could it be told without?",
            )


def _first_of_verb(prose: Prose, at: int) -> int | None:
    """Where the verb begins with its helpers: "could hear"; none where "to" or "not" is there."""
    first = at
    for before in range(at - 1, max(-1, at - 4), -1):
        plain = prose.tokens[before].text.lower()
        if plain in ("to", "not", "n't", "n’t", "never", "hardly", "scarcely", "if"):
            return None
        if plain in _HELPERS:
            first = before
        elif prose.tags[before] not in _BETWEEN:
            break
    return None if prose.tags[at] == "VB" and first == at else first


def _has_subject(prose: Prose, first: int) -> bool:
    """Whether a person in the story does it, in a clause of its own or one joined to it."""
    before = _skip_back(prose.tags, first - 1)
    if before < 0:
        return False
    if prose.tags[before] == "CC":
        return prose.tokens[before].text.lower() in ("and", "but") and _person_before(prose, before)
    if not _is_person(prose, before):
        return False
    ahead = _skip_back(prose.tags, before - 1)
    while ahead >= 0 and prose.tags[ahead] == "NNP" and prose.tags[before] == "NNP":
        ahead -= 1
    if ahead < 0:
        return True
    if prose.tags[ahead] == "CC":
        return prose.tokens[ahead].text.lower() in ("and", "but", "yet", "or")
    return prose.tags[ahead] in _OPENS_CLAUSE or prose.tokens[ahead].text in '—–-,;:.!?”’"…*)'


def _person_before(prose: Prose, at: int) -> bool:
    """Whether the subject that a joined verb shares is somebody: the nearest one to the left."""
    for back in range(at - 1, max(-1, at - 30), -1):
        if prose.tags[back] in (".", "``", "''") or prose.tokens[back].text in "“”;":
            return False
        if prose.tags[back] in ("IN", "WRB", "WP", "WDT") and prose.roles[back + 1] == "subject":
            return False
        if prose.roles[back] == "subject":
            return _is_person(prose, back)
    return False


def _is_person(prose: Prose, at: int) -> bool:
    plain = prose.tokens[at].text.lower()
    return plain in _PEOPLE or (prose.tags[at] == "NNP" and prose.tokens[at].text[:1].isupper())


def _skip_back(tags: Sequence[str], at: int) -> int:
    while at >= 0 and tags[at] in _BETWEEN:
        at -= 1
    return at


def _shows(prose: Prose, at: int) -> bool:
    """Whether what is sensed follows, so that it could be told by itself."""
    tags, tokens = prose.tags, prose.tokens
    after = at + 1
    while after < len(tags) and tags[after] == "RB":
        after += 1
    if after >= len(tags):
        return False
    plain = tokens[after].text.lower()
    verb = tokens[at].text.lower()
    if plain in _NO_IMAGE or (plain in _NO_FEELING and verb.startswith("fe")):
        return False
    if any(token.text.lower() in _NO_IMAGE for token in tokens[after + 1 : after + 2]):
        return False
    if any(token.text.lower() in _WAYS for token in tokens[after : after + 4]):
        return False
    if tags[after] in ("PRP", "NNP"):
        if plain.endswith(("self", "selves")):
            return tags[after + 1 : after + 2] in (("VBG",), ("VB",))
        return any(tag in _TELLS_MORE for tag in tags[after + 1 : after + 3])
    if plain in ("that", "how"):
        return True
    following = tokens[after + 1].text.lower() if after + 1 < len(tags) else ""
    if plain in _WHOSE and verb.startswith("fe"):
        return any(tag in _TELLS_MORE for tag in tags[after + 1 : after + 5])
    if plain == "as":
        return following in ("if", "though")
    if verb.startswith("fe") and following in ("way", "pulse"):
        return False
    if tags[after] in ("WRB", "WP"):
        return True
    return tags[after].startswith(_SENSED_OBJECT)


OVERLAY = of_paragraph(filter_word, Stage.LINE, ProofMark.ASK)
EXAMPLES_MARKED = {
    "She [saw] the lamp go out. He went on.": None,
    "He turned, and [could hear] the water running under the floor.": None,
    "Then Isaura [noticed] that the drawer was open.": None,
}
EXAMPLES_UNMARKED = (
    "He felt in his pocket for the key.",
    "“I saw the lamp go out,” he said.",
    "When she saw the lamp go out, she ran.",
    "She did not see him. He saw her on Tuesdays.",
    "The saw lay on the bench.",
)
