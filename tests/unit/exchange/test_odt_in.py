"""What an .odt can hold, piece by piece, as raw OpenDocument mark-up."""

from __future__ import annotations

from html import escape
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reglet.errors import DraftError
from reglet.exchange import Proposal, read_draft
from reglet.exchange.draft import DraftNote
from reglet.exchange.odt_styles import length
from reglet.manuscript.paragraph import LINE_BREAK, Paragraph, Span, SpanKind, Style

from tests.odt_files import KIND, automatic, members, write_odt


def proposal(path: Path, *blocks: str, **more: str) -> Proposal:
    """The proposal for a document of these blocks; text without a tag is a plain paragraph."""
    body = "".join(block if block.startswith("<") else p(block) for block in blocks)
    return read_draft(write_odt(path / "draft.odt", members(body, **more)))


def p(inside: str = "", style: str = "Standard") -> str:
    return f'<text:p text:style-name="{style}">{inside}</text:p>'


def h(inside: str, level: int = 1) -> str:
    return f'<text:h text:style-name="Heading_20_1" text:outline-level="{level}">{inside}</text:h>'


def span(inside: str, style: str = "T1") -> str:
    return f'<text:span text:style-name="{style}">{inside}</text:span>'


def first(read: Proposal) -> Paragraph:
    return read.paragraphs[0].paragraph


def texts(read: Proposal) -> list[str]:
    return [each.text for each in read.paragraphs]


def only_note(read: Proposal) -> DraftNote:
    (note,) = read.notes
    return note


@pytest.mark.parametrize(
    ("properties", "kind", "value"),
    [
        ('fo:font-style="italic"', SpanKind.EMPHASIS, ""),
        ('fo:font-style="oblique"', SpanKind.EMPHASIS, ""),
        ('fo:font-weight="bold"', SpanKind.STRONG, ""),
        ('fo:font-weight="700"', SpanKind.STRONG, ""),
        ('fo:font-variant="small-caps"', SpanKind.SMALL_CAPITALS, ""),
        ('style:text-underline-style="solid"', SpanKind.UNDERLINE, ""),
        ('style:text-line-through-style="solid"', SpanKind.STRIKE, ""),
        ('fo:language="fr" fo:country="FR"', SpanKind.LANGUAGE, "fr-FR"),
        ('fo:language="la" fo:country="none"', SpanKind.LANGUAGE, "la"),
    ],
)
def test_spans(properties: str, kind: SpanKind, value: str, tmp_path: Path) -> None:
    read = proposal(tmp_path, p(f"one {span('two')} three"), automatic=automatic("T1", properties))
    assert first(read) == Paragraph("one two three", spans=(Span(4, 7, kind, value),))


@pytest.mark.parametrize(
    "properties",
    [
        'fo:font-style="normal"',
        'fo:font-weight="400"',
        'style:text-underline-style="none"',
        'style:text-line-through-style="none" style:text-line-through-type="none"',
        'fo:language="en" fo:country="GB"',
        'fo:language="zxx" fo:country="none"',
        'fo:color="#ff0000"',
    ],
)
def test_what_is_no_span(properties: str, tmp_path: Path) -> None:
    read = proposal(tmp_path, p(f"one {span('two')}"), automatic=automatic("T1", properties))
    assert first(read) == Paragraph("one two")


def test_spans_inside_spans_and_on_whole_paragraphs(tmp_path: Path) -> None:
    styles = automatic("T1", 'fo:font-weight="bold"') + automatic("T2", 'fo:font-style="normal"')
    styles += automatic("P1", 'fo:font-style="italic"', more='style:parent-style-name="Standard"')
    read = proposal(
        tmp_path, p(f"a{span('b' + span('c', 'T2') + 'd')}e", "P1"), "f", automatic=styles
    )
    assert first(read).spans == (
        Span(0, 2, SpanKind.EMPHASIS),
        Span(1, 4, SpanKind.STRONG),
        Span(3, 5, SpanKind.EMPHASIS),
    )


