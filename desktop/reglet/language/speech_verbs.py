"""Verbs that can carry a line of speech ("said", "asked"), in the forms a story uses.

The list is ``resources/language/speech_verbs.txt``; the forms of its regular verbs are made here.
"""

from reglet import resources

_DOUBLING = frozenset("beg nag yap hum rap sob snap chat whip strip demur".split())


def _forms(verb: str) -> tuple[str, str, str]:
    if verb.endswith("e"):
        return verb, verb + "s", verb + "d"
    if verb.endswith("y") and verb[-2] not in "aeiou":
        return verb, verb[:-1] + "ies", verb[:-1] + "ied"
    past = verb + (verb[-1] if verb in _DOUBLING else "") + "ed"
    return verb, verb + ("es" if verb.endswith(("s", "sh", "ch", "x")) else "s"), past


_LISTED = resources.sections("language", "speech_verbs.txt")

SPEECH_VERBS = frozenset(form for verb in _LISTED["regular"] for form in _forms(verb)) | frozenset(
    _LISTED["forms"]
)
"""Every form, in lower case."""

BASE_FORMS = _LISTED["regular"] | _LISTED["bases"]
"""Forms that need "I", "we", "you", "they" or a helping verb before them."""

SURE_SPEECH_VERBS = SPEECH_VERBS - _LISTED["sometimes"]
"""Forms that name speech on their own."""

TELLING_VERBS = "|".join(
    sorted(SURE_SPEECH_VERBS - BASE_FORMS, key=lambda verb: (-len(verb), verb))
)
"""Those of them that need no helping verb, for a regular expression: the longer ones first."""
