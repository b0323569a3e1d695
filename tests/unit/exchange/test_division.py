"""How drafts of many habits are divided. A draft is written as one line a paragraph:

    "= "  in front: a heading style of level 1, "== " of level 2;  "^ "  set off (centred or bold)
    "| "  a new page;  an empty line  a blank line

and what is found as one line a division: "C Chapter One" for a chapter, P, S, F, B for the others.
"""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reglet.exchange.division import divide
from reglet.exchange.draft import Draft, DraftParagraph
from reglet.exchange.headings import is_mark
from reglet.exchange.proposal import Proposal
from reglet.manuscript.paragraph import LINE_BREAK, Paragraph, Style

TEXT = "It rained on the harbour all that day, and nobody came down to the boats."


def draft(written: str) -> Draft:
    found, blanks = [], 0
    for line in written.strip("\n").split("\n"):
        line = line.strip()
        if not line:
            blanks += 1
            continue
        new_page = line.startswith("| ")
        line = line.removeprefix("| ")
        level = len(line) - len(line.lstrip("=")) if line.startswith("=") else None
        line = line.lstrip("= ") if level else line
        set_off = line.startswith("^ ")
        text = line.removeprefix("^ ").replace("TEXT", TEXT).replace(" / ", LINE_BREAK)
        style = Style.CENTRED if set_off else Style.BODY
        found.append(DraftParagraph(Paragraph(text, style), level, set_off, new_page, blanks))
        blanks = 0
    return Draft(tuple(found))


def divided(written: str) -> Proposal:
    return divide(draft(written))


def lines(proposal: Proposal) -> str:
    return "\n".join(
        f"{each.kind[0].upper()} {each.title.replace(LINE_BREAK, ' / ')}".strip()
        for each in proposal.divisions
    )


CASES = {
    "heading styles": (
        "= Chapter One\nTEXT\n= Chapter Two\nTEXT",
        "C Chapter One\nC Chapter Two",
    ),
    "heading styles that name nothing": ("= The Weir\nTEXT\n= Home\nTEXT", "C The Weir\nC Home"),
    "parts above chapters": (
        "= Part One\n== Chapter One\nTEXT\n== Chapter Two\nTEXT\n= Part Two\n"
        "== Chapter Three\nTEXT",
        "P Part One\nC Chapter One\nC Chapter Two\nP Part Two\nC Chapter Three",
    ),
    "scenes below chapters": (
        "= Chapter One\n== At the weir\nTEXT\n== At home\nTEXT\n= Chapter Two\nTEXT",
        "C Chapter One\nS\nS\nC Chapter Two",
    ),
    "the book's title above chapters": (
        "= The Tide\n== Weir\nTEXT\n== Home\nTEXT",
        "F\nC Weir\nC Home",
    ),
    "typed, with nothing around them": (
        "Chapter One\nTEXT\nTEXT\nCHAPTER II.\nTEXT\nChapter Three\nTEXT",
        "C Chapter One\nC CHAPTER II.\nC Chapter Three",
    ),
    "every habit in one draft": (
        "= Chapter One\nTEXT\nChapter Two\nTEXT\n3.\nTEXT\n^ Four\nTEXT\n= V\nTEXT",
        "C Chapter One\nC Chapter Two\nC 3.\nC Four\nC V",
    ),
    "bare numbers": ("1\nTEXT\n2\nTEXT\nTEXT\n3\nTEXT", "C 1\nC 2\nC 3"),
    "bare numbers that begin again in a part": (
        "^ PART ONE\n^ 1\nTEXT\n^ 2\nTEXT\n^ PART TWO\n^ 1\nTEXT\n^ 2\nTEXT",
        "P PART ONE\nC 1\nC 2\nP PART TWO\nC 1\nC 2",
    ),
    "numbered scenes": (
        "= Chapter One\n1\nTEXT\n2\nTEXT\n= Chapter Two\n1\nTEXT\n2\nTEXT\n= Chapter Three\nTEXT",
        "C Chapter One\nS\nS\nC Chapter Two\nS\nS\nC Chapter Three",
    ),
    "titles on a second line": (
        "^ Chapter One\n^ The Weir\nTEXT\n^ Chapter Two\n^ Home\nTEXT",
        "C Chapter One / The Weir\nC Chapter Two / Home",
    ),
    "a first line that is no title": (
        "^ Chapter One\nMurder.\nTEXT\n^ Chapter Two\nNo\nTEXT",
        "C Chapter One\nC Chapter Two",
    ),
    "a title in one paragraph": (
        "= Chapter One / The Weir\nTEXT\n= Chapter Two / Home\nTEXT",
        "C Chapter One / The Weir\nC Chapter Two / Home",
    ),
    "prologue and epilogue": (
        "^ Prologue\nTEXT\n^ Chapter One\nTEXT\n^ Epilogue\nTEXT",
        "C Prologue\nC Chapter One\nC Epilogue",
    ),
    "false headings in the text": (
        "Chapter One\nTEXT\nPart of it was his.\nChapter Seven was the worst.\nEleven\nTEXT\n7\n"
        "TEXT\nChapter Two\nTEXT",
        "C Chapter One\nC Chapter Two",
    ),
    "a chapter that is only talked of": (
        "Chapter One\nTEXT\nChapter Seven\nTEXT\nChapter Two\nTEXT\nChapter One\nTEXT",
        "C Chapter One\nC Chapter Two\nC Chapter One",
    ),
    "titles pushed into place": (
        "\t\tChapter One\nTEXT\n    Chapter Two\nTEXT",
        "C Chapter One\nC Chapter Two",
    ),
    "a typed list of contents": (
        "The Tide\nChapter One\nChapter Two\nChapter Three\n\nChapter One\nTEXT\nChapter Two\n"
        "TEXT\nChapter Three\nTEXT",
        "F\nC Chapter One\nC Chapter Two\nC Chapter Three",
    ),
    "titles on new pages": (
        "^ THE TIDE\n| ^ The Weir\nTEXT\nTEXT\n| ^ Home\nTEXT\nTEXT",
        "F\nC The Weir\nC Home",
    ),
    "pages and no titles": ("TEXT\nTEXT\n| TEXT\nTEXT", "C\nC"),
    "marks of every kind": (
        "Chapter One\nTEXT\n***\nTEXT\n#\nTEXT\n^ ⁂\nTEXT\n• • •\nTEXT",
        "C Chapter One\nS\nS\nS\nS",
    ),
    "a mark that parts nothing": (
        "Chapter One\n***\nTEXT\n***\nChapter Two\nTEXT\n#",
        "C Chapter One\nC Chapter Two",
    ),
    "blank lines between scenes": (
        "Chapter One\nTEXT\nTEXT\n\nTEXT\nTEXT\nTEXT\n\nTEXT\nTEXT",
        "C Chapter One\nS\nS",
    ),
    "blank lines between paragraphs": (
        "Chapter One\n\nTEXT\n\nTEXT\n\nTEXT\n\n\nTEXT\n\nTEXT\n\nTEXT",
        "C Chapter One\nS",
    ),
    "blank lines around a letter": (
        "Chapter One\nTEXT\nTEXT\n\n^ Dear Anna,\n^ TEXT\n\nTEXT\nTEXT\nTEXT",
        "C Chapter One",
    ),
    "front and back matter": (
        "^ THE TIDE\n^ by Nora Vale\n^ Dedication\nFor you.\n^ Chapter One\nTEXT\n^ Chapter Two\n"
        "TEXT\n^ Acknowledgements\nTEXT\n^ About the Author\nTEXT",
        "F\nF Dedication\nC Chapter One\nC Chapter Two\nB Acknowledgements\nB About the Author",
    ),
    "story before the first heading": (
        f"TEXT {TEXT} {TEXT} {TEXT}\nTEXT {TEXT} {TEXT} {TEXT}\nTEXT\nChapter Two\nTEXT",
        "C\nC Chapter Two",
    ),
    "the end": ("Chapter One\nTEXT\nTEXT\n\n\nTHE END", "C Chapter One"),
    "no heading at all": ("TEXT\nTEXT\n***\nTEXT", "C\nS"),
}


