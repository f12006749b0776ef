"""A few dozen random strips, looked at with shapely alone; ``tests/bench/sweep.py`` does many."""

import numpy as np
import pytest

from nesting.engine import pack
from nesting.errors import StripError
from tests.packing_checks import faults
from tests.random_strips import random_strip


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(3))
def test_random_strips_are_packed_without_a_fault(seed: int) -> None:
    """Turned, flipped, held to edges and repeats, beside regions, with gaps: no need is broken."""
    rng = np.random.default_rng(seed)
    packed = 0
    for number in range(10):
        strip = random_strip(rng)
        try:
            packing = pack(strip, effort="quick", seed=number, workers=1)
        except StripError:  # a repeat may leave a piece no place
            continue
        packed += 1
        assert faults(strip, packing) == [], f"strip {number}"

    assert packed >= 8
