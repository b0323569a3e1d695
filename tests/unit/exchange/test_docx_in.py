"""What a word processor's file can hold, piece by piece, as raw WordprocessingML."""

import zipfile
from io import BytesIO
from pathlib import Path

import docx
import pytest
from docx.oxml import parse_xml
from docx.oxml.ns import nsdecls
from reglet.exchange import Proposal, read_draft
from reglet.exchange.draft import DraftNote
from reglet.manuscript.paragraph import LINE_BREAK, Paragraph, Span, SpanKind, Style

NAMESPACES = nsdecls("w", "r", "wp", "a", "m") + (
    ' xmlns:mc="http://schemas.openxmlformats.org/markup-compatibility/2006"'
    ' xmlns:v="urn:schemas-microsoft-com:vml" xmlns:o="urn:schemas-microsoft-com:office:office"'
    ' xmlns:wps="http://schemas.microsoft.com/office/word/2010/wordprocessingShape"'
)


def proposal(path: Path, *blocks: str, **members: str) -> Proposal:
    """The proposal for a document of these blocks; text without a tag is a plain paragraph."""
    document = docx.Document()
    for block in blocks:
        if not block.startswith("<"):
            block = f"<w:p><w:r><w:t>{block}</w:t></w:r></w:p>"
        tag, _, rest = block.removeprefix("<").partition(">")
        element = parse_xml(f"<{tag} {NAMESPACES}>{rest}")
        document.element.body.sectPr.addprevious(element)
    buffer = BytesIO()
    document.save(buffer)
    file = path / "draft.docx"
    with zipfile.ZipFile(buffer) as old, zipfile.ZipFile(file, "w") as new:
        for name in old.namelist():
            content = old.read(name).decode("utf-8", "surrogateescape")
            if name == "word/_rels/document.xml.rels":
                kind = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
                for member in members:
                    content = content.replace(
                        "</Relationships>",
                        f'<Relationship Id="x{member}" Type="{kind}/{member}" '
                        f'Target="{member}.xml"/></Relationships>',
                    )
            new.writestr(name, content.encode("utf-8", "surrogateescape"))
        for member, content in members.items():
            new.writestr(f"word/{member}.xml", f"<w:{member} {nsdecls('w')}>{content}</w:{member}>")
    return read_draft(file)


def run(text: str, properties: str = "") -> str:
    return f"<w:r><w:rPr>{properties}</w:rPr><w:t xml:space='preserve'>{text}</w:t></w:r>"


def p(*inside: str, properties: str = "") -> str:
    return f"<w:p><w:pPr>{properties}</w:pPr>{''.join(inside)}</w:p>"


def first(read: Proposal) -> Paragraph:
    return read.paragraphs[0].paragraph


@pytest.mark.parametrize(
    ("properties", "kind", "value"),
    [
        ("<w:i/>", SpanKind.EMPHASIS, ""),
        ("<w:b/>", SpanKind.STRONG, ""),
        ("<w:smallCaps/>", SpanKind.SMALL_CAPITALS, ""),
        ('<w:u w:val="single"/>', SpanKind.UNDERLINE, ""),
        ("<w:strike/>", SpanKind.STRIKE, ""),
        ("<w:dstrike/>", SpanKind.STRIKE, ""),
        ('<w:lang w:val="fr-FR"/>', SpanKind.LANGUAGE, "fr-FR"),
        ('<w:rStyle w:val="Emphasis"/>', SpanKind.EMPHASIS, ""),
        ('<w:rStyle w:val="Strong"/>', SpanKind.STRONG, ""),
    ],
)
def test_spans(properties: str, kind: SpanKind, value: str, tmp_path: Path) -> None:
    read = proposal(tmp_path, p(run("one "), run("two", properties), run(" three")))
    assert first(read).spans == (Span(4, 7, kind, value),)


@pytest.mark.parametrize(
    "properties",
    [
        '<w:i w:val="0"/>',
        '<w:b w:val="false"/>',
        '<w:u w:val="none"/>',
        '<w:lang w:val="en-GB"/>',
        '<w:rStyle w:val="Strong"/><w:b w:val="0"/>',
        "<w:color w:val='FF0000'/>",
    ],
)
def test_what_is_no_span(properties: str, tmp_path: Path) -> None:
    read = proposal(tmp_path, p(run("one "), run("two", properties)))
    assert first(read) == Paragraph("one two")


