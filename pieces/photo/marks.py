"""Our printed marks in a photograph.

The marks are the first 24 of OpenCV's 5 x 5 dictionary of ArUco marks (Garrido-Jurado and others
2014, "Automatic generation and detection of highly reliable fiducial markers under occlusion").
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from pieces.outline.polygon import FloatArray
from pieces.photo.library import opencv
from pieces.photo.reading import Photo
from pieces.photo.sheets import MARK_CELLS, MARKS_ON_PAGE, PAGES, mark_corners_mm

LEAST_MARK_PX = 24.0


@dataclass(frozen=True, eq=False)
class KnownPoints:
    """Points of one sheet whose places on it are known.

    Parameters
    ----------
    sheet
        Number of the sheet; a page of marks has its own.
    at_mm, at_px
        The points on the sheet (mm, y up) and in the photograph (pixels, y down), shape (n, 2).
    outline_mm
        Corners of the sheet, shape (4, 2), mm.
    sigma_px
        How far a point may be off, as a standard deviation, pixels.
    """

    sheet: int
    at_mm: FloatArray
    at_px: FloatArray
    outline_mm: FloatArray
    sigma_px: float


def mark_cells(page: int, place: int) -> npt.NDArray[np.bool_]:
    """Return the black cells of a mark, shape (7, 7), top row first."""
    cv = opencv()
    number = MARKS_ON_PAGE * page + place
    cells = cv.aruco.generateImageMarker(_dictionary(), number, MARK_CELLS)
    black: npt.NDArray[np.bool_] = np.asarray(cells) == 0
    return black


def find_marks(photo: Photo, outline_mm: FloatArray) -> tuple[KnownPoints, ...]:
    """Return the corners of all marks of ours, page by page.

    Parameters
    ----------
    photo
        The photograph.
    outline_mm
        The largest page that marks are printed on, shape (4, 2), mm.
    """
    cv = opencv()
    how = cv.aruco.DetectorParameters()
    how.cornerRefinementMethod = cv.aruco.CORNER_REFINE_SUBPIX
    how.minMarkerPerimeterRate = 4.0 * LEAST_MARK_PX / max(photo.size_px)
    corners, numbers, _ = cv.aruco.ArucoDetector(_dictionary(), how).detectMarkers(photo.grey)
    pages: dict[int, list[tuple[FloatArray, FloatArray]]] = {}
    met: set[int] = set()
    for number, found in zip([] if numbers is None else numbers.ravel(), corners, strict=True):
        page, place = divmod(int(number), MARKS_ON_PAGE)
        if page < PAGES and int(number) not in met:
            met.add(int(number))
            at_px = np.asarray(found, dtype=np.float64).reshape(4, 2)
            pages.setdefault(page, []).append((mark_corners_mm(place), at_px))
    return tuple(
        KnownPoints(
            sheet=page,
            at_mm=np.concatenate([at_mm for at_mm, _ in pages[page]]),
            at_px=np.concatenate([at_px for _, at_px in pages[page]]),
            outline_mm=outline_mm,
            sigma_px=0.25,
        )
        for page in sorted(pages)
    )


def _dictionary() -> object:
    cv = opencv()
    return cv.aruco.getPredefinedDictionary(cv.aruco.DICT_5X5_50)
