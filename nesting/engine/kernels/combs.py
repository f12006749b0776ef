"""Places on a comb: where a piece may lie when a repeat of the cloth holds it.

Held along, the free places of a piece lie on vertical lines; held across, on horizontal
ones; held both ways, on a lattice. On each line the leftmost or lowest free place is a crossing
with an edge of a no-fit polygon, or an end of the line.
"""

import numpy as np

from nesting.engine.kernels.bottom_left import ascending, comes_before, end_of_all, is_free
from nesting.engine.kernels.bundles import (
    ACROSS,
    ALONG,
    EVERY_X,
    EVERY_Y,
    FIRST_X,
    FIRST_Y,
    HIGHEST_Y,
    LOWEST_Y,
    Comb,
    Combs,
    LaidSoFar,
    NoFit,
    Place,
    Range,
)
from nesting.engine.kernels.jit import FloatArray, inlined, kernel, uncounted
from nesting.engine.kernels.points import snapped
from nesting.engine.kernels.tolerances import LATTICE, ROUNDING


@inlined
def nearest_tooth(value: float, low: float, high: float, first: float, every: float) -> float:
    """Return the tooth of a comb nearest to ``value`` within [low, high], NaN if none is there.

    A tooth that misses an end by rounding alone counts as within.
    """
    held = min(max(value, low), high)
    if high < low:
        held = np.nan
    elif every > 0.0:
        held = first + every * np.rint((held - first) / every)
        if held < low - ROUNDING:
            held += every
        if held > high + ROUNDING:
            held -= every
        held = np.nan if held < low - ROUNDING else min(max(held, low), high)
    return held


@inlined
def allowed_x(x: float, length: float, pose: FloatArray, width: float) -> float:
    """Return the allowed x nearest to ``x`` for a pose of a shape so wide, NaN if there is none."""
    held: float = nearest_tooth(x, 0.0, length - width, pose[FIRST_X], pose[EVERY_X])
    return held


@inlined
def allowed_y(y: float, pose: FloatArray) -> float:
    """Return the allowed y nearest to ``y`` for a pose, NaN if there is none."""
    held: float = nearest_tooth(y, pose[LOWEST_Y], pose[HIGHEST_Y], pose[FIRST_Y], pose[EVERY_Y])
    return held


@uncounted()
def first_tooth(low: float, comb: Comb) -> float:
    """Return the least place of a comb at or beyond ``low``, or short of it by rounding alone."""
    first, every = comb
    return float(max(low, first + every * np.ceil((low - ROUNDING - first) / every)))


@kernel()
def crossings_of_line(
    at: float, axis: int, shape: int, laid: LaidSoFar, no_fit: NoFit, ends: Range
) -> FloatArray:
    """Return where no-fit polygons cross the line on which the coordinate ``axis`` is ``at``.

    Values of the other coordinate within ``ends``, which are given as well; from low to high.
    """
    count, shapes, places = laid
    edges, starts, boxes = no_fit
    other = 1 - axis
    total = 2
    for k in range(count):
        total += 2 * (starts[shapes[k], shape, 1] - starts[shapes[k], shape, 0])
    values = np.empty(total, np.float64)
    values[0], values[1] = ends
    found = 2
    for k in range(count):
        box = boxes[shapes[k], shape]
        if not box[axis] <= at - places[k, axis] <= box[axis + 2]:
            continue
        for e in range(starts[shapes[k], shape, 0], starts[shapes[k], shape, 1]):
            a0, a1 = edges[e, axis] + places[k, axis], edges[e, axis + 2] + places[k, axis]
            if at < min(a0, a1) or at > max(a0, a1):
                continue
            b0, b1 = edges[e, other], edges[e, other + 2]
            share = 0.0 if a0 == a1 else (at - a0) / (a1 - a0)
            for value in (b0 + share * (b1 - b0), b1):
                placed = snapped(value + places[k, other], LATTICE)
                if ends.low <= placed <= ends.high:
                    values[found] = placed
                    found += 1
                if a0 != a1:
                    break
    order = ascending(values[:found])
    rising = np.empty(found, np.float64)
    for k in range(found):
        rising[k] = values[order[k]]
    return rising


@kernel()
def first_on_column(
    x: float,
    shape: int,
    heights: Range,
    comb: Comb,
    laid: LaidSoFar,
    no_fit: NoFit,
    upwards: float,
) -> float:
    """Return the first free y at ``x`` within ``heights`` and on the comb, NaN if there is none."""
    if comb.every > 0.0:
        start = first_tooth(heights.low, comb)
        teeth = int(np.floor((heights.high - start) / comb.every)) + 1
        ys = start + comb.every * np.arange(max(0, teeth))
    else:
        ys = crossings_of_line(x, ALONG, shape, laid, no_fit, heights)
    for k in range(len(ys)):
        y = ys[k] if upwards > 0.0 else ys[len(ys) - 1 - k]
        if is_free(x, y, shape, laid, no_fit):
            return float(y)
    return np.nan


@kernel()
def held_place(
    shape: int,
    heights: Range,
    combs: Combs,
    laid: LaidSoFar,
    no_fit: NoFit,
    x_from: float,
    upwards: float,
) -> Place:
    """Return the leftmost free place on the combs, then the lowest, or highest for ``upwards`` -1.

    ``heights`` is the allowed range of y; ``x_from`` is a place known not to be too far right.
    Returns (inf, 0) if no tooth across lies on the strip.
    """
    along, across = combs
    beyond = end_of_all(shape, laid, no_fit, max(0.0, x_from))
    best_x, best_y = np.inf, 0.0
    if along.every > 0.0:
        x = first_tooth(max(0.0, x_from - along.every), along)
        while x < beyond + along.every:
            y = first_on_column(x, shape, heights, across, laid, no_fit, upwards)
            if not np.isnan(y):
                return Place(x, y)
            x += along.every
        return Place(best_x, best_y)
    y = first_tooth(heights.low, across)
    while y <= heights.high:
        xs = crossings_of_line(y, ACROSS, shape, laid, no_fit, Range(x_from, beyond))
        for k in range(len(xs)):
            if xs[k] > best_x:
                break
            if is_free(xs[k], y, shape, laid, no_fit):
                if comes_before(xs[k], y * upwards, best_x, best_y * upwards):
                    best_x, best_y = xs[k], y
                break
        y += across.every
    return Place(best_x, best_y)
