"""pack(): every copy once, inside, without overlap, as short as hand arithmetic says."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.engine import HeldTo, Progress, StoppedBy, Strip, StripItem, pack, placed_outline
from nesting.errors import DoesNotFitError, StripError
from tests.packing_checks import faults
from tests.strategies import skyline_outlines, star_outlines


def box(long: float, wide: float) -> np.ndarray:
    """Return a rectangle with its lower left corner at the origin."""
    return np.array([(0.0, 0.0), (long, 0.0), (long, wide), (0.0, wide)])


@settings(max_examples=40)
@given(
    outlines=st.lists(st.one_of(star_outlines(), skyline_outlines()), min_size=1, max_size=5),
    quantities=st.lists(st.integers(1, 3), min_size=5, max_size=5),
    turns=st.sampled_from([(0.0,), (0.0, 180.0), (0.0, 90.0, 180.0, 270.0), (12.5,)]),
    flipped=st.booleans(),
)
def test_any_strip_is_packed_without_a_fault(
    outlines: list[np.ndarray], quantities: list[int], turns: tuple[float, ...], flipped: bool
) -> None:
    """Random outlines, turns and flips: shapely finds nothing outside and no overlap."""
    items = tuple(
        StripItem(
            name=str(number),
            outline=outline,
            quantity=quantity,
            turns_deg=turns,
            flipped_turns_deg=turns if flipped else (),
        )
        for number, (outline, quantity) in enumerate(zip(outlines, quantities, strict=False))
    )
    widest = max(float(np.hypot(*np.ptp(outline, axis=0))) for outline in outlines)
    strip = Strip(width=1.3 * widest, items=items)

    packing = pack(strip, effort="quick", workers=1)

    assert faults(strip, packing) == []
    assert packing.density <= 1.0 + 1e-6


def test_two_triangles_make_a_rectangle_when_one_may_turn_and_not_otherwise() -> None:
    """Legs 10 and 6 on a strip 6 wide: 10 long with a half turn, 20 without it."""
    triangle = np.array([(0.0, 0.0), (10.0, 0.0), (0.0, 6.0)])

    def length(turns: tuple[float, ...]) -> float:
        item = StripItem(name="triangle", outline=triangle, quantity=2, turns_deg=turns)
        return pack(Strip(width=6.0, items=(item,)), effort="quick", workers=1).length

    assert length((0.0, 180.0)) == pytest.approx(10.0, rel=1e-6)
    assert length((0.0,)) == pytest.approx(20.0, rel=1e-6)


def test_a_piece_that_fits_a_hole_goes_into_it() -> None:
    """A frame 10 x 10 with a 4 x 4 cavity behind a slit takes a 4 x 4 square: length stays 10."""
    frame = np.array(
        [(0, 0), (10, 0), (10, 10), (5.001, 10), (5.001, 7), (7, 7), (7, 3), (3, 3), (3, 7),
         (5, 7), (5, 10), (0, 10)],
        dtype=float,
    )  # fmt: skip
    items = (StripItem(name="frame", outline=frame), StripItem(name="core", outline=box(4, 4)))
    strip = Strip(width=10.0, items=items)

    packing = pack(strip, effort="quick", workers=1)

    assert packing.length == pytest.approx(10.0, rel=1e-6)
    assert faults(strip, packing) == []


def test_held_items_stay_on_the_low_edge() -> None:
    """Three 4 x 2 boxes held to the edge of a strip 6 wide stand in a row of 12, not in a pile."""
    item = StripItem(name="half", outline=box(4, 2), quantity=3, held_to=HeldTo.LOW_EDGE)

    packing = pack(Strip(width=6.0, items=(item,)), effort="quick", workers=1)

    assert packing.length == pytest.approx(12.0, rel=1e-6)
    assert [placed_outline(item, at)[:, 1].min() for at in packing.placements] == [0.0, 0.0, 0.0]


def test_a_flipped_copy_is_the_mirror_image() -> None:
    """An L flipped has its long arm on the other side; two such make a 3 x 2 block."""
    ell = np.array([(0, 0), (2, 0), (2, 1), (1, 1), (1, 2), (0, 2)], dtype=float)
    items = (
        StripItem(name="drawn", outline=ell),
        StripItem(name="over", outline=ell, turns_deg=(), flipped_turns_deg=(180.0,)),
    )
    strip = Strip(width=2.0, items=items)

    packing = pack(strip, effort="quick", workers=1)

    assert packing.length == pytest.approx(4.0, rel=1e-6)  # two mirrored Ls do not interlock
    assert [at.flipped for at in packing.placements] == [False, True]
    assert faults(strip, packing) == []


@pytest.mark.parametrize("workers", [1, 2])
def test_the_same_seed_gives_the_same_packing(workers: int) -> None:
    """Seed, effort and workers settle the result; the clock does not."""
    outline = np.array([(0, 0), (5, 0), (3, 2), (5, 4), (1, 3)], dtype=float)
    items = tuple(
        StripItem(name=str(n), outline=outline * (1 + n / 5), quantity=2, turns_deg=(0.0, 180.0))
        for n in range(4)
    )
    strip = Strip(width=11.0, items=items)

    one, other = (pack(strip, effort="quick", seed=7, workers=workers) for _ in range(2))

    assert one.placements == other.placements
    assert one.stopped_by is StoppedBy.EFFORT


def test_progress_only_gets_shorter_and_may_stop_the_search() -> None:
    """Lengths reported never grow, and a true answer ends the search with a valid packing."""
    star = np.array([(0, 0), (4, 1), (8, 0), (5, 4), (4, 8), (3, 4)], dtype=float)
    strip = Strip(width=20.0, items=(StripItem(name="star", outline=star, quantity=9),))
    reports: list[Progress] = []

    def listen(report: Progress) -> bool:
        reports.append(report)
        return len(reports) == 5

    packing = pack(strip, effort="thorough", workers=1, progress=listen)

    lengths = [report.length for report in reports]
    assert lengths == sorted(lengths, reverse=True)
    assert len(reports) == 5
    assert packing.stopped_by is StoppedBy.REQUEST
    assert faults(strip, packing) == []


def test_ctrl_c_keeps_the_best_packing_so_far() -> None:
    """An interrupt in the middle of the search ends it; the packing in hand is returned."""
    calls = 0

    def interrupt(_: Progress) -> None:
        nonlocal calls
        calls += 1
        if calls == 4:
            raise KeyboardInterrupt

    strip = Strip(width=5.0, items=(StripItem(name="box", outline=box(2, 1.7), quantity=5),))

    packing = pack(strip, effort="thorough", workers=1, progress=interrupt)

    assert packing.stopped_by is StoppedBy.REQUEST
    assert faults(strip, packing) == []


def test_a_full_strip_is_proven_best_and_ends_the_search() -> None:
    """Six 1 x 2 boxes on a strip 2 wide cannot take less than 6, and the search knows it."""
    item = StripItem(name="box", outline=box(1, 2), quantity=6)

    packing = pack(Strip(width=2.0, items=(item,)), effort="thorough", workers=1)

    assert packing.length == 6.0
    assert packing.stopped_by is StoppedBy.PROVEN_BEST


def test_a_time_limit_stops_a_search_that_would_go_on() -> None:
    """With 0.2 s and no effort the search ends by its time."""
    star = np.array([(0, 0), (4, 1), (8, 0), (5, 4), (4, 8), (3, 4)], dtype=float)
    strip = Strip(width=20.0, items=(StripItem(name="star", outline=star, quantity=7),))

    packing = pack(strip, seconds=0.2, workers=1)

    assert packing.stopped_by is StoppedBy.SECONDS
    assert packing.history[-1].length == packing.length


def test_an_item_wider_than_the_strip_is_refused_by_name() -> None:
    """A box 3 wide does not go on a strip 2 wide, unless it may turn."""
    item = StripItem(name="long box", outline=box(1, 3))

    with pytest.raises(DoesNotFitError, match=r'"long box" needs 3 across .* 2 wide'):
        pack(Strip(width=2.0, items=(item,)), effort="quick", workers=1)

    turning = StripItem(name="long box", outline=box(1, 3), turns_deg=(0.0, 90.0))
    assert pack(Strip(width=2.0, items=(turning,)), effort="quick", workers=1).length == 3.0


@pytest.mark.parametrize(
    "options",
    [{"effort": "huge"}, {"seconds": 0.0}, {"seconds": float("nan")}, {"workers": 0}, {"seed": -1}],
)
def test_options_out_of_range_are_refused(options: dict[str, object]) -> None:
    """Each option has a range, and the message names the value."""
    strip = Strip(width=2.0, items=(StripItem(name="box", outline=box(1, 1)),))

    with pytest.raises(StripError):
        pack(strip, **options)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"quantity": 0}, "quantity 0 is below 1"),
        ({"turns_deg": ()}, "at least one turn"),
        ({"turns_deg": (float("inf"),)}, "finite"),
        ({"outline": [(0, 0), (1, 1), (1, 0), (0, 1)]}, "crosses itself"),
    ],
)
def test_items_that_are_no_problem_at_all_are_refused(
    change: dict[str, object], message: str
) -> None:
    """The message names the item and what is wrong with it."""
    with pytest.raises(StripError, match=message):
        StripItem(**{"name": "box", "outline": box(1, 1), **change})  # type: ignore[arg-type]


def test_strips_need_width_items_and_different_names() -> None:
    """A strip without width or items, or with two items of one name, is refused."""
    item = StripItem(name="box", outline=box(1, 1))

    with pytest.raises(StripError, match="width"):
        Strip(width=0.0, items=(item,))
    with pytest.raises(StripError, match="no items"):
        Strip(width=1.0, items=())
    with pytest.raises(StripError, match="share a name"):
        Strip(width=1.0, items=(item, item))
