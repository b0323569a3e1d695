"""A PDF of pages of set type, written from the standard alone.

Source: ISO 32000-1:2008 (PDF 1.7), whose clauses are named beside the code. Type is written glyph
by glyph as HarfBuzz shapes it, with the letters behind each glyph, so that the text can be found
and copied; of each face only the glyphs that are used are taken along.
"""

from __future__ import annotations

import io
import zlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

import uharfbuzz as hb

_SYMBOLIC = 4
_ITALIC = 64
"""Flags of a face (9.8.2)."""
_NOT_FOR_PRINT = ("GSUB", "GPOS", "GDEF", "BASE", "STAT", "name", "DSIG")
"""Tables of a font file that only those who set type with it have a use for."""
_HAIR = 0.01
"""Thousandths of an em that nobody sees."""


@dataclass(eq=False)
class Face:
    """One cut of a face at one optical size, and the glyphs of it that were set."""

    path: Path
    axes: Mapping[str, float]
    italic: bool
    name: str
    font: hb.Font = field(init=False)
    _upem: float = field(init=False)
    _known: dict[tuple[str, bool], list[tuple[int, float, float]]] = field(default_factory=dict)
    used: dict[int, str] = field(default_factory=dict)
    """The letters behind each glyph that was set."""
    missing: set[str] = field(default_factory=set)
    """Letters that the face does not have."""

    def __post_init__(self) -> None:
        face = hb.Face(hb.Blob.from_file_path(str(self.path)))
        self.font = hb.Font(face)
        self.font.set_variations(dict(self.axes))
        self._upem = float(face.upem)

    def shaped(self, text: str, small_capitals: bool) -> list[tuple[int, float, float]]:
        """The glyphs of a word: each with how far the next one stands and how far it is itself
        moved to the right, in ems.
        """
        if (text, small_capitals) not in self._known:
            self._known[text, small_capitals] = self._shape(text, small_capitals)
        return self._known[text, small_capitals]

    def _shape(self, text: str, small_capitals: bool) -> list[tuple[int, float, float]]:
        buffer = hb.Buffer()
        buffer.add_str(text)
        buffer.guess_segment_properties()
        hb.shape(self.font, buffer, {"smcp": True} if small_capitals else None)
        clusters = [info.cluster for info in buffer.glyph_infos]
        found: list[tuple[int, float, float]] = []
        for info, place in zip(buffer.glyph_infos, buffer.glyph_positions, strict=True):
            later = min((each for each in clusters if each > info.cluster), default=len(text))
            letters = text[info.cluster : later]
            if info.codepoint == 0:
                self.missing.update(letters)
            # Of the glyphs of one cluster the first stands for its letters.
            first = clusters.index(info.cluster) == len(found)
            self.used.setdefault(info.codepoint, letters if first else "")
            found.append(
                (info.codepoint, place.x_advance / self._upem, place.x_offset / self._upem)
            )
        return found

    @property
    def extents(self) -> tuple[float, float]:
        """How far the face's letters reach above and below the base line, in ems."""
        found = self.font.get_font_extents("ltr")
        return found.ascender / self._upem, -found.descender / self._upem

    def own_width(self, glyph: int) -> float:
        """The width that the face itself gives a glyph, in ems."""
        return float(self.font.get_glyph_h_advance(glyph)) / self._upem

    def width(self, text: str) -> float:
        """The width of a word in ems."""
        return sum((each[1] for each in self.shaped(text, small_capitals=False)), 0.0)


@dataclass
class PageOf:
    """A page while it is drawn on, `width` by `height` points; y runs upwards from its foot."""

    width: float
    height: float
    _drawn: list[str] = field(default_factory=list)
    _faces: set[int] = field(default_factory=set)