@pytest.mark.parametrize(
    ("properties", "style"),
    [
        ('fo:text-align="center"', Style.CENTRED),
        ('fo:text-align="start"', Style.BODY),
        ('fo:margin-left="1.27cm" fo:margin-right="1.27cm"', Style.BLOCK_QUOTE),
        ('fo:margin-left="36pt"', Style.BLOCK_QUOTE),
        ('fo:margin-left="0.5in" fo:text-indent="-0.25in"', Style.BODY),
        ('fo:text-indent="0.5in"', Style.BODY),
    ],
)
def test_paragraph_styles(properties: str, style: Style, tmp_path: Path) -> None:
    styles = automatic("P1", paragraph=properties, more='style:parent-style-name="Standard"')
    read = proposal(tmp_path, p("It rained.", "P1"), "And on.", automatic=styles)
    assert first(read) == Paragraph("It rained.", style)


def test_styles_are_known_by_name_below_what_is_set_by_hand(tmp_path: Path) -> None:
    named = '<style:style style:name="Q" style:display-name="Quotations" style:family="paragraph"/>'
    styles = automatic("P1", paragraph='fo:margin-top="1cm"', more='style:parent-style-name="Q"')
    read = proposal(tmp_path, p("It rained.", "P1"), "On.", styles=named, automatic=styles)
    assert first(read).style is Style.BLOCK_QUOTE


@pytest.mark.parametrize(
    ("inside", "text"),
    [
        ("a\n   b\t c ", "a b c"),
        (f"  a {span(' b ')} c", "a b c"),
        ("a<text:s/>b", "a b"),
        ('a <text:s text:c="2"/>b', "a   b"),
        ("a<text:tab/>b<text:line-break/>c", f"a\tb{LINE_BREAK}c"),
        ("a\u00a0\u00a0b \u2009c", "a\u00a0\u00a0b \u2009c"),
        ("“No,” she said—‘never’… ", "“No,” she said—‘never’…"),
        ('<text:a text:style-name="Internet_20_link">linked</text:a>', "linked"),
        ("a<text:soft-page-break/>b", "ab"),
        ("<text:date>4 May</text:date>", "4 May"),
        ('<text:bookmark text:name="x"/>a<!-- no -->b', "ab"),
        (
            "<text:ruby><text:ruby-base>base</text:ruby-base><text:ruby-text>r</text:ruby-text>"
            "</text:ruby>",
            "base",
        ),
        ("a<text:script>alert()</text:script>b", "ab"),
    ],
)
def test_text(inside: str, text: str, tmp_path: Path) -> None:
    assert first(proposal(tmp_path, p(inside), "More.")).text == text


def test_a_link_is_not_underlined(tmp_path: Path) -> None:
    read = proposal(tmp_path, p(f"see {span('there', 'Internet_20_link')}"))
    assert first(read) == Paragraph("see there")


def test_headings_make_chapters_and_a_break_makes_scenes(tmp_path: Path) -> None:
    read = proposal(tmp_path, h("Weir"), "It rained.", p("* * *"), "It stopped.", h("Home"), "Dry.")
    chapters = read.book().chapters
    assert [(each.title, len(each.scenes)) for each in chapters] == [("Weir", 2), ("Home", 1)]


def test_numbered_headings_without_words_are_chapters(tmp_path: Path) -> None:
    numbered = (
        '<text:outline-style style:name="Outline"><text:outline-level-style text:level="1" '
        'style:num-format="1"/></text:outline-style>'
    )
    read = proposal(tmp_path, h(""), "It rained.", h(""), "Dry.", styles=numbered)
    assert len(read.book().chapters) == 2
    assert any("sets by itself" in each.sentence for each in read.report)


def test_new_pages(tmp_path: Path) -> None:
    styles = automatic("P1", paragraph='fo:break-before="page"', more=" ") + automatic(
        "P2", paragraph='fo:break-after="page"', more=" "
    )
    styles += '<style:style style:name="P3" style:family="paragraph" style:master-page-name="M"/>'
    read = proposal(
        tmp_path, "a", p("b", "P1"), p("c", "P2"), "d", p("e", "P3"), "f", automatic=styles
    )
    assert "".join(each.text for each in read.paragraphs if each.new_page) == "bde"


