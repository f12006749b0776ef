"""Sheets whose size is known: blank ones by their name, and our own pages of marks."""

import re
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from pieces.errors import LengthError, PhotoError
from pieces.measures.paper_sizes import PAPER_SIZES_MM
from pieces.measures.parse import parse_length_mm
from pieces.outline.polygon import FloatArray

SHEETS_MM = MappingProxyType({name: PAPER_SIZES_MM[name] for name in ("a4", "letter", "a3", "a5")})
"""Shorter and longer side of the sheets known by name, mm."""

MARK_MM = 45.0
MARK_CELLS = 7
"""A mark is 5 x 5 cells of black and white with a border of one black cell."""
MARKS_WIDE_MM, MARKS_HIGH_MM = 180.0, 240.0
"""The box of the four marks on a page: it fits A4 and Letter, so that the paper plays no part."""
PAGES = 6
MARKS_ON_PAGE = 4
LARGEST_PAGE_MM = (PAPER_SIZES_MM["letter"][0], PAPER_SIZES_MM["a4"][1])


@dataclass(frozen=True)
class PaperSheet:
    """A blank sheet: what it is called, its shorter and its longer side, mm."""

    name: str
    short_mm: float
    long_mm: float

    @property
    def corners_mm(self) -> FloatArray:
        """Corners anticlockwise, the long side upright, shape (4, 2), mm."""
        return centred_box(self.short_mm, self.long_mm)


def sheet_named(text: str) -> PaperSheet:
    """Return the sheet of a name such as ``a4``, or of a size such as ``200mm x 300mm``.

    Raises
    ------
    PhotoError
        If it is neither, or its size is not between 5 cm and 2 m.

    Examples
    --------
    >>> sheet_named("A4")
    PaperSheet(name='a4', short_mm=210.0, long_mm=297.0)
    >>> sheet_named("30cm x 20cm").short_mm
    200.0
    """
    name = text.strip().lower()
    if name in SHEETS_MM:
        return PaperSheet(name, *SHEETS_MM[name])
    sides = re.split(r"\s*[x\u00d7]\s*", name)
    try:
        short, long = sorted(parse_length_mm(side) for side in sides)
    except (LengthError, ValueError):
        raise PhotoError(
            f'sheet "{text[:40]}" is not known; give {", ".join(SHEETS_MM)} or a size such as '
            "20cm x 30cm"
        ) from None
    if not 50.0 <= short <= long <= 2000.0:
        raise PhotoError(f'sheet "{text[:40]}": its sides must be between 5 cm and 2 m')
    return PaperSheet("sheet", short, long)


def mark_corners_mm(place: int) -> FloatArray:
    """Return the corners of one mark on its page, origin in the middle of the page, mm.

    Parameters
    ----------
    place
        0 to 3: top left, top right, bottom right, bottom left.

    Returns
    -------
    FloatArray
        Shape (4, 2), y up: top left, top right, bottom right and bottom left corner of the mark.
    """
    x, y = 0.5 * (MARKS_WIDE_MM - MARK_MM), 0.5 * (MARKS_HIGH_MM - MARK_MM)
    middle = np.array([(-x, y), (x, y), (x, -y), (-x, -y)])[place]
    half = 0.5 * MARK_MM
    corners: FloatArray = middle + np.array(
        [(-half, half), (half, half), (half, -half), (-half, -half)]
    )
    return corners


def centred_box(wide_mm: float, high_mm: float) -> FloatArray:
    """Return the corners of a rectangle about the origin, anticlockwise, shape (4, 2)."""
    x, y = 0.5 * wide_mm, 0.5 * high_mm
    return np.array([(-x, -y), (x, -y), (x, y), (-x, y)])