@pytest.mark.parametrize(
    ("properties", "style"),
    [
        ("", Style.BODY),
        ('<w:jc w:val="center"/>', Style.CENTRED),
        ('<w:ind w:left="720" w:right="720"/>', Style.BLOCK_QUOTE),
        ('<w:ind w:left="720"/>', Style.BLOCK_QUOTE),
        ('<w:ind w:left="720" w:hanging="360"/>', Style.BODY),
        ('<w:pStyle w:val="Quote"/>', Style.BLOCK_QUOTE),
        ('<w:pStyle w:val="IntenseQuote"/>', Style.BLOCK_QUOTE),
        ('<w:ind w:firstLine="720"/>', Style.BODY),
    ],
)
def test_paragraph_styles(properties: str, style: Style, tmp_path: Path) -> None:
    read = proposal(tmp_path, p(run("It rained."), properties=properties), "And on.")
    assert first(read) == Paragraph("It rained.", style)


def test_no_first_line_indent_among_indented_paragraphs(tmp_path: Path) -> None:
    indented = '<w:ind w:firstLine="720"/>'
    blocks = [p(run(f"Text {n}."), properties=indented if n else "") for n in range(5)]
    styles = [each.paragraph.style for each in proposal(tmp_path, *blocks).paragraphs]
    assert styles == [Style.FIRST, *[Style.BODY] * 4]


@pytest.mark.parametrize(
    ("inside", "text"),
    [
        ("<w:r><w:t>a</w:t><w:tab/><w:t>b</w:t></w:r>", "a\tb"),
        ("<w:r><w:t>a</w:t><w:br/><w:t>b</w:t></w:r>", f"a{LINE_BREAK}b"),
        ("<w:r><w:t>a</w:t><w:noBreakHyphen/><w:t>b</w:t></w:r>", "a\u2011b"),
        ("<w:r><w:t>a\u00a0b</w:t></w:r>", "a\u00a0b"),
        ("<w:hyperlink r:id='rId99'><w:r><w:t>linked</w:t></w:r></w:hyperlink>", "linked"),
        ("<w:fldSimple w:instr='X'><w:r><w:t>result</w:t></w:r></w:fldSimple>", "result"),
        (
            "<w:r><w:fldChar w:fldCharType='begin'/></w:r><w:r><w:instrText>HIDE</w:instrText>"
            "</w:r><w:r><w:fldChar w:fldCharType='separate'/></w:r><w:r><w:t>shown</w:t></w:r>",
            "shown",
        ),
        ("<w:sdt><w:sdtContent><w:r><w:t>held</w:t></w:r></w:sdtContent></w:sdt>", "held"),
        ("<w:smartTag><w:r><w:t>smart</w:t></w:r></w:smartTag>", "smart"),
        ("<w:ins w:author='A'><w:r><w:t>in</w:t></w:r></w:ins>", "in"),
        ("<w:moveTo w:author='A'><w:r><w:t>moved</w:t></w:r></w:moveTo>", "moved"),
        ("<w:r><w:t>a</w:t></w:r><w:moveFrom><w:r><w:t>b</w:t></w:r></w:moveFrom>", "a"),
        ("<w:r><w:sym w:font='Arial' w:char='00E9'/></w:r>", "é"),
        ("<m:oMath><m:r><m:t>x+1</m:t></m:r></m:oMath>", "x+1"),
        (
            "<w:r><w:ruby><w:rt><w:r><w:t>above</w:t></w:r></w:rt><w:rubyBase><w:r><w:t>base"
            "</w:t></w:r></w:rubyBase></w:ruby></w:r>",
            "base",
        ),
    ],
)
def test_text(inside: str, text: str, tmp_path: Path) -> None:
    assert first(proposal(tmp_path, p(inside), "More.")).text == text


BOX = (
    "<w:r><mc:AlternateContent><mc:Choice Requires='wps'><w:drawing><wps:txbx><w:txbxContent>"
    "<w:p><w:r><w:t>boxed</w:t></w:r></w:p></w:txbxContent></wps:txbx></w:drawing></mc:Choice>"
    "<mc:Fallback><w:pict><v:textbox><w:txbxContent><w:p><w:r><w:t>boxed</w:t></w:r></w:p>"
    "</w:txbxContent></v:textbox></w:pict></mc:Fallback></mc:AlternateContent></w:r>"
)
TABLE = (
    "<w:tbl><w:tr><w:tc><w:p><w:r><w:t>a</w:t></w:r></w:p></w:tc><w:tc><w:p><w:r><w:t>b</w:t></w:r>"
    "</w:p><w:tbl><w:tr><w:tc><w:p><w:r><w:t>c</w:t></w:r></w:p></w:tc></w:tr></w:tbl></w:tc></w:tr>"
    "</w:tbl>"
)