class Pdf:
    """A document while it is made."""

    def __init__(self, title: str, author: str, language: str, made: datetime) -> None:
        self._title, self._author, self._language, self._made = title, author, language, made
        self._faces: list[Face] = []
        self._pages: list[PageOf] = []

    def add_face(self, face: Face) -> Face:
        """Have a face at hand."""
        self._faces.append(face)
        return face

    def add_page(self, width: float, height: float) -> PageOf:
        """The next page."""
        page = PageOf(width, height)
        self._pages.append(page)
        return page

    @property
    def missing(self) -> str:
        """The letters that were set and that no face had."""
        return "".join(sorted(set().union(*(face.missing for face in self._faces))))

    def word(
        self,
        page: PageOf,
        face: Face,
        size: float,
        at: tuple[float, float],
        text: str,
        small_capitals: bool = False,
    ) -> float:
        """Set a word from a place on its base line on; how wide it is, in points."""
        number = self._faces.index(face)
        page._faces.add(number)
        glyphs = face.shaped(text, small_capitals)
        page._drawn.append(
            f"BT /F{number} {_number(size)} Tf {_number(at[0])} {_number(at[1])} Td "
            f"[{_placed(face, glyphs)}] TJ ET"
        )
        return size * sum(advance for _, advance, _ in glyphs)

    def rule(self, page: PageOf, x: float, y: float, width: float, thick: float) -> None:
        """A line from `x` to the right, its lower edge at `y`."""
        page._drawn.append(f"{' '.join(map(_number, (x, y, width, thick)))} re f")

    def content(self) -> bytes:
        """The whole file."""
        return _File(self).content()


