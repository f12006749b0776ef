"""Named outlines whose areas can be worked out by hand."""

import math
from dataclasses import dataclass

import numpy as np

from pieces.grainline import Grainline
from pieces.outline.polygon import FloatArray
from pieces.piece import PieceShape


@dataclass(frozen=True, eq=False)
class Shown:
    """An outline of the gallery: vertices anticlockwise, mm, and the area inside, mm²."""

    name: str
    outline: FloatArray
    area_mm2: float


def _shown(name: str, area_mm2: float, points: list[tuple[float, float]]) -> Shown:
    return Shown(name, np.array(points, dtype=np.float64), area_mm2)


def circle(radius_mm: float, vertices: int) -> FloatArray:
    """Return a regular polygon on a circle about the origin, first vertex on +x, shape (n, 2)."""
    angles = 2.0 * np.pi * np.arange(vertices) / vertices
    return radius_mm * np.column_stack((np.cos(angles), np.sin(angles)))


def circle_area_mm2(radius_mm: float, vertices: int) -> float:
    """Return the area of :func:`circle`: that many triangles of two sides ``radius_mm``."""
    return vertices * radius_mm**2 * math.sin(2.0 * math.pi / vertices) / 2.0


def star(points: int = 5, outer_mm: float = 100.0, inner_mm: float = 40.0) -> FloatArray:
    """Return a star about the origin with alternate outer and inner vertices, shape (2n, 2)."""
    radii = np.tile([outer_mm, inner_mm], points)
    return circle(1.0, 2 * points) * radii[:, None]


def comb(teeth: int = 4) -> FloatArray:
    """Return a comb: a bar 20 mm high, teeth 10 wide and 80 long, gaps of 10, shape (4n, 2)."""
    width = 20.0 * teeth - 10.0
    points = [(0.0, 0.0), (width, 0.0)]
    for tooth in range(teeth - 1, -1, -1):
        left, right = 20.0 * tooth, 20.0 * tooth + 10.0
        points += [(right, 100.0), (left, 100.0)]
        if tooth:
            points += [(left, 20.0), (left - 10.0, 20.0)]
    return np.array(points)


# 100 x 100
SQUARE = _shown("square", 10_000.0, [(0, 0), (100, 0), (100, 100), (0, 100)])
# 300 x 200 / 2
TRIANGLE = _shown("triangle", 30_000.0, [(0, 0), (300, 0), (0, 200)])
# 200 x 300 less 120 x 200 cut from the upper right
L_SHAPE = _shown("L", 36_000.0, [(0, 0), (200, 0), (200, 100), (80, 100), (80, 300), (0, 300)])
# 200 x 200 less 100 x 150 cut from above
U_SHAPE = _shown(
    "U",
    25_000.0,
    [(0, 0), (200, 0), (200, 200), (150, 200), (150, 50), (50, 50), (50, 200), (0, 200)],
)
# ten triangles of sides 100 and 40 with 36 degrees between: 10 x 100 x 40 x sin(36 deg) / 2
STAR = Shown("star", star(), 20_000.0 * math.sin(math.radians(36.0)))
# bar 70 x 20 and four teeth 10 x 80
COMB = Shown("comb", comb(), 4_600.0)
CIRCLE = Shown("circle", circle(200.0, 100), circle_area_mm2(200.0, 100))

GALLERY = (SQUARE, TRIANGLE, L_SHAPE, U_SHAPE, STAR, COMB, CIRCLE)


def half_back() -> PieceShape:
    """Return a half back of 150 x 300 mm on the fold x = 0, its neck hollowed by 20 mm."""
    return PieceShape(
        outline_mm=np.array([(0, 0), (150, 0), (150, 300), (60, 300), (0, 280), (0, 140)], float),
        grainline=Grainline((70.0, 40.0), (70.0, 240.0)),
        fold_edge_mm=((0.0, 0.0), (0.0, 280.0)),
    )