def test_a_line_below_an_empty_paragraph_is_a_break(tmp_path: Path) -> None:
    styles = automatic("P1", paragraph='fo:border-bottom="1pt solid #000000"', more=" ")
    read = proposal(tmp_path, "It rained.", p("", "P1"), "It went on.", automatic=styles)
    assert len(read.book().scenes) == 2


@pytest.mark.parametrize(
    ("block", "found", "told"),
    [
        (
            p("text<draw:frame><draw:text-box>" + p("boxed") + "</draw:text-box></draw:frame>"),
            ["text", "boxed", "after"],
            "text box",
        ),
        (
            "<draw:frame><draw:text-box>" + p("boxed") + "</draw:text-box></draw:frame>",
            ["boxed", "after"],
            "text box",
        ),
        (
            "<table:table><table:table-row><table:table-cell>" + p("a") + "</table:table-cell>"
            "<table:table-cell>"
            + p("b")
            + "<table:table><table:table-row><table:table-cell>"
            + p("c")
            + "</table:table-cell></table:table-row></table:table></table:table-cell>"
            "</table:table-row></table:table>",
            ["a", "b", "c", "after"],
            "table",
        ),
        (
            p("text<draw:frame><draw:image/><svg:desc>a map</svg:desc></draw:frame>"),
            ["text", "after"],
            "a map",
        ),
        (p("a<draw:frame><draw:object/><draw:image/></draw:frame>"), ["a", "after"], "embedded"),
        (
            "<text:list><text:list-item>" + p("item") + "</text:list-item></text:list>",
            ["item", "after"],
            "list",
        ),
        (
            '<text:section text:display="none">' + p("unseen") + "</text:section>",
            ["after"],
            "Hidden text",
        ),
        (
            '<text:section text:display="none"><text:section>' + p("deep") + "</text:section>"
            "</text:section>",
            ["after"],
            "Hidden text",
        ),
        ("<text:section>" + p("held") + "</text:section>" + p(""), ["held", "after"], ""),
        (p(f"a{span('s', 'T9')}b"), ["ab", "after"], "Hidden text"),
    ],
)
def test_what_a_book_cannot_hold_is_named(
    block: str, found: list[str], told: str, tmp_path: Path
) -> None:
    read = proposal(tmp_path, block, "after", automatic=automatic("T9", 'text:display="none"'))
    assert texts(read) == found
    assert [told in each.sentence for each in read.report] == [True] * bool(told)


def test_a_table_of_contents_is_left_out(tmp_path: Path) -> None:
    listed = (
        "<text:table-of-content><text:table-of-content-source><text:index-title-template>No"
        "</text:index-title-template></text:table-of-content-source><text:index-body>"
        + p("Weir<text:tab/>1")
        + p("Home<text:tab/>9")
        + "</text:index-body></text:table-of-content>"
    )
    read = proposal(tmp_path, listed, h("Weir"), "It rained.", h("Home"), "Dry.")
    assert [each.list_of_contents for each in read.paragraphs[:3]] == [True, True, False]
    assert [scene.passage.text for scene in read.book().texts] == ["It rained.", "Dry."]


def test_what_stands_beside_the_text(tmp_path: Path) -> None:
    files = members(
        p("It rained."),
        masters='<style:master-page style:name="M"><style:header>'
        + p("Third draft <text:page-number>1</text:page-number>")
        + "</style:header></style:master-page>",
        meta="<dc:title>Weir</dc:title><meta:initial-creator>L. G.</meta:initial-creator>"
        "<dc:creator>An editor</dc:creator>",
    )
    files["Basic/Standard/Module1.xml"] = "<x/>"
    read = read_draft(write_odt(tmp_path / "draft.odt", files))
    assert (read.title, read.author, read.language) == ("Weir", "L. G.", "en-GB")
    header, macros = (each.sentence for each in read.report)
    assert "“Third draft 1” is left out" in header and "None was run" in macros


