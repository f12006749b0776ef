"""Lengths of SVG, and how large one unit of a drawing is.

CSS fixes the absolute lengths to one another: 96 px, 72 pt and 6 pc are an inch, 40 Q a
centimetre. A user unit is a px where nothing else is said (W3C, CSS Values and Units).
"""

import re
from collections.abc import Mapping

import numpy as np

from pieces.errors import DrawingError
from pieces.measures.units import MM_PER_INCH
from pieces.outline.polygon import FloatArray

MM_PER = {
    "": MM_PER_INCH / 96.0,
    "px": MM_PER_INCH / 96.0,
    "pt": MM_PER_INCH / 72.0,
    "pc": MM_PER_INCH / 6.0,
    "in": MM_PER_INCH,
    "cm": 10.0,
    "mm": 1.0,
    "q": 0.25,
}
_LENGTH = re.compile(r"\s*([-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d{1,3})?)\s*([a-zA-Z%]*)\s*")
_LARGEST_MM = 1e6
_SAME_SCALE = 1e-4


def svg_length_mm(text: str) -> float | None:
    """Return a length of SVG in mm; None for a share of something unknown (%, em, ex, rem, ...).

    Raises
    ------
    DrawingError
        If it is no length.

    Examples
    --------
    >>> svg_length_mm("96px"), svg_length_mm("72pt"), svg_length_mm("40Q"), svg_length_mm("50%")
    (25.4, 25.4, 10.0, None)
    """
    match = _LENGTH.fullmatch(text[:100])
    if match is None:
        raise DrawingError(f'"{text[:40]}" is no length of SVG; write it like 210mm')
    per_mm = MM_PER.get(match[2].lower())
    return None if per_mm is None else float(match[1]) * per_mm


def user_length(text: str) -> float:
    """Return a length inside a drawing in its user units; a px is one user unit.

    Raises
    ------
    DrawingError
        If it is no length, or a share of something.

    Examples
    --------
    >>> user_length("12"), user_length("1in")
    (12.0, 96.0)
    """
    length_mm = svg_length_mm(text)
    if length_mm is None:
        raise DrawingError(f'"{text[:40]}" is a share and no length; give shapes plain numbers')
    return length_mm / MM_PER["px"]


def page_matrix(
    attributes: Mapping[str, str], unit_mm: float | None
) -> tuple[FloatArray, tuple[str, ...]]:
    """Return the map from user units, y down, to mm, y up, and what was assumed.

    Parameters
    ----------
    attributes
        Those of the root: width, height, viewBox, preserveAspectRatio.
    unit_mm
        Size of one user unit if a person said it; it outweighs what the file says.

    Returns
    -------
    tuple
        Matrix of shape (3, 3), with the lower left corner of the page at the origin, and notes.

    Raises
    ------
    DrawingError
        If width, height or viewBox cannot be read, or the page has no size.
    """
    box = _view_box(attributes.get("viewBox"))
    width, height = (_side_mm(attributes.get(side)) for side in ("width", "height"))
    if unit_mm is not None:
        across = down = unit_mm
        notes: tuple[str, ...] = (f"one unit of the drawing is {unit_mm:.6g} mm, as asked",)
    elif box is not None and (width is not None or height is not None):
        across, down = _scales(box, width, height, attributes.get("preserveAspectRatio", ""))
        notes = ()
    else:
        across = down = MM_PER["px"]
        has_size = box is None and width is not None
        told = "the drawing does not say how large it is, so one unit is taken as 1 px (1/96 in)"
        notes = () if has_size else (told,)
    left, top, _, tall = box if box is not None else (0.0, 0.0, 0.0, (height or 0.0) / down)
    matrix = np.array(
        [[across, 0.0, -left * across], [0.0, -down, (top + tall) * down], [0.0, 0.0, 1.0]]
    )
    return matrix, notes


def _scales(
    box: tuple[float, float, float, float],
    width: float | None,
    height: float | None,
    keep: str,
) -> tuple[float, float]:
    """Return mm per user unit across and down."""
    across = None if width is None else width / box[2]
    down = None if height is None else height / box[3]
    if across is None or down is None:
        one = across if down is None else down
        return float(one or 0.0), float(one or 0.0)
    if keep.split()[:1] == ["none"]:
        return across, down
    if "slice" in keep.split() and abs(across / down - 1.0) > _SAME_SCALE:
        raise DrawingError("the drawing is cut off by its page (slice); make page and box agree")
    if abs(across / down - 1.0) <= _SAME_SCALE:
        return across, across  # the same but for the rounding of the height
    return min(across, down), min(across, down)


def _side_mm(text: str | None) -> float | None:
    if text is None or text.strip() == "auto":
        return None
    side_mm = svg_length_mm(text)
    if side_mm is not None and not 0 < side_mm <= _LARGEST_MM:
        raise DrawingError(f'page size "{text[:40]}" is not above zero and at most 1 km')
    return side_mm


def _view_box(text: str | None) -> tuple[float, float, float, float] | None:
    if text is None:
        return None
    try:
        x, y, wide, tall = (float(word) for word in re.split(r"[\s,]+", text[:400].strip()))
    except ValueError:
        raise DrawingError(f'viewBox "{text[:40]}" is not four numbers') from None
    if not (0 < wide < 1e9 and 0 < tall < 1e9 and abs(x) < 1e9 and abs(y) < 1e9):
        raise DrawingError(f'viewBox "{text[:40]}" has no sensible size')
    return x, y, wide, tall
