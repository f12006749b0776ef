"""Jobs at the ends of what anybody may ask for: slivers, a thousand copies, ten thousand points."""

import numpy as np

from nesting.lay import LayRequest
from pieces.piece import PieceShape
from tests.gallery import circle
from tests.small_patterns import TRIANGLE, box, piece, request, shape


def drawn(points: list[tuple[float, float]]) -> PieceShape:
    """Return a shape of any size, its arrow in the middle and pointing up."""
    middle_x, middle_y = np.mean(points, axis=0).tolist()
    return shape(points, arrow=((middle_x, middle_y - 0.5), (middle_x, middle_y + 0.5)))


def wavy(points: int) -> PieceShape:
    """Return a disc of 10 cm whose edge is never straight, with so many vertices."""
    angles = np.linspace(0.0, 40.0 * np.pi, points, endpoint=False)
    outline = circle(1.0, points) * (100.0 + 5.0 * np.sin(angles))[:, None]
    return drawn([tuple(point) for point in outline.tolist()])


def staircase(steps: int) -> PieceShape:
    """Return a right-angled stair with vertices in the middle of straight edges as well."""
    points = [(0.0, 0.0), (5.0 * steps, 0.0), (10.0 * steps, 0.0)]
    for step in range(steps, 0, -1):
        right, high = 10.0 * step, 10.0 * (steps - step + 1)
        points += [(right, high), (right - 5.0, high), (right - 10.0, high)]
    return drawn(points)


def copies(count: int) -> LayRequest:
    """Return a request for so many copies of one piece without symmetry."""
    return request(piece("front", TRIANGLE, count=count), width_mm=1500.0)


# Each takes well under a second when nobody else wants the computer.
CHEAP = {
    "slivers a tenth of a millimetre wide": request(
        piece("sliver", drawn([(0, 0), (0.1, 0), (0.1, 1000), (0, 1000)]), count=6),
        piece("front", TRIANGLE, count=2),
        width_mm=900.0,
    ),
    "slivers that end in a needle": request(
        piece("needle", drawn([(0, 0), (0.1, 0), (0.05, 1000)]), count=5), width_mm=900.0
    ),
    "a millimetre beside ten metres": request(
        piece("drape", box(1400, 10_000)),
        piece("dot", drawn([(0, 0), (1, 0), (1, 1), (0, 1)]), count=3),
        width_mm=1500.0,
    ),
    "edges that touch all along": request(
        piece("stair", staircase(8), count=6), width_mm=160.0
    ),
    "pieces that fill the cloth to the last thread": request(
        piece("tile", box(50, 50), count=16), width_mm=200.0
    ),
    "a slit of a tenth of a millimetre": request(
        piece(
            "slit",
            drawn([(0, 0), (100, 0), (100, 100), (50.1, 100), (50.1, 5), (50, 5), (50, 100),
                   (0, 100)]),
            count=3,
        ),
        piece("front", TRIANGLE),
        width_mm=250.0,
    ),
    "two thousand points": request(piece("wave", wavy(2_000), count=2), width_mm=450.0),
}  # fmt: skip
HEAVY = {
    "ten thousand points": request(piece("wave", wavy(10_000), count=4), width_mm=450.0),
    "a thousand copies": copies(1_000),
    "three thousand copies": copies(3_000),
}