class _File:
    """The objects of a file (7.3.10), numbered from 1."""

    def __init__(self, pdf: Pdf) -> None:
        self._pdf = pdf
        self._objects: list[bytes] = []

    def content(self) -> bytes:
        pdf = self._pdf
        pages = self._reserve()
        used = sorted(set().union(*(page._faces for page in pdf._pages))) if pdf._pages else []
        fonts = {number: self._font(pdf._faces[number], number) for number in used}
        kids = []
        for page in pdf._pages:
            drawn = self._stream("\n".join(page._drawn).encode("ascii"))
            at_hand = " ".join(f"/F{number} {fonts[number]} 0 R" for number in sorted(page._faces))
            kids.append(
                self._add(
                    f"<< /Type /Page /Parent {pages} 0 R /MediaBox [0 0 {_number(page.width)} "
                    f"{_number(page.height)}] /TrimBox [0 0 {_number(page.width)} "
                    f"{_number(page.height)}] /Resources << /Font << {at_hand} >> >> "
                    f"/Contents {drawn} 0 R >>"
                )
            )
        listed = " ".join(f"{kid} 0 R" for kid in kids)
        self._set(pages, f"<< /Type /Pages /Count {len(kids)} /Kids [{listed}] >>")
        catalogue = self._add(
            f"<< /Type /Catalog /Pages {pages} 0 R /Lang {_string(pdf._language)} "
            "/PageLayout /TwoPageRight /ViewerPreferences << /DisplayDocTitle true >> >>"
        )
        info = self._add(
            f"<< /Title {_string(pdf._title)} /Author {_string(pdf._author)} "
            f"/Producer {_string('Reglet')} /CreationDate {_string(_date(pdf._made))} >>"
        )
        return self._written(catalogue, info)

    def _font(self, face: Face, number: int) -> int:
        """A composite font of glyphs by their own numbers (9.7)."""
        content = _program(face)
        tag = "".join(chr(ord("A") + int(digit)) for digit in f"{number:06}")
        name = f"{tag}+{face.name}"
        program = self._stream(content, f"/Length1 {len(content)} ")
        above, below = (1000 * each for each in face.extents)
        descriptor = self._add(
            f"<< /Type /FontDescriptor /FontName /{name} "
            f"/Flags {_SYMBOLIC | (_ITALIC if face.italic else 0)} "
            f"/FontBBox [-1000 {_number(-below)} 3000 {_number(above)}] "
            f"/ItalicAngle {-12 if face.italic else 0} /Ascent {_number(above)} "
            f"/Descent {_number(-below)} /CapHeight {_number(0.68 * above)} /StemV 80 "
            f"/FontFile2 {program} 0 R >>"
        )
        widths = " ".join(
            f"{glyph} [{_number(face.own_width(glyph) * 1000)}]" for glyph in sorted(face.used)
        )
        descendant = self._add(
            f"<< /Type /Font /Subtype /CIDFontType2 /BaseFont /{name} /CIDSystemInfo "
            f"<< /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> "
            f"/FontDescriptor {descriptor} 0 R /W [{widths}] /CIDToGIDMap /Identity >>"
        )
        letters = self._stream(_letters(face.used))
        return self._add(
            f"<< /Type /Font /Subtype /Type0 /BaseFont /{name} /Encoding /Identity-H "
            f"/DescendantFonts [{descendant} 0 R] /ToUnicode {letters} 0 R >>"
        )

    def _reserve(self) -> int:
        self._objects.append(b"")
        return len(self._objects)

    def _set(self, number: int, told: str) -> None:
        self._objects[number - 1] = told.encode("ascii")

    def _add(self, told: str) -> int:
        self._objects.append(told.encode("ascii"))
        return len(self._objects)

    def _stream(self, content: bytes, more: str = "") -> int:
        packed = zlib.compress(content, 9)
        head = f"<< {more}/Length {len(packed)} /Filter /FlateDecode >>\nstream\n"
        self._objects.append(head.encode("ascii") + packed + b"\nendstream")
        return len(self._objects)

    def _written(self, catalogue: int, info: int) -> bytes:
        """The file (7.5): its objects, and a table of where each of them begins."""
        out = io.BytesIO()
        out.write(b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n")
        begins = []
        for number, content in enumerate(self._objects, start=1):
            begins.append(out.tell())
            out.write(b"%d 0 obj\n%b\nendobj\n" % (number, content))
        table = out.tell()
        out.write(b"xref\n0 %d\n0000000000 65535 f \n" % (len(begins) + 1))
        for begin in begins:
            out.write(b"%010d 00000 n \n" % begin)
        out.write(
            b"trailer\n<< /Size %d /Root %d 0 R /Info %d 0 R >>\nstartxref\n%d\n%%%%EOF\n"
            % (len(begins) + 1, catalogue, info, table)
        )
        return out.getvalue()


def _placed(face: Face, glyphs: list[tuple[int, float, float]]) -> str:
    """An array for TJ (9.4.3), whose numbers take off what the face's own width has too much, in
    thousandths of an em.
    """
    pieces = []
    for glyph, advance, moved in glyphs:
        if moved:
            pieces.append(_number(-1000 * moved))
        pieces.append(f"<{glyph:04X}>")
        rest = 1000 * (face.own_width(glyph) - advance + moved)
        if abs(rest) > _HAIR:
            pieces.append(_number(rest))
    return " ".join(pieces)


def _program(face: Face) -> bytes:
    """A font file of the glyphs that were set, under their own numbers, with its axes fixed."""
    wanted = hb.SubsetInput()
    wanted.glyph_set.update([0, *face.used])
    tags = [int.from_bytes(tag.ljust(4).encode("ascii"), "big") for tag in _NOT_FOR_PRINT]
    wanted.drop_table_tag_set.update(tags)
    wanted.flags = (
        hb.SubsetFlags.RETAIN_GIDS
        | hb.SubsetFlags.NO_HINTING
        | hb.SubsetFlags.NOTDEF_OUTLINE
        | hb.SubsetFlags.NO_LAYOUT_CLOSURE
    )
    whole = face.font.face
    known = {axis.tag for axis in whole.axis_infos}
    for tag, value in face.axes.items():
        if tag in known:
            wanted.pin_axis_location(whole, tag, value)
    return bytes(hb.subset(whole, wanted).blob.data)


def _letters(used: Mapping[int, str]) -> bytes:
    """The letters behind the glyphs, as a CMap (9.10.3)."""
    lines = [
        f"<{glyph:04X}> <{letters.encode('utf-16-be').hex().upper()}>"
        for glyph, letters in sorted(used.items())
        if letters
    ]
    blocks = [lines[at : at + 100] for at in range(0, len(lines), 100)]
    shown = "\n".join(
        f"{len(block)} beginbfchar\n" + "\n".join(block) + "\nendbfchar" for block in blocks
    )
    return (
        "/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n"
        "/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n"
        "/CMapName /Letters def\n/CMapType 2 def\n"
        "1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n"
        f"{shown}\nendcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n"
    ).encode("ascii")


def _number(value: float) -> str:
    return f"{value:.3f}".rstrip("0").rstrip(".") or "0"


def _string(text: str) -> str:
    """A text string (7.9.2.2), in UTF-16 with its mark, written in hexadecimal."""
    return f"<FEFF{text.encode('utf-16-be').hex().upper()}>"


def _date(when: datetime) -> str:
    shift = f"{when:%z}" or "+0000"
    return f"D:{when:%Y%m%d%H%M%S}{shift[:3]}'{shift[3:5]}'"
