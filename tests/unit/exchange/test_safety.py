"""Files that are not sound, or mean harm: a sentence for each, and nothing done."""

import io
import zipfile
from collections.abc import Callable
from pathlib import Path

import docx
import pytest
from reglet.errors import DraftError
from reglet.exchange import read_draft, safety

WORD = "http://schemas.openxmlformats.org/wordprocessingml/2006/main"
BODY = (
    '<w:document xmlns:w="{word}"><w:body><w:p><w:r><w:t>{text}</w:t></w:r></w:p>'
    "</w:body></w:document>"
)


def sound() -> bytes:
    document = docx.Document()
    for number in range(200):
        document.add_paragraph(f"Paragraph {number} of a draft that is sound, word upon word.")
    buffer = io.BytesIO()
    document.save(buffer)
    return buffer.getvalue()


def with_member(name: str, content: bytes) -> bytes:
    """The sound draft with one member of the archive replaced or added."""
    buffer = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(sound())) as old,
        zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as new,
    ):
        for member in old.namelist():
            if member != name:
                new.writestr(member, old.read(member))
        new.writestr(name, content)
    return buffer.getvalue()


def bomb() -> bytes:
    """One member that unpacks to 200 million bytes from some 200,000."""
    return with_member("word/document.xml", b" " * 200_000_000)


def entities(prolog: str) -> bytes:
    return with_member(
        "word/document.xml", (prolog + BODY.format(word=WORD, text="&a;")).encode("utf-8")
    )


def truncated() -> bytes:
    return sound()[:-3000]


def document_cut_short() -> bytes:
    body = BODY.format(word=WORD, text="It was raining.").encode()
    return with_member("word/document.xml", body[:-20])


def byte_flipped() -> bytes:
    content = bytearray(sound())
    at = content.index(b"word/document.xml") + 400
    content[at : at + 40] = bytes(40)
    return bytes(content)


def other_archive() -> bytes:
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w") as archive:
        archive.writestr("content.txt", "hello")
    return buffer.getvalue()


OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600)
CASES: dict[str, tuple[Callable[[], bytes], str]] = {
    "empty": (lambda: b"", "empty"),
    "plain text": (lambda: b"It was a dark night.", "no .docx"),
    "rich text": (lambda: rb"{\rtf1 It was}", "no .docx"),
    "older format": (lambda: OLE, "older .doc"),
    "locked": (lambda: OLE + "EncryptedPackage".encode("utf-16-le"), "password"),
    "truncated": (truncated, "damaged"),
    "document cut short": (document_cut_short, "damaged"),
    "damaged inside": (byte_flipped, "damaged"),
    "another archive": (other_archive, "not a word-processor document"),
    "bomb": (bomb, "unpack"),
    "many laughs": (
        lambda: entities('<!DOCTYPE d [<!ENTITY b "ha"><!ENTITY a "&b;&b;&b;">]>'),
        "entities",
    ),
    "a file of this machine": (
        lambda: entities('<!DOCTYPE d [<!ENTITY a SYSTEM "file:///etc/hostname">]>'),
        "entities",
    ),
    "entities in the styles": (
        lambda: with_member(
            "word/styles.xml", b'<!DOCTYPE s [<!ENTITY a "b">]><styles>&a;</styles>'
        ),
        "entities",
    ),
    "a type from elsewhere": (
        lambda: entities('<!DOCTYPE d SYSTEM "http://example.org/d.dtd">'),
        "entities",
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_each_gets_its_sentence(name: str, tmp_path: Path) -> None:
    make, said = CASES[name]
    path = tmp_path / "draft.docx"
    path.write_bytes(make())
    before = path.read_bytes()
    with pytest.raises(DraftError, match=said) as raised:
        read_draft(path)
    assert str(raised.value).endswith((".", "!"))
    assert path.read_bytes() == before


def test_too_many_members(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(safety, "MOST_MEMBERS", 5)
    path = tmp_path / "draft.docx"
    path.write_bytes(sound())
    with pytest.raises(DraftError, match="unpack"):
        read_draft(path)


def test_nothing_outside_the_file_is_followed(tmp_path: Path) -> None:
    secret = tmp_path / "styles.xml"
    secret.write_text(f'<w:styles xmlns:w="{WORD}"/>')
    kind = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
    relations = (
        '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
        f'<Relationship Id="r1" Type="{kind}/styles" TargetMode="External" '
        f'Target="{secret.as_uri()}"/>'
        f'<Relationship Id="r2" Type="{kind}/comments" Target="../../../../{secret}"/>'
        "</Relationships>"
    )
    path = tmp_path / "draft.docx"
    path.write_bytes(with_member("word/_rels/document.xml.rels", relations.encode()))
    assert len(read_draft(path).paragraphs) == 200


def test_strict_documents_are_read(tmp_path: Path) -> None:
    strict = "http://purl.oclc.org/ooxml/wordprocessingml/main"
    path = tmp_path / "draft.docx"
    path.write_bytes(
        with_member("word/document.xml", BODY.format(word=strict, text="It rained.").encode())
    )
    assert [each.text for each in read_draft(path).paragraphs] == ["It rained."]


@pytest.mark.parametrize("name", ["missing.docx", "draft.xyz"])
def test_what_is_no_draft(name: str, tmp_path: Path) -> None:
    (tmp_path / "draft.xyz").write_text("hello")
    with pytest.raises(DraftError):
        read_draft(tmp_path / name)


def test_a_folder_is_no_draft(tmp_path: Path) -> None:
    (tmp_path / "draft.docx").mkdir()
    with pytest.raises(DraftError, match="folder"):
        read_draft(tmp_path / "draft.docx")
