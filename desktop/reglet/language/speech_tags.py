"""Speech tags: "said Dorrel softly" beside a quotation: its verb, its adverb, who is named.

Found by form, not by parsing: after a quotation, a verb of speech with its subject on either
side; before one, a subject and a verb of speech that end in a comma or colon. After a quotation
that ends in a comma any past-tense verb counts, since the comma says that the sentence goes on
(“Come in,” smiled Dorrel), which is how verbs outside the list are found.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from reglet.language.speech import Quotation
from reglet.language.speech_verbs import SPEECH_VERBS, SURE_SPEECH_VERBS


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


_TITLE = r"(?:(?:Mr|Mrs|Ms|Mx|Dr|St|Prof|Rev|Capt|Col|Gen|Sgt|Lt)\.?|Miss|Sir|Dame|Lady|Lord|Aunt|Uncle)[ \u00a0]"
_NAME = rf"(?:{_TITLE})?[A-Z][\w’'-]*(?:[ \u00a0](?:[A-Z][\w’'.-]*|de|von|van|du|la|le))*"
_PRONOUN = r"(?:he|she|it|they|we|I|you|one|someone|somebody|everyone|nobody|both|another|He|She|It|They|We|You)"
_NOUN_PHRASE = r"(?:[Tt]he|[Aa]n?|[Hh]is|[Hh]er|[Mm]y|[Oo]ur|[Tt]heir|[Aa]nother|[Oo]ne|[Ss]ome|[Tt]his|[Tt]hat)(?: [\w’'-]+){1,4}?"
_SPEAKER = rf"(?:{_PRONOUN}(?![\w’'])|{_NOUN_PHRASE}|{_NAME})"
_ADVERB = r"(?:\w+ly|aloud|again|softly|hard|low|loud|back|flatly)"
_NOT_ADVERBS = frozenset(
    "only early family reply rely ally belly bully jelly italy lily emily sally molly holly polly kelly july fly".split()
)
_HAD = r"(?:(?:had|has|have|was|would|could|might) )?"

_VERB_FIRST = re.compile(
    rf"\s*[—–-]?\s*(?P<verb>[a-z]+) (?P<speaker>{_SPEAKER})(?![\w’'])(?:,? (?P<adverb>{_ADVERB})(?![\w’']))?"
)
_SPEAKER_FIRST = re.compile(
    rf"\s*[—–-]?\s*(?P<speaker>{_SPEAKER})(?: (?P<adverb1>{_ADVERB}))? {_HAD}(?P<verb>[a-z]+)(?![\w’'])(?:,? (?P<adverb>{_ADVERB})(?![\w’']))?"
)
_BEFORE = re.compile(
    rf"(?P<speaker>{_SPEAKER})(?: (?P<adverb1>{_ADVERB}))? {_HAD}(?P<verb>[a-z]+)(?: (?P<adverb>{_ADVERB}))?(?: (?:to|at) {_SPEAKER})?[,:]\s*$"
)
_IRREGULAR_PAST = frozenset(
    "threw shot went put came began broke cut drew flung rang sang slurred spat swore tore wept drove ground lied".split()
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
        if match["verb"] in SPEECH_VERBS:
            return _tag(match, number, offset)
    return None


def _after(text: str, number: int, quotation: Quotation) -> SpeechTag | None:
    last = text[quotation.start : quotation.end - 1].rstrip("’'”\" *_")[-1:]
    ahead = text[quotation.end : quotation.end + 100]
    comma = last == ","
    for pattern in (_VERB_FIRST, _SPEAKER_FIRST):
        match = pattern.match(ahead)
        if match is None or not _is_tag_verb(match["verb"], comma):
            continue
        if (
            last in ".…!?—–-"
            and match["speaker"][0].isupper()
            and match.start("speaker") <= match.start("verb")
        ):
            # “Go.” Dorrel said nothing. — after a full stop a capital begins a new sentence, and
            # so does a capital pronoun or article after any mark.
            if last == "." or (match["speaker"] != "I" and _begins_sentence(match["speaker"])):
                continue
            if match["verb"] not in SURE_SPEECH_VERBS:
                continue
        return _tag(match, number, quotation.end)
    return None


_SENTENCE_HEADS = frozenset(
    "he she it they we you the a an his her my our their another one some this that".split()
)


def _begins_sentence(speaker: str) -> bool:
    return speaker.split()[0].lower() in _SENTENCE_HEADS


def _is_tag_verb(verb: str, comma: bool) -> bool:
    if verb in SURE_SPEECH_VERBS:
        return True
    return comma and (verb in SPEECH_VERBS or verb.endswith("ed") or verb in _IRREGULAR_PAST)


def _tag(match: re.Match[str], number: int, offset: int) -> SpeechTag:
    def span(group: str) -> tuple[int, int] | None:
        if group not in match.re.groupindex or match[group] is None:
            return None
        return match.start(group) + offset, match.end(group) + offset

    adverb = span("adverb") or span("adverb1")
    end = match.end()
    if (
        adverb is not None
        and match.string[adverb[0] - offset : adverb[1] - offset].lower() in _NOT_ADVERBS
    ):
        if adverb[1] - offset == end:
            end = len(match.string[: adverb[0] - offset].rstrip(" ,"))
        adverb = None
    start = min(match.start("verb"), match.start("speaker"))
    verb = (match.start("verb") + offset, match.end("verb") + offset)
    return SpeechTag(start + offset, end + offset, number, verb, adverb, span("speaker"))
