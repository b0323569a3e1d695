"""The picture that a writer wants on the cover: read, looked at, and told against what shops ask.

Sources: W3C, PNG (Third Edition), for the chunks of a .png; ITU-T T.81, annex B, for the segments
of a .jpg. No pixel is unpacked, so no picture can fill the memory. EPUB 3.3 has readers show both
kinds.
"""

from __future__ import annotations

import zlib
from pathlib import Path

from reglet.errors import WriterError
from reglet.manuscript.picture import Picture

PNG, JPEG = "image/png", "image/jpeg"
ENDINGS = {PNG: "png", JPEG: "jpg"}

MOST_BYTES = 50_000_000
"""More than any shop takes (our own figure)."""
_MOST_PIXELS = 20_000

_LEAST_WIDTH = 1400
_GOOD = (1600, 2560)
_MANY_BYTES = 5_000_000
_SLIM, _STOUT = 1.75, 1.3
"""What shops commonly ask of a cover (common practice, from memory): pixels, bytes, and height as a
multiple of width.
"""

_PNG_BEGINS, _JPEG_BEGINS = b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff"
_JPEG_ENDS = b"\xff\xd9"
_FRAMES = {0xC0, 0xC1, 0xC2, 0xC3, 0xC5, 0xC6, 0xC7, 0xC9, 0xCA, 0xCB, 0xCD, 0xCE, 0xCF}
"""The second bytes of the markers that begin a frame (T.81, table B.1)."""
_SCAN = 0xDA
_WITHOUT_LENGTH = {0x01, *range(0xD0, 0xD8)}
_OF_PRINT = 4
"""Components of a picture that is made for the press and not for a screen."""


def read_cover(path: Path) -> Picture:
    """The picture in a .png or .jpg, told by what is in it and not by its name.

    Raises WriterError, its text a sentence for the writer, where it is no sound one.
    """
    try:
        if path.stat().st_size > MOST_BYTES:
            raise WriterError(
                f"“{path.name}” is larger than {MOST_BYTES // 1_000_000} MB, and no shop takes "
                "such a cover. Save the picture smaller. Your book is as it was."
            )
        data = path.read_bytes()
    except FileNotFoundError:
        raise WriterError(f"There is no file “{path}”. Look whether its name is right.") from None
    except OSError as error:
        raise WriterError(
            f"“{path}” could not be read: {error.strerror or error}. Your book is as it was."
        ) from None
    if data.startswith(_PNG_BEGINS):
        kind, size = PNG, _png_size(data)
    elif data.startswith(_JPEG_BEGINS):
        kind, size = JPEG, _jpeg_size(data)
    else:
        raise WriterError(
            f"“{path.name}” is no PNG or JPEG picture, whatever its name says. Save the cover as "
            "one of these. Your book is as it was."
        )
    if not all(0 < each <= _MOST_PIXELS for each in size):
        raise WriterError(
            f"The picture “{path.name}” is damaged or was cut short. Save it anew in the program "
            "that made it. Your book is as it was."
        )
    return Picture(kind, *size, data)


def told(cover: Picture) -> str:
    """What a cover is, on one line."""
    kind = "PNG" if cover.media_type == PNG else "JPEG"
    size = len(cover.data) / 1_000_000
    shown = f"{size:,.1f} MB" if size >= 1 else f"{max(1, round(size * 1000)):,} kB"
    return f"{cover.width:,} by {cover.height:,} pixels, {kind}, {shown}"


def advice(cover: Picture) -> list[str]:
    """What shops commonly ask for and this cover is not, a sentence each."""
    found = []
    shape = cover.height / cover.width
    if shape <= 1:
        found.append("It is not upright; a book’s cover is higher than it is wide.")
    elif not _STOUT <= shape <= _SLIM:
        found.append(
            f"It is {shape:.2f} times as high as it is wide; 1.6 times is what shops show best."
        )
    if cover.width < _LEAST_WIDTH:
        found.append(
            f"Shops commonly ask for at least {_LEAST_WIDTH:,} pixels in width, and like "
            f"{_GOOD[0]:,} by {_GOOD[1]:,}."
        )
    if len(cover.data) > _MANY_BYTES:
        found.append(
            f"Some shops take no cover of more than {_MANY_BYTES // 1_000_000} MB; saved as JPEG "
            "it would be smaller."
        )
    if cover.media_type == JPEG and _jpeg_frame(cover.data)[2] == _OF_PRINT:
        found.append(
            "Its colours are those of the press (CMYK), which many e-readers show wrongly. Save it "
            "in the colours of the screen (RGB)."
        )
    return found


def _png_size(data: bytes) -> tuple[int, int]:
    """Width and height; nothing of either unless every chunk is whole up to the last (5.3)."""
    at, size = len(_PNG_BEGINS), (0, 0)
    while at + 12 <= len(data):
        length = int.from_bytes(data[at : at + 4], "big")
        body = data[at + 4 : at + 8 + length]
        check = data[at + 8 + length : at + 12 + length]
        if len(check) < 4 or zlib.crc32(body) != int.from_bytes(check, "big"):
            break
        if body.startswith(b"IHDR") and length == 13:
            size = int.from_bytes(body[4:8], "big"), int.from_bytes(body[8:12], "big")
        elif body.startswith(b"IEND"):
            return size
        at += 12 + length
    return 0, 0


def _jpeg_size(data: bytes) -> tuple[int, int]:
    """Width and height; nothing of either unless the picture goes on to its end (B.1)."""
    width, height, _ = _jpeg_frame(data)
    return width, height


def _jpeg_frame(data: bytes) -> tuple[int, int, int]:
    """Width, height and how many components its frame has (B.2.2)."""
    at, frame = 2, (0, 0, 0)
    while at + 4 <= len(data) and data[at] == 0xFF:
        marker = data[at + 1]
        if marker == 0xFF:  # a fill byte
            at += 1
            continue
        if marker in _WITHOUT_LENGTH:
            at += 2
            continue
        length = int.from_bytes(data[at + 2 : at + 4], "big")
        if marker in _FRAMES and at + 10 <= len(data):
            height, width = (int.from_bytes(data[at + n : at + n + 2], "big") for n in (5, 7))
            frame = width, height, data[at + 9]
        elif marker == _SCAN:
            return frame if data.rfind(_JPEG_ENDS) > at else (0, 0, 0)
        at += 2 + length
    return 0, 0, 0
