"""Speech tags: "said Dorrel softly" beside a quotation: its verb, its adverb, who is named.

Found by form, not by parsing: after a quotation, a verb of speech with its subject on either
side; before one, a subject and a verb of speech that end in a comma or colon. Where the
marks say that the sentence goes on (“Come in,” smiled Dorrel. “What?” he entreated.) any verb in
-ed counts, which is how verbs outside the list are found.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from reglet.language.speech import Quotation
from reglet.language.speech_verbs import BASE_FORMS, SPEECH_VERBS, SURE_SPEECH_VERBS


@dataclass(frozen=True, slots=True)
class SpeechTag:
    """One tag, in code points of its paragraph.

    ``quotation`` is the place in the paragraph's quotations of the speech that it belongs to.
    ``verb``, ``adverb`` and ``speaker`` are (start, end); the last two may be missing. ``speaker``
    is the name, pronoun or noun phrase as written.
    """

    start: int
    end: int
    quotation: int
    verb: tuple[int, int]
    adverb: tuple[int, int] | None
    speaker: tuple[int, int] | None


_TITLE = (
    r"(?:(?:Mr|Mrs|Ms|Mx|Dr|St|Prof|Rev|Capt|Col|Gen|Sgt|Lt)\.?|Miss|Sir|Dame|Lady|Lord|Aunt|Uncle)"
    r"[ \u00a0]"
)
_NAME = rf"(?:{_TITLE})?[A-Z][\w’'-]*(?:[ \u00a0](?:[A-Z][\w’'-]*|de|von|van|du|la|le))*"
_PRONOUN = (
    r"(?:[Hh]e|[Ss]he|[Ii]t|[Tt]hey|[Ww]e|I|[Yy]ou|one|someone|somebody|everyone|nobody|both|another)"
    r"(?![\w’'])"
)
_ARTICLE = (
    r"(?:[Tt]he|[Aa]n?|[Hh]is|[Hh]er|[Mm]y|[Oo]ur|[Tt]heir|[Aa]nother|[Oo]ne|[Ss]ome"
    r"|[Tt]his|[Tt]hat)"
)
# A noun phrase as far as can be told without parsing: up to four words, none of which begins
# something else.
_NOUN_PHRASE = (
    rf"{_ARTICLE}(?: (?!(?:in|with|from|as|and|who|to|at|on|of|for|but|when|while|into|over|through"
    r"|by|after|before|behind|without|again|then|so|now|that|he|she|had|was|\w+ly)\b)[\w’'-]+){1,4}"
)
_SPEAKER = rf"(?:{_PRONOUN}|{_NOUN_PHRASE}|{_NAME})"
_ADVERB = r"(?:\w+ly|aloud|again|hard|low|loud|back)"
# What ends in -ly and is no adverb of manner.
_NOT_ADVERBS = frozenset(
    "only early family reply rely ally belly bully jelly italy lily emily sally molly holly polly "
    "kelly july fly daily lonely friendly elderly ugly silly likely".split()
)
_HELPERS = frozenset("had has have would could might did".split())
_PARTICLE = r"(?P<particle> (?:on|in|off|out|up|back))?"
_TO_WHOM = rf"(?: (?:to|at) {_SPEAKER})?"

_VERB_FIRST = re.compile(
    rf"\s*[—–-]?\s*(?P<verb>[a-z]+){_PARTICLE} (?P<speaker>{_SPEAKER})(?![\w’'])"
    rf"(?:,? (?P<adverb>{_ADVERB})(?![\w’']))?"
)
_SUBJECT = re.compile(rf"\s*[—–-]?\s*(?P<pronoun>{_PRONOUN})|\s*[—–-]?\s*(?:{_ARTICLE}\b|{_NAME})")
_NEXT_WORD = re.compile(r"[ \u00a0]([\w’'-]+)")
_AFTER_VERB = re.compile(rf"{_PARTICLE}(?:,? (?P<adverb>{_ADVERB})(?![\w’']))?")
_BEFORE = re.compile(
    rf"(?P<speaker>{_PRONOUN}|{_NAME}|{_ARTICLE}(?: [\w’'-]+){{1,4}}?)(?: (?P<early>{_ADVERB}))?"
    r"(?: (?:had|has|have|would|could|might))?"
    rf" (?P<verb>[a-z]+)(?: (?P<adverb>{_ADVERB}))?{_TO_WHOM}[,:]\s*$"
)
_IRREGULAR_PAST = frozenset(
    "threw shot went put came began broke cut drew flung rang sang slurred spat swore tore wept "
    "drove ground lied".split()
)
_PLURAL = frozenset("i we you they".split())
_SENTENCE_HEADS = frozenset(
    "he she it they we you the a an his her my our their another one some this that".split()
)


def speech_tags(text: str, quotations: Sequence[Quotation]) -> tuple[SpeechTag, ...]:
    """The tags of one paragraph, in order; ``quotations`` are those of the same text."""
    tags: list[SpeechTag] = []
    taken = 0
    for number, quotation in enumerate(quotations):
        if quotation.depth or not quotation.spoken:
            continue
        tag = _before(text, taken, number, quotation) or (
            _after(text, number, quotation) if quotation.closed else None
        )
        taken = quotation.end
        if tag is not None:
            tags.append(tag)
            taken = max(taken, tag.end)
    return tuple(tags)


def _before(text: str, taken: int, number: int, quotation: Quotation) -> SpeechTag | None:
    gap = text[max(taken, quotation.start - 80) : quotation.start]
    if not gap.rstrip().endswith((",", ":")):
        return None
    offset = quotation.start - len(gap)
    for match in _BEFORE.finditer(gap):
        if match["verb"] in SPEECH_VERBS - BASE_FORMS:
            adverb = _adverb(match, "adverb") or _adverb(match, "early")
            return _tag(
                match.span(), number, offset, match.span("verb"), adverb, match.span("speaker")
            )
    return None


def _after(text: str, number: int, quotation: Quotation) -> SpeechTag | None:
    last = text[quotation.start : quotation.end - 1].rstrip("’'”\" *_")[-1:]
    ahead = text[quotation.end : quotation.end + 100]
    return _verb_first(ahead, number, quotation.end, last) or _speaker_first(
        ahead, number, quotation.end, last
    )


def _verb_first(ahead: str, number: int, offset: int, last: str) -> SpeechTag | None:
    match = _VERB_FIRST.match(ahead)
    if match is None or match["verb"] in BASE_FORMS:
        return None
    if not _is_tag_verb(match["verb"], match["particle"], last == ","):
        return None
    adverb = _adverb(match, "adverb")
    end = match.end() if adverb or match["adverb"] is None else match.end("speaker")
    span = (match.start("verb"), end)
    return _tag(span, number, offset, match.span("verb"), adverb, match.span("speaker"))


def _speaker_first(ahead: str, number: int, offset: int, last: str) -> SpeechTag | None:
    subject = _SUBJECT.match(ahead)
    if subject is None:
        return None
    start = len(ahead) - len(ahead.lstrip(" \u00a0—–-"))
    named = ahead[start : subject.end()]
    goes_on = last in ",?!…—–-" and named[0].islower()
    if named[0].isupper() and (last == "." or (named != "I" and _begins_sentence(named))):
        return None  # “Go.” Dorrel said nothing: a new sentence, not a tag
    speaker_end = at = subject.end()
    early: tuple[int, int] | None = None
    helped = False
    for _ in range(6):
        word = _NEXT_WORD.match(ahead, at)
        if word is None:
            return None
        plain = word[1]
        at = word.end()
        base = plain in BASE_FORMS and not helped and named.lower() not in _PLURAL
        rest = _AFTER_VERB.match(ahead, at)
        particle = rest["particle"] if rest else None
        loose = last == "," or (goes_on and subject["pronoun"] is not None)
        if (
            not base
            and speaker_end - start > 1 - (named == "I")
            and (_is_tag_verb(plain, particle, loose))
        ):
            if _article_only(ahead[start:speaker_end]):
                return None
            adverb = _adverb(rest, "adverb") if rest else None
            end = rest.end("adverb") if rest and adverb else at
            return _tag(
                (start, end), number, offset, word.span(1), adverb or early, (start, speaker_end)
            )
        if plain in _HELPERS:
            helped = True
        elif plain.endswith("ly") and plain not in _NOT_ADVERBS:
            early = word.span(1)
        elif subject["pronoun"] is not None or early or helped:
            return None
        else:
            speaker_end = at
    return None


def _article_only(speaker: str) -> bool:
    return " " not in speaker and speaker.lower() in _SENTENCE_HEADS - {
        "he", "she", "it", "they", "we", "you", "one", "another",
    }  # fmt: skip


def _begins_sentence(speaker: str) -> bool:
    return speaker.split()[0].lower() in _SENTENCE_HEADS


def _is_tag_verb(verb: str, particle: str | None, loose: bool) -> bool:
    """Whether a word can be a tag's verb; ``loose`` where the marks already say that one is due."""
    if verb in SURE_SPEECH_VERBS or (particle and verb in SPEECH_VERBS):
        return True
    return loose and (verb in SPEECH_VERBS or verb.endswith("ed") or verb in _IRREGULAR_PAST)


def _adverb(match: re.Match[str], group: str) -> tuple[int, int] | None:
    if match[group] is None or match[group].lower() in _NOT_ADVERBS:
        return None
    return match.span(group)


def _tag(
    span: tuple[int, int],
    number: int,
    offset: int,
    verb: tuple[int, int],
    adverb: tuple[int, int] | None,
    speaker: tuple[int, int],
) -> SpeechTag:
    def moved(place: tuple[int, int]) -> tuple[int, int]:
        return place[0] + offset, place[1] + offset

    start, end = moved(span)
    return SpeechTag(
        start, end, number, moved(verb), moved(adverb) if adverb else None, moved(speaker)
    )