@pytest.mark.parametrize("name", CASES)
def test_divisions(name: str) -> None:
    written, expected = CASES[name]
    assert lines(divided(written)) == expected


@pytest.mark.parametrize("name", CASES)
def test_every_word_is_in_the_book(name: str) -> None:
    proposal = divided(CASES[name][0])
    book = proposal.book()
    held = [scene.title + "\n" + scene.passage.text for scene in book.texts]
    held += [each.title for each in (*book.parts, *book.chapters)]
    words = sorted(
        word for each in proposal.paragraphs for word in each.text.split() if word.isalnum()
    )
    assert sorted(w for text in held for w in text.split() if w.isalnum()) == words


@pytest.mark.parametrize(
    ("written", "title", "author"),
    [
        ("^ THE TIDE\n^ by Nora Vale\n^ Chapter One\nTEXT", "THE TIDE", "Nora Vale"),
        ("^ The Tide\n^ by\n^ Nora Vale\n^ Chapter One\nTEXT", "The Tide", "Nora Vale"),
        ("The Tide\nA novel by Nora Vale\nChapter One\nTEXT", "The Tide", "Nora Vale"),
        ("Chapter One\nTEXT by Nora Vale\nTEXT", "", ""),
    ],
)
def test_title_pages(written: str, title: str, author: str) -> None:
    proposal = divided(written)
    assert (proposal.title, proposal.author) == (title, author)


@pytest.mark.parametrize(
    ("text", "language"),
    [
        ("The colour of the grey harbour.", "en-GB"),
        ("The color of the gray harbor.", "en-US"),
        ("Nothing to tell by.", "en-US"),
    ],
)
def test_language(text: str, language: str) -> None:
    assert divided(f"Chapter One\n{text}").language == language


LINES = st.sampled_from(
    "TEXT|Chapter One|Chapter Two|CHAPTER III|4.|V|Part Two|Prologue|The Weir|***|#|Contents|"
    "Acknowledgements|THE END|by Nora Vale|It was 7.|= One|== Two|= The Weir|^ Home|| TEXT|".split(
        "|"
    )
)


@settings(deadline=None)
@given(st.lists(LINES, min_size=1, max_size=25).map("\n".join).filter(str.strip))
def test_no_draft_loses_a_word(written: str) -> None:
    proposal = divided(written)
    book = proposal.book()
    held = [line for scene in book.texts for line in (scene.title, *scene.passage.text.split("\n"))]
    held += [
        line for each in (*book.parts, *book.chapters) for line in each.title.split(LINE_BREAK)
    ]
    given_lines = [each.text for each in proposal.paragraphs if not is_mark(each.text)]
    assert sorted(line for line in held if line and not is_mark(line)) == sorted(given_lines)


def test_a_draft_in_one_long_piece_is_told_of() -> None:
    sentence = "No headings and no breaks"
    assert any(sentence in each.sentence for each in divided("TEXT\n" * 500).report)
    for other in ("TEXT\n" * 20, "TEXT\n" * 300 + "***\n" + "TEXT\n" * 300):
        assert not any(sentence in each.sentence for each in divided(other).report)
