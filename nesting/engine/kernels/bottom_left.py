"""Bottom-left fill: each piece goes to the free place with the smallest x, then smallest y.

The free places of a piece are those inside its inner-fit rectangle and inside no no-fit polygon.
The leftmost of them is a corner of that region: a corner of the rectangle, a corner of a no-fit
polygon, or a crossing of two of their edges. So the search is exact and fills enclosed gaps.
Candidates are tried from the left, and the first that is free is the answer (the idea of
bottom-left fill over no-fit polygons: Burke, Hellier, Kendall & Whitwell 2006, "A new bottom-left-
fill heuristic algorithm for the two-dimensional irregular packing problem").

Two facts keep it fast. A free corner found first bounds the strip of cloth in which crossings
matter. And the answer for one pose never moves left as the cloth fills, so what lies left of its
last answer is never looked at again.

All coordinates are whole units held in float64. Places are snapped to a coarse lattice, so that
pieces drawn on a lattice meet exactly; the depth that still counts as touching (``TOUCH``) makes up
for the snap.
"""

import numpy as np

from nesting.engine.kernels.bundles import HIGH, LEFT, LOW, RIGHT, LaidSoFar, NoFit, Place, Range
from nesting.engine.kernels.jit import FloatArray, IntArray, kernel, uncounted
from nesting.engine.kernels.points import crossing, is_deep_inside, snapped
from nesting.engine.kernels.tolerances import LATTICE, TOUCH


@uncounted()
def comes_before(ax: float, ay: float, bx: float, by: float) -> bool:
    """Tell whether place a is further left than b, or lower on the same x."""
    return ax < bx or (ax == bx and ay < by)


@uncounted()
def is_free(x: float, y: float, shape: int, laid: LaidSoFar, no_fit: NoFit) -> bool:
    """Tell whether ``shape`` at (x, y) overlaps nothing laid so far by more than a touch."""
    _, shapes, places = laid
    edges, starts, boxes = no_fit
    for k in range(laid.copies - 1, -1, -1):
        other = shapes[k]
        dx, dy = x - places[k, 0], y - places[k, 1]
        box = boxes[other, shape]
        if dx <= box[LEFT] or dx >= box[RIGHT] or dy <= box[LOW] or dy >= box[HIGH]:
            continue
        low, high = starts[other, shape]
        if is_deep_inside(dx, dy, edges[low:high], TOUCH):
            return False
    return True


