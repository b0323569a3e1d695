"""How well `reglet.setting` foretells what a typesetter makes of a novel.

    python tests/benchmarks/setting_truth.py NOVEL.txt [NOVEL.txt.xz ...] [--sheet "5.5 x 8.5 in"]

Typst sets the same novel in the same face, size, measure, hyphenation and justification. Printed
are the share of paragraphs with the same number of lines, and within one line; the pages of the
whole on both sides; and how long it took, beside the time HarfBuzz takes to shape the whole text.
A novel is one paragraph a line, `# ` before a heading, `***` for a scene break, `*…*` for emphasis.
"""

from __future__ import annotations

import argparse
import json
import lzma
import sys
import time
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import typst
from reglet import setting
from reglet.manuscript.paragraph import Paragraph, Span, SpanKind, Style
from reglet.setting import faces
from reglet.setting.fount import fount

TEMPLATE = r"""
#let given = json(bytes(sys.inputs.given))
#let leading = given.leading * 1pt
#set page(width: given.width * 1pt, height: given.height * 1pt, margin: (
  top: given.top * 1pt, bottom: given.bottom * 1pt,
  left: given.inner * 1pt, right: given.outer * 1pt))
#set text(font: given.family, size: given.size * 1pt, lang: given.lang, region: given.region,
  hyphenate: given.hyphenated, top-edge: 0.75 * leading, bottom-edge: -0.25 * leading)
#set par(justify: given.justified, leading: 0pt, spacing: 0pt, linebreaks: given.linebreaks)
#let run(text, emphasis) = if emphasis { emph(text) } else { text }
#let content(paragraph) = paragraph.runs.map(given-run => run(..given-run)).join()
#let indented(paragraph) = par(
  first-line-indent: (amount: paragraph.indent * 1pt, all: true), content(paragraph))
#let larger = given.heading
#let heading-block(paragraph) = align(center, text(size: larger * given.size * 1pt,
  top-edge: 0.75 * larger * leading, bottom-edge: -0.25 * larger * leading, hyphenate: false,
  par(justify: false, linebreaks: "simple", content(paragraph))))
"""

LINE_COUNTS = (
    TEMPLATE
    + r"""
#let count(paragraph) = measure(
  block(width: given.measure * 1pt, indented(paragraph))).height / leading
#context [#metadata(given.paragraphs.map(count)) <answer>]
"""
)

PAGE_COUNT = (
    TEMPLATE
    + r"""
#let after-heading = true
#for paragraph in given.paragraphs {
  if paragraph.style == "heading" {
    if not after-heading { pagebreak() }
    if not after-heading or paragraph.opens { v(given.sink * leading) }
    heading-block(paragraph)
    after-heading = true
  } else {
    if after-heading { v(given.heading-space * leading) }
    if paragraph.style == "scene_break" {
      v(given.break-space * leading)
      align(center, content(paragraph))
      v(given.break-space * leading)
    } else { indented(paragraph) }
    after-heading = false
  }
}
#context [#metadata(here().page()) <answer>]
"""
)


@dataclass(frozen=True)
class Comparison:
    """What both made of one novel: lines a paragraph, ours and theirs, and pages."""

    lines: tuple[tuple[int, int], ...]
    pages: tuple[int, int]

    def share_within(self, tolerance: int) -> float:
        """The share of paragraphs whose counts of lines differ by `tolerance` at the most."""
        return sum(abs(ours - theirs) <= tolerance for ours, theirs in self.lines) / len(self.lines)

    @property
    def pages_off(self) -> float:
        """By how much our pages differ from theirs, as a share of theirs."""
        ours, theirs = self.pages
        return abs(ours - theirs) / theirs


def read_novel(text: str) -> list[Paragraph]:
    """Paragraphs from text with one on each line."""
    paragraphs: list[Paragraph] = []
    first = True
    for line in filter(None, map(str.strip, text.split("\n"))):
        if line.startswith("# "):
            paragraphs.append(Paragraph(line[2:], Style.HEADING))
        elif line == "***":
            paragraphs.append(Paragraph(line, Style.SCENE_BREAK))
        else:
            paragraphs.append(_emphasised(line, Style.FIRST if first else Style.BODY))
        first = line.startswith("# ") or line == "***"
    return paragraphs


def _emphasised(line: str, style: Style) -> Paragraph:
    text, spans = "", []
    for number, part in enumerate(line.split("*")):
        if number % 2:
            spans.append(Span(len(text), len(text) + len(part), SpanKind.EMPHASIS))
        text += part
    return Paragraph(text, style, tuple(spans))


def compare(paragraphs: Sequence[Paragraph], sheet: setting.Sheet) -> Comparison:
    """Set `paragraphs` on `sheet`, here and by Typst."""
    prose = [p for p in paragraphs if p.style in (Style.BODY, Style.FIRST)]
    theirs = [round(count) for count in _asked(LINE_COUNTS, prose, sheet)]
    ours = [len(setting.lines(paragraph, sheet)) for paragraph in prose]
    their_pages = _asked(PAGE_COUNT, paragraphs, sheet)
    return Comparison(
        tuple(zip(ours, theirs, strict=True)),
        (len(setting.pages(paragraphs, sheet)), their_pages),
    )


