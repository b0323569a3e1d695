"""Small pictures of one colour, made where they are needed."""

from __future__ import annotations

import struct
import zlib

from PySide6.QtCore import QBuffer, QByteArray
from PySide6.QtGui import QImage


def png(width: int, height: int) -> bytes:
    """A grey .png, its chunks put together by hand."""

    def chunk(kind: bytes, body: bytes) -> bytes:
        return (
            struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))
        )

    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    rows = zlib.compress((b"\0" + b"\x80" * width) * height)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", rows) + chunk(b"IEND", b"")


def jpeg(width: int, height: int) -> bytes:
    """A black .jpg."""
    image = QImage(width, height, QImage.Format.Format_RGB32)
    image.fill(0)
    held = QByteArray()
    buffer = QBuffer(held)
    buffer.open(QBuffer.OpenModeFlag.WriteOnly)
    assert image.save(buffer, "JPEG")  # type: ignore[call-overload]
    return bytes(held.data())
