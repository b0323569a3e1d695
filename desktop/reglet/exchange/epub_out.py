"""A book written as an EPUB 3 publication, for e-readers and shops.

Source of the files and their elements: W3C, EPUB 3.3 (Recommendation, 2023) and EPUB Accessibility
1.1. Each piece of front and back matter, each part's title and each chapter is a document of its
own. Nothing is fixed that the reader may want otherwise: the face, its size and the margins are
theirs.
"""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from html import escape
from itertools import groupby, pairwise
from pathlib import Path
from uuid import NAMESPACE_URL, uuid5

from reglet import resources
from reglet.exchange.cover import ENDINGS
from reglet.exchange.saving import save
from reglet.manuscript.book import Book, Chapter
from reglet.manuscript.front_and_back import is_title_page, printed_back, printed_front
from reglet.manuscript.matter import Matter
from reglet.manuscript.paragraph import LINE_BREAK, Paragraph, Span, SpanKind, Style
from reglet.manuscript.picture import Picture
from reglet.manuscript.scene import Scene

_TAGS = {
    SpanKind.EMPHASIS: ("<em>", "</em>"),
    SpanKind.STRONG: ("<strong>", "</strong>"),
    SpanKind.SMALL_CAPITALS: ('<span class="small-capitals">', "</span>"),
    SpanKind.UNDERLINE: ("<u>", "</u>"),
    SpanKind.STRIKE: ("<s>", "</s>"),
}
_HELD = {Style.BLOCK_QUOTE: "blockquote", Style.VERSE: "div", Style.LETTER: "div"}
"""Styles whose paragraphs stand in one element together."""
_KINDS = {
    Matter.TITLE_PAGE: "titlepage",
    Matter.COPYRIGHT: "copyright-page",
    Matter.DEDICATION: "dedication",
    Matter.EPIGRAPH: "epigraph",
    Matter.FOREWORD: "foreword",
    Matter.AFTERWORD: "afterword",
    Matter.ACKNOWLEDGEMENTS: "acknowledgments",
}
"""What pieces of front and back matter are in EPUB 3 Structural Semantics Vocabulary 1.1."""
_BREAK = '<hr class="break"/>'
_NO_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""What no XML 1.0 document may hold (its production 2)."""
_WRITTEN = (1980, 1, 1, 0, 0, 0)
"""The same book gives the same file, but for when it was made."""


@dataclass(frozen=True, slots=True)
class _Document:
    """One XHTML file: its name without the ending, what it is called in the contents, and the
    body. `kind` is its epub:type, `depth` how deep it stands in the contents.
    """

    name: str
    label: str
    kind: str
    body: str
    depth: int = 0


def write_epub(
    book: Book, path: Path, *, overwrite: bool = False, when: datetime | None = None
) -> None:
    """Write `book` as an .epub, made `when`, or now.

    Raises WriterError where `path` is there already (replaced only with `overwrite`, the earlier
    file kept with `.bak` added to its name) or cannot be written.
    """
    save(path, epub(book, when or datetime.now(UTC)), overwrite)


def epub(book: Book, when: datetime) -> bytes:
    """The whole publication."""
    documents = list(_documents(book))
    language = book.style_sheet.language or "en"
    files: dict[str, str | bytes] = {
        "META-INF/container.xml": _CONTAINER,
        "EPUB/package.opf": _package(book, documents, language, when),
        "EPUB/contents.xhtml": _contents(book, documents, language),
        "EPUB/book.css": resources.path("exchange", "book.css").read_text(encoding="utf-8"),
        **{f"EPUB/{each.name}.xhtml": _page(each, language) for each in documents},
    }
    if book.cover:
        files[f"EPUB/{_cover_name(book.cover)}"] = book.cover.data
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w") as archive:
        # First and not compressed, so that a reader knows the file by its first bytes (OCF 4.3).
        archive.writestr(zipfile.ZipInfo("mimetype", _WRITTEN), "application/epub+zip")
        for name, content in files.items():
            told = zipfile.ZipInfo(name, _WRITTEN)
            told.compress_type = zipfile.ZIP_DEFLATED
            archive.writestr(told, content)
    return held.getvalue()


def _documents(book: Book) -> Iterator[_Document]:
    front = printed_front(book)
    if not any(is_title_page(scene, book) for scene in front):
        title = f'<h1 class="title">{_text(book.title or "Untitled")}</h1>'
        author = f'\n<p class="centred">{_text(book.author)}</p>' if book.author else ""
        yield _Document("title", "Title page", "titlepage", title + author)
    for number, scene in enumerate(front, start=1):
        yield _matter(scene, f"front-{number}", "frontmatter", f"Front matter {number}")
    chapters = 0
    parted = any(part.title for part in book.parts)
    for number, part in enumerate(book.parts, start=1):
        if part.title:
            name = f"part-{number}"
            yield _Document(name, _label(part.title), "part", _heading(part.title, 1))
        for chapter in part.chapters:
            chapters += 1
            yield _chapter(chapter, chapters, depth=int(parted and bool(part.title)))
    for number, scene in enumerate(printed_back(book), start=1):
        yield _matter(scene, f"back-{number}", "backmatter", f"Back matter {number}")


def _matter(scene: Scene, name: str, kind: str, otherwise: str) -> _Document:
    heading = f"{_heading(scene.title, 1)}\n" if scene.title else ""
    if scene.matter:
        kind, otherwise = _KINDS.get(scene.matter, kind), scene.matter.label
    return _Document(name, _label(scene.title) or otherwise, kind, heading + _scene(scene))


def _chapter(chapter: Chapter, number: int, depth: int) -> _Document:
    heading = f"{_heading(chapter.title, 1)}\n" if chapter.title else ""
    body = f"\n{_BREAK}\n".join(_scene(scene) for scene in chapter.scenes)
    label = _label(chapter.title) or f"Chapter {number}"
    return _Document(f"chapter-{number}", label, "chapter", heading + body, depth)


def _scene(scene: Scene) -> str:
    blocks: list[str] = []
    opens = True
    for style, paragraphs in groupby(scene.passage.paragraphs, lambda each: each.style):
        found = []
        for paragraph in paragraphs:
            found.append(_paragraph(paragraph, opens))
            opens = style in (Style.SCENE_BREAK, Style.HEADING)
        held = _HELD.get(style)
        if held:
            said = f' class="{style.value}"' if held == "div" else ""
            found = [f"<{held}{said}>", *found, f"</{held}>"]
        blocks += found
    return "\n".join(blocks)


def _paragraph(paragraph: Paragraph, opens: bool) -> str:
    if paragraph.style is Style.SCENE_BREAK:
        return _BREAK
    if paragraph.style is Style.HEADING:
        return f"<h2>{_inline(paragraph)}</h2>"
    if paragraph.style is Style.CENTRED:
        return f'<p class="centred">{_inline(paragraph)}</p>'
    first = paragraph.style is Style.FIRST or (opens and paragraph.style is Style.BODY)
    return f"<p{' class=' + chr(34) + 'first' + chr(34) if first else ''}>{_inline(paragraph)}</p>"


def _inline(paragraph: Paragraph) -> str:
    """The text between the edges of its spans, each stretch in the elements of all that hold it."""
    text, spans = paragraph.text, paragraph.spans
    edges = sorted({0, len(text), *(s.start for s in spans), *(s.end for s in spans)})
    pieces = []
    for start, end in pairwise(edges):
        holding = [span for span in spans if span.start <= start and end <= span.end]
        opening = "".join(_tags(span)[0] for span in holding)
        closing = "".join(_tags(span)[1] for span in reversed(holding))
        pieces.append(f"{opening}{_text(text[start:end])}{closing}")
    return "".join(pieces)


def _tags(span: Span) -> tuple[str, str]:
    if span.kind is SpanKind.LANGUAGE:
        tag = escape(span.value)
        return f'<span lang="{tag}" xml:lang="{tag}">', "</span>"
    return _TAGS[span.kind]


def _text(text: str) -> str:
    return _clean(text).replace(LINE_BREAK, "<br/>")


def _clean(text: str) -> str:
    return _NO_XML.sub("\ufffd", escape(text))


def _heading(title: str, level: int) -> str:
    return f"<h{level}>{_text(title)}</h{level}>"


def _label(title: str) -> str:
    """A title on one line."""
    return " ".join(title.replace(LINE_BREAK, " ").split())


def _page(each: _Document, language: str) -> str:
    return _XHTML.format(
        language=escape(language),
        title=_clean(each.label),
        body=f'<section epub:type="{each.kind}">\n{each.body}\n</section>',
    )


def _contents(book: Book, documents: list[_Document], language: str) -> str:
    lines, depth = [], 0
    for at, each in enumerate(documents):
        deeper = at + 1 < len(documents) and documents[at + 1].depth > each.depth
        link = f'<a href="{each.name}.xhtml">{_clean(each.label)}</a>'
        if each.depth < depth:
            lines.append("</ol></li>")
        lines.append(f"<li>{link}<ol>" if deeper else f"<li>{link}</li>")
        depth = each.depth + deeper
    if depth:
        lines.append("</ol></li>")
    begins = next((each for each in documents if each.kind in ("part", "chapter")), documents[0])
    body = (
        f'<nav epub:type="toc">\n<h1>{_clean(book.title or "Contents")}</h1>\n<ol>\n'
        + "\n".join(lines)
        + '\n</ol>\n</nav>\n<nav epub:type="landmarks" hidden="hidden">\n<ol>\n'
        f'<li><a epub:type="bodymatter" href="{begins.name}.xhtml">Beginning</a></li>\n'
        "</ol>\n</nav>"
    )
    return _XHTML.format(language=escape(language), title="Contents", body=body)


def _package(book: Book, documents: list[_Document], language: str, when: datetime) -> str:
    first = next((part.id for part in book.parts), "")
    creator = f"\n    <dc:creator>{_clean(book.author)}</dc:creator>" if book.author else ""
    cover = book.cover and (
        f'\n    <item id="cover" href="{_cover_name(book.cover)}" '
        f'media-type="{book.cover.media_type}" properties="cover-image"/>'
    )
    return _PACKAGE.format(
        # The ids of a book are its own, and stay: so does the name by which a shop knows it.
        identifier=f"urn:uuid:{uuid5(NAMESPACE_URL, f'reglet:{first}:{book.title}')}",
        title=_clean(book.title or "Untitled"),
        creator=creator,
        language=escape(language),
        cover=cover or "",
        modified=f"{when.astimezone(UTC):%Y-%m-%dT%H:%M:%SZ}",
        items="\n".join(
            f'    <item id="{each.name}" href="{each.name}.xhtml" '
            'media-type="application/xhtml+xml"/>'
            for each in documents
        ),
        spine="\n".join(f'    <itemref idref="{each.name}"/>' for each in documents),
    )


def _cover_name(cover: Picture) -> str:
    return f"cover.{ENDINGS[cover.media_type]}"


_CONTAINER = """<?xml version="1.0" encoding="UTF-8"?>
<container version="1.0" xmlns="urn:oasis:names:tc:opendocument:xmlns:container">
  <rootfiles>
    <rootfile full-path="EPUB/package.opf" media-type="application/oebps-package+xml"/>
  </rootfiles>
