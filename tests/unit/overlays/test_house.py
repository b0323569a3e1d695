"""What overlays take as given comes from the book's text and its style sheet."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet.manuscript.book import Book, StyleSheet
from reglet.overlays.house import Strictness, house_of, strictness_in, with_strictness
from reglet.setting import EREADERS, PHONES, TRIMS, USUAL_PHONE, USUAL_TRIM

STEPS = st.lists(st.tuples(st.sampled_from(["echo", "block"]), st.sampled_from(Strictness)))


@given(STEPS)
def test_the_house_asks_as_was_chosen(steps):
    sheet, last = StyleSheet(), {}
    for overlay, step in steps:
        sheet = with_strictness(sheet, overlay, step)
        last[overlay] = step
    house = house_of(Book(style_sheet=sheet))
    for overlay in ("echo", "block"):
        assert house.strictness_of(overlay) is last.get(overlay, Strictness.USUAL)
    assert Strictness.USUAL not in strictness_in(sheet).values()


def test_a_step_that_is_none_is_as_usual():
    house = house_of(Book(style_sheet=StyleSheet(strictness=(("echo", 9),))))
    assert house.strictness_of("echo") is Strictness.USUAL


@pytest.mark.parametrize(
    ("phone", "page", "phone_found", "trim_found"),
    [
        ("", "", USUAL_PHONE.name, USUAL_TRIM.name),
        ("gone", "gone", USUAL_PHONE.name, USUAL_TRIM.name),
        (list(PHONES)[-1], list(TRIMS)[-1], list(PHONES)[-1], list(TRIMS)[-1]),
        ("", next(iter(EREADERS)), USUAL_PHONE.name, USUAL_TRIM.name),
    ],
)
def test_sheets(phone, page, phone_found, trim_found):
    sheet = replace(StyleSheet("en-GB"), phone=phone, page=page)
    house = house_of(Book(style_sheet=sheet))
    assert (house.phone.name, house.trim.name) == (phone_found, trim_found)
    assert house.phone.language == house.trim.language == "en-GB"


@given(st.dictionaries(st.text(min_size=1), st.text()))
def test_a_question_is_settled_until_it_is_opened_again(ways):
    sheet = StyleSheet()
    for question, way in ways.items():
        sheet = sheet.with_way(question, way)
    assert all(sheet.way(question) == way for question, way in ways.items())
    for question in ways:
        sheet = sheet.with_way(question, "")
    assert sheet == StyleSheet()