def test_comments_become_notes(tmp_path: Path) -> None:
    comment = (
        '<office:annotation office:name="a1"><dc:creator>Early Reader</dc:creator>'
        "<dc:date>2026-01-02T03:04:05Z</dc:date>"
        + p("How <text:s/>long?")
        + p("Really?")
        + "</office:annotation>"
    )
    end = '<office:annotation-end office:name="a1"/>'
    read = proposal(tmp_path, "Before.", p(f"She {comment}waited"), p(f"long{end} enough."))
    note = only_note(read)
    assert (note.words, note.text) == ("waited\nlong", "How long?\nReally?")
    assert (note.author, note.kind) == ("Early Reader", "comment")
    assert note.made.isoformat().startswith("2026-01-02")
    scene = read.book().scenes[0]
    placed = scene.notes[0]
    assert scene.passage.slice(placed.start, placed.end).text == "waited\nlong"


def test_a_comment_that_ends_in_a_space_that_counts_for_nothing(tmp_path: Path) -> None:
    comment = '<office:annotation office:name="a1">' + p("Why?") + "</office:annotation>"
    end = '<office:annotation-end office:name="a1"/>'
    note = only_note(proposal(tmp_path, p(f"She {comment}went {end}"), "On."))
    assert (note.start, note.end, note.words) == (4, 8, "went")


def test_a_comment_on_no_words(tmp_path: Path) -> None:
    comment = "<office:annotation>" + p("Why?") + "</office:annotation>"
    read = proposal(tmp_path, p(f"She {comment}waited"), p(f"{comment}On."))
    assert [(note.first, note.start, note.end, note.text) for note in read.notes] == [
        (0, 4, 4, "Why?"),
        (1, 0, 0, "Why?"),
    ]


@pytest.mark.parametrize("kind", ["footnote", "endnote"])
def test_footnotes_are_kept_in_notes(kind: str, tmp_path: Path) -> None:
    called = (
        f'<text:note text:note-class="{kind}"><text:note-citation>1</text:note-citation>'
        "<text:note-body>" + p("An aside.") + "</text:note-body></text:note>"
    )
    read = proposal(tmp_path, p(f"word{called} more"))
    assert texts(read) == ["word more"]
    note = only_note(read)
    assert (note.start, note.text, note.kind) == (4, "An aside.", kind)
    assert kind in read.report[0].sentence


def region(name: str, kind: str, gone: str = "") -> str:
    return (
        f'<text:changed-region xml:id="{name}" text:id="{name}"><text:{kind}><office:change-info>'
        "<dc:creator>N</dc:creator><dc:date>2026-01-02T03:04:05</dc:date>"
        + p("a remark")
        + f"</office:change-info>{gone}</text:{kind}></text:changed-region>"
    )


def test_tracked_changes_are_accepted_and_what_was_deleted_is_kept(tmp_path: Path) -> None:
    changes = (
        "<text:tracked-changes>"
        + region("c1", "insertion")
        + region("c2", "deletion", p("never") + p("ever"))
        + region("c3", "format-change")
        + "</text:tracked-changes>"
    )

    def mark(name: str, at: str = "") -> str:
        return f'<text:change{at} text:change-id="{name}"/>'

    read = proposal(
        tmp_path,
        changes,
        p(
            f"She {mark('c2')}went {mark('c1', '-start')}home{mark('c1', '-end')} "
            f"{mark('c3', '-start')}then{mark('c3', '-end')}."
        ),
    )
    assert texts(read) == ["She went home then."]
    note = only_note(read)
    assert (note.start, note.words, note.author, note.kind) == (4, "never\never", "N", "deletion")
    assert "1 insertion taken in, 1 deletion left out" in read.report[0].sentence


