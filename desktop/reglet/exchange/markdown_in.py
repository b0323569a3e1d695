"""A draft read from Markdown (CommonMark, by markdown-it-py), ours or anybody's."""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from pathlib import Path

from markdown_it import MarkdownIt
from markdown_it.token import Token

from reglet.exchange.decoding import decode
from reglet.exchange.draft import Draft, DraftParagraph, Finding, Progress, Sign
from reglet.exchange.headings import reads_as_title
from reglet.exchange.markdown_marks import DIVISIONS, HEADER_KEY, HEADER_VALUE
from reglet.exchange.text_in import wrap_width
from reglet.manuscript.paragraph import LINE_BREAK, SCENE_BREAK, Paragraph, Span, SpanKind, Style

_HEADER = re.compile(r"---[ \t]*\n(?P<facts>(?:[^\n]*\n)*?)(?:---|\.\.\.)[ \t]*(?:\n|$)")
_FACT = re.compile(r"(?P<key>[A-Za-z_-]+)\s*:\s*(?P<value>.*)")
_COMMENT = re.compile(r"<!--\s*(?P<word>.*?)\s*-->", re.DOTALL)
_DIVISION = re.compile(r'<div class="(?P<style>\w+)">')
_TAG = re.compile(r"<(?P<close>/?)(?P<name>[a-zA-Z]+)(?P<rest>[^>]*?)/?>")
_LANG = re.compile(r"""lang=["'](?P<tag>[\w-]+)["']""")
_OPENED = {"em_open": SpanKind.EMPHASIS, "strong_open": SpanKind.STRONG, "s_open": SpanKind.STRIKE}
_CLOSED = {name.replace("open", "close"): kind for name, kind in _OPENED.items()}
_TAG_KINDS = {
    "em": SpanKind.EMPHASIS,
    "i": SpanKind.EMPHASIS,
    "cite": SpanKind.EMPHASIS,
    "strong": SpanKind.STRONG,
    "b": SpanKind.STRONG,
    "u": SpanKind.UNDERLINE,
    "ins": SpanKind.UNDERLINE,
    "s": SpanKind.STRIKE,
    "del": SpanKind.STRIKE,
    "strike": SpanKind.STRIKE,
}
_HEADING_SIGNS = {1: Sign.PART, 2: Sign.CHAPTER}


def read_markdown(path: Path, progress: Progress | None = None) -> Draft:
    """The draft in a .md. Raises DraftError where its encoding cannot be told, OSError."""
    text, findings = decode(path.read_bytes(), path.name)
    facts, body = _header(text)
    signed = facts.get(HEADER_KEY) == HEADER_VALUE
    if not signed:
        body = _one_line_each(body)
    if progress:
        progress(0.2)
    parser = MarkdownIt("commonmark").enable("strikethrough").disable("code")
    tokens = parser.parse(body)
    if progress:
        progress(0.8)
    reader = _Reader(signed, body.split("\n"))
    reader.read(tokens)
    if progress:
        progress(1.0)
    return Draft(
        tuple(reader.found),
        findings=(*findings, *reader.findings),
        title=facts.get("title", ""),
        author=facts.get("author", ""),
        language=facts.get("lang", facts.get("language", "")),
        signed=signed,
    )


def _header(text: str) -> tuple[dict[str, str], str]:
    """The facts in a header between lines of `---`, and the text after it."""
    match = _HEADER.match(text)
    lines = match["facts"].splitlines() if match else []
    facts = [_FACT.fullmatch(line.strip()) for line in lines if line.strip()]
    if match is None or not facts or not all(facts):
        return {}, text
    return {fact["key"].lower(): _scalar(fact["value"]) for fact in facts if fact}, text[
        match.end() :
    ]


def _scalar(value: str) -> str:
    if value.startswith('"'):
        try:
            return str(json.loads(value))
        except ValueError:
            return value.strip('"')
    return value.strip("'")


