"""The convolution of two outlines: closed walks whose winding number is the overlap count.

The Minkowski sum of two simple polygons is where the convolution of their boundaries has a
winding number above zero (Guibas, Ramshaw & Stolfi 1983, "A kinetic framework for computational
geometry"; used for Minkowski sums by Wein 2006, "Exact and efficient construction of planar
Minkowski sums using the convolution method"). An edge of one outline is carried to a vertex of the
other whenever the edge's direction lies in the turn of that vertex; at a reflex vertex the edge is
walked backwards. Coordinates are integers below 2**30, so every side test is exact in 64 bits.
"""

import numpy as np

from nesting.engine.kernels.jit import IntArray, kernel


@kernel()
def cross(ax: int, ay: int, bx: int, by: int) -> int:
    """Return twice the signed area spanned by vectors a and b."""
    return ax * by - ay * bx


@kernel()
def turn_holds(
    turn: tuple[int, int, int, int], direction: tuple[int, int], closed_at_start: bool
) -> int:
    """Return +1 or -1 if a vertex turns left or right through ``direction``, else 0.

    ``turn`` holds the edge into and the edge out of the vertex (ax, ay, bx, by). A direction equal
    to one end of the turn counts at one end only, by ``closed_at_start``: this settles parallel
    edges as if one outline were turned very slightly.
    """
    ax, ay, bx, by = turn
    dx, dy = direction
    side = cross(ax, ay, bx, by)
    if side == 0:
        return 0
    if side < 0:
        ax, ay, bx, by = bx, by, ax, ay
    from_start = cross(ax, ay, dx, dy)
    to_end = cross(dx, dy, bx, by)
    if from_start < 0 or to_end < 0:
        return 0
    if (to_end if closed_at_start else from_start) == 0:
        return 0
    return 1 if side > 0 else -1


@kernel()
def convolution_segments(first: IntArray, second: IntArray) -> IntArray:
    """Return the segments of the convolution as node pairs, shape (s, 2).

    ``first`` and ``second`` are int64 vertices, shapes (m, 2) and (n, 2), anticlockwise. Node
    ``i * n + j`` stands for ``first[i] + second[j]``.
    """
    m, n = len(first), len(second)
    segments = np.empty((2 * m * n, 2), np.int64)
    count = 0
    for i in range(m):
        ni, pi = (i + 1) % m, (i - 1) % m
        out_i = (first[ni, 0] - first[i, 0], first[ni, 1] - first[i, 1])
        turn_i = (first[i, 0] - first[pi, 0], first[i, 1] - first[pi, 1], out_i[0], out_i[1])
        for j in range(n):
            nj, pj = (j + 1) % n, (j - 1) % n
            out_j = (second[nj, 0] - second[j, 0], second[nj, 1] - second[j, 1])
            turn_j = (second[j, 0] - second[pj, 0], second[j, 1] - second[pj, 1], *out_j)
            node = i * n + j
            for way, other in (
                (turn_holds(turn_j, out_i, True), ni * n + j),
                (turn_holds(turn_i, out_j, False), i * n + nj),
            ):
                if way > 0:
                    segments[count, 0], segments[count, 1] = node, other
                    count += 1
                elif way < 0:
                    segments[count, 0], segments[count, 1] = other, node
                    count += 1
    return segments[:count]


@kernel()
def closed_walks(segments: IntArray, nodes: int) -> tuple[IntArray, IntArray]:
    """Chain segments into closed walks; return the nodes walked and where each walk starts.

    As many segments leave a node as enter it, so following unused ones always ends where it began.
    Returns ``walked`` of shape (s,) and ``starts`` of shape (w + 1,), the last being s.
    """
    count = len(segments)
    first_out = np.full(nodes, -1, np.int64)
    next_out = np.empty(count, np.int64)
    for s in range(count):
        next_out[s] = first_out[segments[s, 0]]
        first_out[segments[s, 0]] = s
    walked = np.empty(count, np.int64)
    starts = np.empty(count + 1, np.int64)
    used, walks = 0, 0
    for s in range(count):
        node = segments[s, 0]
        if first_out[node] < 0:
            continue
        starts[walks] = used
        walks += 1
        while first_out[node] >= 0:
            step = first_out[node]
            first_out[node] = next_out[step]
            walked[used] = node
            used += 1
            node = segments[step, 1]
    starts[walks] = used
    return walked[:used], starts[: walks + 1]


@kernel()
def inset(outline: IntArray, by: int) -> IntArray:
    """Move every edge inwards by about ``by`` units; shape (n, 2) int64 in and out.

    Edges keep their directions, or the outline is returned as it came: one that is thinner than
    the step has no inside left to keep.
    """
    n = len(outline)
    moved = np.empty((n, 2), np.int64)
    for i in range(n):
        ax, ay = outline[i, 0] - outline[i - 1, 0], outline[i, 1] - outline[i - 1, 1]
        j = (i + 1) % n
        bx, by_ = outline[j, 0] - outline[i, 0], outline[j, 1] - outline[i, 1]
        la, lb = np.sqrt(float(ax) ** 2 + float(ay) ** 2), np.sqrt(float(bx) ** 2 + float(by_) ** 2)
        nax, nay, nbx, nby = -ay / la, ax / la, -by_ / lb, bx / lb
        stretch = by / (1.0 + nax * nbx + nay * nby)
        moved[i, 0] = outline[i, 0] + np.int64(np.rint((nax + nbx) * stretch))
        moved[i, 1] = outline[i, 1] + np.int64(np.rint((nay + nby) * stretch))
    for i in range(n):
        j = (i + 1) % n
        ax, ay = outline[j, 0] - outline[i, 0], outline[j, 1] - outline[i, 1]
        bx, by_ = moved[j, 0] - moved[i, 0], moved[j, 1] - moved[i, 1]
        if float(ax) * float(bx) + float(ay) * float(by_) <= 0.0:
            return outline
    return moved
