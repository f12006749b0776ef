"""Rectangles and small irregular strips whose shortest length is known."""

from collections.abc import Iterable

import numpy as np
import pytest

from nesting.engine import Strip, StripItem, pack
from nesting.engine.fill import Order, fill
from nesting.engine.prepared import prepare
from tests.packing_checks import faults

# Hopper 2000 (thesis), sets T1a and N1a: width x height, object 200 x 200, listed order
T1A = (
    "82x38 37x13 81x22 16x25 21x64 29x55 52x178 98x39 102x37 46x103 29x86 10x37 63x26 50x11 "
    "13x40 60x29 119x20"
)
N1A = (
    "33x132 64x41 103x32 59x9 44x38 123x29 57x62 32x8 25x26 53x39 15x81 17x18 42x63 9x50 44x91 "
    "90x68 66x41"
)
# Hopper & Turton 2001, EJOR 128, category C1: width x height, strip 20 wide, optimum 20
C1 = {
    "P1": "2x12 7x12 8x6 3x6 3x5 5x5 3x12 3x7 5x7 2x6 3x2 4x2 3x4 4x4 9x2 11x2",
    "P2": "4x1 4x5 9x4 3x5 3x9 1x4 5x3 4x1 5x5 7x2 9x3 3x13 2x8 15x4 5x4 10x6 7x2",
    "P3": "4x14 5x2 2x2 9x7 5x5 2x5 7x7 3x5 6x5 3x2 6x2 4x6 6x3 10x3 6x3 10x3",
}
# Alvarez-Valdes, Martinez & Tamarit 2013: three convex pieces, none may turn
THREE = {
    "rhombus": [(0, 0), (2, -2), (4, 0), (2, 2)],
    "square": [(0, 0), (3, 0), (3, 3), (0, 3)],
    "triangle": [(0, 0), (4, 0), (2, 3)],
}


def rectangles(listed: str) -> list[tuple[int, int]]:
    """Return (width, height) of each rectangle of a listing."""
    pairs = (pair.split("x") for pair in listed.split())
    return [(int(width), int(height)) for width, height in pairs]


def upright(sizes: Iterable[tuple[int, int]], turns: tuple[float, ...]) -> tuple[StripItem, ...]:
    """Return rectangles with their height along the strip and their width across it."""
    return tuple(
        StripItem(
            name=str(number),
            outline=np.array([(0, 0), (height, 0), (height, width), (0, width)], dtype=float),
            turns_deg=turns,
        )
        for number, (width, height) in enumerate(sizes)
    )


@pytest.mark.parametrize("listed", [T1A, N1A], ids=["T1a", "N1a"])
def test_hopper_sets_in_listed_order_come_out_at_200(listed: str) -> None:
    """Each item at the lowest, then leftmost, free place gives the optimum: the author says so.

    Source: E. Hopper 2000, notes to the data sets. Lowest is our smallest x, leftmost our
    smallest y.
    """
    strip = Strip(width=200.0, items=upright(rectangles(listed), (0.0,)))
    prepared = prepare(strip)

    filled = fill(prepared, Order(prepared.copies, np.ones(17), False, prepared.first_phases))

    assert filled.length / prepared.scale == 200.0


@pytest.mark.slow
@pytest.mark.parametrize("name", C1)
def test_hopper_and_turton_come_within_two_of_the_optimum(name: str) -> None:
    """The optimum is 20, without waste; ours must not exceed 22, nor go below 20."""
    sizes = rectangles(C1[name])
    assert sum(width * height for width, height in sizes) == 400
    strip = Strip(width=20.0, items=upright(sizes, (0.0, 90.0)))

    packing = pack(strip, effort="standard", seed=1)

    assert faults(strip, packing) == []
    assert 20.0 * (1 - 1e-6) <= packing.length <= 22.0


@pytest.mark.parametrize(
    ("copies", "width", "optimum"),
    [
        (1, 7.0, 6.0),
        pytest.param(2, 7.0, 28 / 3, marks=pytest.mark.slow),
        pytest.param(2, 9.0, 8.0, marks=pytest.mark.slow),
    ],
)
def test_three_convex_pieces_with_proven_optima(copies: int, width: float, optimum: float) -> None:
    """6, 28/3 and 8 are reached, and never gone below.

    The pieces are those of Alvarez-Valdes, Martinez & Tamarit 2013. The optima are computed here,
    by an integer program solved to the end; they are also what that paper is remembered to print
    (from memory). The third needs a place that is neither leftmost nor an end of its column, so
    that filling alone cannot find it.
    """
    items = tuple(
        StripItem(name=name, outline=np.array(points, dtype=float), quantity=copies)
        for name, points in THREE.items()
    )
    strip = Strip(width=width, items=items)

    packing = pack(strip, effort="standard", seed=1)

    assert faults(strip, packing) == []
    assert packing.length == pytest.approx(optimum, rel=1e-6)


def proven_optimum(sizes: list[tuple[int, int]], width: int) -> int:
    """Return the shortest length by Google OR-Tools CP-SAT, proven, nothing turned."""
    model = pytest.importorskip("ortools.sat.python.cp_model", reason="OR-Tools is not here")
    cp = model.CpModel()
    longest = sum(height for _, height in sizes)
    length = cp.new_int_var(0, longest, "length")
    along, across = [], []
    for number, (wide, high) in enumerate(sizes):
        x = cp.new_int_var(0, longest - high, f"x{number}")
        y = cp.new_int_var(0, width - wide, f"y{number}")
        along.append(cp.new_fixed_size_interval_var(x, high, f"along{number}"))
        across.append(cp.new_fixed_size_interval_var(y, wide, f"across{number}"))
        cp.add(x + high <= length)
    cp.add_no_overlap_2d(along, across)
    cp.minimize(length)
    solver = model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(cp) == model.OPTIMAL
    return int(solver.objective_value)


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(12))
def test_small_rectangles_equal_the_optimum_proven_by_cp_sat(seed: int) -> None:
    """Seven random rectangles on a strip 10 wide: ours is as short as the proven optimum."""
    rng = np.random.default_rng(seed)
    sizes = [(int(wide), int(high)) for wide, high in rng.integers(1, 8, size=(7, 2))]
    strip = Strip(width=10.0, items=upright(sizes, (0.0,)))

    packing = pack(strip, effort="standard", seed=1, workers=1)

    assert faults(strip, packing) == []
    assert packing.length == pytest.approx(proven_optimum(sizes, 10), rel=1e-6)
