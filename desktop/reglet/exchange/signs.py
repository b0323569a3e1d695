"""The named styles of the .docx that Reglet writes, by which it knows its own manuscript again.

A word processor keeps the names of styles through editing and saving (their ids it may change), so
a manuscript that comes back from an editor is still divided exactly as it went out.
"""

from __future__ import annotations

from reglet.exchange.draft import Sign
from reglet.manuscript.paragraph import Style

STYLE_NAMES = {
    Style.BODY: "Reglet body",
    Style.FIRST: "Reglet first",
    Style.HEADING: "Reglet subheading",
    Style.BLOCK_QUOTE: "Reglet block quote",
    Style.VERSE: "Reglet verse",
    Style.LETTER: "Reglet letter",
    Style.CENTRED: "Reglet centred",
    Style.SCENE_BREAK: "Reglet pause",
}
SIGN_NAMES = {
    Sign.PART: "Reglet part",
    Sign.CHAPTER: "Reglet chapter",
    Sign.SCENE: "Reglet scene break",
    Sign.PAUSE: "Reglet pause",
    Sign.FRONT: "Reglet front matter",
    Sign.BACK: "Reglet back matter",
    Sign.TITLE_PAGE: "Reglet title page",
}
_STYLES = {name.lower(): style for style, name in STYLE_NAMES.items()}
_SIGNS = dict.fromkeys(_STYLES, Sign.TEXT) | {
    name.lower(): sign for sign, name in SIGN_NAMES.items()
}


def style_id(name: str) -> str:
    """The id that a style of this name has in a manuscript from Reglet."""
    return name.replace(" ", "")


def sign_of(name: str) -> Sign | None:
    """What a paragraph in a style of this name is; None for a style that is not ours."""
    return _SIGNS.get(name.lower())


def style_of(name: str) -> Style | None:
    """The style of a paragraph of text in a style of this name; None for any other."""
    return _STYLES.get(name.lower())
