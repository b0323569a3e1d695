"""People named in a text are found and told from places; forms of one name are gathered."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet.language.prose import Prose
from reglet.manuscript.book import Book, Person
from reglet.story import cast
from reglet.story.names import names_in


def of_text(*scenes):
    """The cast of scenes given as texts, a paragraph a line."""
    return cast.cast_of(tuple(scene_names(f"s{n}", text) for n, text in enumerate(scenes)))


def scene_names(scene, text):
    found = []
    start = 0
    for line in text.split("\n"):
        for name in names_in(Prose(line)):
            found.append(name._replace(start=name.start + start, end=name.end + start))
        start += len(line) + 1
    return cast.SceneNames(scene, tuple(found))


NAMES = {
    "He told Mrs. Tarrow of it.": ["Mrs Tarrow"],
    "“Go home, Caspar!” she said.": ["Caspar"],
    "Then Dorrel Maw rose, and poor Tobit sat.": ["Dorrel Maw", "Tobit"],
    "It was Dorrel’s lamp. You never knew.": ["Dorrel"],
    "On Monday he drove down Orchard Street to the English church.": [],
    "Hasn’t he come? Wouldn’t Isaura wait?": ["Isaura"],
    "CHAPTER ONE": [],
    "J. R. Hale nodded.": ["J. R. Hale"],
    "He knew Frau von Einem by sight.": ["Frau von Einem"],
}


@pytest.mark.parametrize(("text", "forms"), NAMES.items())
def test_names_in_a_paragraph(text, forms):
    found = names_in(Prose(text))
    assert [each.form for each in found] == forms
    for each in found:
        assert text[each.start : each.end].replace(".", "") == each.form.replace(".", "")


CASTS = {
    "Isaura Venn rose. Isaura sat. Then Isaura Venn spoke, and Isaura wept.": [
        ("Isaura Venn", "Isaura")
    ],
    "Mr Crake nodded. Ansel Crake said no. He saw Mr Crake. Ansel Crake laughed.": [
        ("Ansel Crake", "Mr Crake")
    ],
    "Mrs Perry sat. Miss Perry sat. Mrs Perry rose. Miss Perry rose.": [
        ("Mrs Perry",),
        ("Miss Perry",),
    ],
    "Then Elizabeth Hale said no, and Lizzy laughed. Elizabeth Hale sat. Lizzy rose.": [
        ("Elizabeth Hale", "Lizzy")
    ],
    "Then Abel Quill rose. Mrs Abel Quill sat. Abel Quill said no. Mrs Abel Quill wept.": [
        ("Abel Quill",),
        ("Mrs Abel Quill",),
    ],
    "He lived in London. She went to London. In London it rained.": [],
    "Edward Venn said so. Mrs Venn laughed. Edward Venn sat. Mrs Venn rose.": [
        ("Edward Venn",),
        ("Mrs Venn",),
    ],
}


@pytest.mark.parametrize(("text", "members"), CASTS.items())
def test_forms_of_one_name_are_gathered(text, members):
    assert [each.forms for each in of_text(text)] == members


def test_where_somebody_is_named():
    text = "Dorrel rose. So Dorrel sat."
    (member,) = of_text(text, "Nobody came.", "Dorrel spoke.")
    assert dict(member.scenes) == {"s0": 2, "s2": 1}
    assert [(p.scene, p.start, p.end) for p in member.places] == [
        ("s0", 0, 6),
        ("s0", 16, 22),
        ("s2", 0, 6),
    ]


def test_what_the_writer_joined_is_remembered():
    names = (scene_names("s", "Caspar rose. The Boy laughed, and Kaspar sat."),)
    known = (Person("Caspar", ("Kaspar",)), Person("Nobody Yet"))
    found = cast.cast_of(names, known)
    assert [each.forms for each in found] == [("Caspar", "Kaspar"), ("Nobody Yet",)]
    assert all(each.confirmed for each in found)
    assert found[0].count == 2
    assert found[1].count == 0


PEOPLE = st.lists(
    st.sampled_from(["Ann", "Bo", "Cy", "Di", "Ed"]), min_size=1, max_size=5, unique=True
)


@given(PEOPLE, st.data())
def test_joining_and_parting_lose_no_name(names, data):
    book = Book(cast=tuple(map(Person, names)))
    for _ in range(data.draw(st.integers(1, 4))):
        one, two = data.draw(st.sampled_from(names)), data.draw(st.sampled_from(names))
        if {one, two} <= {person.name for person in book.cast} and one != two:
            book = cast.join(book, one, two)
    assert sorted(form for p in book.cast for form in (p.name, *p.forms)) == sorted(names)
    person = data.draw(st.sampled_from(book.cast))
    for form in person.forms:
        renamed = cast.rename(book, person.name, form)
        assert sorted(f for p in renamed.cast for f in (p.name, *p.forms)) == sorted(names)
        book = cast.part(book, person.name, form)
    assert person.name in {p.name for p in book.cast}
    assert sorted(form for p in book.cast for form in (p.name, *p.forms)) == sorted(names)


@given(st.text(alphabet="AbcMrs. ,“”’!?—\u2028Éé\u0301🐚", max_size=60))
def test_any_text_is_read(text):
    for name in names_in(Prose(text)):
        assert 0 <= name.start < name.end <= len(text)
