"""What a book gained since its file was written is blank when the file is opened."""

import json
from dataclasses import replace
from datetime import date

from reglet.bookfile import encoding
from reglet.manuscript import draft_arrangement
from reglet.manuscript.book import (
    Book,
    Chapter,
    Estimate,
    Part,
    PlannedScene,
    ReadingPlace,
    Rest,
    Schedule,
    StyleSheet,
)
from reglet.manuscript.scene import Scene

PLAIN = Book(
    "Ferry",
    parts=(Part("p", chapters=(Chapter("c", scenes=(Scene("s"),)),)),),
    plan=(PlannedScene("p1", "The inquest."),),
)


def read(outline, facts):
    return encoding.book_from_json(outline, facts, iter([Scene("s")]))


def test_a_file_without_them_opens():
    outline = json.loads(encoding.outline_to_json(PLAIN))
    for name in ("rest", "reading", "arrangements", "schedule", "cover"):
        del outline[name]
    facts = json.loads(encoding.facts_to_json(PLAIN))
    for name in ("scene", "decided"):
        del facts["plan"][0][name]
    for name in ("ways", "strictness", "off", "aim", "phone", "page"):
        del facts["style_sheet"][name]
    assert read(json.dumps(outline), json.dumps(facts)) == PLAIN


def test_they_are_stored():
    book, _ = draft_arrangement.begun(PLAIN, "Gale first")
    book = replace(
        book,
        rest=Rest(date(2026, 1, 2), date(2026, 1, 16), True),
        reading=ReadingPlace("s", 7, 2000, 600.5),
        schedule=Schedule(date(2026, 5, 1), 60, (Estimate("note:n", 5, True),)),
        plan=(PlannedScene("p1", "The inquest.", "One", "s", True),),
        style_sheet=StyleSheet(
            ways=(("grey or gray", "grey"),),
            strictness=(("echo", 2),),
            off=frozenset({"block", "echo"}),
            aim=15,
            phone="small phone",
            page="A5",
        ),
    )
    assert read(encoding.outline_to_json(book), encoding.facts_to_json(book)) == book
