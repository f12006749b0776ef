"""The engine against slow exact answers: never below the optimum, and there in small cases."""

import math

import numpy as np
import pytest
import shapely

from nesting.engine import Packing, Progress, Strip, StripItem, pack
from tests.exact_twins import Cells, Point, shortest_of_two, shortest_on_grid
from tests.packing_checks import faults

SHAPES = {
    "bar": "###",
    "L": "#..\n###",
    "T": "###\n.#.",
    "S": ".##\n##.",
    "U": "#.#\n###",
    "P": "##\n##\n#.",
    "slab": "##\n##",
    "long L": "#\n#\n#\n##",
    "stair": "#..\n##.\n.##",
}
TOLERANCE = 1e-5


def cells(drawn: str) -> Cells:
    """Return the squares of a drawing, its last line at the bottom."""
    lines = drawn.splitlines()[::-1]
    return frozenset(
        (x, y) for y, line in enumerate(lines) for x, mark in enumerate(line) if mark == "#"
    )


def outline_of(squares: Cells) -> np.ndarray:
    """Return the outline of squares that hang together, shape (n, 2)."""
    joined = shapely.union_all([shapely.box(x, y, x + 1, y + 1) for x, y in squares])
    return shapely.get_coordinates(shapely.normalize(joined).simplify(0.0).exterior)[:-1]


def packed(strip: Strip, optimum: float, *, goes_on: bool) -> Packing:
    """Return the packing at standard effort, found to be valid.

    Unless it goes on, the search is over where it has come to the optimum.
    """

    def is_there(report: Progress) -> bool:
        return not goes_on and report.length <= optimum * (1.0 + TOLERANCE)

    packing = pack(strip, effort="standard", seed=1, workers=1, progress=is_there)
    assert faults(strip, packing) == []
    return packing


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(8))
def test_squares_come_out_at_the_proven_optimum(seed: int) -> None:
    """Four or five hooks, bars and stairs, each as drawn or by a half turn."""
    rng = np.random.default_rng(seed)
    width = int(rng.integers(4, 6))
    names = rng.choice(list(SHAPES), size=int(rng.integers(4, 6)))
    drawn = [cells(SHAPES[str(name)]) for name in names]
    strip = Strip(
        width=float(width),
        items=tuple(
            StripItem(name=f"{n} {name}", outline=outline_of(one), turns_deg=(0.0, 180.0))
            for n, (name, one) in enumerate(zip(names, drawn, strict=True))
        ),
    )

    poses = [[one, frozenset((-x, -y) for x, y in one)] for one in drawn]
    optimum = shortest_on_grid(poses, width)

    found = packed(strip, optimum, goes_on=seed == 0)

    assert found.length == pytest.approx(optimum, rel=TOLERANCE)


def star(rng: np.random.Generator) -> list[Point]:
    """Return an outline of four to six vertices of whole numbers about the origin."""
    while True:
        count = int(rng.integers(4, 7))
        angles = 2.0 * math.pi * (np.arange(count) + rng.uniform(-0.3, 0.3, count)) / count
        radii = rng.integers(2, 13, count)
        points = [
            (round(r * math.cos(a)), round(r * math.sin(a)))
            for r, a in zip(radii, angles, strict=True)
        ]
        edges = zip(points, points[1:] + points[:1], strict=True)
        if all(ax * by - ay * bx > 0 for (ax, ay), (bx, by) in edges):
            return points


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(10))
def test_two_outlines_come_out_at_the_proven_optimum(seed: int) -> None:
    """Two stars, deep notches and all, on a strip on which they may or may not pass each other."""
    rng = np.random.default_rng(100 + seed)
    pair = star(rng), star(rng)
    heights = [max(y for _, y in one) - min(y for _, y in one) for one in pair]
    width = max(heights) + int(rng.integers(0, min(heights)))
    strip = Strip(
        width=float(width),
        items=tuple(
            StripItem(name=str(n), outline=np.array(one, dtype=float), turns_deg=(0.0, 180.0))
            for n, one in enumerate(pair)
        ),
    )

    optimum = float(shortest_of_two(*pair, width))

    found = packed(strip, optimum, goes_on=seed == 0)

    assert found.length == pytest.approx(optimum, rel=TOLERANCE)


def test_the_twins_know_what_can_be_seen() -> None:
    """Two U of five squares interlock on three wide: 3 for a U, and a bar fits its notch."""
    u, bar = cells(SHAPES["U"]), cells("#")
    square = [(-1, -1), (1, -1), (1, 1), (-1, 1)]
    triangle = [(-1, -1), (3, -1), (-1, 3)]

    assert shortest_on_grid([[u], [bar]], 2) == 3
    assert shortest_on_grid([[u], [u]], 2) == 6
    assert shortest_on_grid([[u], [frozenset((-x, -y) for x, y in u)]], 3) == 4
    assert shortest_of_two(square, square, 4) == 2
    assert shortest_of_two(square, square, 3) == 4
    assert shortest_of_two(triangle, triangle, 4) == 4
