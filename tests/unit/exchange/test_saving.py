"""A file is written whole or not at all, and never over another one unasked."""

import os
from pathlib import Path

import pytest
from reglet.errors import WriterError
from reglet.exchange.saving import save


def test_a_new_file(tmp_path: Path) -> None:
    save(tmp_path / "a.docx", b"new")
    assert (tmp_path / "a.docx").read_bytes() == b"new"
    assert [each.name for each in tmp_path.iterdir()] == ["a.docx"]


def test_never_over_another_unasked(tmp_path: Path) -> None:
    (tmp_path / "a.docx").write_bytes(b"old")
    with pytest.raises(WriterError, match="left as it is"):
        save(tmp_path / "a.docx", b"new")
    assert (tmp_path / "a.docx").read_bytes() == b"old"


def test_what_is_replaced_is_kept(tmp_path: Path) -> None:
    for content in (b"one", b"two", b"three"):
        save(tmp_path / "a.docx", content, overwrite=True)
    assert (tmp_path / "a.docx").read_bytes() == b"three"
    assert (tmp_path / "a.docx.bak").read_bytes() == b"two"
    assert len(list(tmp_path.iterdir())) == 2


def test_no_such_folder(tmp_path: Path) -> None:
    with pytest.raises(WriterError, match="could not be written"):
        save(tmp_path / "missing" / "a.docx", b"new")


def test_a_failed_write_leaves_what_was_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "a.docx").write_bytes(b"old")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(WriterError, match="No space left"):
        save(tmp_path / "a.docx", b"new", overwrite=True)
    assert [each.name for each in tmp_path.iterdir()] == ["a.docx"]
    assert (tmp_path / "a.docx").read_bytes() == b"old"
