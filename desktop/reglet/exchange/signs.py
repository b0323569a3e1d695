"""The named styles of the .docx that Reglet writes, by which it knows its own manuscript again.

A word processor keeps style ids through editing and saving, so a manuscript that comes back from
an editor is still divided exactly as it went out.
"""

from __future__ import annotations

from reglet.exchange.draft import Sign
from reglet.manuscript.paragraph import Style

STYLE_IDS = {
    Style.BODY: "RegletBody",
    Style.FIRST: "RegletFirst",
    Style.HEADING: "RegletSubheading",
    Style.BLOCK_QUOTE: "RegletBlockQuote",
    Style.VERSE: "RegletVerse",
    Style.LETTER: "RegletLetter",
    Style.CENTRED: "RegletCentred",
    Style.SCENE_BREAK: "RegletPause",
}
SIGN_IDS = {
    Sign.PART: "RegletPart",
    Sign.CHAPTER: "RegletChapter",
    Sign.SCENE: "RegletSceneBreak",
    Sign.PAUSE: "RegletPause",
    Sign.FRONT: "RegletFront",
    Sign.BACK: "RegletBack",
    Sign.TITLE_PAGE: "RegletTitlePage",
}
STYLES = {style_id: style for style, style_id in STYLE_IDS.items()}
SIGNS = {style_id: sign for sign, style_id in SIGN_IDS.items()}
