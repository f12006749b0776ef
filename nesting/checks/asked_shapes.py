"""Whether the outlines and marks of a cut list are those that the pattern sheet draws."""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np
import shapely

from nesting.checks.asked_pieces import Wanted
from nesting.checks.laid_pieces import error
from nesting.checks.own_places import (
    FOLD_LEANS_DEG,
    arrow_deg,
    mirrored,
    opened_out,
    same_outline,
    turned,
)
from nesting.marker.cut_list import CutItem
from pieces.finding import Finding
from pieces.grainline import Grain, Point
from pieces.outline.polygon import FloatArray
from pieces.piece import PieceShape

_MARK_OFF_MM = 0.1
_LEANS_TOO_MUCH_DEG = 0.1

Move = Callable[[FloatArray], FloatArray]


@dataclass(frozen=True, eq=False)
class _Drawn:
    """An outline and its marks, each kind of mark with all its places, shape (k, 2), mm."""

    outline_mm: FloatArray
    marks_mm: dict[str, FloatArray]

    def from_corner(self, kind: str) -> FloatArray | None:
        """Return the places of one kind counted from the corner of the box, or None, mm."""
        places = self.marks_mm.get(kind)
        return None if places is None else places - self.outline_mm.min(axis=0)


def shape_findings(one: Wanted, item: CutItem) -> Iterator[Finding]:
    """Yield how whole and half differ from the sheet: ``other-outline``, ``other-marks``."""
    sheet = one.shape
    yield from _compared(one, "", whole_of(sheet), _as_it_is(item.shape))
    leans_deg = _fold_leans_deg(sheet)
    may_fold = leans_deg is not None and one.piece.grain in (Grain.LENGTHWISE, Grain.FREE)
    if item.half is not None:
        if leans_deg is None or not may_fold or abs(leans_deg) > FOLD_LEANS_DEG:
            sentence = f"{one.label} may be laid on a fold in the marker, and not by the sheet"
            yield error("other-outline", sentence, one.label)
        else:
            yield from _compared(one, "the half of ", half_of(sheet), _as_it_is(item.half))
    elif may_fold and leans_deg is not None and abs(leans_deg) < _LEANS_TOO_MUCH_DEG - 1e-3:
        sentence = f"{one.label} is half a piece on the sheet, and the marker has no half of it"
        yield error("other-outline", sentence, one.label)


def _compared(one: Wanted, which: str, sheet: _Drawn | None, found: _Drawn) -> Iterator[Finding]:
    if sheet is None or not same_outline(found.outline_mm, sheet.outline_mm):
        sentence = f"the outline of {which}{one.label} is not that of the sheet"
        yield error("other-outline", f"{sentence}{_size_words(one, which, found)}", one.label)
        return
    for kind in sorted({*sheet.marks_mm, *found.marks_mm}):
        if not _same_places(sheet.from_corner(kind), found.from_corner(kind)):
            sentence = f"{kind} of {which}{one.label} is not where the sheet has it"
            yield error("other-marks", sentence, one.label)


def _size_words(one: Wanted, which: str, found: _Drawn) -> str:
    """Return which size of the sheet an outline is, in words, if it is one."""
    for size, shape in one.piece.shapes.items():
        drawn = half_of(shape) if which else whole_of(shape)
        if size != one.size and drawn and same_outline(found.outline_mm, drawn.outline_mm):
            return f": it is that of size {size}"
    return ""


def whole_of(sheet: PieceShape) -> _Drawn | None:
    """Return a drawn shape as a whole with its arrow along x; None if it does not open out."""
    upright_deg = -_arrow_deg(sheet)
    outline: FloatArray | None = sheet.outline_mm
    fold = sheet.fold_edge_mm
    if fold is not None:
        if math.dist(*fold) < 1.0:
            return None
        outline = opened_out(sheet.outline_mm, fold)
    if outline is None:
        return None
    marks = _marks(sheet)
    if fold is not None:
        marks |= {
            kind: np.concatenate([places, mirrored(places, fold)])
            for kind, places in marks.items()
            if not kind.startswith("the arrow")
        }
    return _moved(_Drawn(outline, marks), lambda points: turned(points, upright_deg))


def half_of(sheet: PieceShape) -> _Drawn | None:
    """Return a drawn half with its fold edge along x below it, its arrow pointing on along x."""
    if sheet.fold_edge_mm is None:
        return None
    fold_deg = _arrow_deg(sheet) - (_fold_leans_deg(sheet) or 0.0)
    drawn = _moved(
        _Drawn(sheet.outline_mm, _marks(sheet)), lambda points: turned(points, -fold_deg)
    )
    fold_y = turned(np.array(sheet.fold_edge_mm), -fold_deg)[:, 1].mean()
    if shapely.Polygon(drawn.outline_mm).centroid.y < fold_y:
        return _moved(drawn, lambda points: points * (1.0, -1.0))
    return drawn


def _as_it_is(shape: PieceShape) -> _Drawn:
    return _Drawn(shape.outline_mm, _marks(shape))


def _moved(drawn: _Drawn, move: Move) -> _Drawn:
    marks = {kind: move(places) for kind, places in drawn.marks_mm.items()}
    return _Drawn(move(drawn.outline_mm), marks)


def _marks(shape: PieceShape) -> dict[str, FloatArray]:
    """Return the places of each kind of mark, under the words for it."""
    found: dict[str, list[Point]] = {
        "the arrow's tail": [shape.grainline.tail_mm],
        "the arrow's head": [shape.grainline.head_mm],
    }
    for notch in shape.notches:
        found.setdefault("a notch", []).append(notch.at_mm)
    for hole in shape.drill_holes:
        found.setdefault("a drill hole", []).append(hole.at_mm)
    for mark in shape.match_points:
        found.setdefault(f'match point "{mark.name}"', []).append(mark.at_mm)
    for line in shape.internal_lines:
        corners = [(float(x), float(y)) for x, y in line.points_mm]
        found.setdefault(f'line "{line.name}"', []).extend(corners)
    return {kind: np.array(places, dtype=np.float64) for kind, places in found.items()}


def _same_places(first: FloatArray | None, second: FloatArray | None) -> bool:
    """Tell whether each place of either has one of the other beside it."""
    if first is None or second is None:
        return False
    clouds = shapely.points(first), shapely.points(second)
    for cloud, other in (clouds, clouds[::-1]):
        nearest = shapely.STRtree(other).query_nearest(
            cloud, return_distance=True, all_matches=False
        )
        if float(nearest[1].max()) > _MARK_OFF_MM:
            return False
    return True


def _arrow_deg(shape: PieceShape) -> float:
    return arrow_deg(shape.grainline.tail_mm, shape.grainline.head_mm)


def _fold_leans_deg(shape: PieceShape) -> float | None:
    """Return by how much the arrow leans from the fold edge, -90 to 90 degrees, or None."""
    if shape.fold_edge_mm is None:
        return None
    return (_arrow_deg(shape) - arrow_deg(*shape.fold_edge_mm) + 90.0) % 180.0 - 90.0
