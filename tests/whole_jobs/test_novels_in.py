"""Six whole novels, as writers would have them in a file: every chapter found, every word kept."""

import random
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

import docx
import pytest
from docx.enum.text import WD_ALIGN_PARAGRAPH
from docx.shared import Inches
from reglet.exchange import read_draft
from reglet.manuscript.book import Book
from reglet.manuscript.paragraph import LINE_BREAK

from tests.whole_jobs.another import OTHER_WORD_PROCESSOR, saved_by_another
from tests.whole_jobs.novels import KEYS, headings, load, paragraphs


def words_of(book: Book) -> Iterator[str]:
    """All words of a book in reading order, titles included."""
    for scene in book.front:
        yield from _words(scene.title, scene.passage.text)
    for part in book.parts:
        yield from _words(part.title)
        for chapter in part.chapters:
            yield from _words(chapter.title)
            for scene in chapter.scenes:
                yield from _words(scene.passage.text)
    for scene in book.back:
        yield from _words(scene.title, scene.passage.text)


def _words(*texts: str) -> list[str]:
    return " ".join(texts).replace(LINE_BREAK, " ").split()


def check(book: Book, lines: Sequence[str]) -> None:
    found = headings(lines)
    assert [part.title for part in book.parts if part.title] == [
        heading.text for heading in found if heading.kind == "volume"
    ]
    assert [chapter.title for chapter in book.chapters] == [
        heading.text for heading in found if heading.kind == "chapter"
    ]
    text = (paragraph for paragraph in paragraphs(lines) if set(paragraph) - set("* "))
    assert list(words_of(book)) == " ".join(text).split()


def with_heading_styles(document: docx.Document, text: str, kind: str) -> None:
    if kind:
        document.add_heading(text, 1 if kind == "volume" else 2)
    else:
        document.add_paragraph(text)


def typed_and_centred(document: docx.Document, text: str, kind: str) -> None:
    paragraph = document.add_paragraph(text)
    if kind:
        paragraph.alignment = WD_ALIGN_PARAGRAPH.CENTER
    else:
        paragraph.paragraph_format.first_line_indent = Inches(0.5)


def typed_and_nothing_more(document: docx.Document, text: str, kind: str) -> None:
    document.add_paragraph(text)


def typed_bold_between_blank_lines(document: docx.Document, text: str, kind: str) -> None:
    if kind:
        document.add_paragraph()
        document.add_paragraph().add_run(text).bold = True
        document.add_paragraph()
    else:
        document.add_paragraph("\t" + text)


def on_new_pages(document: docx.Document, text: str, kind: str) -> None:
    if kind:
        document.add_page_break()
        document.add_paragraph(text, style="Title" if kind == "volume" else "Heading 1")
    else:
        document.add_paragraph(text)
        document.add_paragraph()


def any_of_them(document: docx.Document, text: str, kind: str) -> None:
    if kind:
        way = random.Random(text).choice((with_heading_styles, typed_and_centred))
        way(document, text, kind)
    else:
        document.add_paragraph(text)


WAYS: dict[str, Callable[[docx.Document, str, str], None]] = dict(
    zip(
        KEYS,
        (
            with_heading_styles,
            typed_and_centred,
            typed_and_nothing_more,
            typed_bold_between_blank_lines,
            on_new_pages,
            any_of_them,
        ),
        strict=True,
    )
)


@pytest.mark.parametrize("key", KEYS)
def test_from_a_word_processor(key: str, tmp_path: Path) -> None:
    lines = load(key).lines
    kinds = {heading.paragraph: heading.kind for heading in headings(lines)}
    document = docx.Document()
    for at, text in enumerate(paragraphs(lines)):
        WAYS[key](document, text, kinds.get(at, ""))
    path = tmp_path / f"{key}.docx"
    document.save(path)
    check(read_draft(path).book(), lines)
    if OTHER_WORD_PROCESSOR:
        check(read_draft(saved_by_another(path, "odt", tmp_path)).book(), lines)


@pytest.mark.parametrize("key", KEYS)
def test_from_wrapped_text(key: str, tmp_path: Path) -> None:
    lines = load(key).lines
    path = tmp_path / f"{key}.txt"
    path.write_text("\n".join(lines), "utf-8")
    check(read_draft(path).book(), lines)


@pytest.mark.parametrize("key", KEYS)
def test_from_text_with_a_line_for_each_paragraph(key: str, tmp_path: Path) -> None:
    lines = load(key).lines
    path = tmp_path / f"{key}.txt"
    path.write_text("\n".join(paragraphs(lines)), "utf-16")
    check(read_draft(path).book(), lines)


@pytest.mark.parametrize("key", KEYS)
def test_from_markdown(key: str, tmp_path: Path) -> None:
    lines = load(key).lines
    levels = {
        heading.paragraph: "# " if heading.kind == "volume" else "## "
        for heading in headings(lines)
    }
    blocks = (levels.get(at, "") + text for at, text in enumerate(paragraphs(lines)))
    path = tmp_path / f"{key}.md"
    path.write_text("\n\n".join(blocks), "utf-8")
    book = read_draft(path).book()
    assert len(book.chapters) == sum(level == "## " for level in levels.values())
    # What the text sets between underscores or stars is emphasis in Markdown.
    signs = str.maketrans("", "", "_*")
    written = " ".join(paragraph.translate(signs) for paragraph in paragraphs(lines))
    assert " ".join(words_of(book)).translate(signs).split() == written.split()
