"""A blank sheet of known size in a photograph: four straight edges that fit its proportions.

Which sheet a quadrilateral can be is judged through a camera with square pixels whose middle is
the middle of the photograph (Zhang & He 2007, "Whiteboard scanning and image enhancement").
"""

import math
from dataclasses import dataclass

import numpy as np

from pieces.errors import PhotoError
from pieces.outline.polygon import FloatArray
from pieces.photo.library import opencv
from pieces.photo.marks import KnownPoints
from pieces.photo.profiles import crossings
from pieces.photo.reading import Photo
from pieces.photo.sheets import SHEETS_MM, PaperSheet

_WORK_PX = 1600
_LEAST_SHARE, _LARGEST_SHARE = 0.003, 0.5
_FOCAL_SHARE = 0.62
"""Focal length over the diagonal where the camera does not tell: a phone's main lens, 26 to 28 mm
on 36 x 24 mm film (common practice)."""
_STRAIGHT_PX = 1.5
_SIGMA_PX = 0.3
_MOST_COST, _ALIKE, _OTHER = 40.0, 6.0, 3.0
_EDGE_PX = 4.0


@dataclass(frozen=True, eq=False)
class _Quad:
    """Corners anticlockwise as seen, shape (4, 2), pixels, a short side first; and its cost."""

    corners_px: FloatArray
    cost: float


def find_blank_sheet(photo: Photo, sheet: PaperSheet) -> KnownPoints:
    """Return the corners of the one blank sheet in a photograph.

    Raises
    ------
    PhotoError
        If there is none, it is cut off, there are several, or its proportions are those of
        another sheet.
    """
    whole, is_cut_off = [], False
    for quad in _quads(photo):
        if _near_edge(quad, photo.size_px):
            is_cut_off = True
            continue
        fine = _fine(photo, quad)
        if fine is not None:
            whole.append(fine)
    fitting = [_best(fine, sheet, photo) for fine in whole]
    fitting = sorted((one for one in fitting if one.cost < _MOST_COST), key=lambda one: one.cost)
    if not fitting:
        raise PhotoError(_nothing(whole, sheet, photo, is_cut_off=is_cut_off))
    found = fitting[0]
    _refuse_other(found, sheet, photo)
    if len(fitting) > 1 and fitting[1].cost < found.cost + _ALIKE:
        raise PhotoError(
            f"there are {len(fitting)} shapes that could be the {sheet.name} sheet; leave one in "
            "view, or use printed marks (nesting import --print-marks marks.pdf)"
        )
    return KnownPoints(
        sheet=0,
        at_mm=sheet.corners_mm,
        at_px=found.corners_px,
        outline_mm=sheet.corners_mm,
        sigma_px=_SIGMA_PX,
    )


def _nothing(whole: list[FloatArray], sheet: PaperSheet, photo: Photo, *, is_cut_off: bool) -> str:
    """Return why no sheet was found."""
    for name, sides in SHEETS_MM.items():
        other = PaperSheet(name, *sides)
        if name != sheet.name and any(_best(one, other, photo).cost < 9.0 for one in whole):
            return (
                f"no {sheet.name} sheet was found, but one with the proportions of {name}; say "
                f"--sheet {name} if it is one"
            )
    if is_cut_off:
        return (
            f"no whole {sheet.name} sheet was found, but a shape at the photograph's edge may be "
            "it; take the photograph anew with all four corners in view"
        )
    return (
        f"no {sheet.name} sheet was found; lay a flat blank one beside the pieces, on a darker "
        "floor, touching nothing"
    )


def _refuse_other(found: _Quad, sheet: PaperSheet, photo: Photo) -> None:
    """Refuse a sheet that is more like another of those known by name."""
    for name, sides in SHEETS_MM.items():
        if math.isclose(sides[1] / sides[0], sheet.long_mm / sheet.short_mm, rel_tol=0.01):
            continue
        other = _best(found.corners_px, PaperSheet(name, *sides), photo)
        if other.cost + _OTHER < found.cost:
            raise PhotoError(
                f"the sheet has the proportions of {name} and not of {sheet.name}; say --sheet "
                f"{name} if it is one, or hold the camera straight above it"
            )


def _quads(photo: Photo) -> list[FloatArray]:
    """Return light shapes with four corners, shape (4, 2) each, pixels."""
    cv = opencv()
    share = min(1.0, _WORK_PX / max(photo.size_px))
    small = cv.resize(photo.grey, None, fx=share, fy=share, interpolation=cv.INTER_AREA)
    small = cv.GaussianBlur(small, (0, 0), 1.2)
    otsu, _ = cv.threshold(small, 0, 255, cv.THRESH_BINARY | cv.THRESH_OTSU)
    high, _ = cv.threshold(small[small > otsu][None, :], 0, 255, cv.THRESH_OTSU)
    found: list[FloatArray] = []
    for level in (otsu, 0.5 * (otsu + high), high):
        _, mask = cv.threshold(small, level, 255, cv.THRESH_BINARY)
        for contour in cv.findContours(mask, cv.RETR_EXTERNAL, cv.CHAIN_APPROX_NONE)[0]:
            corners = _four_corners(contour, small.size)
            if corners is not None:
                corners = (corners + 0.5) / share - 0.5
                if not any(np.abs(corners - one).max() < 8.0 / share for one in found):
                    found.append(corners)
    return found