def _one_line_each(body: str) -> str:
    """Paragraphs parted, in a draft that sets each on one long line without blank lines between.

    CommonMark would join them; lines that a program has wrapped are still joined.
    """
    lines = body.split("\n")
    below = [
        line
        for line, after in pairwise(lines)
        if line.strip() and after.strip() and not line.startswith(">")
    ]
    written = sum(bool(line.strip()) for line in lines)
    if len(below) * 2 <= written or wrap_width(lines):
        return body
    return "\n".join(
        f"{line}\n" if line.strip() and not line.endswith(("  ", "\\")) else line for line in lines
    )


@dataclass
class _Inline:
    """A paragraph's text and spans while they are put together."""

    pieces: list[str] = field(default_factory=list)
    length: int = 0
    spans: list[Span] = field(default_factory=list)
    opened: list[tuple[str, SpanKind | None, str, int]] = field(default_factory=list)

    def add(self, text: str) -> None:
        self.pieces.append(text)
        self.length += len(text)

    def open(self, name: str, kind: SpanKind | None, value: str = "") -> None:
        self.opened.append((name, kind, value, self.length))

    def close(self, name: str) -> bool:
        for at in range(len(self.opened) - 1, -1, -1):
            if self.opened[at][0] == name:
                _, kind, value, start = self.opened.pop(at)
                if kind:
                    self.spans.append(Span(start, self.length, kind, value))
                return True
        return False