</container>
"""
_XHTML = """<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE html>
<html xmlns="http://www.w3.org/1999/xhtml" xmlns:epub="http://www.idpf.org/2007/ops"
 lang="{language}" xml:lang="{language}">
<head>
<title>{title}</title>
<link rel="stylesheet" type="text/css" href="book.css"/>
</head>
<body>
{body}
</body>
</html>
"""
_PACKAGE = """<?xml version="1.0" encoding="UTF-8"?>
<package xmlns="http://www.idpf.org/2007/opf" version="3.0" unique-identifier="book"
 xml:lang="{language}">
  <metadata xmlns:dc="http://purl.org/dc/elements/1.1/">
    <dc:identifier id="book">{identifier}</dc:identifier>
    <dc:title>{title}</dc:title>{creator}
    <dc:language>{language}</dc:language>
    <meta property="dcterms:modified">{modified}</meta>
    <meta property="schema:accessMode">textual</meta>
    <meta property="schema:accessModeSufficient">textual</meta>
    <meta property="schema:accessibilityFeature">tableOfContents</meta>
    <meta property="schema:accessibilityFeature">readingOrder</meta>
    <meta property="schema:accessibilityFeature">structuralNavigation</meta>
    <meta property="schema:accessibilityFeature">displayTransformability</meta>
    <meta property="schema:accessibilityHazard">none</meta>
    <meta property="schema:accessibilitySummary">Text alone, in reading order, with a table of
 contents.</meta>
  </metadata>
  <manifest>
    <item id="contents" href="contents.xhtml" media-type="application/xhtml+xml" properties="nav"/>
    <item id="style" href="book.css" media-type="text/css"/>{cover}
{items}
  </manifest>
  <spine>
{spine}
  </spine>
</package>
"""
