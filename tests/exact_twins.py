"""Slow exact answers to small strips, by whole numbers and fractions alone.

Two kinds of strip have an optimum that can be searched to the end:

- Outlines of unit squares. Whether two of them overlap is decided by differences of their places
  against whole numbers, and a system of such differences that has an answer has one in whole
  numbers. So the shortest length is reached where every piece lies on the grid.
- Two outlines of any shape. Where one lies seen from the other is a point of the plane, closed out
  of the no-fit polygons; the length is linear between a few upright lines, so its least value is
  at a corner of that arrangement.
"""

from collections.abc import Iterable, Iterator
from fractions import Fraction
from itertools import combinations

Cells = frozenset[tuple[int, int]]
Point = tuple[int, int]
Place = tuple[Fraction, Fraction]
Segment = tuple[Point, Point]


def shortest_on_grid(pieces: list[list[Cells]], width: int) -> int:
    """Return the least length of a strip on which pieces of unit squares fit, proven.

    Parameters
    ----------
    pieces
        For each piece the poses it may take, each the squares (x, y) it covers.
    width
        Of the strip, in squares.
    """
    area = sum(len(poses[0]) for poses in pieces)
    length = max(-(-area // width), *(min(map(_long, poses)) for poses in pieces))
    while not _fits(pieces, width, length):
        length += 1
    return length


def _long(cells: Cells) -> int:
    return max(x for x, _ in cells) - min(x for x, _ in cells) + 1


def _fits(pieces: list[list[Cells]], width: int, length: int) -> bool:
    """Tell whether all pieces find room: the taken squares, as bits, after each piece in turn."""
    taken = {0}
    for poses in sorted(pieces, key=lambda poses: -len(poses[0])):
        lain = [bits for cells in poses for bits in _everywhere(cells, width, length)]
        taken = {old | new for old in taken for new in lain if not old & new}
    return bool(taken)


def _everywhere(cells: Cells, width: int, length: int) -> Iterator[int]:
    """Yield the squares that a pose covers, as bits, in each place on the strip."""
    low_x, low_y = min(x for x, _ in cells), min(y for _, y in cells)
    high_x, high_y = max(x for x, _ in cells), max(y for _, y in cells)
    for right in range(-low_x, length - high_x):
        for up in range(-low_y, width - high_y):
            yield sum(1 << ((x + right) * width + y + up) for x, y in cells)


def shortest_of_two(first: list[Point], second: list[Point], width: int) -> Fraction:
    """Return the least length of two outlines on a strip, each as drawn or by a half turn.

    Parameters
    ----------
    first, second
        Vertices anticlockwise, whole numbers, every edge seen from the origin, which lies inside.
    width
        Of the strip, not below the height of either.
    """
    turned = [(-x, -y) for x, y in second]
    # half a turn of both together is a half turn of the strip, so two of four poses suffice
    return min(_shortest(first, other, width) for other in (second, turned))


def _shortest(first: list[Point], second: list[Point], width: int) -> Fraction:
    hulls = [
        _hull((ax - bx, ay - by) for ax, ay in one for bx, by in other)
        for one in _fan(first)
        for other in _fan(second)
    ]
    (low_x, high_x, low_y, high_y), (left, right, down, up) = _box(first), _box(second)
    lowest, highest = high_y - down - width, width + low_y - up
    far = high_x - low_x + right - left
    upright = (low_x - left, high_x - right, -far, far)  # beyond `far` they lie in a row
    lines = [((-far, y), (far, y)) for y in (lowest, highest)]
    lines += [((x, lowest), (x, highest)) for x in upright]
    lines += [edge for hull in hulls for edge in zip(hull, hull[1:] + hull[:1], strict=True)]

    def length(place: Place) -> Fraction:
        return max(high_x, place[0] + right) - min(low_x, place[0] + left)

    corners = {corner for pair in combinations(lines, 2) for corner in _crossing(*pair)}
    within = (corner for corner in corners if lowest <= corner[1] <= highest)
    for corner in sorted(within, key=length):
        if not any(_deep_inside(corner, hull) for hull in hulls):
            return length(corner)
    raise AssertionError("two pieces in a row always fit")


def _box(outline: list[Point]) -> tuple[int, int, int, int]:
    """Return least x, greatest x, least y and greatest y."""
    along, across = zip(*outline, strict=True)
    return min(along), max(along), min(across), max(across)


def _fan(outline: list[Point]) -> Iterator[list[Point]]:
    """Yield the triangles between the origin and each edge."""
    for one, other in zip(outline, outline[1:] + outline[:1], strict=True):
        yield [(0, 0), one, other]


def _turn(a: Point | Place, b: Point | Place, c: Point | Place) -> Fraction | int:
    """Return above zero where c lies to the left of the way from a to b."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _hull(points: Iterable[Point]) -> list[Point]:
    """Return the convex hull, anticlockwise, no three vertices in a row."""
    ordered = sorted(set(points))
    chains = []
    for way in (ordered, ordered[::-1]):
        chain: list[Point] = []
        for point in way:
            while len(chain) > 1 and _turn(chain[-2], chain[-1], point) <= 0:
                chain.pop()
            chain.append(point)
        chains.append(chain[:-1])
    return chains[0] + chains[1]


def _crossing(one: Segment, other: Segment) -> list[Place]:
    """Return the point that two segments share, or none if they share none or are parallel."""
    (ax, ay), (bx, by) = one
    (cx, cy), (dx, dy) = other
    across = (bx - ax) * (dy - cy) - (by - ay) * (dx - cx)
    if across == 0:
        return []
    share = Fraction((cx - ax) * (dy - cy) - (cy - ay) * (dx - cx), across)
    along = Fraction((cx - ax) * (by - ay) - (cy - ay) * (bx - ax), across)
    if not (0 <= share <= 1 and 0 <= along <= 1):
        return []
    return [(ax + share * (bx - ax), ay + share * (by - ay))]


def _deep_inside(point: Place, hull: list[Point]) -> bool:
    """Tell whether a point lies inside a convex outline and not on its edge."""
    edges = zip(hull, hull[1:] + hull[:1], strict=True)
    return all(_turn(one, other, point) > 0 for one, other in edges)
