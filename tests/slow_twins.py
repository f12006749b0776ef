"""Slow, obvious twins of the kernels, for comparison."""

import math
from collections.abc import Callable

import numpy as np
import shapely

from nesting.engine.prepared import PreparedStrip
from pieces.outline.polygon import FloatArray


def is_deep_inside(x: float, y: float, edges: FloatArray, depth: float) -> bool:
    """Ask shapely: inside the rings (even-odd), and farther than ``depth`` from every edge."""
    point = shapely.Point(x, y)
    lines = shapely.linestrings(edges.reshape(-1, 2, 2))
    crossings = sum(
        1
        for x0, y0, x1, y1 in edges
        if (y0 > y) != (y1 > y) and x0 + (x1 - x0) * (y - y0) / (y1 - y0) > x
    )
    return crossings % 2 == 1 and float(shapely.distance(lines, point).min()) > depth


def lowest_left_on_lattice(
    outline: FloatArray,
    width: int,
    laid: list[shapely.Polygon],
    allowed: Callable[[int, int], bool] = lambda _x, _y: True,
) -> tuple[int, int]:
    """Try every whole-number place from the left, each column from below, and take the first."""
    low_x, low_y, high_x, high_y = shapely.Polygon(outline).bounds
    tree = shapely.STRtree(laid)
    for x in range(10_000):
        for y in range(width - math.ceil(high_y - low_y) + 1):
            if not allowed(x, y):
                continue
            here = shapely.Polygon(outline - np.array([low_x, low_y]) + np.array([x, y]))
            near = [laid[index] for index in tree.query(here)]
            if all(shapely.intersection(here, other).area < 1e-9 for other in near):
                return x, y
    raise AssertionError(f"no place found for an outline {high_x - low_x} long")


def fill_on_lattice(
    prepared: PreparedStrip,
    items: list[int],
    width: int,
    allowed: Callable[[int, int], bool] = lambda _x, _y: True,
) -> list[tuple[int, int]]:
    """Lay rectangles or rectilinear outlines with whole-number corners, one by one."""
    laid: list[shapely.Polygon] = []
    places = []
    for item in items:
        outline = prepared.shapes[prepared.poses[item][0].shape] / prepared.scale
        place = lowest_left_on_lattice(outline, width, laid, allowed)
        laid.append(shapely.Polygon(outline + np.array(place)))
        places.append(place)
    return places


def overlap_depth(x: float, y: float, edges: FloatArray) -> float:
    """Return the distance from (x, y) to the nearest edge if inside the rings, else 0."""
    lines = shapely.linestrings(edges.reshape(-1, 2, 2))
    if not is_deep_inside(x, y, edges, 0.0):
        return 0.0
    return float(shapely.distance(lines, shapely.Point(x, y)).min())