def _four_corners(contour: np.ndarray, pixels: int) -> FloatArray | None:
    cv = opencv()
    area = cv.contourArea(contour)
    if not _LEAST_SHARE * pixels <= area <= _LARGEST_SHARE * pixels:
        return None
    hull = cv.convexHull(contour)
    if area < 0.95 * cv.contourArea(hull):
        return None
    for share in (0.015, 0.025, 0.04):
        corners = cv.approxPolyDP(hull, share * cv.arcLength(hull, True), True)
        if len(corners) == 4 and area > 0.9 * cv.contourArea(corners):
            ring: FloatArray = corners.reshape(4, 2).astype(np.float64)
            x, y = ring.T
            turning = float((x * np.roll(y, -1) - y * np.roll(x, -1)).sum())
            least = int(np.argmin(ring.sum(axis=1)))
            ring = np.roll(ring, -least, axis=0)
            return ring if turning < 0 else np.roll(ring[::-1], 1, axis=0)
    return None


def _near_edge(corners: FloatArray, size_px: tuple[int, int]) -> bool:
    high = np.array(size_px) - 1.0 - _EDGE_PX
    return bool((corners < _EDGE_PX).any() or (corners > high).any())


def _fine(photo: Photo, corners: FloatArray) -> FloatArray | None:
    """Return the corners where straight lines along the four edges meet, or None if bent."""
    cv = opencv()
    lines = []
    for start, end in zip(corners, np.roll(corners, -1, axis=0), strict=True):
        along = (end - start) / np.linalg.norm(end - start)
        out = np.array([-along[1], along[0]])
        shares = np.linspace(0.08, 0.92, 80)[:, None]
        points = start + shares * (end - start)
        reach = max(6.0, 0.02 * float(np.linalg.norm(end - start)))
        at, good = crossings(photo.grey, points, np.broadcast_to(out, points.shape), reach)
        edge = (points + at[:, None] * out)[good]
        if len(edge) < 40:
            return None
        vx, vy, x, y = np.asarray(
            cv.fitLine(edge.astype(np.float32), cv.DIST_HUBER, 0, 0.01, 0.01), dtype=np.float64
        ).ravel()
        off = np.abs((edge[:, 0] - x) * vy - (edge[:, 1] - y) * vx)
        if np.quantile(off, 0.8) > _STRAIGHT_PX * max(1.0, max(photo.size_px) / 3000):
            return None
        lines.append(np.cross((x, y, 1.0), (x + vx, y + vy, 1.0)))
    met = [np.cross(lines[i - 1], lines[i]) for i in range(4)]
    return np.array([one[:2] / one[2] for one in met])


def _best(corners_px: FloatArray, sheet: PaperSheet, photo: Photo) -> _Quad:
    """Return the corners in the better of the two orders, and how ill the sheet fits them."""
    tried = [np.roll(corners_px, -shift, axis=0) for shift in (0, 1)]
    costs = [_cost(one, sheet, photo) for one in tried]
    best = int(np.argmin(costs))
    return _Quad(tried[best], costs[best])


def _cost(corners_px: FloatArray, sheet: PaperSheet, photo: Photo) -> float:
    """Return how ill a rectangle seen there fits the sheet, at the camera that suits it best."""
    cv = opencv()
    diagonal = math.hypot(*photo.size_px)
    middle = 0.5 * (np.array(photo.size_px) - 1.0)
    seen = ((corners_px - middle) / diagonal).astype(np.float32)
    lens = cv.getPerspectiveTransform(sheet.corners_mm.astype(np.float32), seen)
    told = photo.focal_px
    wanted = _FOCAL_SHARE if told is None else told / diagonal
    loose = 0.3 if told is None else 0.06
    least = math.inf
    for step in np.linspace(-2.5, 2.5, 51):
        focal = wanted * math.exp(loose * step)
        right, up = (lens[:, i] / (focal, focal, 1.0) for i in (0, 1))
        long, short = float(np.linalg.norm(up)), float(np.linalg.norm(right))
        lean = float(right @ up) / (long * short)
        cost = (lean / 0.012) ** 2 + (math.log(long / short) / 0.015) ** 2 + step**2
        least = min(least, cost)
    return least