def _asked(template: str, paragraphs: Sequence[Paragraph], sheet: setting.Sheet):
    manners = setting.MANNERS
    lang, _, region = sheet.language.partition("-")
    given = {
        "width": sheet.width,
        "height": sheet.height,
        "top": sheet.top,
        "bottom": sheet.bottom,
        "inner": sheet.inner,
        "outer": sheet.outer,
        "measure": sheet.measure,
        "family": sheet.family,
        "size": sheet.size,
        "leading": sheet.leading,
        "justified": sheet.justified,
        "hyphenated": sheet.hyphenated,
        "linebreaks": "optimized" if sheet.optimum else "simple",
        "lang": lang,
        "region": region,
        "sink": sheet.sink,
        "heading": manners[Style.HEADING].scale,
        "heading-space": manners[Style.HEADING].space,
        "break-space": manners[Style.SCENE_BREAK].space,
        "paragraphs": [
            {
                "style": paragraph.style.value,
                "runs": _runs(paragraph),
                "indent": manners[paragraph.style].indent * sheet.indent * sheet.size,
                "opens": number == 0,
            }
            for number, paragraph in enumerate(paragraphs)
        ],
    }
    answer = typst.query(
        template.encode(),
        "<answer>",
        field="value",
        one=True,
        font_paths=[faces.file(sheet.family).parent],
        ignore_system_fonts=True,
        sys_inputs={"given": json.dumps(given)},
    )
    return json.loads(answer) if isinstance(answer, str) else answer


def _runs(paragraph: Paragraph) -> list[tuple[str, bool]]:
    runs, at = [], 0
    for span in paragraph.spans_of(SpanKind.EMPHASIS):
        runs += [
            (paragraph.text[at : span.start], False),
            (paragraph.text[span.start : span.end], True),
        ]
        at = span.end
    runs.append((paragraph.text[at:], False))
    return [run for run in runs if run[0]]


def report(path: Path, sheet: setting.Sheet) -> None:
    """Print one novel's figures."""
    text = _read(path)
    paragraphs = read_novel(text)
    began = time.process_time()
    setting.pages(paragraphs, sheet)
    setting.pages(paragraphs, setting.USUAL_PHONE)
    ours_took = time.process_time() - began
    began = time.process_time()
    plain = fount(sheet.family, sheet.size, sheet.size, sheet.language)
    for paragraph in paragraphs:
        plain.width(paragraph.text)
    shaping_took = time.process_time() - began
    edits = sorted(_edited(paragraph, sheet) for paragraph in paragraphs)
    began = time.process_time()
    found = compare(paragraphs, sheet)
    theirs_took = time.process_time() - began
    off = Counter(ours - theirs for ours, theirs in found.lines)
    ours = sum(ours for ours, _ in found.lines)
    theirs = sum(theirs for _, theirs in found.lines)
    print(f"{path.name}: {len(text.split()):,} words, {len(found.lines):,} paragraphs of prose")
    print(f"  same lines {found.share_within(0):.4f}, within one {found.share_within(1):.4f}")
    print(f"  ours less theirs: {dict(sorted(off.items()))}; all lines {ours:,} and {theirs:,}")
    print(f"  pages {found.pages[0]} and {found.pages[1]}: {found.pages_off:.2%} apart")
    print(
        f"  pages of this sheet and of a phone, nothing remembered: {ours_took:.2f} s, "
        f"{ours_took / shaping_took:.1f} times what shaping the text takes; Typst, this sheet "
        f"twice: {theirs_took / shaping_took:.1f} times"
    )
    print(
        f"  a paragraph after an edit: median {edits[len(edits) // 2]:.2f} ms, "
        f"99 of 100 under {edits[len(edits) * 99 // 100]:.2f} ms"
    )


def _edited(paragraph: Paragraph, sheet: setting.Sheet) -> float:
    """Milliseconds to break the paragraph when a word no book has is set in its middle."""
    middle = len(paragraph.text) // 2
    text = f"{paragraph.text[:middle]}qx{middle}{paragraph.text[middle:]}"
    changed = replace(paragraph, text=text)
    began = time.perf_counter()
    setting.lines(changed, sheet)
    return (time.perf_counter() - began) * 1000


def _read(path: Path) -> str:
    if path.suffix == ".xz":
        return lzma.decompress(path.read_bytes()).decode("utf-8")
    return path.read_text("utf-8")


def main(arguments: Sequence[str]) -> None:
    """Run from the command line."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("novels", nargs="+", type=Path)
    parser.add_argument("--sheet", default=setting.USUAL_TRIM.name)
    parser.add_argument("--language", default="en-US", help="Typst knows American patterns only")
    choice = parser.parse_args(arguments)
    known = {**setting.TRIMS, **setting.PHONES, **setting.EREADERS}
    # Typst draws type for its size in points, and knows paper only.
    sheet = replace(known[choice.sheet], language=choice.language, medium=setting.Medium.PRINT)
    print(
        f"{sheet.name}: {sheet.family} {sheet.size:g}/{sheet.leading:g} on {sheet.measure:g} points"
    )
    for path in choice.novels:
        report(path, sheet)


if __name__ == "__main__":
    main(sys.argv[1:])