@pytest.mark.parametrize(
    ("block", "texts", "told"),
    [
        (p(run("text"), BOX), ["text", "boxed", "after"], "text box"),
        (TABLE, ["a", "b", "c", "after"], "table"),
        (
            p(
                run("text"),
                "<w:r><w:drawing><wp:inline><wp:docPr id='1' name='n' descr='a map'/>"
                "</wp:inline></w:drawing></w:r>",
            ),
            ["text", "after"],
            "a map",
        ),
        (p(run("a"), "<w:r><w:object/></w:r>"), ["a", "after"], "embedded object"),
        (
            p(run("item"), properties='<w:numPr><w:numId w:val="1"/></w:numPr>'),
            ["item", "after"],
            "list",
        ),
        ("<w:altChunk r:id='rId7'></w:altChunk>", ["after"], "Another document"),
        (p(run("s", "<w:vanish/>"), run("seen")), ["seen", "after"], "Hidden text"),
    ],
)
def test_what_a_book_cannot_hold_is_named(
    block: str, texts: list[str], told: str, tmp_path: Path
) -> None:
    read = proposal(tmp_path, block, "after")
    assert [each.text for each in read.paragraphs] == texts
    (finding,) = (each for each in read.report if told in each.sentence)
    assert read.where(finding)


def test_headers_and_footers_are_named(tmp_path: Path) -> None:
    document = docx.Document()
    document.add_paragraph("It rained.")
    document.sections[0].header.paragraphs[0].text = "Third draft"
    path = tmp_path / "draft.docx"
    document.save(path)
    assert "“Third draft”" in read_draft(path).report[0].sentence


def test_comments_become_notes(tmp_path: Path) -> None:
    document = docx.Document()
    document.add_paragraph("Before.")
    paragraph = document.add_paragraph("She ")
    marked = paragraph.add_run("waited long")
    paragraph.add_run(" enough.")
    document.add_comment(marked, text="How long?", author="Early Reader", initials="ER")
    path = tmp_path / "draft.docx"
    document.save(path)
    book = read_draft(path).book()
    (note,) = book.scenes[0].notes
    assert (note.words, note.text, note.author) == ("waited long", "How long?", "Early Reader")
    assert book.scenes[0].passage.slice(note.start, note.end).text == "waited long"


def test_a_comment_on_several_paragraphs(tmp_path: Path) -> None:
    read = proposal(
        tmp_path,
        p(run("one "), "<w:commentRangeStart w:id='4'/>", run("two")),
        "three",
        p(run("four"), "<w:commentRangeEnd w:id='4'/>", run(" five")),
        comments="<w:comment w:id='4' w:author='R' w:date='2026-01-02T03:04:05Z'><w:p><w:r>"
        "<w:t>why</w:t></w:r></w:p></w:comment>",
    )
    scene = read.book().scenes[0]
    assert scene.notes[0].words == "two\nthree\nfour"
    assert scene.passage.slice(scene.notes[0].start, scene.notes[0].end).text == "two\nthree\nfour"
    assert scene.notes[0].made.isoformat().startswith("2026-01-02")


def only_note(read: Proposal) -> DraftNote:
    (note,) = read.notes
    return note


def test_a_tracked_deletion_is_kept_in_a_note(tmp_path: Path) -> None:
    gone = (
        "<w:del w:author='N' w:date='2026-01-02T03:04:05'><w:r><w:delText>never </w:delText></w:r>"
        "</w:del>"
    )
    read = proposal(tmp_path, p(run("She "), gone, run("went.")))
    assert first(read).text == "She went."
    note = only_note(read)
    assert (note.start, note.words, note.author, note.kind) == (4, "never ", "N", "deletion")
    assert "1 deletion left out" in read.report[0].sentence


def test_a_deleted_paragraph_end_joins_paragraphs(tmp_path: Path) -> None:
    mark = "<w:rPr><w:del w:author='N'/></w:rPr>"
    read = proposal(tmp_path, p(run("She "), properties=mark), p(run("went.")), "Home.")
    assert [each.text for each in read.paragraphs] == ["She went.", "Home."]