@uncounted()
def first_free(
    points: FloatArray, shape: int, laid: LaidSoFar, no_fit: NoFit, bound: Place, upwards: float
) -> Place:
    """Return the first free point in left-to-right order if it comes before ``bound``.

    On one x the lowest comes first if ``upwards`` is 1, the highest if it is -1. ``points`` (n, 2)
    is used as a heap and left in disorder. Returns ``bound`` if none is free.
    """
    count = len(points)
    for i in range(count):
        points[i, 1] *= upwards
    for root in range(count // 2 - 1, -1, -1):
        sift_down(points, root, count)
    while count > 0:
        x, y = points[0, 0], points[0, 1]
        if not comes_before(x, y, bound.x, bound.y * upwards):
            break
        if is_free(x, y * upwards, shape, laid, no_fit):
            return Place(x, y * upwards)
        while count > 0 and points[0, 0] == x and points[0, 1] == y:
            count -= 1
            points[0, 0], points[0, 1] = points[count, 0], points[count, 1]
            sift_down(points, 0, count)
    return bound


@uncounted()
def sift_down(points: FloatArray, root: int, count: int) -> None:
    """Restore heap order (leftmost, then lowest, on top) below ``root``."""
    while True:
        child = 2 * root + 1
        if child >= count:
            return
        if child + 1 < count and comes_before(
            points[child + 1, 0], points[child + 1, 1], points[child, 0], points[child, 1]
        ):
            child += 1
        if not comes_before(points[child, 0], points[child, 1], points[root, 0], points[root, 1]):
            return
        for c in range(2):
            points[root, c], points[child, c] = points[child, c], points[root, c]
        root = child


@kernel()
def corner_candidates(
    shape: int, laid: LaidSoFar, no_fit: NoFit, x_from: float, heights: Range
) -> FloatArray:
    """Return corners of no-fit polygons and of the inner-fit rectangle, shape (n, 2).

    Those left of ``x_from`` or outside the allowed ``heights`` are left out.
    """
    count, shapes, places = laid
    edges, starts, boxes = no_fit
    low_y, high_y = heights
    total = 2
    for k in range(count):
        total += starts[shapes[k], shape, 1] - starts[shapes[k], shape, 0]
    points = np.empty((total, 2), np.float64)
    points[0, 0], points[0, 1] = 0.0, low_y
    points[1, 0], points[1, 1] = 0.0, high_y
    found = 2
    for k in range(count):
        px, py = places[k]
        box = boxes[shapes[k], shape]
        if box[RIGHT] + px < x_from - LATTICE:
            continue
        if box[LOW] + py > high_y + LATTICE or box[HIGH] + py < low_y - LATTICE:
            continue
        low, high = starts[shapes[k], shape]
        for e in range(low, high):
            x, y = snapped(edges[e, 0] + px, LATTICE), snapped(edges[e, 1] + py, LATTICE)
            if x >= max(x_from, 0.0) and low_y - LATTICE <= y <= high_y + LATTICE:
                points[found, 0], points[found, 1] = x, min(max(y, low_y), high_y)
                found += 1
    return points[:found]


@kernel()
def edges_in_window(
    shape: int, laid: LaidSoFar, no_fit: NoFit, span: Range, heights: Range
) -> tuple[FloatArray, IntArray]:
    """Return the edges that reach into a window, and which laid piece each belongs to.

    The window is a span along the strip and the allowed ``heights`` across it. The three sides of
    the inner-fit rectangle come first, with owner -1. Shapes (n, 4) and (n,).
    """
    count, shapes, places = laid
    edges, starts, boxes = no_fit
    x_from, x_to = span
    low_y, high_y = heights
    total = 3
    for k in range(count):
        total += starts[shapes[k], shape, 1] - starts[shapes[k], shape, 0]
    near, owner = np.empty((total, 4), np.float64), np.empty(total, np.int64)
    set_row(near, 0, x_from, low_y, x_to, low_y)
    set_row(near, 1, x_from, high_y, x_to, high_y)
    set_row(near, 2, 0.0, low_y, 0.0, high_y)
    owner[0], owner[1], owner[2] = -1, -1, -1
    found = 3
    for k in range(count):
        px, py = places[k]
        box = boxes[shapes[k], shape]
        if box[RIGHT] + px < x_from - LATTICE or box[LEFT] + px > x_to:
            continue
        if box[LOW] + py > high_y + LATTICE or box[HIGH] + py < low_y - LATTICE:
            continue
        low, high = starts[shapes[k], shape]
        for e in range(low, high):
            x0, x1 = edges[e, 0] + px, edges[e, 2] + px
            y0, y1 = edges[e, 1] + py, edges[e, 3] + py
            if max(x0, x1) < x_from - LATTICE or min(x0, x1) > x_to:
                continue
            if max(y0, y1) < low_y - LATTICE or min(y0, y1) > high_y + LATTICE:
                continue
            set_row(near, found, x0, y0, x1, y1)
            owner[found] = k
            found += 1
    return near[:found], owner[:found]


@uncounted()
def set_row(rows: FloatArray, row: int, x0: float, y0: float, x1: float, y1: float) -> None:
    """Write one edge into a table of edges."""
    rows[row, 0], rows[row, 1], rows[row, 2], rows[row, 3] = x0, y0, x1, y1


@kernel()
def with_twice_the_room(points: FloatArray) -> FloatArray:
    """Return a table twice as long that begins with ``points``."""
    longer = np.empty((2 * len(points), 2), np.float64)
    for i in range(len(points)):
        longer[i, 0], longer[i, 1] = points[i, 0], points[i, 1]
    return longer


@kernel()
def ascending(values: FloatArray) -> IntArray:
    """Return the positions of ``values`` from smallest to largest (a Shell sort).

    For the few hundred edges of a window this is as quick as numpy's sort, which would take
    seconds to compile.
    """
    n = len(values)
    order = np.empty(n, np.int64)
    for i in range(n):
        order[i] = i
    gap = n // 2
    while gap > 0:
        for i in range(gap, n):
            moving, j = order[i], i
            while j >= gap and values[order[j - gap]] > values[moving]:
                order[j] = order[j - gap]
                j -= gap
            order[j] = moving
        gap //= 2
    return order


@kernel()
def crossing_candidates(
    near: FloatArray, owner: IntArray, span: Range, heights: Range
) -> FloatArray:
    """Return the crossings of edges of different owners inside the window, shape (n, 2)."""
    x_from, x_to = span
    low_y, high_y = heights
    n = len(near)
    bottoms = np.empty(n, np.float64)
    for i in range(n):
        bottoms[i] = min(near[i, 1], near[i, 3])
    by_bottom = ascending(bottoms)
    points = np.empty((64, 2), np.float64)
    found = 0
    for first in range(n):
        i = by_bottom[first]
        for second in range(first + 1, n):
            j = by_bottom[second]
            if bottoms[j] > max(near[i, 1], near[i, 3]):
                break
            if owner[i] == owner[j]:
                continue
            if max(near[i, 0], near[i, 2]) < min(near[j, 0], near[j, 2]):
                continue
            if max(near[j, 0], near[j, 2]) < min(near[i, 0], near[i, 2]):
                continue
            x, y, meet = crossing(near[i], near[j])
            if not meet or x < x_from - LATTICE or x > x_to:
                continue
            if y < low_y - LATTICE or y > high_y + LATTICE:
                continue
            if found == len(points):
                points = with_twice_the_room(points)
            points[found, 0] = max(0.0, snapped(x, LATTICE))
            points[found, 1] = min(max(snapped(y, LATTICE), low_y), high_y)
            found += 1
    return points[:found]


@uncounted()
def end_of_all(shape: int, laid: LaidSoFar, no_fit: NoFit, least: float) -> float:
    """Return an x at or beyond ``least`` where ``shape`` is right of all that is laid."""
    beyond = least
    for k in range(laid.copies):
        box = no_fit.boxes[laid.shapes[k], shape]
        beyond = max(beyond, laid.places[k, 0] + box[RIGHT])
    return float(np.ceil(beyond / LATTICE) * LATTICE)


@kernel()
def lowest_left(
    shape: int, heights: Range, laid: LaidSoFar, no_fit: NoFit, x_from: float, upwards: float
) -> Place:
    """Return the free place of ``shape`` with the smallest x, then the smallest y.

    ``heights`` is the allowed range of y; ``x_from`` is a place known not to be too far right.
    With ``upwards`` -1 the greatest y comes first.
    """
    bound = Place(end_of_all(shape, laid, no_fit, 0.0), heights.low)
    corners = corner_candidates(shape, laid, no_fit, x_from, heights)
    bound = first_free(corners, shape, laid, no_fit, bound, upwards)
    span = Range(x_from, bound.x)
    near, owner = edges_in_window(shape, laid, no_fit, span, heights)
    crossings = crossing_candidates(near, owner, span, heights)
    return first_free(crossings, shape, laid, no_fit, bound, upwards)