@dataclass
class _Reader:
    """Goes through the tokens of a Markdown text."""

    signed: bool
    lines: Sequence[str]
    found: list[DraftParagraph] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    styles: list[Style] = field(default_factory=list)
    waiting: str = ""
    item: str = ""
    ordered: list[bool] = field(default_factory=list)
    last_line: int = 0
    told: set[str] = field(default_factory=set)

    def read(self, tokens: Sequence[Token]) -> None:
        for at, token in enumerate(tokens):
            if token.type == "inline":
                self._block(token, tokens[at - 1])
            elif token.type == "blockquote_open":
                self.styles.append(Style.BLOCK_QUOTE)
            elif token.type == "blockquote_close":
                self.styles.pop()
            elif token.type == "hr":
                self._break(token)
            elif token.type == "html_block":
                self._html(token)
            elif token.type == "list_item_open":
                self.item = f"{token.info}{token.markup} "
                if tokens[at + 1].type == "list_item_close":
                    self._add(Paragraph(self.item.strip()), token)
                    self.item = ""
            elif token.type == "fence":
                self._add(Paragraph(token.content.rstrip("\n").replace("\n", LINE_BREAK)), token)

    def _block(self, token: Token, opening: Token) -> None:
        inline = self._inline(token)
        text = "".join(inline.pieces)
        if opening.type == "heading_open":
            self._heading(
                int(opening.tag[1]), Paragraph(text, Style.HEADING, tuple(inline.spans)), opening
            )
            return
        spans = inline.spans
        if self.item:
            self._tell("List items are brought in as paragraphs, with their number or sign.")
            spans = [
                Span(s.start + len(self.item), s.end + len(self.item), s.kind, s.value)
                for s in spans
            ]
            text, self.item = self.item + text, ""
        style = self.styles[-1] if self.styles else Style.BODY
        if self.waiting == "first":
            style = Style.FIRST
        self._add(Paragraph(text, style, tuple(spans)), opening, Sign.TEXT)

    def _heading(self, level: int, paragraph: Paragraph, token: Token) -> None:
        if self.signed:
            sign = _HEADING_SIGNS.get(level, Sign.TEXT)
            if self.waiting in ("front", "back"):
                sign = Sign(self.waiting)
            self._add(paragraph, token, sign)
        elif not paragraph.text:
            self._add(Paragraph("#" * level), token)
        elif token.markup[:1] in "-=" and not reads_as_title(paragraph.text):
            # A line of dashes right under a paragraph is a break to a writer, whatever it is here.
            self._add(replace_style(paragraph, Style.BODY), token)
            self.found.append(DraftParagraph(Paragraph(token.markup * 3)))
        else:
            self._add(paragraph, token, level=level)

    def _break(self, token: Token) -> None:
        if self.signed:
            sign = Sign.PAUSE if self.waiting == "pause" else Sign.SCENE
            self._add(Paragraph(SCENE_BREAK), token, sign)
        else:
            line = self.lines[token.map[0]] if token.map else SCENE_BREAK
            self._add(Paragraph(line.lstrip("> \t").rstrip()), token)

    def _html(self, token: Token) -> None:
        content = token.content.strip()
        comment = _COMMENT.fullmatch(content)
        division = _DIVISION.fullmatch(content)
        if self.signed and comment:
            if comment["word"] == "empty":
                style = self.styles[-1] if self.styles else Style.BODY
                if self.waiting == "first":
                    style = Style.FIRST
                self._add(Paragraph("", style), token, Sign.TEXT)
            else:
                self.waiting = comment["word"]
        elif division and division["style"] in [style.value for style in DIVISIONS]:
            self.styles.append(Style(division["style"]))
        elif content == "</div>" and self.styles:
            self.styles.pop()
        elif comment:
            self._tell_each(f"A comment is left out: “{comment['word']}”")
        else:
            self._tell("HTML in the draft is brought in as plain text.")
            self._add(Paragraph(content.replace("\n", LINE_BREAK)), token)

    def _inline(self, token: Token) -> _Inline:
        inline = _Inline()
        for child in token.children or ():
            kind = child.type
            if kind in _OPENED:
                inline.open(child.tag, _OPENED[kind])
            elif kind in _CLOSED:
                inline.close(child.tag)
            elif kind == "softbreak":
                inline.add(" ")
            elif kind == "hardbreak":
                inline.add(LINE_BREAK)
            elif kind == "html_inline":
                self._tag(child.content, inline)
            elif kind == "image":
                self._tell_each(
                    f"A picture (“{child.content}”) is not brought in: a book holds text."
                )
            elif kind == "link_open":
                self._tell_each(
                    f"A link to {child.attrGet('href')} is left out; its words are kept."
                )
            elif child.content:
                inline.add(child.content)
        for name, *_ in inline.opened:
            self._tell_each(f"A tag without its end is left out: {name}")
        return inline

    def _tag(self, tag: str, inline: _Inline) -> None:
        match = _TAG.fullmatch(tag)
        name = match["name"].lower() if match else ""
        if match is None:
            if _COMMENT.fullmatch(tag):
                self._tell_each(f"A comment is left out: “{tag}”")
            else:
                inline.add(tag)
        elif name == "br":
            inline.add(LINE_BREAK)
        elif match["close"]:
            if not inline.close(f"<{name}>"):
                inline.add(tag)
        elif name in _TAG_KINDS:
            inline.open(f"<{name}>", _TAG_KINDS[name])
        elif name == "span":
            language = _LANG.search(match["rest"])
            if language:
                inline.open("<span>", SpanKind.LANGUAGE, language["tag"])
            else:
                small = "small-caps" in match["rest"]
                inline.open("<span>", SpanKind.SMALL_CAPITALS if small else None)
        else:
            inline.add(tag)

    def _add(
        self,
        paragraph: Paragraph,
        token: Token,
        sign: Sign | None = None,
        level: int | None = None,
    ) -> None:
        start, end = token.map or (self.last_line, self.last_line)
        self.found.append(
            DraftParagraph(
                paragraph,
                level,
                set_off=_all_strong(paragraph),
                blanks=max(0, start - self.last_line) if self.found else 0,
                sign=(sign or Sign.TEXT) if self.signed else None,
            )
        )
        self.last_line = end
        self.waiting = ""

    def _tell(self, sentence: str) -> None:
        if sentence not in self.told:
            self.told.add(sentence)
            self._tell_each(sentence)

    def _tell_each(self, sentence: str) -> None:
        self.findings.append(Finding(sentence, len(self.found)))


def replace_style(paragraph: Paragraph, style: Style) -> Paragraph:
    """The same words and spans in another style."""
    return Paragraph(paragraph.text, style, paragraph.spans)


def _all_strong(paragraph: Paragraph) -> bool:
    return any(
        span.kind is SpanKind.STRONG and span.end - span.start == len(paragraph.text) > 0
        for span in paragraph.spans
    )
