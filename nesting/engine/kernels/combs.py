"""Places on a comb: where a piece may lie when a repeat of the cloth holds it.

A comb is (first, every): the places first, first + every, ...; every 0 stands for no comb, all
places. Held along, the free places of a piece lie on vertical lines; held across, on horizontal
ones; held both ways, on a lattice. On each line the leftmost or lowest free place is a crossing
with an edge of a no-fit polygon, or an end of the line.
"""

import numpy as np

from nesting.engine.kernels.bottom_left import (
    LATTICE,
    Laid,
    Place,
    Tables,
    ascending,
    comes_before,
    is_free,
)
from nesting.engine.kernels.jit import FloatArray, inlined, kernel, uncounted
from nesting.engine.kernels.points import snapped

Comb = tuple[float, float]
ROUNDING = 1e-3


@inlined
def on_comb(value: float, low: float, high: float, first: float, every: float) -> float:
    """Return the tooth of a comb nearest to ``value`` within [low, high], NaN if none is there.

    A tooth that lies at an end but for rounding counts as within.
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
def held_x(x: float, length: float, pose: FloatArray, width: float) -> float:
    """Return the allowed x nearest to ``x`` for a pose of a shape so wide, NaN if there is none."""
    held: float = on_comb(x, 0.0, length - width, pose[3], pose[4])
    return held


@inlined
def held_y(y: float, pose: FloatArray) -> float:
    """Return the allowed y nearest to ``y`` for a pose, NaN if there is none."""
    held: float = on_comb(y, pose[1], pose[2], pose[5], pose[6])
    return held


@uncounted
def first_tooth(low: float, comb: Comb) -> float:
    """Return the least place of a comb at or beyond ``low``, or at it but for rounding."""
    first, every = comb
    return float(max(low, first + every * np.ceil((low - ROUNDING - first) / every)))


@kernel
def crossings_of_line(
    at: float, axis: int, shape: int, laid: Laid, tables: Tables, ends: tuple[float, float]
) -> FloatArray:
    """Return where no-fit polygons cross the line on which the coordinate ``axis`` is ``at``.

    Values of the other coordinate within ``ends``, which are given as well; from low to high.
    """
    count, shapes, places = laid
    edges, starts, boxes = tables
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
                if ends[0] <= placed <= ends[1]:
                    values[found] = placed
                    found += 1
                if a0 != a1:
                    break
    order = ascending(values[:found])
    rising = np.empty(found, np.float64)
    for k in range(found):
        rising[k] = values[order[k]]
    return rising


@kernel
def first_on_column(
    x: float, shape: int, rows: tuple[float, float, Comb], laid: Laid, tables: Tables, up: float
) -> float:
    """Return the first free y at ``x``, NaN if there is none; ``rows`` is (low, high, comb)."""
    low, high, comb = rows
    if comb[1] > 0.0:
        start = first_tooth(low, comb)
        teeth = int(np.floor((high - start) / comb[1])) + 1
        ys = start + comb[1] * np.arange(max(0, teeth))
    else:
        ys = crossings_of_line(x, 0, shape, laid, tables, (low, high))
    for k in range(len(ys)):
        y = ys[k] if up > 0.0 else ys[len(ys) - 1 - k]
        if is_free(x, y, shape, laid, tables):
            return float(y)
    return np.nan


@kernel
def held_place(
    shape: int,
    rows: tuple[float, float, Comb],
    columns: tuple[float, Comb],
    laid: Laid,
    tables: Tables,
    up: float,
) -> Place:
    """Return the leftmost free place on the combs, then the lowest, or highest for ``up`` -1.

    ``rows`` is (lowest y, highest y, comb across); ``columns`` is (x known not to be too far
    right, comb along). Returns (inf, 0) if no tooth across lies on the strip.
    """
    low, high, across = rows
    x_from, along = columns
    count, shapes, places = laid
    boxes = tables[2]
    beyond = max(0.0, x_from)
    for k in range(count):
        beyond = max(beyond, places[k, 0] + boxes[shapes[k], shape, 2])
    beyond = np.ceil(beyond / LATTICE) * LATTICE
    best_x, best_y = np.inf, 0.0
    if along[1] > 0.0:
        x = first_tooth(max(0.0, x_from - along[1]), along)
        while x < beyond + along[1]:
            y = first_on_column(x, shape, rows, laid, tables, up)
            if not np.isnan(y):
                return x, y
            x += along[1]
        return best_x, best_y
    y = first_tooth(low, across)
    while y <= high:
        xs = crossings_of_line(y, 1, shape, laid, tables, (x_from, beyond))
        for k in range(len(xs)):
            if xs[k] > best_x:
                break
            if is_free(xs[k], y, shape, laid, tables):
                if comes_before(xs[k], y * up, best_x, best_y * up):
                    best_x, best_y = xs[k], y
                break
        y += across[1]
    return best_x, best_y
