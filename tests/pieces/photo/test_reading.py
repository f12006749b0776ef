"""A photograph from a stranger: refused from its head, turned as the phone was held."""

import contextlib
import io
import struct
import sys
import zlib
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from pieces.errors import PhotoError
from pieces.photo.library import opencv
from pieces.photo.reading import parse_photo, read_photo_file

TALL = np.zeros((700, 640, 3), dtype=np.uint8)
TALL[:100] = 255


def saved(pixels: np.ndarray, kind: str = "JPEG", **more: object) -> bytes:
    """Return the bytes of a picture file."""
    stream = io.BytesIO()
    Image.fromarray(pixels).save(stream, kind, **more)
    return stream.getvalue()


def png_head(wide: int, high: int) -> bytes:
    """Return the head of a PNG file that says how large it is, and no picture."""
    body = b"IHDR" + struct.pack(">IIBBBBB", wide, high, 8, 2, 0, 0, 0)
    start = b"\x89PNG\r\n\x1a\n" + struct.pack(">I", 13) + body
    return start + struct.pack(">I", zlib.crc32(body)) + struct.pack(">I", 4) + b"IDAT"


def test_a_photograph_is_turned_as_the_phone_was_held() -> None:
    """Orientation 6 of EXIF: the camera's top is the photograph's right."""
    exif = Image.Exif()
    exif[0x0112] = 6

    photo = parse_photo(saved(np.rot90(TALL), exif=exif))

    assert photo.size_px == (640, 700)
    assert photo.grey[:80].mean() > 250
    assert photo.grey[120:].mean() < 5


def test_the_focal_length_is_read_in_pixels() -> None:
    """26 mm on a diagonal of 43.27 mm, over the diagonal of the photograph."""
    exif = Image.Exif()
    exif[0x8769] = {0xA405: 26}

    photo = parse_photo(saved(TALL, exif=exif))

    assert photo.focal_px == pytest.approx(26 / 43.267 * np.hypot(640, 700), rel=1e-3)
    assert parse_photo(saved(TALL)).focal_px is None


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (b"", "no JPEG or PNG"),
        (b"<svg/>", "no JPEG or PNG"),
        (saved(TALL, "BMP"), "no JPEG or PNG"),
        (png_head(12_000, 12_000), "51 million pixels"),
        (png_head(8_200, 6_220), "51 million pixels"),
        (png_head(100_000, 100_000), "51 million pixels"),
        (png_head(30_000, 700), "20000 along a side"),
        (saved(TALL[:300]), "640 x 300"),
        (saved(TALL)[:900], "damaged"),
        (b"\xff\xd8" + b"\0" * 60_000_001, "60 MB"),
    ],
    ids=[
        "empty",
        "drawing",
        "other kind",
        "large",
        "a little too large",
        "bomb",
        "long",
        "small",
        "cut",
        "heavy",
    ],
)
def test_what_is_no_photograph_is_refused(data: bytes, told: str) -> None:
    """One sentence each, and a huge picture before a pixel of it is decoded."""
    with pytest.raises(PhotoError, match=told):
        parse_photo(data)


def test_a_file_that_is_not_there_is_refused(tmp_path: Path) -> None:
    """With its name."""
    with pytest.raises(PhotoError, match=r"a\.jpg does not exist"):
        read_photo_file(tmp_path / "a.jpg")
    with pytest.raises(PhotoError, match="is a folder"):
        read_photo_file(tmp_path)


def test_without_opencv_it_is_said_how_to_get_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """The extra by its name."""
    monkeypatch.setitem(sys.modules, "cv2", None)

    with pytest.raises(PhotoError, match=r'pip install "cloth-nesting\[photo\]"'):
        opencv()


FILES = [saved(TALL, quality=40), saved(TALL, "PNG"), saved(TALL, progressive=True)]


@settings(max_examples=60, deadline=None)
@given(
    which=st.integers(0, 2),
    changes=st.lists(
        st.tuples(st.integers(0, 1200), st.binary(min_size=1, max_size=6)), max_size=6
    ),
    end=st.integers(0, 4000),
)
def test_damaged_files_are_read_or_refused(
    which: int, changes: list[tuple[int, bytes]], end: int
) -> None:
    """Nothing but a photograph or a refusal comes of any bytes."""
    data = bytearray(FILES[which])
    for at, new in changes:
        data[at : at + len(new)] = new
    with contextlib.suppress(PhotoError):
        photo = parse_photo(bytes(data[: len(data) - end] if end < 2000 else data))
        assert photo.pixels.shape == (*photo.grey.shape, 3)


@settings(max_examples=100, deadline=None)
@given(st.binary(max_size=300))
def test_any_bytes_are_refused(data: bytes) -> None:
    """Random bytes hold no photograph."""
    with pytest.raises(PhotoError):
        parse_photo(data)
