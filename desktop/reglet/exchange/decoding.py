"""The text in a file of bytes whose encoding nobody states."""

from __future__ import annotations

import codecs
import re

from reglet.errors import DraftError
from reglet.exchange.draft import Finding

_MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF32_LE, "utf-32"),
    (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
_SAMPLE = 20_000
_WINDOWS_SIGNS = frozenset("‘’“”–—…•€™©®°£§«»½¼¾·\xa0\xad¿¡´ªº×÷±²³¹")
_WESTERN = re.compile(r"[A-Za-zÀ-ÖØ-öø-ÿŒœŠšŽžŸ]")
_MISPLACED = re.compile(r"(?<=[a-z])[À-ÖØ-Þ]|(?<!\w)[À-ÖØ-Þ](?=[A-Z][a-z])")
"""Capitals inside words: what the quotation marks of Mac Roman look like in Windows-1252."""
_CONTROL = re.compile("[\x00-\x08\x0b\x0e-\x1f\x7f]")
_TWICE = re.compile("â€[\u0153\u009d\u2122\u02dc\u201c\u201d\u00a6]|Ã[\u00a0-\u00bf]")
"""UTF-8 quotation marks and accented letters that a program once took for Windows-1252."""


def decode(content: bytes, name: str) -> tuple[str, list[Finding]]:
    """The text of a file, with line ends as "\\n", and what is to be told about it.

    UTF-8, UTF-16 with a byte-order mark or without, and Windows-1252 are told apart. Raises
    DraftError where the bytes are no text, or in an encoding that would come out garbled.
    """
    text = _decoded(content, name)
    findings = []
    if _TWICE.search(text):
        findings.append(
            Finding(
                "Some signs, such as “â€™”, look garbled: the file was once saved in a wrong "
                "encoding. They are brought in as they stand; a fresh export from the program "
                "that holds the draft may be cleaner."
            )
        )
    text = (
        text.replace("\r\n", "\n").replace("\r", "\n").replace("\u2029", "\n").replace("\x85", "\n")
    )
    cleaned = _CONTROL.sub("", text)
    if cleaned != text:
        findings.append(
            Finding(f"{len(text) - len(cleaned)} control signs that print nothing are left out.")
        )
    return cleaned, findings


def _decoded(content: bytes, name: str) -> str:
    for mark, encoding in _MARKS:
        if content.startswith(mark):
            return _strictly(content, encoding, name)
    wide = _wide(content[:_SAMPLE])
    if wide:
        return _strictly(content, wide, name)
    try:
        text = content.decode("utf-8")
    except UnicodeDecodeError as error:
        return _western(content, name, error)
    controls = len(_CONTROL.findall(text[:_SAMPLE]))
    if controls > 0.01 * min(len(text), _SAMPLE):
        raise _no_text(name)
    return text


def _wide(sample: bytes) -> str:
    """UTF-16 without a mark shows in its zero bytes: for Western text every second one."""
    pairs = len(sample) // 2
    if pairs < 2:
        return ""
    even, odd = sample[0::2].count(0), sample[1::2].count(0)
    if odd > 0.6 * pairs and even < 0.05 * pairs:
        return "utf-16-le"
    if even > 0.6 * pairs and odd < 0.05 * pairs:
        return "utf-16-be"
    return ""


def _strictly(content: bytes, encoding: str, name: str) -> str:
    try:
        return content.decode(encoding)
    except UnicodeDecodeError:
        raise DraftError(
            f"“{name}” breaks off in the middle of a sign, or is not in the encoding it claims "
            f"({encoding.upper()}). Nothing was changed. Save it anew as UTF-8 and bring that in."
        ) from None


def _western(content: bytes, name: str, error: UnicodeDecodeError) -> str:
    """Windows-1252, if it gives Western text; most other encodings give odd signs in it."""
    if len(_CONTROL.findall(content[:_SAMPLE].decode("latin-1"))) > 0.01 * len(content[:_SAMPLE]):
        raise _no_text(name)
    try:
        text = content.decode("cp1252")
    except UnicodeDecodeError:
        raise _unknown(name) from None
    high = [sign for sign in text if ord(sign) > 127]
    odd = sum(sign not in _WINDOWS_SIGNS and not _WESTERN.match(sign) for sign in high)
    letters = sum(map(str.isalpha, text))
    accented = sum(sign.isalpha() for sign in high)
    misplaced = len(_MISPLACED.findall(text))
    if (
        odd > 0.1 * len(high)
        or accented > 0.25 * letters
        or misplaced > 0.2 * len(high)
        or _mostly_valid(content, error)
    ):
        raise _unknown(name)
    return text


def _mostly_valid(content: bytes, error: UnicodeDecodeError) -> bool:
    """Whether the file is UTF-8 with a few bytes damaged, rather than another encoding."""
    mended = content.decode("utf-8", errors="replace")
    broken = mended.count("\ufffd")
    whole = sum(ord(sign) > 127 for sign in mended) - broken
    return whole > 4 * broken


def _unknown(name: str) -> DraftError:
    return DraftError(
        f"The encoding of “{name}” could not be told: it is neither UTF-8, UTF-16 nor "
        "Windows-1252, and its words would come out garbled. Nothing was changed. Open it in the "
        "program that made it, save it as UTF-8 (or as .docx), and bring that in."
    )


def _no_text(name: str) -> DraftError:
    return DraftError(
        f"“{name}” holds no text that can be read, whatever its name says. Nothing was changed."
    )
