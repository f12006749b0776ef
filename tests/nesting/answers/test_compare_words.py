"""What the person at the counter is told after a comparison."""

from dataclasses import replace

import pytest

from nesting.answers.compare import CompareRow
from nesting.answers.compare_words import advice
from nesting.cloth.bolt import Bolt
from nesting.lay import LayRequest, LayResult, lay_pieces
from pieces.measures.price import parse_price
from pieces.measures.units import MM_PER_INCH, MM_PER_YARD
from tests.small_patterns import box, piece, request


@pytest.fixture(scope="module")
def any_result() -> LayResult:
    """Return a lay whose marker is given other lengths below."""
    return lay_pieces(_request(Bolt(width_mm=1000.0)))


def _request(bolt: Bolt) -> LayRequest:
    patch = request(piece("patch", box(100, 100)), width_mm=bolt.width_mm)
    return replace(patch, bolt=bolt)


def _row(
    any_result: LayResult,
    inches: float,
    yards: float | None,
    *,
    nap: bool = False,
    price: str | None = None,
) -> CompareRow:
    """Return a row of a bolt so many inches wide that needs so many yards, or was refused."""
    bolt = Bolt(
        width_mm=inches * MM_PER_INCH,
        nap=nap,
        price=None if price is None else parse_price(price),
    )
    if yards is None:
        return CompareRow(_request(bolt), None, "too narrow")
    marker = replace(any_result.marker, bolt=bolt, length_mm=yards * MM_PER_YARD)
    return CompareRow(_request(bolt), replace(any_result, marker=marker))


def test_the_bolt_that_needs_less_is_named_with_the_difference(any_result: LayResult) -> None:
    """2 3/8 yd less 1 5/8 yd is 3/4 yd, 68.58 cm."""
    rows = [_row(any_result, 45, 2.375), _row(any_result, 60, 1.625)]

    assert advice(rows) == (
        "The 60 in bolt needs 1 5/8 yd (1.49 m), 3/4 yd (68.6 cm) less than the 45 in bolt.",
    )


def test_equal_bolts_need_the_same(any_result: LayResult) -> None:
    """Neither is praised."""
    rows = [_row(any_result, 54, 1.0), _row(any_result, 60, 1.0)]

    assert advice(rows) == ("The 54 in and 60 in bolts need the same: 1 yd (91.5 cm).",)


def test_of_three_bolts_two_may_share_the_first_place(any_result: LayResult) -> None:
    """The difference is to the one that needs most."""
    rows = [_row(any_result, 36, 2.0), _row(any_result, 54, 1.5), _row(any_result, 60, 1.5)]

    assert advice(rows)[0].startswith("The 54 in and 60 in bolts need 1 1/2 yd")
    assert advice(rows)[0].endswith("1/2 yd (45.7 cm) less than the 36 in bolt.")


def test_what_nap_costs_on_each_width(any_result: LayResult) -> None:
    """A sentence for each kind of cloth, and one that sets them side by side."""
    rows = [
        _row(any_result, 45, 2.0),
        _row(any_result, 45, 2.25, nap=True),
        _row(any_result, 60, 1.5),
        _row(any_result, 60, 1.5, nap=True),
    ]

    without, with_nap, costs = advice(rows)

    assert without.startswith("Without nap the 60 in bolt needs 1 1/2 yd")
    assert with_nap.startswith("With nap the 60 in bolt needs 1 1/2 yd")
    assert (
        costs == "Nap costs 1/4 yd (22.9 cm) more on the 45 in bolt and nothing on the 60 in bolt."
    )


def test_the_cheapest_bolt_need_not_be_the_widest(any_result: LayResult) -> None:
    """2 yd at 5 cost 10; 1.5 yd at 8 cost 12."""
    rows = [_row(any_result, 45, 2.0, price="£5/yd"), _row(any_result, 60, 1.5, price="£8/yd")]

    (sentence,) = advice(rows)

    assert "the 60 in bolt needs 1 1/2 yd" in sentence.lower()
    assert sentence.endswith(
        "the 45 in bolt is cheapest at £ 10.00, £ 2.00 less than the 60 in bolt."
    )


def test_the_bolt_that_needs_least_may_be_the_cheapest_too(any_result: LayResult) -> None:
    """2 yd at 5 cost 10; 1.5 yd at 5 cost 7.50; one name is enough."""
    rows = [_row(any_result, 45, 2.0, price="5/yd"), _row(any_result, 60, 1.5, price="5/yd")]

    assert advice(rows)[0].endswith(
        "less than the 45 in bolt; it is cheapest at 7.50, 2.50 less than the 45 in bolt."
    )


def test_one_width_at_two_prices_is_told_apart_by_price(any_result: LayResult) -> None:
    """2 yd at 5 and at 6: 10 and 12."""
    rows = [_row(any_result, 45, 2.0, price="5/yd"), _row(any_result, 45, 2.0, price="6/yd")]

    assert advice(rows) == (
        "The 45 in bolt at 5.00/yd is cheapest at 10.00, 2.00 less than the 45 in bolt at 6.00/yd.",
    )


def test_equal_costs_are_said_to_be_equal(any_result: LayResult) -> None:
    """2 yd at 6 and 1.5 yd at 8 both cost 12."""
    rows = [_row(any_result, 45, 2.0, price="6/yd"), _row(any_result, 60, 1.5, price="8/yd")]

    assert advice(rows)[0].endswith("all cost the same: 12.00.")


def test_currencies_are_not_mixed(any_result: LayResult) -> None:
    """No pounds are taken from euros."""
    rows = [_row(any_result, 45, 2.0, price="£5/yd"), _row(any_result, 60, 1.5, price="€8/yd")]

    assert advice(rows)[-1].startswith("The prices are in different currencies")
    assert "cheapest" not in " ".join(advice(rows))


def test_a_refused_bolt_is_named_last(any_result: LayResult) -> None:
    """What serves comes first."""
    rows = [_row(any_result, 20, None), _row(any_result, 45, 2.0)]

    assert advice(rows) == (
        "Ask for 2 yd (1.83 m) of the 45 in bolt.",
        "It does not go on the 20 in bolt.",
    )


def test_if_no_bolt_serves_there_is_a_way_out(any_result: LayResult) -> None:
    """One sentence, with something to do."""
    (sentence,) = advice([_row(any_result, 20, None)])

    assert "wider" in sentence
