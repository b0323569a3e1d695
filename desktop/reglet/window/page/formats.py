"""How paragraph styles and spans look on the page, as Qt's formats.

The style of a paragraph and the language of a span are kept on the formats as properties, so that
they go with the text wherever Qt takes it; the rest of a span is Qt's own italic, bold and so on.
"""

from __future__ import annotations

from functools import lru_cache

from PySide6.QtCore import Qt
from PySide6.QtGui import (
    QFont,
    QTextBlock,
    QTextBlockFormat,
    QTextCharFormat,
    QTextDocument,
    QTextFormat,
)

from reglet.manuscript.paragraph import SpanKind, Style
from reglet.window.theme import GRID, Lettering

_STYLE = QTextFormat.Property.UserProperty.value + 1
_LANGUAGE = QTextFormat.Property.UserProperty.value + 2
_STYLES = tuple(Style)
_CALM_START = (Style.SCENE_BREAK, Style.HEADING)


def set_margins(
    document: QTextDocument, left: float, top: float, right: float, bottom: float
) -> None:
    """Give a document this white space around its text, in px."""
    frame = document.rootFrame()
    made = frame.frameFormat()
    made.setLeftMargin(left)
    made.setTopMargin(top)
    made.setRightMargin(right)
    made.setBottomMargin(bottom)
    frame.setFrameFormat(made)


def style_of(block: QTextBlock) -> Style:
    """The paragraph style of a block."""
    number = block.blockFormat().property(_STYLE)
    return _STYLES[int(number)] if number is not None else Style.BODY


@lru_cache(maxsize=256)
def block_format(style: Style, lettering: Lettering, *, after: Style | None) -> QTextBlockFormat:
    """The format of a paragraph of `style` that follows one of style `after`, None at the start: to
    be set, and not to be changed, as it is made once.

    Only a body paragraph that goes on from other text is indented (common book typography).
    """
    made = QTextBlockFormat()
    made.setProperty(_STYLE, _STYLES.index(style))
    made.setLineHeight(
        100 * lettering.line, QTextBlockFormat.LineHeightTypes.ProportionalHeight.value
    )
    em = lettering.size
    if style is Style.BODY and after is not None and after not in _CALM_START:
        made.setTextIndent(1.4 * em)
    elif style in (Style.BLOCK_QUOTE, Style.LETTER):
        made.setLeftMargin(2 * em)
        made.setRightMargin(2 * em if style is Style.BLOCK_QUOTE else 0)
    elif style is Style.VERSE:
        made.setLeftMargin(3 * em)
        made.setTextIndent(-em)
    elif style in (Style.CENTRED, Style.SCENE_BREAK):
        made.setAlignment(Qt.AlignmentFlag.AlignHCenter)
    if style is Style.SCENE_BREAK:
        made.setTopMargin(2 * GRID)
        made.setBottomMargin(2 * GRID)
    elif style is Style.HEADING:
        made.setTopMargin(3 * GRID)
        made.setBottomMargin(GRID)
    elif style in (Style.BLOCK_QUOTE, Style.LETTER, Style.VERSE) and after is not style:
        made.setTopMargin(GRID)
    return made


def span_format(kinds: dict[SpanKind, str], style: Style) -> QTextCharFormat:
    """The format of text under spans of these kinds, in a paragraph of `style`."""
    made = QTextCharFormat()
    if SpanKind.EMPHASIS in kinds:
        made.setFontItalic(True)
    if SpanKind.STRONG in kinds:
        made.setFontWeight(QFont.Weight.Bold)
    if SpanKind.SMALL_CAPITALS in kinds:
        made.setFontCapitalization(QFont.Capitalization.SmallCaps)
    if SpanKind.UNDERLINE in kinds:
        made.setFontUnderline(True)
    if SpanKind.STRIKE in kinds:
        made.setFontStrikeOut(True)
    if SpanKind.LANGUAGE in kinds:
        made.setProperty(_LANGUAGE, kinds[SpanKind.LANGUAGE])
    if style is Style.HEADING:
        made.setProperty(QTextFormat.Property.FontSizeAdjustment.value, 1)
    return made


def kinds_of(made: QTextCharFormat) -> dict[SpanKind, str]:
    """The kinds of span that a format shows, with the language's tag: inverse of `span_format`."""
    kinds: dict[SpanKind, str] = {}
    if made.fontItalic():
        kinds[SpanKind.EMPHASIS] = ""
    if made.fontWeight() >= QFont.Weight.DemiBold:
        kinds[SpanKind.STRONG] = ""
    if made.fontCapitalization() == QFont.Capitalization.SmallCaps:
        kinds[SpanKind.SMALL_CAPITALS] = ""
    if made.fontUnderline():
        kinds[SpanKind.UNDERLINE] = ""
    if made.fontStrikeOut():
        kinds[SpanKind.STRIKE] = ""
    language = made.property(_LANGUAGE)
    if language:
        kinds[SpanKind.LANGUAGE] = str(language)
    return kinds


def switched(kind: SpanKind, on: bool) -> QTextCharFormat:
    """A format to merge into text so that it shows, or no longer shows, a kind of span."""
    change = QTextCharFormat()
    if kind is SpanKind.EMPHASIS:
        change.setFontItalic(on)
    elif kind is SpanKind.STRONG:
        change.setFontWeight(QFont.Weight.Bold if on else QFont.Weight.Normal)
    elif kind is SpanKind.SMALL_CAPITALS:
        change.setFontCapitalization(
            QFont.Capitalization.SmallCaps if on else QFont.Capitalization.MixedCase
        )
    elif kind is SpanKind.UNDERLINE:
        change.setFontUnderline(on)
    elif kind is SpanKind.STRIKE:
        change.setFontStrikeOut(on)
    return change
