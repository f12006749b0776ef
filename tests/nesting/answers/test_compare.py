"""Comparing bolts: more freedom never costs more, refusals become rows, money is the shop's."""

from dataclasses import replace
from decimal import Decimal

import pytest

from nesting.answers.compare import compare_bolts
from nesting.errors import LayError
from nesting.lay import LayRequest
from pieces.measures.price import Price
from tests.small_patterns import GARMENT, box, piece, request


def on(width_mm: float, nap: bool) -> LayRequest:
    """Return the garment on a bolt."""
    return request(*GARMENT, width_mm=width_mm, nap=nap)


def test_wider_cloth_and_plain_cloth_never_need_more() -> None:
    """Rows come in the order asked; nap costs or is free, and width saves or is free."""
    widths = (120.0, 130.0, 145.0, 180.0)
    rows = compare_bolts(tuple(on(width, nap) for width in widths for nap in (False, True)))

    lengths = [row.result.marker_length_mm for row in rows if row.result is not None]
    plain, napped = lengths[0::2], lengths[1::2]
    assert len(lengths) == 8
    assert plain == sorted(plain, reverse=True)
    assert napped == sorted(napped, reverse=True)
    assert all(p <= n for p, n in zip(plain, napped, strict=True))
    for row in rows:
        assert row.result is not None
        assert row.result.findings == ()
        assert row.result.marker.bolt == row.request.bolt


def test_a_piece_too_wide_becomes_a_row_that_says_so() -> None:
    """A panel 35 wide does not go on 30 mm of cloth; the other bolt is laid all the same."""
    narrow, wide = compare_bolts((on(30.0, False), on(120.0, False)))

    assert narrow.result is None
    assert "across the cloth" in narrow.refusal
    assert narrow.cost is None
    assert wide.result is not None


def test_cost_is_the_price_of_the_shop_length() -> None:
    """A garment under an eighth of a yard costs an eighth: 8.00 a yard makes 1.00."""
    small = request(piece("tab", box(20, 50)), width_mm=100.0)
    priced = replace(small, bolt=replace(small.bolt, price=Price("£", Decimal(8), "yd")))

    (row,) = compare_bolts((priced,))

    assert row.cost == Decimal("1.00")


def test_nothing_to_compare_is_refused() -> None:
    """At least one bolt."""
    with pytest.raises(LayError, match="nothing to compare"):
        compare_bolts(())
