"""Outlines from one photograph or several: joined where they overlap, refused where cut off."""

from collections.abc import Sequence

import numpy as np
import shapely

from pieces.errors import PhotoError
from pieces.outline.polygon import FloatArray
from pieces.photo.plane import Plane
from pieces.photo.tracing import LEAST_PIECE_MM2, Traced, smooth_outline

_FRAME_PX = 4.0
_ON_FRAME_MM = 1.0
_CUT_RUN_MM = 8.0
_SHEET_SHARE = 1.3


def frame_mm(plane: Plane) -> shapely.Polygon:
    """Return the part of the floor a photograph shows, without its outermost pixels.

    Raises
    ------
    PhotoError
        If it shows the horizon.
    """
    wide, high = (size - 1.0 - _FRAME_PX for size in plane.size_px)
    low = _FRAME_PX
    shares = np.linspace(0.0, 1.0, 40, endpoint=False)[:, None]
    corners = np.array([(low, low), (wide, low), (wide, high), (low, high)])
    sides = [
        a + shares * (b - a) for a, b in zip(corners, np.roll(corners, -1, axis=0), strict=True)
    ]
    ring = plane.to_mm(np.concatenate(sides))
    if not np.isfinite(ring).all():
        raise PhotoError("the photograph looks along the floor; hold the camera above the pieces")
    return shapely.Polygon(ring)


def joined(
    traced: Sequence[Sequence[Traced]],
    planes: Sequence[Plane],
    sheets_mm: Sequence[FloatArray],
) -> list[FloatArray]:
    """Return the outlines of the pieces from left to right, each of shape (n, 2), mm.

    Parameters
    ----------
    traced
        For each photograph everything made of paper.
    planes
        The photographs.
    sheets_mm
        Corners of the sheets, which are no pieces.

    Raises
    ------
    PhotoError
        If a piece touches a sheet or the edge of what the photographs show, or there is none.
    """
    frames = [frame_mm(plane) for plane in planes]
    parts = [
        shapely.intersection(shapely.make_valid(shapely.Polygon(one.outline_mm)), frame)
        for pieces, frame in zip(traced, frames, strict=True)
        for one in pieces
    ]
    whole = [
        part
        for part in shapely.get_parts(shapely.union_all(parts))
        if part.geom_type == "Polygon" and part.area >= LEAST_PIECE_MM2
    ]
    pieces = [one for one in whole if not _is_sheet(one, sheets_mm)]
    for piece in pieces:
        _refuse_cut_off(piece, frames)
    if not pieces:
        raise PhotoError(
            "nothing but the sheet was found; lay the pieces flat on a plain floor darker than "
            "they are"
        )
    outlines = [smooth_outline(shapely.get_coordinates(one.exterior)[:-1]) for one in pieces]
    return sorted(outlines, key=lambda ring: float(ring[:, 0].min() + ring[:, 0].max()))


def _is_sheet(paper: shapely.Polygon, sheets_mm: Sequence[FloatArray]) -> bool:
    sheets = [shapely.Polygon(corners) for corners in sheets_mm]
    held = [sheet for sheet in sheets if paper.contains(sheet.centroid)]
    if not held:
        return False
    if paper.area > _SHEET_SHARE * shapely.union_all(held).area:
        raise PhotoError("a piece touches the sheet; leave two fingers' width of floor between")
    return True


def _refuse_cut_off(piece: shapely.Polygon, frames: Sequence[shapely.Polygon]) -> None:
    for frame in frames:
        near = shapely.intersection(piece.exterior, frame.exterior.buffer(_ON_FRAME_MM))
        runs = shapely.get_parts(
            shapely.line_merge(near) if len(shapely.get_parts(near)) > 1 else near
        )
        if max((run.length for run in runs), default=0.0) > _CUT_RUN_MM:
            wide, high = (np.ptp(shapely.get_coordinates(piece)[:, axis]) for axis in (0, 1))
            raise PhotoError(
                f"something of {wide:.0f} x {high:.0f} mm as light as paper touches the "
                "photograph's edge; step back until every piece has floor all around, or clear "
                "it away"
            )
