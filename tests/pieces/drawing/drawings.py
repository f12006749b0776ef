"""Small drawings for tests, and how near two patterns are to each other."""

import numpy as np

from pieces.drawing.drawing import Drawing
from pieces.drawing.mapping_file import parse_mapping
from pieces.drawing.svg_file import parse_svg
from pieces.pattern import Pattern
from pieces.piece import PieceShape

NAMESPACES = (
    'xmlns="http://www.w3.org/2000/svg" '
    'xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" '
    'xmlns:xlink="http://www.w3.org/1999/xlink"'
)


def svg(body: str, *, size: str = 'width="500mm" height="400mm" viewBox="0 0 500 400"') -> bytes:
    """Return a drawing of which one unit is a millimetre, if nothing else is said."""
    return f"<svg {NAMESPACES} {size}>{body}</svg>".encode()


def drawn(body: str, *, size: str | None = None, mapping: str = "") -> Drawing:
    """Return what is read of such a drawing."""
    data = svg(body) if size is None else svg(body, size=size)
    return parse_svg(data, mapping=parse_mapping(mapping))


def extent(shape: PieceShape) -> list[float]:
    """Return width and height of a shape, mm."""
    sides: list[float] = (shape.outline_mm.max(axis=0) - shape.outline_mm.min(axis=0)).tolist()
    return sides


def deviation_mm(first: PieceShape, second: PieceShape) -> float:
    """Return the largest distance between points of two shapes that must correspond, mm."""
    pairs = [(first.outline_mm, second.outline_mm)]
    for one, other in zip(_points(first), _points(second), strict=True):
        assert one[0] == other[0]
        pairs.append((np.array(one[1]), np.array(other[1])))
    return max(float(np.abs(one - other).max()) for one, other in pairs)


def _points(shape: PieceShape) -> list[tuple[str, object]]:
    arrow = shape.grainline
    points: list[tuple[str, object]] = [("grain", (arrow.tail_mm, arrow.head_mm))]
    if shape.fold_edge_mm is not None:
        points.append(("fold", shape.fold_edge_mm))
    points += [("notch", mark.at_mm) for mark in shape.notches]
    points += [(f"match {mark.name}", mark.at_mm) for mark in shape.match_points]
    points += [("hole", mark.at_mm) for mark in shape.drill_holes]
    points += [(f"line {line.name}", line.points_mm) for line in shape.internal_lines]
    return points


def largest_deviation_mm(first: Pattern, second: Pattern) -> float:
    """Return how far two patterns are apart, having held all else that is drawn to be equal."""
    for key in ("name", "sizes", "matching", "seam_allowance_mm", "note"):
        assert getattr(first, key) == getattr(second, key), key
    assert [one.name for one in first.cloths] == [one.name for one in second.cloths]
    views = [{v.name: set(v.pieces) for v in one.views} for one in (first, second)]
    assert views[0] == views[1]
    worst = 0.0
    for one, other in zip(first.pieces, second.pieces, strict=True):
        for key in ("name", "title", "cuts", "grain", "one_way", "note"):
            assert getattr(one, key) == getattr(other, key), key
        for size in first.sizes:
            worst = max(worst, deviation_mm(one.shape(size), other.shape(size)))
    return worst
