"""A cover is taken for what is in its file, and told against what shops commonly ask."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reglet.errors import WriterError
from reglet.exchange import cover
from reglet.exchange.cover import advice, read_cover, told
from reglet.manuscript.picture import Picture

from tests.pictures import jpeg, png

MADE = {"image/png": png, "image/jpeg": jpeg}


def written(folder: Path, data: bytes, name: str = "cover.png") -> Path:
    path = folder / name
    path.write_bytes(data)
    return path


@pytest.mark.parametrize("kind", MADE)
@pytest.mark.parametrize("size", [(1, 1), (16, 26), (300, 480)])
def test_a_picture_is_read(kind: str, size: tuple[int, int], tmp_path: Path) -> None:
    data = MADE[kind](*size)
    # The name tells nothing: what is in the file does.
    found = read_cover(written(tmp_path, data, "cover.png"))
    assert found == Picture(kind, *size, data)


SMALL = png(16, 26)
PHOTO = jpeg(16, 26)


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", "no PNG or JPEG"),
        (b"GIF89a...", "no PNG or JPEG"),
        (b"<svg/>", "no PNG or JPEG"),
        (SMALL[:-12], "damaged"),
        (SMALL[:30] + b"\x01" + SMALL[31:], "damaged"),
        (SMALL[:8], "damaged"),
        (png(0, 26), "damaged"),
        (png(1, 30_000), "damaged"),
        (PHOTO[: len(PHOTO) // 2], "damaged"),
        (PHOTO[:-2], "damaged"),
        (b"\xff\xd8\xff\xd9", "damaged"),
    ],
)
def test_what_is_no_sound_picture(data: bytes, said: str, tmp_path: Path) -> None:
    with pytest.raises(WriterError, match=said) as raised:
        read_cover(written(tmp_path, data))
    assert "Your book is as it was" in str(raised.value)


@given(st.binary(max_size=60), st.sampled_from([SMALL, PHOTO]), st.integers(0, 600))
def test_no_bytes_end_in_anything_but_a_sentence(noise: bytes, data: bytes, at: int) -> None:
    for torn in (data[:at] + noise, data[:at] + noise + data[at + len(noise) :]):
        assert all(each >= 0 for each in (*cover._png_size(torn), *cover._jpeg_frame(torn)))


def test_a_picture_too_large_for_any_shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cover, "MOST_BYTES", 10)
    with pytest.raises(WriterError, match="no shop takes"):
        read_cover(written(tmp_path, SMALL))


def test_what_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(WriterError, match="There is no file"):
        read_cover(tmp_path / "none.png")
    with pytest.raises(WriterError, match="could not be read"):
        read_cover(tmp_path)


GOOD = Picture("image/png", 1600, 2560, b"x" * 1_200_000)


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({}, ""),
        ({"width": 1706}, ""),
        ({"width": 2560, "height": 1600}, "not upright"),
        ({"width": 2560}, "not upright"),
        ({"width": 1400}, "1.83 times as high"),
        ({"width": 2000}, "1.28 times as high"),
        ({"width": 1000, "height": 1600}, "at least 1,400 pixels"),
        ({"data": b"x" * 5_000_001}, "more than 5 MB"),
    ],
)
def test_advice(changed: dict[str, object], said: str) -> None:
    found = advice(replace(GOOD, **changed))  # type: ignore[arg-type]
    assert len(found) == bool(said) and said in " ".join(found)


def test_colours_of_the_press() -> None:
    frame = PHOTO.index(b"\xff\xc0")
    of_press = PHOTO[: frame + 9] + b"\x04" + PHOTO[frame + 10 :]
    assert "CMYK" in " ".join(advice(Picture("image/jpeg", 1600, 2560, of_press)))
    assert "CMYK" not in " ".join(advice(Picture("image/jpeg", 1600, 2560, PHOTO)))


@pytest.mark.parametrize(
    ("picture", "said"),
    [
        (GOOD, "1,600 by 2,560 pixels, PNG, 1.2 MB"),
        (Picture("image/jpeg", 16, 26, b"x" * 700), "16 by 26 pixels, JPEG, 1 kB"),
    ],
)
def test_told(picture: Picture, said: str) -> None:
    assert told(picture) == said
