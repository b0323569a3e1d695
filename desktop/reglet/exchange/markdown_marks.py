"""What Reglet's own Markdown says beyond CommonMark: comments and divisions in HTML, which every
other program shows as nothing or as it should.

    <!-- front -->  <!-- back -->   the next heading heads front or back matter
    <!-- pause -->                  the next break is one inside a scene
    <!-- first -->                  the next paragraph is set without an indent
    <!-- empty -->                  an empty paragraph
    <div class="verse"> … </div>    paragraphs of this style: verse, letter or centred

Level-1 headings are parts, level-2 headings chapters (or front and back matter), level-3 headings
stand inside a scene; a break parts scenes, and a quotation is a block quote. The header between
lines of `---` gives title, author and language, each as a JSON string, which YAML reads too.
"""

from __future__ import annotations

from reglet.manuscript.paragraph import SpanKind, Style

HEADER_KEY = "manuscript"
HEADER_VALUE = "reglet"
DIVISIONS = (Style.VERSE, Style.LETTER, Style.CENTRED)
TAGS = {
    SpanKind.EMPHASIS: "em",
    SpanKind.STRONG: "strong",
    SpanKind.UNDERLINE: "u",
    SpanKind.STRIKE: "s",
}
SMALL_CAPITALS = '<span style="font-variant: small-caps">'
