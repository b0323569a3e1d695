"""Letters that a face lacks are set in another, the same where they are measured and printed."""

from __future__ import annotations

import pytest
from reglet.setting import faces
from reglet.setting.faces import CARDO, FAMILIES, LITERATA, SOURCE_SANS, SOURCE_SERIF, stretches
from reglet.setting.fount import fount


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("ferry", [(LITERATA, "ferry")]),
        ("", [(LITERATA, "")]),
        ("e\u0301te\u0301", [(LITERATA, "e\u0301te\u0301")]),
        ("no\u2011one\u00ad\u202fs", [(LITERATA, "no\u2011one\u00ad\u202fs")]),
        ("a❦b", [(LITERATA, "a"), (CARDO, "❦"), (LITERATA, "b")]),
        ("what‽", [(LITERATA, "what"), (SOURCE_SANS, "‽")]),
        ("אב", [(CARDO, "אב")]),
        ("a♥\ufe0f", [(LITERATA, "a"), (SOURCE_SANS, "♥\ufe0f")]),
        ("第", [(LITERATA, "第")]),  # none has it
    ],
)
def test_stretches(text: str, parts: list[tuple[str, str]]) -> None:
    assert list(stretches(LITERATA, text, bold=False, italic=False)) == parts


@pytest.mark.parametrize("family", FAMILIES)
def test_nothing_is_lost_and_the_face_s_own_letters_stay_in_it(family: str) -> None:
    text = "The “ferry”, ❦ naïve — ‽ 漢 ⁂ Ж"
    for bold in (False, True):
        for italic in (False, True):
            parts = stretches(family, text, bold=bold, italic=italic)
            assert "".join(part for _, part in parts) == text
            assert parts[0][0] == family and parts[0][1].startswith("The “ferry”,")


def test_a_stand_in_that_is_not_installed_is_done_without(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(faces, "_STAND_INS", ("No Such Face", CARDO))
    faces._face_for.cache_clear()
    assert stretches(LITERATA, "❦", bold=False, italic=False) == ((CARDO, "❦"),)
    faces._face_for.cache_clear()


def test_a_word_is_as_wide_as_its_parts() -> None:
    own = fount(LITERATA, 11.0, 11.0, "en-GB")
    other = fount(CARDO, 11.0, 11.0, "en-GB")
    serif = fount(SOURCE_SERIF, 11.0, 11.0, "en-GB")
    assert own.width("sea❦side") == pytest.approx(
        own.width("sea") + other.width("❦") + own.width("side")
    )
    assert own.width("❦") != pytest.approx(serif.width("x"))
    word = own.words["sea❦—side"]
    assert word.width == pytest.approx(own.width("sea") + other.width("❦") + own.width("—side"))
    for division in word.divisions:
        assert division.before + division.after == pytest.approx(word.width)