def test_a_deleted_paragraph_leaves_the_next_as_it_is(tmp_path: Path) -> None:
    mark = "<w:rPr><w:del w:author='N'/></w:rPr>"
    gone = "<w:del w:author='N'><w:r><w:delText>Gone.</w:delText></w:r></w:del>"
    heading = p(run("Chapter One"), properties='<w:pStyle w:val="Heading1"/>')
    read = proposal(tmp_path, p(gone, properties=mark), heading, "It rained.")
    assert read.book().chapters[0].title == "Chapter One"
    last = proposal(tmp_path, "It rained.", p(run("The end."), properties=mark))
    assert [each.text for each in last.paragraphs] == ["It rained.", "The end."]


def test_footnotes_are_kept_in_notes(tmp_path: Path) -> None:
    read = proposal(
        tmp_path,
        p(run("word"), "<w:r><w:footnoteReference w:id='2'/></w:r>", run(" more")),
        footnotes="<w:footnote w:id='2'><w:p><w:r><w:t>An aside.</w:t></w:r></w:p></w:footnote>",
    )
    assert first(read).text == "word more"
    note = only_note(read)
    assert (note.start, note.text, note.kind) == (4, "An aside.", "footnote")


def test_page_breaks(tmp_path: Path) -> None:
    breaks = "<w:r><w:br w:type='page'/></w:r>"
    read = proposal(tmp_path, p(run("a"), breaks, run("b")), p(breaks), "c", "d")
    pages = [(each.text, each.new_page) for each in read.paragraphs]
    assert pages == [("a", False), ("b", True), ("c", True), ("d", False)]


@pytest.mark.parametrize(
    "block",
    [
        p(properties="<w:pBdr><w:bottom w:val='single' w:sz='6'/></w:pBdr>"),
        p("<w:r><w:pict><v:rect o:hr='t'/></w:pict></w:r>"),
    ],
)
def test_a_drawn_line_is_a_break(block: str, tmp_path: Path) -> None:
    read = proposal(tmp_path, "It rained.", block, "It went on.")
    assert len(read.book().scenes) == 2


def test_a_line_drawn_by_a_style_is_a_break(tmp_path: Path) -> None:
    document = docx.Document()
    style = document.styles.add_style("Horizontal Line", 1)
    style.element.get_or_add_pPr().append(
        parse_xml(f"<w:pBdr {nsdecls('w')}><w:bottom w:val='single'/></w:pBdr>")
    )
    for text, name in (("It rained.", None), ("", "Horizontal Line"), ("It went on.", None)):
        document.add_paragraph(text, style=name)
    document.save(tmp_path / "draft.docx")
    assert len(read_draft(tmp_path / "draft.docx").book().scenes) == 2


def test_headings_by_outline_level_whatever_the_style_is_called(tmp_path: Path) -> None:
    document = docx.Document()
    style = document.styles.add_style("Kapitel", 1)
    style.base_style = document.styles["Heading 1"]
    for title in ("Weir", "Home"):
        document.add_paragraph(title, style="Kapitel")
        document.add_paragraph("It rained.")
    path = tmp_path / "draft.docx"
    document.save(path)
    assert [chapter.title for chapter in read_draft(path).book().chapters] == ["Weir", "Home"]


def test_typed_indents_are_no_text(tmp_path: Path) -> None:
    tab = "<w:r><w:tab/></w:r>"
    read = proposal(
        tmp_path, "First.", p(tab, run("a", "<w:i/>")), p(tab, run("b")), p(tab, run("c"))
    )
    assert [each.text for each in read.paragraphs] == ["First.", "a", "b", "c"]
    assert read.paragraphs[0].paragraph.style is Style.FIRST
    assert read.paragraphs[1].paragraph.spans == (Span(0, 1, SpanKind.EMPHASIS),)


EMPTY_CELLS = (
    "<w:tbl><w:tr><w:tc><w:p><w:r><w:t>a cell</w:t></w:r></w:p></w:tc><w:tc><w:p/></w:tc></w:tr>"
    "<w:tr><w:tc><w:p/></w:tc><w:tc><w:p><w:r><w:t>another</w:t></w:r></w:p></w:tc></w:tr></w:tbl>"
)
PICTURE = p("<w:r><w:drawing><wp:inline/></w:drawing></w:r>")


@pytest.mark.parametrize("block", [EMPTY_CELLS, PICTURE])
def test_an_empty_cell_or_a_picture_begins_no_scene(block: str, tmp_path: Path) -> None:
    read = proposal(tmp_path, *["A line of text."] * 9, block, *["A line of text."] * 9)
    assert len(read.book().scenes) == 1
    assert len(proposal(tmp_path, *["A line."] * 9, p(), *["A line."] * 9).book().scenes) == 2
