"""The index names every copy that a box overlaps, and few others, however they have moved."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.engine.kernels.box_index import BUCKETS, WORD, bucket, lowest_bit, mark_all, move_marks
from nesting.engine.kernels.bundles import HIGH, LEFT, LOW, RIGHT, BoxIndex
from nesting.engine.separation_state import new_box_index
from pieces.outline.polygon import FloatArray


def boxes(rng: np.random.Generator, count: int, span: float) -> FloatArray:
    """Return sides of boxes, shape (n, 4), some of which lie partly beyond the strip."""
    corner = rng.uniform(-0.1 * span, span, (count, 2))
    return np.hstack((corner, corner + rng.uniform(0.0, 0.3 * span, (count, 2))))


def candidates(box: FloatArray, index: BoxIndex) -> set[int]:
    """Return the copies whose bits are set in all four rows that a box falls into."""
    marks, buckets_a_unit = index
    rows = [
        marks[side, bucket(box[far], buckets_a_unit[far % 2])]
        for side, far in ((LEFT, RIGHT), (LOW, HIGH), (RIGHT, LEFT), (HIGH, LOW))
    ]
    words = np.bitwise_and.reduce(rows)
    return {
        WORD * k + bit
        for k, word in enumerate(words.tolist())
        for bit in range(WORD)
        if word >> bit & 1
    }


def overlapping(box: FloatArray, sides: FloatArray) -> set[int]:
    """Return the copies whose boxes overlap a box, tried one by one."""
    meets = (sides[:, :2] < box[2:]).all(axis=1) & (sides[:, 2:] > box[:2]).all(axis=1)
    return set(np.flatnonzero(meets).tolist())


@pytest.mark.parametrize("bit", range(WORD))
def test_lowest_bit_whatever_lies_above(bit: int) -> None:
    """The table of bits is right for each of the 64, whatever bits are set above."""
    for above in (0, 1 << 63, 0b1010101 << bit & 2**64 - 1):
        assert lowest_bit(np.uint64(1 << bit | above & ~((1 << bit) - 1))) == bit


@given(st.integers(0, 2**32), st.integers(1, 150), st.sampled_from([3.0, 1e4, 5e8]))
def test_no_overlapping_box_is_missed_after_many_moves(seed: int, count: int, span: float) -> None:
    """Every copy that a box overlaps is named, within the strip and beyond its ends."""
    rng = np.random.default_rng(seed)
    sides, index = boxes(rng, count, span), new_box_index(count)
    mark_all(sides, index)
    for moved in rng.integers(count, size=30).tolist():
        to = boxes(rng, 1, 1.5 * span)[0]
        move_marks(moved, tuple(sides[moved].tolist()), to, index)
        sides[moved] = to
    for box in boxes(rng, 10, 1.2 * span):
        assert overlapping(box, sides) <= candidates(box, index)


def test_few_others_are_named() -> None:
    """On a hundred boxes at most a tenth of those named do not overlap."""
    rng = np.random.default_rng(7)
    sides, index = boxes(rng, 100, 1e6), new_box_index(100)
    mark_all(sides, index)
    tried = boxes(rng, 200, 1e6)
    named = sum(len(candidates(box, index)) for box in tried)
    meant = sum(len(overlapping(box, sides)) for box in tried)
    assert meant > 200
    assert meant <= named <= 1.1 * meant


@given(st.floats(-1e9, 1e9), st.floats(-1e9, 1e9), st.floats(1e-9, 1.0))
def test_buckets_rise_with_the_coordinate(first: float, second: float, per_unit: float) -> None:
    """A greater coordinate never falls into an earlier bucket, so no side is passed over."""
    low, high = sorted((first, second))
    assert 0 <= bucket(low, per_unit) <= bucket(high, per_unit) < BUCKETS
