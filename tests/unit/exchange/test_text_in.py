"""Plain text: its encoding, and what its lines and blank lines mean."""

import codecs
import textwrap
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reglet.errors import DraftError
from reglet.exchange import read_draft
from reglet.exchange.decoding import decode
from reglet.exchange.text_in import wrap_width
from reglet.manuscript.paragraph import LINE_BREAK, Style

TEXT = "“It’s raining,” said Zoë — and it did…\nAll day, in the café’s yard.\n" * 5


@pytest.mark.parametrize(
    "encoded",
    [
        TEXT.encode("utf-8"),
        TEXT.encode("utf-8-sig"),
        TEXT.encode("utf-16"),
        codecs.BOM_UTF16_BE + TEXT.encode("utf-16-be"),
        TEXT.encode("utf-16-le"),
        TEXT.encode("utf-16-be"),
        TEXT.encode("utf-32"),
        TEXT.encode("cp1252"),
        TEXT.replace("\n", "\r\n").encode("cp1252"),
        TEXT.replace("\n", "\r").encode("utf-8"),
    ],
)
def test_encodings(encoded: bytes) -> None:
    assert decode(encoded, "draft.txt") == (TEXT, [])


RUSSIAN = "Дождь шёл весь день, и никто не вышел к лодкам. " * 5
JAPANESE = "雨は一日じゅう降りつづいた。" * 9


@pytest.mark.parametrize(
    "encoded",
    [
        RUSSIAN.encode("cp1251"),
        RUSSIAN.encode("koi8-r"),
        JAPANESE.encode("shift-jis"),
        JAPANESE.encode("euc-jp"),
        TEXT.encode("mac-roman"),
        TEXT.encode("utf-8").replace("ë".encode(), b"\xff"),
        TEXT.encode("utf-16")[:-1],
        b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 20,
        bytes(5000),
        b"PK\x03\x04" + bytes(range(32)) * 50,
    ],
)
def test_what_would_come_out_garbled_is_refused(encoded: bytes) -> None:
    with pytest.raises(DraftError, match=r"Nothing was changed\."):
        decode(encoded, "draft.txt")


def test_what_was_garbled_before_is_told() -> None:
    garbled = TEXT.encode().decode("cp1252", "replace")
    text, findings = decode(garbled.encode(), "draft.txt")
    assert text == garbled
    assert "garbled" in findings[0].sentence


def paragraphs(text: str, path: Path) -> list[str]:
    file = path / "draft.txt"
    file.write_text(text, "utf-8")
    return [each.text for each in read_draft(file).paragraphs]


LONG = (
    "It rained on the harbour all that day and nobody came down to the boats, where the water "
    "stood a hand deep and the oars lay crossed as he had left them on the Sunday. "
) * 2
SHORT = "Nobody came."


def wrapped(text: str, indent: str = "") -> str:
    return textwrap.fill(text, 64, initial_indent=indent)


LAYOUTS = {
    "a line each": f"{LONG}\n{SHORT}\n{LONG}",
    "a line each and blank lines": f"{LONG}\n\n{SHORT}\n\n{LONG}",
    "wrapped, with blank lines": f"{wrapped(LONG)}\n\n{SHORT}\n\n{wrapped(LONG)}\n",
    "wrapped, with indents": f"{wrapped(LONG, '   ')}\n   {SHORT}\n{wrapped(LONG, '   ')}\n",
    "a line each, with tabs": f"\t{LONG}\n\t{SHORT}\n\t{LONG}",
}


@pytest.mark.parametrize("name", LAYOUTS)
def test_layouts(name: str, tmp_path: Path) -> None:
    assert paragraphs(LAYOUTS[name], tmp_path) == [LONG.strip(), SHORT, LONG.strip()]


def test_lines_of_verse_stay_lines(tmp_path: Path) -> None:
    file = tmp_path / "draft.txt"
    verse = "    The tide came in\n    the tide went out"
    file.write_text(f"{wrapped(LONG)}\n\n{verse}\n\n{wrapped(LONG)}\n")
    found = read_draft(file).paragraphs[1].paragraph
    assert found.text == f"The tide came in{LINE_BREAK}the tide went out"
    assert found.style is Style.VERSE


def test_a_letter_wrapped_narrower_is_one_paragraph(tmp_path: Path) -> None:
    file = tmp_path / "draft.txt"
    letter = textwrap.fill(LONG, 50, initial_indent="    ", subsequent_indent="    ")
    file.write_text("\n\n".join([wrapped(LONG), letter, *[wrapped(LONG)] * 6]))
    found = read_draft(file).paragraphs[1].paragraph
    assert (found.text, found.style) == (LONG.strip(), Style.BLOCK_QUOTE)


def test_a_form_feed_begins_a_page(tmp_path: Path) -> None:
    file = tmp_path / "draft.txt"
    file.write_text(f"{LONG}\n\f{SHORT}\n")
    assert [each.new_page for each in read_draft(file).paragraphs] == [False, True]


@settings(deadline=None)
@given(
    lengths=st.lists(
        st.lists(st.integers(2, 11), min_size=40, max_size=70), min_size=3, max_size=9
    ),
    width=st.integers(50, 80),
)
def test_the_width_of_wrapped_lines(lengths: list[list[int]], width: int) -> None:
    blocks = [textwrap.fill(" ".join("m" * n for n in words), width) for words in lengths]
    lines = "\n\n".join(blocks).split("\n")
    assert wrap_width(lines) in range(width - 12, width + 1)


@pytest.mark.parametrize(
    "lines",
    [
        [LONG, LONG, SHORT, LONG],
        ["“No.”", "“Yes.”", "“Why?”", "He did not say why he would not.", "“No.”"] * 9,
        [],
    ],
)
def test_lines_that_are_not_wrapped(lines: list[str]) -> None:
    assert wrap_width(lines) == 0


@pytest.mark.parametrize("content", [b"", b"   \n\n \n", codecs.BOM_UTF8])
@pytest.mark.parametrize("suffix", [".txt", ".md"])
def test_a_file_without_text(content: bytes, suffix: str, tmp_path: Path) -> None:
    file = tmp_path / f"draft{suffix}"
    file.write_bytes(content)
    with pytest.raises(DraftError, match="no text"):
        read_draft(file)
