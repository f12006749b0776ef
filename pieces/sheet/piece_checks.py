"""What a person about to cut would want to hear about a pattern before trusting it."""

import math
from collections.abc import Iterator

import numpy as np
import shapely

from pieces.errors import PieceError, listed
from pieces.finding import Finding, Severity
from pieces.grainline import Grain, Point
from pieces.outline.polygon import area_mm2, bounds_mm
from pieces.pattern import Pattern
from pieces.piece import Piece, PieceShape
from pieces.shaping.unfold import unfold

NOTCH_OFF_MM = 2.0
MARK_OFF_MM = 0.01
FOLD_OFF_GRAIN_DEG = 0.1
LARGEST_MM = 5000.0
SMALLEST_MM = 5.0
THINNEST_MM = 0.1
"""Mean width, below which nothing is left once an outline is rounded to be laid."""


def check_pattern(pattern: Pattern) -> tuple[Finding, ...]:
    """Return everything doubtful about a pattern, piece by piece; nothing if all is well.

    Codes: ``too-thin``, ``fold-not-an-edge``, ``fold-off-grain`` and ``fold-in-some-sizes`` are
    errors;
    ``notch-off-edge``, ``mark-outside``, ``size-not-growing``, ``strange-size``,
    ``unused-piece`` and ``unused-cloth`` are warnings. The limits (2 mm for a notch, 0.1 degree
    for a fold edge, 5 mm to 5 m for a piece) are common practice.
    """
    findings: list[Finding] = []
    for piece in pattern.pieces:
        for size in pattern.sizes:
            findings += _check_shape(piece, size, piece.shape(size))
        findings += _check_growth(piece, pattern.sizes)
        findings += _check_folds(piece, pattern.sizes)
    findings += _check_use(pattern)
    return tuple(findings)


def _check_shape(piece: Piece, size: str, shape: PieceShape) -> Iterator[Finding]:
    where = f'piece "{piece.name}", size {size}: '
    for code, sentence in (*_about_marks(shape), *_about_extent(shape)):
        yield Finding(code, Severity.WARNING, where + sentence, (piece.name,))
    for code, sentence in (*_about_width(shape), *_about_fold(shape, piece.grain)):
        yield Finding(code, Severity.ERROR, where + sentence, (piece.name,))


def _about_marks(shape: PieceShape) -> Iterator[tuple[str, str]]:
    surface = shapely.polygons(shape.outline_mm)
    for notch in shape.notches:
        off = shapely.distance(surface.exterior, shapely.points(notch.at_mm))
        if off > NOTCH_OFF_MM:
            yield (
                "notch-off-edge",
                f"notch at {_at(notch.at_mm)} is {off:.1f} mm off the outline; "
                f"it should be within {NOTCH_OFF_MM:g} mm",
            )
    inner = [(f'match point "{mark.name}"', mark.at_mm) for mark in shape.match_points]
    inner += [("drill hole", mark.at_mm) for mark in shape.drill_holes]
    for what, place in inner:
        off = shapely.distance(surface, shapely.points(place))
        if off > MARK_OFF_MM:
            yield "mark-outside", f"{what} at {_at(place)} is {off:.1f} mm outside the outline"


def _about_extent(shape: PieceShape) -> Iterator[tuple[str, str]]:
    x_low, y_low, x_high, y_high = bounds_mm(shape.outline_mm)
    long, short = max(x_high - x_low, y_high - y_low), min(x_high - x_low, y_high - y_low)
    if long > LARGEST_MM or short < SMALLEST_MM:
        yield (
            "strange-size",
            f"piece is {x_high - x_low:.4g} x {y_high - y_low:.4g} mm; pieces are between "
            f"{SMALLEST_MM:g} mm and {LARGEST_MM:g} mm, so check the units",
        )


def _about_width(shape: PieceShape) -> Iterator[tuple[str, str]]:
    x_low, y_low, x_high, y_high = bounds_mm(shape.outline_mm)
    wide_mm = area_mm2(shape.outline_mm) / math.hypot(x_high - x_low, y_high - y_low)
    if wide_mm < THINNEST_MM:
        yield (
            "too-thin",
            f"piece is {wide_mm:.2g} mm wide on average; it needs at least {THINNEST_MM:g} mm to "
            "be cut, so check the units",
        )


def _about_fold(shape: PieceShape, grain: Grain) -> Iterator[tuple[str, str]]:
    if shape.fold_edge_mm is None:
        return
    try:
        unfold(shape)
    except PieceError as error:
        yield "fold-not-an-edge", str(error)
    if grain not in (Grain.LENGTHWISE, Grain.CROSSWISE):
        return
    off = _off_axis_deg(shape)
    if off > FOLD_OFF_GRAIN_DEG:
        yield (
            "fold-off-grain",
            f"fold edge is {off:.1f} degrees off the grainline; on {grain} grain it must be "
            f"parallel or at right angles to it within {FOLD_OFF_GRAIN_DEG:g} degree",
        )


def _off_axis_deg(shape: PieceShape) -> float:
    """Return the angle of the fold edge to the grainline or its perpendicular, at most 45."""
    (x0, y0), (x1, y1) = shape.fold_edge_mm or ((0.0, 0.0), (0.0, 0.0))
    fold_deg = math.degrees(math.atan2(y1 - y0, x1 - x0))
    return abs((fold_deg - shape.grainline.angle_deg + 45.0) % 90.0 - 45.0)


def _check_growth(piece: Piece, sizes: tuple[str, ...]) -> Iterator[Finding]:
    areas = np.array([area_mm2(piece.shape(size).outline_mm) for size in sizes])
    for i in np.flatnonzero(areas[1:] < areas[:-1] * (1.0 - 1e-9)).tolist():
        sentence = (
            f'piece "{piece.name}" has {areas[i + 1] / 100:.0f} cm² in size {sizes[i + 1]} and '
            f"{areas[i] / 100:.0f} cm² in the smaller size {sizes[i]}; check the order of sizes"
        )
        yield Finding("size-not-growing", Severity.WARNING, sentence, (piece.name,))


def _check_folds(piece: Piece, sizes: tuple[str, ...]) -> Iterator[Finding]:
    without = [size for size in sizes if piece.shape(size).fold_edge_mm is None]
    if without and len(without) < len(sizes):
        sentence = (
            f'piece "{piece.name}" has no fold edge in size {listed(without)} but has one in '
            "the other sizes; give it in all sizes or in none"
        )
        yield Finding("fold-in-some-sizes", Severity.ERROR, sentence, (piece.name,))


def _check_use(pattern: Pattern) -> Iterator[Finding]:
    used = {name for view in pattern.views for name in view.pieces}
    for piece in pattern.pieces:
        if piece.name not in used:
            sentence = f'piece "{piece.name}" is used in no view, so it will never be laid out'
            yield Finding("unused-piece", Severity.WARNING, sentence, (piece.name,))
    cut = {cut.cloth for piece in pattern.pieces for cut in piece.cuts}
    for cloth in pattern.cloths:
        if cloth.name not in cut:
            sentence = f'no piece is cut from cloth "{cloth.name}"; remove it or add a cut count'
            yield Finding("unused-cloth", Severity.WARNING, sentence)


def _at(place: Point) -> str:
    return f"({place[0]:g}, {place[1]:g}) mm"
