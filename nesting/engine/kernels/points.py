"""How deep a point lies inside a no-fit polygon: the question asked of every candidate place."""

import math

import numpy as np

from nesting.engine.kernels.jit import FloatArray, uncounted


@uncounted()
def is_deep_inside(x: float, y: float, edges: FloatArray, depth: float) -> bool:
    """Tell whether (x, y) lies inside and farther than ``depth`` from every edge.

    ``edges`` has shape (n, 4): x0, y0, x1, y1 of every edge of every ring, holes included; a point
    is inside when a ray from it crosses an odd number of them. Touching is not inside.
    """
    crossings = False
    for e in range(len(edges)):
        y0, y1 = edges[e, 1], edges[e, 3]
        if (y0 > y) != (y1 > y):
            x0, x1 = edges[e, 0], edges[e, 2]
            if (x1 - x0) * (y - y0) / (y1 - y0) + x0 > x:
                crossings = not crossings
    if not crossings:
        return False
    limit = depth * depth
    least = np.inf
    for e in range(len(edges)):
        least = min(least, squared_distance(x, y, edges[e]))
    return least > limit


@uncounted()
def squared_distance(x: float, y: float, edge: FloatArray) -> float:
    """Return the squared distance from (x, y) to the segment ``edge``: x0, y0, x1, y1."""
    x0, y0 = float(edge[0]), float(edge[1])
    dx, dy = float(edge[2]) - x0, float(edge[3]) - y0
    length = dx * dx + dy * dy
    along = 0.0
    if length > 0.0:
        along = min(1.0, max(0.0, ((x - x0) * dx + (y - y0) * dy) / length))
    ox, oy = x0 + along * dx - x, y0 + along * dy - y
    return ox * ox + oy * oy


@uncounted()
def crossing(a: FloatArray, b: FloatArray) -> tuple[float, float, bool]:
    """Return where two segments meet and whether they do: x, y, found.

    ``a`` and ``b`` are rows x0, y0, x1, y1. Parallel segments do not meet: where they overlap,
    their end points are candidates of their own.
    """
    adx, ady = a[2] - a[0], a[3] - a[1]
    bdx, bdy = b[2] - b[0], b[3] - b[1]
    det = adx * bdy - ady * bdx
    if det == 0.0:
        return 0.0, 0.0, False
    ox, oy = b[0] - a[0], b[1] - a[1]
    s = (ox * bdy - oy * bdx) / det
    t = (ox * ady - oy * adx) / det
    slack = 1e-9
    if s < -slack or s > 1.0 + slack or t < -slack or t > 1.0 + slack:
        return 0.0, 0.0, False
    return a[0] + s * adx, a[1] + s * ady, True


@uncounted()
def snapped(value: float, lattice: float) -> float:
    """Return the multiple of ``lattice`` nearest to ``value``."""
    return lattice * math.floor(value / lattice + 0.5)
