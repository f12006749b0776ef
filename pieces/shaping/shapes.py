"""Shapes by measure: rectangle, trapezoid, circle, ring, circle skirt and band, from lengths."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from pieces.errors import ShapeError
from pieces.grainline import Grainline
from pieces.marks import InternalLine
from pieces.outline.curves import flatten_arc
from pieces.outline.polygon import FloatArray, bounds_mm

SKIRT_PARTS: Mapping[str, float] = MappingProxyType(
    {"full": 360.0, "half": 180.0, "third": 120.0, "quarter": 90.0}
)
"""How much of a circle a skirt is, in degrees."""


@dataclass(frozen=True, eq=False)
class Figure:
    """An outline made from measures.

    Parameters
    ----------
    outline_mm
        Vertices anticlockwise, shape (n, 2), mm.
    edges
        For each vertex the name of the edge that begins there.
    internal_lines
        Lines drawn on it and not cut.
    """

    outline_mm: FloatArray
    edges: tuple[str, ...]
    internal_lines: tuple[InternalLine, ...] = ()

    def ends_mm(self, name: str) -> tuple[FloatArray, FloatArray]:
        """Return start and end of the edge of that name, mm.

        Raises
        ------
        ShapeError
            If there is no such edge, or it goes all round.
        """
        on = np.array([edge == name for edge in self.edges])
        if not on.any() or on.all():
            known = ", ".join(dict.fromkeys(self.edges))
            raise ShapeError(f'there is no edge "{name}" with two ends; the edges are {known}')
        first = int(np.flatnonzero(on & ~np.roll(on, 1))[0])
        last = int(np.flatnonzero(on & ~np.roll(on, -1))[0])
        return self.outline_mm[first], self.outline_mm[(last + 1) % len(on)]


def rectangle(width_mm: float, height_mm: float) -> Figure:
    """Return a rectangle with its lower left corner at the origin; edges bottom, right, top, left.

    Raises
    ------
    ShapeError
        If a side is not above zero.

    Examples
    --------
    >>> rectangle(30.0, 20.0).outline_mm.tolist()
    [[0.0, 0.0], [30.0, 0.0], [30.0, 20.0], [0.0, 20.0]]
    """
    return trapezoid(width_mm, width_mm, height_mm)


def trapezoid(bottom_mm: float, top_mm: float, height_mm: float) -> Figure:
    """Return a trapezoid that is its own mirror image; edges bottom, right, top, left.

    Raises
    ------
    ShapeError
        If a measure is not above zero.

    Examples
    --------
    >>> trapezoid(30.0, 10.0, 20.0).outline_mm.tolist()
    [[0.0, 0.0], [30.0, 0.0], [20.0, 20.0], [10.0, 20.0]]
    """
    _above_zero(bottom=bottom_mm, top=top_mm, height=height_mm)
    inset = 0.5 * (bottom_mm - top_mm)
    points = [(0.0, 0.0), (bottom_mm, 0.0), (bottom_mm - inset, height_mm), (inset, height_mm)]
    return Figure(np.array(points), ("bottom", "right", "top", "left"))


def circle(diameter_mm: float) -> Figure:
    """Return a circle about the origin, within 0.1 mm; its one edge is called edge.

    Raises
    ------
    ShapeError
        If the diameter is not above zero.
    """
    _above_zero(diameter=diameter_mm)
    points = flatten_arc((0.0, 0.0), 0.5 * diameter_mm, start_deg=0.0, end_deg=360.0)[:-1]
    return Figure(points, ("edge",) * len(points))


def ring(inner_mm: float, outer_mm: float, angle_deg: float) -> Figure:
    """Return a sector of a ring that hangs down from its centre, the origin.

    Parameters
    ----------
    inner_mm, outer_mm
        Radii, mm. An inner radius of zero gives a slice.
    angle_deg
        Above 0, at most 360. A whole ring is a disc on which the inner circle is an internal
        line, since an outline has no holes.

    Returns
    -------
    Figure
        Edges hem, right, waist and left; hem alone for a whole ring.

    Raises
    ------
    ShapeError
        If a measure is out of range.
    """
    _above_zero(outer=outer_mm, angle=angle_deg)
    if not 0.0 <= inner_mm < outer_mm:
        raise ShapeError(
            f"inner radius {inner_mm:g} mm is not between zero and the outer one, {outer_mm:g} mm"
        )
    if angle_deg > 360.0:
        raise ShapeError(f"an angle of {angle_deg:g} degrees is more than a circle; give 360 less")
    if angle_deg == 360.0:
        return _whole_ring(inner_mm, outer_mm)
    start, end = -90.0 - 0.5 * angle_deg, -90.0 + 0.5 * angle_deg
    hem = flatten_arc((0.0, 0.0), outer_mm, start_deg=start, end_deg=end)
    waist = np.zeros((1, 2))
    if inner_mm > 0.0:
        waist = flatten_arc((0.0, 0.0), inner_mm, start_deg=end, end_deg=start)
    edges = ("hem",) * (len(hem) - 1) + ("right",) + ("waist",) * (len(waist) - 1) + ("left",)
    return Figure(np.concatenate((hem, waist)), edges)


def circle_skirt(
    waist_mm: float,
    length_mm: float,
    part: str = "full",
    *,
    seams_mm: float = 0.0,
    waist_seam_mm: float = 0.0,
) -> Figure:
    """Return a circle skirt: a :func:`ring` whose inner arc is the waist.

    Parameters
    ----------
    waist_mm
        Finished waist, mm.
    length_mm
        From the cut edge at the waist to the cut edge at the hem, mm.
    part
        ``"full"``, ``"half"``, ``"third"`` or ``"quarter"``.
    seams_mm
        Allowances of the side seams that the arc must hold, added up, mm.
    waist_seam_mm
        Allowance at the waist, taken off the radius, mm.

    Raises
    ------
    ShapeError
        If a measure is out of range.

    Examples
    --------
    A waist of 26 in makes a full circle skirt with a radius of 4.138 in:

    >>> skirt = circle_skirt(26 * 25.4, 500.0)
    >>> line = skirt.internal_lines[0].points_mm
    >>> round(float(np.hypot(*line[0])) / 25.4, 3)
    4.138
    """
    if part not in SKIRT_PARTS:
        raise ShapeError(f'part "{part}" is not known; give {", ".join(SKIRT_PARTS)}')
    _above_zero(waist=waist_mm, length=length_mm)
    radius_mm = arc_radius_mm(waist_mm + seams_mm, SKIRT_PARTS[part]) - waist_seam_mm
    if radius_mm <= 0.0:
        raise ShapeError(f"a waist seam of {waist_seam_mm:g} mm leaves no radius; check both")
    return ring(radius_mm, radius_mm + length_mm, SKIRT_PARTS[part])


def band(length_mm: float, width_mm: float, *, folded: bool = False) -> Figure:
    """Return a band along the grain: a rectangle as tall as the band is long.

    Parameters
    ----------
    length_mm, width_mm
        Finished measures, mm.
    folded
        True for a band sewn double: it is cut twice as wide, and the fold is an internal line.

    Raises
    ------
    ShapeError
        If a measure is not above zero.
    """
    figure = rectangle(2.0 * width_mm if folded else width_mm, length_mm)
    if not folded:
        return figure
    line = InternalLine("fold line", np.array([(width_mm, 0.0), (width_mm, length_mm)]))
    return Figure(figure.outline_mm, figure.edges, (line,))


def arc_radius_mm(arc_mm: float, angle_deg: float) -> float:
    r"""Return the radius of an arc of a given length.

    .. math:: r = \frac{arc}{angle \cdot \pi / 180}

    Examples
    --------
    >>> round(arc_radius_mm(1000.0, 360.0), 2)
    159.15
    """
    return arc_mm / math.radians(angle_deg)


def upright(outline: FloatArray) -> Grainline:
    """Return an arrow up the middle of an outline, shape (n, 2), over half its height, mm.

    Examples
    --------
    >>> upright(rectangle(30.0, 20.0).outline_mm)
    Grainline(tail_mm=(15.0, 5.0), head_mm=(15.0, 15.0))
    """
    left, low, right, high = bounds_mm(outline)
    x, quarter = 0.5 * (left + right), max(0.25 * (high - low), 1.0)
    return Grainline((x, 0.5 * (low + high) - quarter), (x, 0.5 * (low + high) + quarter))


def make_figure(
    kind: str, lengths_mm: Mapping[str, float], words: Mapping[str, str | float | bool]
) -> Figure:
    """Return the figure of a kind from its measures by name.

    Parameters
    ----------
    kind
        One of :data:`KINDS`.
    lengths_mm
        Its lengths, mm.
    words
        What is no length: angle (degrees), part, folded.

    Raises
    ------
    ShapeError
        If the kind is unknown, or a measure is missing, not its own, or out of range.
    """
    if kind not in KINDS:
        raise ShapeError(f'shape "{kind[:40]}" is not known; give {", ".join(KINDS)}')
    make, needed, optional = KINDS[kind]
    given = {**lengths_mm, **words}
    missing = [name for name in needed if name not in given]
    if missing:
        raise ShapeError(f"a {kind} needs its {' and '.join(missing)}; it is not said")
    extra = [name for name in given if name not in (*needed, *optional)]
    if extra:
        known = ", ".join((*needed, *optional))
        raise ShapeError(f'a {kind} has no "{extra[0]}"; it has {known}')
    units = {"angle": "angle_deg", "part": "part", "folded": "folded"}
    return make(**{units.get(name, f"{name}_mm"): value for name, value in given.items()})


KINDS: Mapping[str, tuple[Callable[..., Figure], tuple[str, ...], tuple[str, ...]]] = (
    MappingProxyType(
        {
            "rectangle": (rectangle, ("width", "height"), ()),
            "trapezoid": (trapezoid, ("bottom", "top", "height"), ()),
            "circle": (circle, ("diameter",), ()),
            "ring": (ring, ("inner", "outer", "angle"), ()),
            "circle-skirt": (circle_skirt, ("waist", "length"), ("part", "seams", "waist_seam")),
            "band": (band, ("length", "width"), ("folded",)),
        }
    )
)
"""For each kind its maker, the measures it needs, and those it may have."""


def _whole_ring(inner_mm: float, outer_mm: float) -> Figure:
    disc = circle(2.0 * outer_mm)
    lines: tuple[InternalLine, ...] = ()
    if inner_mm > 0.0:
        around = flatten_arc((0.0, 0.0), inner_mm, start_deg=0.0, end_deg=360.0)
        lines = (InternalLine("waist", around),)
    return Figure(disc.outline_mm, ("hem",) * len(disc.edges), lines)


def _above_zero(**measures: float) -> None:
    for name, measure in measures.items():
        if not 0.0 < measure < math.inf:
            raise ShapeError(f"{name} is {measure:g}; it must be above zero")
