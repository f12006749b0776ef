"""Read a photograph: limits are checked from its head, before a single pixel is decoded."""

import io
import math
import warnings
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import numpy.typing as npt
from PIL import Image, ImageOps

from pieces.errors import PhotoError
from pieces.files.bounded_file import read_bytes

ENDINGS = (".jpg", ".jpeg", ".png")
LARGEST_BYTES = 60_000_000
MOST_PIXELS = 51_000_000
"""What phones make; in memory each takes about ten bytes while it is read."""
LONGEST_PX, SHORTEST_PX = 20_000, 600
_FORMATS = ("JPEG", "PNG")
_EXIF_TABLE, _FOCAL_35_MM = 0x8769, 0xA405
_DIAGONAL_35_MM = math.hypot(36.0, 24.0)

Pixels = npt.NDArray[np.uint8]


@dataclass(frozen=True, eq=False)
class Photo:
    """A photograph, upright.

    Parameters
    ----------
    pixels
        Shape (height, width, 3), red, green and blue, 0 to 255.
    grey
        Shape (height, width), 0 to 255.
    focal_px
        Focal length in pixels as the camera wrote it, or None.
    """

    pixels: Pixels
    grey: Pixels
    focal_px: float | None = None

    @property
    def size_px(self) -> tuple[int, int]:
        """Width and height, pixels."""
        return self.grey.shape[1], self.grey.shape[0]


def read_photo_file(path: Path | str) -> Photo:
    """Read a photograph.

    Raises
    ------
    PhotoError
        If it cannot be read, or is no photograph of a sensible size; the sentence names the file.
    """
    path = Path(path)
    data = read_bytes(path, "photograph", largest_bytes=LARGEST_BYTES, error=PhotoError)
    try:
        return parse_photo(data)
    except PhotoError as error:
        raise PhotoError(f"{path}: {error}") from error


def parse_photo(data: bytes) -> Photo:
    """Read a photograph from its bytes, turned as the camera was held.

    Raises
    ------
    PhotoError
        If it is no JPEG or PNG, damaged, or too large or too small to use.
    """
    if len(data) > LARGEST_BYTES:
        raise PhotoError(
            f"the photograph is larger than {LARGEST_BYTES / 1e6:.0f} MB; save it as JPEG"
        )
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # odd metadata, and sizes that are refused below
        try:
            image = Image.open(io.BytesIO(data), formats=_FORMATS)
        except Image.DecompressionBombError:
            raise PhotoError(_size_words()) from None
        except Exception as error:  # a damaged head may fail anywhere inside the library
            raise PhotoError("the file is no JPEG or PNG photograph; save it as one") from error
        _refuse_size(*image.size)
        try:
            focal_px = _focal_px(image)
            ImageOps.exif_transpose(image, in_place=True)
            coloured = image if image.mode == "RGB" else image.convert("RGB")
            pixels = np.asarray(coloured, dtype=np.uint8)
            grey = np.asarray(coloured.convert("L"), dtype=np.uint8)
        except Exception as error:  # a damaged body, likewise
            raise PhotoError("the photograph is damaged; copy it from the phone anew") from error
    return Photo(pixels, grey, focal_px)


def _refuse_size(width: int, height: int) -> None:
    if width * height > MOST_PIXELS or max(width, height) > LONGEST_PX:
        raise PhotoError(f"{_size_words()}; this one has {width} x {height}")
    if min(width, height) < SHORTEST_PX:
        raise PhotoError(
            f"the photograph has {width} x {height} pixels, too few to cut by; it needs at least "
            f"{SHORTEST_PX} each way, so send the original and not a reduced copy"
        )


def _size_words() -> str:
    return (
        f"a photograph may have {MOST_PIXELS / 1e6:.0f} million pixels and {LONGEST_PX} along a "
        "side at most"
    )


def _focal_px(image: Image.Image) -> float | None:
    """Return the focal length in pixels, from its equivalent on 36 x 24 mm film, or None."""
    try:
        told = float(image.getexif().get_ifd(_EXIF_TABLE).get(_FOCAL_35_MM, 0.0))
    except Exception:  # metadata from anywhere may hold anything; it is a hint and no more
        return None
    if not 8.0 <= told <= 400.0:
        return None
    return told / _DIAGONAL_35_MM * math.hypot(*image.size)
