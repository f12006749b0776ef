"""No-fit polygons: where one outline must not go because it would overlap another.

With B's reference point at t, B overlaps A exactly when t lies inside the no-fit polygon
NFP(A, B) = A + (-B), and touches it when t lies on the boundary (Minkowski sum; de Berg, Cheong,
van Kreveld & Overmars, *Computational Geometry*, chapter on robot motion planning). The sum is
computed from the convolution of the two boundaries, so curved and hollow outlines cost little more
than convex ones and nothing is decomposed.

B is first drawn in by :data:`INSET` units. So a cavity that B fits exactly, which would have
no area, stays open as a passage a few units wide. Spikes thinner than :data:`THINNEST` units, which
rounding leaves where long edges are nearly parallel, are not passages and are removed.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import pyclipper

from nesting.engine.kernels.bundles import NoFit
from nesting.engine.kernels.convolution import closed_walks, convolution_segments, inset
from pieces.outline.polygon import FloatArray, as_outline, bounds_mm

IntArray = npt.NDArray[np.int64]

INSET = 4
THINNEST = 2.0
UNITS = 2.0**29


def no_fit_rings(fixed: IntArray, moving: IntArray) -> tuple[IntArray, ...]:
    """Return the rings of the no-fit polygon of ``moving`` about ``fixed``, in whole units.

    Parameters
    ----------
    fixed, moving
        Vertices, shapes (m, 2) and (n, 2), anticlockwise, simple, coordinates up to 2**30.

    Returns
    -------
    tuple of IntArray
        Each (k, 2); outer rings anticlockwise, holes (places inside a cavity) clockwise.
    """
    opposite = -inset(moving, INSET)
    segments = convolution_segments(fixed, opposite)
    walked, starts = closed_walks(segments, len(fixed) * len(opposite))
    points = fixed[walked // len(opposite)] + opposite[walked % len(opposite)]
    walks = np.split(points, starts[1:-1])
    clipper = pyclipper.Pyclipper()
    clipper.AddPaths([walk.tolist() for walk in walks], pyclipper.PT_SUBJECT, True)
    positive = pyclipper.PFT_POSITIVE
    rings = clipper.Execute(pyclipper.CT_UNION, positive, positive)
    cleaned = pyclipper.CleanPolygons(rings, THINNEST)
    return tuple(np.array(ring, dtype=np.int64) for ring in cleaned if len(ring) > 2)


def no_fit_polygon(fixed: FloatArray, moving: FloatArray) -> tuple[FloatArray, ...]:
    """Return the rings of the no-fit polygon in the unit of the outlines.

    Accurate to about 1e-8 of the larger outline, and drawn in by that much so that a touch never
    counts as an overlap.

    Raises
    ------
    OutlineError
        If an outline is not a simple polygon.
    """
    fixed, moving = as_outline(fixed), as_outline(moving)
    scale = unit_scale(max(float(np.abs(fixed).max()), float(np.abs(moving).max())))
    rings = no_fit_rings(in_units(fixed, scale), in_units(moving, scale))
    return tuple(ring / scale for ring in rings)


def unit_scale(largest: float) -> float:
    """Return the power of two that brings ``largest`` to at most :data:`UNITS`.

    A power of two keeps coordinates that are whole numbers exact.
    """
    return float(2.0 ** np.floor(np.log2(UNITS / largest)))


def in_units(points: FloatArray, scale: float) -> IntArray:
    """Return ``points`` times ``scale`` rounded to whole units, shape (n, 2)."""
    return np.rint(points * scale).astype(np.int64)


@dataclass(frozen=True)
class NoFitTable:
    """The no-fit polygons of every ordered pair of shapes, as flat arrays for the kernels.

    Parameters
    ----------
    edges
        x0, y0, x1, y1 of every edge, shape (e, 4), whole units in float64.
    reflex
        Whether the polygon turns right at an edge's start and at its end, shape (e, 2).
    starts
        First edge and one past the last, for each laid and each new shape, shape (s, s, 2).
    boxes
        Least x, least y, greatest x, greatest y of each, shape (s, s, 4).
    """

    edges: FloatArray
    reflex: npt.NDArray[np.bool_]
    starts: IntArray
    boxes: FloatArray

    def arrays(self) -> NoFit:
        """Return what filling needs to know of the no-fit polygons."""
        return NoFit(edges=self.edges, starts=self.starts, boxes=self.boxes)


def no_fit_table(shapes: tuple[IntArray, ...]) -> NoFitTable:
    """Return the no-fit polygons of every ordered pair of ``shapes``.

    Only one of each pair is computed where symmetry gives the others: NFP(B, A) = -NFP(A, B), and
    turning both shapes by 180 degrees turns their no-fit polygon.
    """
    count = len(shapes)
    opposite = _half_turned(shapes)
    rings: dict[tuple[int, int], tuple[IntArray, ...]] = {}
    for a in range(count):
        for b in range(count):
            if (a, b) in rings:
                continue
            rings[a, b] = no_fit_rings(shapes[a], shapes[b])
            rings.setdefault((b, a), tuple(-ring for ring in rings[a, b]))
            ta, tb = opposite[a], opposite[b]
            if ta >= 0 and tb >= 0:
                shift = shapes[a].max(axis=0) - shapes[b].max(axis=0)
                turned = tuple(shift - ring for ring in rings[a, b])
                rings.setdefault((ta, tb), turned)
                rings.setdefault((tb, ta), tuple(-ring for ring in turned))
    return _flatten(rings, count)


def _half_turned(shapes: tuple[IntArray, ...]) -> list[int]:
    """Return for each shape which other one is its half turn, or -1."""
    known = {canonical(shape).tobytes(): index for index, shape in enumerate(shapes)}
    turned = (canonical(shape.max(axis=0) - shape).tobytes() for shape in shapes)
    return [known.get(key, -1) for key in turned]


def canonical(shape: IntArray) -> IntArray:
    """Return the vertices starting from the leftmost, lowest one, so equal shapes are equal."""
    return np.roll(shape, -int(np.lexsort((shape[:, 1], shape[:, 0]))[0]), axis=0)


def _flatten(rings: dict[tuple[int, int], tuple[IntArray, ...]], count: int) -> NoFitTable:
    starts = np.zeros((count, count, 2), dtype=np.int64)
    boxes = np.zeros((count, count, 4))
    edges: list[IntArray] = []
    used = 0
    for (a, b), of_pair in rings.items():
        pair_edges = [np.hstack([ring, np.roll(ring, -1, axis=0)]) for ring in of_pair]
        edges.extend(pair_edges)
        total = sum(map(len, pair_edges))
        starts[a, b] = used, used + total
        used += total
        boxes[a, b] = bounds_mm(np.vstack(of_pair).astype(np.float64))
    reflex = np.vstack([_reflex(ring_edges) for ring_edges in edges])
    return NoFitTable(np.vstack(edges).astype(np.float64), reflex, starts, boxes)


def _reflex(ring_edges: IntArray) -> npt.NDArray[np.bool_]:
    """Tell for each edge of one ring whether the ring turns right at its start and its end."""
    along = ring_edges[:, 2:] - ring_edges[:, :2]
    ahead = np.roll(along, -1, axis=0)
    at_end = along[:, 0] * ahead[:, 1] - along[:, 1] * ahead[:, 0] < 0
    return np.column_stack((np.roll(at_end, 1), at_end))
