"""What is said to be unbeatable is not beaten: not by a stricter lay, nor by another way."""

from collections.abc import Iterator
from dataclasses import replace

import pytest
from hypothesis import given, settings

from nesting.cloth.spread import Spread
from nesting.errors import DoesNotFitError, LayError
from nesting.lay import LayRequest, lay_pieces
from nesting.plan.bounds import spread_bound
from pieces.grainline import Grain
from tests.small_patterns import box, piece, request
from tests.whole_jobs import jobs

ROUNDING_MM = 1e-6


@pytest.mark.parametrize("nap", [False, True])
def test_alike_copies_are_laid_singly_where_that_asks_for_less(nap: bool) -> None:
    """Three panels of 50 x 40, wanted crosswise, 40 cm across each on 150 cm: 50 cm long.

    Two of them through both layers and the third behind would take twice as much.
    """
    panel = replace(piece("panel", box(500, 400), count=3), grain=Grain.CROSSWISE)

    result = lay_pieces(request(panel, width_mm=1500.0, nap=nap, spread=Spread.LENGTHWISE))

    assert result.marker_length_mm == pytest.approx(500.0)
    assert result.lower_bound.length_mm <= 500.0 + ROUNDING_MM
    assert result.open_bound.length_mm <= result.lower_bound.length_mm + ROUNDING_MM


def freer(asked: LayRequest) -> Iterator[LayRequest]:
    """Yield requests that permit all that this one permits, and more."""
    bolt = asked.bolt
    yield asked
    yield replace(asked, bolt=replace(bolt, nap=False))
    yield replace(asked, bolt=replace(bolt, flaws=()))
    yield replace(asked, bolt=replace(bolt, repeat=None))
    yield replace(asked, bolt=replace(bolt, width_mm=1.3 * bolt.width_mm))
    yield replace(asked, rules=replace(asked.rules, spread=Spread.OPEN))


@pytest.mark.slow
@settings(max_examples=60)
@given(asked=jobs())
def test_no_bound_of_a_freer_lay_is_above_the_length_of_a_stricter_one(asked: LayRequest) -> None:
    """Over nap, flaws, repeat, width and spread."""
    try:
        result = lay_pieces(asked)
    except (DoesNotFitError, LayError):
        return
    items = result.marker.items
    for one in freer(asked):
        try:
            bound = spread_bound(items, one.bolt, one.rules)
        except LayError:  # this way of spreading is refused on such cloth
            continue
        assert bound.length_mm <= result.marker_length_mm + ROUNDING_MM, one