def test_a_great_count_of_spaces_takes_no_memory(tmp_path: Path) -> None:
    read = proposal(tmp_path, p('a<text:s text:c="999999999999"/>b'), p('c<text:s text:c="x"/>d'))
    assert len(texts(read)[0]) < 2000 and texts(read)[1] == "c d"


@pytest.mark.parametrize(
    ("text", "twips"),
    [
        *((each, 1440) for each in ("1in", "2.54cm", "25.4mm", "72pt", "6pc", "96px")),
        *(("-0.5in", -720), (".5in", 720)),
        *((each, None) for each in ("10%", "wide", "1", "", None)),
    ],
)
def test_lengths(text: str | None, twips: int | None) -> None:
    assert length(text) == twips


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"mimetype": "application/vnd.oasis.opendocument.spreadsheet"}, "not a word-processor"),
        ({"content.xml": None}, "not a word-processor"),
        ({"META-INF/manifest.xml": "<m><encryption-data/></m>"}, "password"),
        ({"content.xml": "<office:document-content"}, "damaged"),
        ({"content.xml": '<!DOCTYPE d [<!ENTITY a "b">]><d>&a;</d>'}, "entities"),
        ({"styles.xml": '<!DOCTYPE d SYSTEM "file:///etc/hostname"><d/>'}, "entities"),
        ({"content.xml": " " * 200_000_000}, "unpack"),
    ],
)
def test_what_is_no_sound_odt(change: dict[str, str | None], said: str, tmp_path: Path) -> None:
    files = {
        name: held
        for name, held in {**members(p("It rained.")), **change}.items()
        if held is not None
    }
    path = write_odt(tmp_path / "draft.odt", files)
    with pytest.raises(DraftError, match=said):
        read_draft(path)


@pytest.mark.parametrize("member", ["content.xml", "META-INF/manifest.xml", "mimetype"])
def test_an_archive_damaged_inside(member: str, tmp_path: Path) -> None:
    path = write_odt(tmp_path / "draft.odt", members(p("It rained.")))
    held = bytearray(path.read_bytes())
    at = held.index(member.encode()) + len(member)
    held[at : at + 8] = bytes(8)
    path.write_bytes(held)
    with pytest.raises(DraftError, match="damaged"):
        read_draft(path)


@pytest.mark.parametrize(("held", "said"), [(b"", "empty"), (b"It was", "no .odt")])
def test_what_is_no_archive(held: bytes, said: str, tmp_path: Path) -> None:
    path = tmp_path / "draft.odt"
    path.write_bytes(held)
    with pytest.raises(DraftError, match=said):
        read_draft(path)


def test_mark_up_nested_without_end_is_refused_in_a_sentence(tmp_path: Path) -> None:
    deep = "<text:span>" * 1900 + "x" + "</text:span>" * 1900
    with pytest.raises(DraftError, match="damaged"):
        proposal(tmp_path, p(deep))


PIECES = (
    "Tide",
    " ",
    "  ",
    "\t",
    LINE_BREAK,
    "“No,”",
    "\u00a0",
    "&<",
    "o’clock",
    "e\u0301",
    "🐚",
    "—",
)


def encoded(line: str) -> str:
    """A line as OpenDocument has it, with an element for each space that would else be dropped."""
    signs = {" ": "<text:s/>", "\t": "<text:tab/>", LINE_BREAK: "<text:line-break/>"}
    return "".join(signs.get(sign) or escape(sign) for sign in line)


@settings(max_examples=40)
@given(st.lists(st.lists(st.sampled_from(PIECES), max_size=9).map("".join), min_size=1))
def test_no_word_and_no_sign_is_lost(lines: list[str]) -> None:
    with TemporaryDirectory() as folder:
        read = proposal(Path(folder), *(p(f"x{encoded(line)}") for line in lines))
    assert texts(read) == [f"x{line}" for line in lines]


def test_a_document_without_declared_kind_is_read(tmp_path: Path) -> None:
    files = members(p("It rained."))
    assert files.pop("mimetype") == KIND
    assert texts(read_draft(write_odt(tmp_path / "draft.odt", files))) == ["It rained."]
