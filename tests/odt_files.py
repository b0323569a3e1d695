"""Small .odt files made by hand, for what a word processor's file can hold piece by piece."""

from __future__ import annotations

import zipfile
from pathlib import Path

_NAMES = "urn:oasis:names:tc:opendocument:xmlns:"
NAMESPACES = (
    " ".join(
        f'xmlns:{short}="{_NAMES}{name}:1.0"'
        for short, name in (
            ("office", "office"),
            ("text", "text"),
            ("style", "style"),
            ("table", "table"),
            ("draw", "drawing"),
            ("svg", "svg-compatible"),
            ("fo", "xsl-fo-compatible"),
            ("meta", "meta"),
            ("script", "script"),
        )
    )
    + ' xmlns:dc="http://purl.org/dc/elements/1.1/"'
)
KIND = "application/vnd.oasis.opendocument.text"
STYLES = (
    '<style:default-style style:family="paragraph"><style:text-properties fo:font-size="12pt" '
    'fo:language="en" fo:country="GB"/></style:default-style>'
    '<style:style style:name="Standard" style:family="paragraph"/>'
    '<style:style style:name="Heading_20_1" style:display-name="Heading 1" '
    'style:family="paragraph" style:parent-style-name="Standard" style:default-outline-level="1">'
    '<style:text-properties fo:font-size="130%" fo:font-weight="bold"/></style:style>'
    '<style:style style:name="Emphasis" style:family="text">'
    '<style:text-properties fo:font-style="italic"/></style:style>'
    '<style:style style:name="Internet_20_link" style:display-name="Internet link" '
    'style:family="text"><style:text-properties style:text-underline-style="solid"/></style:style>'
)


def content(body: str, automatic: str = "") -> str:
    """The content.xml of a document with this body."""
    return (
        f"<office:document-content {NAMESPACES}><office:automatic-styles>{automatic}"
        f"</office:automatic-styles><office:body><office:text>{body}</office:text></office:body>"
        "</office:document-content>"
    )


def members(
    body: str, *, automatic: str = "", styles: str = "", masters: str = "", meta: str = ""
) -> dict[str, str]:
    """All members of a document with this body, by name."""
    return {
        "mimetype": KIND,
        "content.xml": content(body, automatic),
        "styles.xml": f"<office:document-styles {NAMESPACES}><office:styles>{STYLES}{styles}"
        f"</office:styles><office:master-styles>{masters}</office:master-styles>"
        "</office:document-styles>",
        "meta.xml": f"<office:document-meta {NAMESPACES}><office:meta>{meta}</office:meta>"
        "</office:document-meta>",
        "META-INF/manifest.xml": "<manifest/>",
    }


def write_odt(path: Path, files: dict[str, str]) -> Path:
    """An .odt of these members."""
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, held in files.items():
            archive.writestr(name, held)
    return path


def automatic(name: str, text: str = "", paragraph: str = "", more: str = "") -> str:
    """An automatic style: a paragraph's if `paragraph` or `more` is given, else a text's."""
    family = "paragraph" if paragraph or more else "text"
    return (
        f'<style:style style:name="{name}" style:family="{family}" {more}>'
        + (f"<style:paragraph-properties {paragraph}/>" if paragraph else "")
        + (f"<style:text-properties {text}/>" if text else "")
        + "</style:style>"
    )
