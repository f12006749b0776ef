"""What cloth asks of the engine: repeats, regions to avoid, a gap, fixed copies, a known start."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.engine import (
    Axis,
    HeldTo,
    Packing,
    PhaseGroup,
    PhaseHold,
    Strip,
    StripItem,
    StripPlacement,
    pack,
)
from nesting.engine.compaction import valid_start
from nesting.engine.layout import layout_from
from nesting.engine.prepared import prepare
from nesting.errors import DoesNotFitError, StripError
from tests.packing_checks import faults
from tests.strategies import skyline_outlines, star_outlines

# a gap is kept to the accuracy of the grid, and held places to rounding in the linear program
OUTLINES = st.lists(st.one_of(star_outlines(), skyline_outlines()), min_size=1, max_size=4)
POSES = ((0.0, False), (180.0, False))


def box(long: float, wide: float) -> np.ndarray:
    """Return a rectangle with its lower left corner at the origin."""
    return np.array([(0.0, 0.0), (long, 0.0), (long, wide), (0.0, wide)])


@st.composite
def demanding_strips(draw: st.DrawFn) -> Strip:
    """Draw a strip with repeats along and across, perhaps a region to avoid, perhaps a gap."""
    outlines = draw(OUTLINES)
    widest = max(float(np.hypot(*np.ptp(outline, axis=0))) for outline in outlines)
    along = PhaseGroup(Axis.ALONG, widest * draw(st.sampled_from([0.2, 0.7])))
    every = widest * draw(st.sampled_from([0.2, 0.5]))
    phases = draw(st.sampled_from([None, (0.0,), (0.0, every / 2)]))
    groups = along, PhaseGroup(Axis.ACROSS, every, phases)
    sign = draw(st.sampled_from([1, -1]))
    items = []
    for number, outline in enumerate(outlines):
        wanted = draw(st.sampled_from([(), (0,), (1,), (0, 1)]))
        offset = draw(st.floats(-widest, widest))
        held = {
            pose: tuple(PhaseHold(group, offset, sign if pose[0] else 1) for group in wanted)
            for pose in POSES
        }
        items.append(
            StripItem(
                name=str(number),
                outline=outline,
                quantity=draw(st.integers(1, 3)),
                turns_deg=(0.0, 180.0),
                holds=held,
            )
        )
    spot = box(0.3 * widest, 0.2 * widest) + np.array([0.4 * widest, 0.7 * widest])
    return Strip(
        width=2.0 * widest,
        items=tuple(items),
        groups=groups,
        regions=draw(st.sampled_from([(), (spot,)])),
        gap=draw(st.sampled_from([0.0, 0.05 * widest])),
    )


@pytest.mark.slow
@settings(max_examples=40)
@given(strip=demanding_strips())
def test_any_demanding_strip_is_filled_without_a_fault(strip: Strip) -> None:
    """Holds, regions and gap are all kept by filling alone, as shapely and arithmetic see it."""
    assert faults(strip, pack(strip, effort="quick", workers=1)) == []


@pytest.mark.slow
@settings(max_examples=12)
@given(strip=demanding_strips(), seed=st.integers(0, 99))
def test_and_searched_without_a_fault(strip: Strip, seed: int) -> None:
    """So they are by separation and compaction, and the search never lengthens what fill laid."""
    quick = pack(strip, effort="quick", workers=1, seed=seed)

    searched = pack(strip, seconds=0.6, workers=1, seed=seed, start=quick.placements)

    assert faults(strip, searched) == []
    assert searched.length <= quick.length * (1 + 1e-9)


@pytest.mark.slow
@settings(max_examples=60)
@given(strip=demanding_strips(), seed=st.integers(0, 99))
def test_what_was_found_is_known_as_a_start(strip: Strip, seed: int) -> None:
    """A packing read back is valid as it stands: it needs no repair and nothing of it moves."""
    found = pack(strip, effort="quick", workers=1, seed=seed)
    prepared = prepare(strip)

    start = valid_start(prepared, layout_from(prepared, strip, found.placements))

    assert start is not None
    assert start.length / prepared.scale <= found.length + strip.gap + 1e-6 * strip.width


def test_a_repeat_along_costs_what_hand_arithmetic_says() -> None:
    """Four boxes 4 long in a row: 16 plain; on a repeat of 5 the last begins at 15, so 19."""
    plain = StripItem(name="box", outline=box(4, 2), quantity=4)
    held = StripItem(
        name="box", outline=box(4, 2), quantity=4, holds={(0.0, False): (PhaseHold(0, 1.5),)}
    )
    repeat = (PhaseGroup(Axis.ALONG, 5.0),)

    assert length_of(Strip(width=2.0, items=(plain,))) == pytest.approx(16.0, rel=1e-6)
    assert length_of(Strip(width=2.0, items=(held,), groups=repeat)) == pytest.approx(19.0)


@pytest.mark.slow
def test_a_repeat_across_costs_what_hand_arithmetic_says() -> None:
    """Boxes 2 wide on a strip 6 wide lie three abreast; on a repeat of 4 across, two: 3 -> 6."""
    held = StripItem(
        name="box", outline=box(3, 2), quantity=3, holds={(0.0, False): (PhaseHold(0, 0.0),)}
    )
    plain = StripItem(name="box", outline=box(3, 2), quantity=3)
    repeat = (PhaseGroup(Axis.ACROSS, 4.0),)

    assert length_of(Strip(width=6.0, items=(plain,))) == pytest.approx(3.0)
    assert length_of(Strip(width=6.0, items=(held,), groups=repeat)) == pytest.approx(6.0)


@pytest.mark.slow
def test_a_region_is_gone_around() -> None:
    """Three boxes 2 x 2 on a strip 2 wide with a flaw from 2 to 3: 2 + 1 + 4 = 7 long."""
    item = StripItem(name="box", outline=box(2, 2), quantity=3)
    flaw = box(1, 2) + np.array([2.0, 0.0])

    assert length_of(Strip(width=2.0, items=(item,), regions=(flaw,))) == pytest.approx(7.0)


@pytest.mark.slow
def test_a_gap_is_kept_between_boxes_and_not_at_the_edges() -> None:
    """Three boxes 2 long in a row with a gap of 0.5: 2 + 0.5 + 2 + 0.5 + 2 = 7 long."""
    item = StripItem(name="box", outline=box(2, 2), quantity=3)

    # an arc drawn outside the true one may keep up to half a hundredth more
    assert length_of(Strip(width=2.0, items=(item,), gap=0.5)) == pytest.approx(7.0, abs=0.01)


@pytest.mark.parametrize("held_to", list(HeldTo))
@pytest.mark.parametrize("turn_deg", [7.0, 45.0, 187.0])
def test_a_gap_takes_nothing_at_the_edges_from_a_piece_turned(
    held_to: HeldTo, turn_deg: float
) -> None:
    """A box 40 x 30 turned by t is 40 |cos t| + 30 |sin t| long; held, it touches its edge."""
    cosine, sine = abs(np.cos(np.radians(turn_deg))), abs(np.sin(np.radians(turn_deg)))
    item = StripItem(
        name="box", outline=box(40, 30), quantity=1, turns_deg=(turn_deg,), held_to=held_to
    )
    strip = Strip(width=60.0, items=(item,), gap=10.0)

    packing = pack(strip, effort="quick", workers=1)

    assert packing.length == pytest.approx(40 * cosine + 30 * sine, abs=1e-6)
    assert faults(strip, packing) == []


@pytest.mark.slow
def test_fixed_copies_stay_and_the_others_go_around_them() -> None:
    """One of three boxes is fixed from 3 to 5 on a strip 2 wide: one fits before it, one after."""
    item = StripItem(name="box", outline=box(2, 2), quantity=3)
    fixed = StripPlacement("box", 1, 0.0, False, 3.0, 0.0)

    packing = packed(Strip(width=2.0, items=(item,), fixed=(fixed,)))

    assert packing.placements[1] == fixed
    assert packing.length == pytest.approx(7.0, rel=1e-6)


def test_a_known_start_is_never_made_longer() -> None:
    """The two triangles of a rectangle, given as such, stay 10 long at the least effort."""
    triangle = np.array([(0.0, 0.0), (10.0, 0.0), (0.0, 6.0)])
    item = StripItem(name="triangle", outline=triangle, quantity=2, turns_deg=(0.0, 180.0))
    strip = Strip(width=6.0, items=(item,))
    known = (
        StripPlacement("triangle", 0, 0.0, False, 0.0, 0.0),
        StripPlacement("triangle", 1, 180.0, False, 10.0, 6.0),
    )

    packing = pack(strip, effort="quick", workers=1, start=known)

    assert packing.length == pytest.approx(10.0, rel=1e-6)
    assert packing.fills <= 1


@pytest.mark.parametrize(
    ("given_start", "words"),
    [
        ((), "says nothing of copy 0"),
        ((StripPlacement("box", 0, 45.0, False, 0.0, 0.0),), "may not lie turned by 45"),
    ],
)
def test_a_start_of_other_copies_or_poses_is_refused(
    given_start: tuple[StripPlacement, ...], words: str
) -> None:
    """The message says which copy, or which turn."""
    strip = Strip(width=2.0, items=(StripItem(name="box", outline=box(2, 2)),))

    with pytest.raises(StripError, match=words):
        pack(strip, effort="quick", workers=1, start=given_start)


def test_holds_that_leave_no_place_are_refused() -> None:
    """Two boxes held across to phases that differ by more than the strip leaves room for."""
    items = tuple(
        StripItem(name=name, outline=box(2, 5), holds={(0.0, False): (PhaseHold(0, offset),)})
        for name, offset in (("one", 0.0), ("other", 3.0))
    )

    with pytest.raises(StripError, match="no order tried leaves every piece a place"):
        packed(Strip(width=6.0, items=items, groups=(PhaseGroup(Axis.ACROSS, 6.0),)))


@pytest.mark.parametrize(
    "change",
    [
        {"gap": -1.0},
        {"regions": (np.array([(0, 0), (1, 0)]),)},
        {"fixed": (StripPlacement("box", 7, 0.0, False, 0.0, 0.0),)},
        {"fixed": (StripPlacement("box", 0, 0.0, False, 0.0, 0.0),)},
    ],
    ids=["gap", "region", "unknown copy", "nothing left"],
)
def test_a_strip_that_cannot_be_is_refused(change: dict[str, object]) -> None:
    """A negative gap, a region without area, and fixed copies that are not there or are all."""
    item = StripItem(name="box", outline=box(2, 2))

    with pytest.raises(StripError):
        Strip(width=2.0, items=(item,), **change)  # type: ignore[arg-type]


def packed(strip: Strip) -> Packing:
    """Return what a standard effort of one worker packs, seen to be without fault."""
    packing = pack(strip, effort="standard", workers=1)
    assert faults(strip, packing) == []
    return packing


def length_of(strip: Strip) -> float:
    """Return the length of :func:`packed`."""
    return packed(strip).length


MIDDLE = 3.0
HALVES = ((0.0, MIDDLE), (MIDDLE, 6.0))


@pytest.mark.slow
def test_bands_cost_what_hand_arithmetic_says() -> None:
    """Six boxes 2 x 2 on a strip 6 wide: three abreast, 4 long; in two bands of 3, two: 6 long."""
    free = StripItem(name="box", outline=box(2, 2), quantity=6)
    banded = StripItem(name="box", outline=box(2, 2), quantity=6, bands=HALVES)

    assert length_of(Strip(width=6.0, items=(free,))) == pytest.approx(4.0, rel=1e-6)
    assert length_of(Strip(width=6.0, items=(banded,))) == pytest.approx(6.0, rel=1e-6)


@pytest.mark.slow
def test_an_item_may_be_held_to_the_upper_edge_in_one_pose_and_to_the_lower_in_another() -> None:
    """Four triangles 10 long and 2 high lie base outwards, two on each edge: 20 long."""
    triangle = np.array([(0.0, 0.0), (10.0, 0.0), (5.0, 2.0)])
    edges = {(0.0, False): HeldTo.LOW_EDGE, (180.0, False): HeldTo.HIGH_EDGE}
    item = StripItem(
        name="half", outline=triangle, quantity=4, turns_deg=(0.0, 180.0), pose_edges=edges
    )
    strip = Strip(width=6.0, items=(item,))

    packing = packed(strip)

    assert packing.length == pytest.approx(20.0, rel=1e-6)
    for placement in packing.placements:
        base = 0.0 if placement.turn_deg == 0.0 else 6.0
        assert placement.y == pytest.approx(base, abs=1e-5)
    assert {placement.turn_deg for placement in packing.placements} == {0.0, 180.0}


def test_an_item_too_high_for_every_band_is_refused() -> None:
    """A box 4 high goes on a strip 6 wide, and into none of its two bands of 3."""
    item = StripItem(name="box", outline=box(2, 4), bands=HALVES)

    with pytest.raises(DoesNotFitError, match="within one of 2 bands of it"):
        pack(Strip(width=6.0, items=(item,)), effort="quick", workers=1)


@pytest.mark.parametrize("band", [(2.0, 1.0), (-1.0, 2.0), (0.0, float("inf"))])
def test_a_band_that_is_none_is_refused(band: tuple[float, float]) -> None:
    """Upside down, below the strip, or without end."""
    with pytest.raises(StripError, match="is none"):
        StripItem(name="box", outline=box(1, 1), bands=(band,))


@pytest.mark.slow
@settings(max_examples=10)
@given(outlines=OUTLINES, seed=st.integers(0, 99), gap=st.sampled_from([0.0, 0.05]))
def test_bands_and_edges_are_kept_by_the_whole_search(
    outlines: list[np.ndarray], seed: int, gap: float
) -> None:
    """Free items stay out of the middle line and held ones on their edge, also from a start."""
    widest = max(float(np.hypot(*np.ptp(outline, axis=0))) for outline in outlines)
    bands = ((0.0, 1.2 * widest), (1.2 * widest, 2.4 * widest))
    edges = {(0.0, False): HeldTo.LOW_EDGE, (180.0, False): HeldTo.HIGH_EDGE}
    items = tuple(
        StripItem(
            name=str(number),
            outline=outline,
            quantity=3,
            turns_deg=(0.0, 180.0),
            pose_edges=edges if number % 2 else {},
            bands=bands,
        )
        for number, outline in enumerate(outlines)
    )
    strip = Strip(width=2.4 * widest, items=items, gap=gap * widest)

    quick = pack(strip, effort="quick", workers=1, seed=seed)
    searched = pack(strip, seconds=0.5, workers=1, seed=seed, start=quick.placements)

    assert searched.length <= quick.length * (1 + 1e-9)
    for packing in (quick, searched):
        assert faults(strip, packing) == []


def test_a_start_may_turn_a_piece_that_looks_the_same_turned() -> None:
    """A box given turned by 180 degrees is the same box, and stays where it was said to lie."""
    item = StripItem(name="box", outline=box(4, 2), quantity=2, turns_deg=(0.0, 180.0))
    strip = Strip(width=2.0, items=(item,))
    known = (
        StripPlacement("box", 0, 180.0, False, 4.0, 2.0),
        StripPlacement("box", 1, 0.0, False, 4.0, 0.0),
    )

    packing = pack(strip, effort="quick", workers=1, start=known)

    assert packing.length == pytest.approx(8.0, rel=1e-6)
    assert packing.fills <= 1


@settings(max_examples=10)
@given(outlines=OUTLINES, seed=st.integers(0, 99))
def test_fewer_copies_never_take_more_when_begun_from_the_packing_of_more(
    outlines: list[np.ndarray], seed: int
) -> None:
    """What two of each lie on has room for one of each: the law that more never take less."""
    widest = max(float(np.hypot(*np.ptp(outline, axis=0))) for outline in outlines)

    def strip_of(copies: int) -> Strip:
        return Strip(
            width=1.5 * widest,
            items=tuple(
                StripItem(name=str(n), outline=outline, quantity=copies, turns_deg=(0.0, 180.0))
                for n, outline in enumerate(outlines)
            ),
        )

    two = pack(strip_of(2), effort="quick", workers=1, seed=seed)
    kept = tuple(at for at in two.placements if at.copy == 0)
    one = pack(strip_of(1), effort="quick", workers=1, seed=seed, start=kept)

    assert one.length <= two.length * (1 + 1e-9)
