"""Lengths and prices as people write them."""

import math
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pieces.errors import LengthError
from pieces.measures.format import format_both, format_length, format_metric, format_yards
from pieces.measures.parse import parse_length_mm
from pieces.measures.price import Price, parse_price
from pieces.measures.shop_step import round_up_to_step_mm
from pieces.measures.units import UnitSystem


@pytest.mark.parametrize(
    ("text", "length_mm"),
    [
        ("45in", 1143.0),  # 45 x 25.4
        ('45"', 1143.0),
        ("45 inches", 1143.0),
        ("45\N{RIGHT DOUBLE QUOTATION MARK}", 1143.0),
        ("0.5 in", 12.7),
        ("1/3 in", 25.4 / 3),
        ("2 3/8 yd", 2171.7),  # 2.375 x 914.4
        ("2-3/8 yd", 2171.7),
        ("2\N{VULGAR FRACTION THREE EIGHTHS} yards", 2171.7),
        ("2 \N{VULGAR FRACTION THREE EIGHTHS} yards", 2171.7),
        ("\N{VULGAR FRACTION ONE HALF} yd", 457.2),
        ("3/8yd", 342.9),
        ("3 / 8 YD", 342.9),
        ("5'", 1524.0),  # 5 x 304.8
        ("5 ft", 1524.0),
        ("1.4 m", 1400.0),
        ("1,4 m", 1400.0),
        ("0,125 m", 125.0),
        (".5 m", 500.0),
        ("+2 m", 2000.0),
        ("2 m.", 2000.0),
        ("150cm", 1500.0),
        ("  150   cm ", 1500.0),
        ("12mm", 12.0),
        ("3 metres", 3000.0),
    ],
)
def test_lengths_are_read_as_people_write_them(text: str, length_mm: float) -> None:
    """Every common way to write a length is understood, to the last digit."""
    assert parse_length_mm(text) == length_mm


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "cannot read"),
        ("   ", "cannot read"),
        ("45", "has no unit; add mm, cm, m, in, ft or yd"),
        ("2 3/8", "has no unit"),
        ("-3 cm", "below zero"),
        ("\N{MINUS SIGN}3 cm", "below zero"),
        ("0 mm", "is zero; give one above zero"),
        ("nan", "cannot read"),
        ("nan mm", "cannot read"),
        ("inf m", "cannot read"),
        ("1e3 mm", "cannot read"),
        ("12 parsecs", 'unknown unit "parsecs"'),
        ("20 km", 'unknown unit "km"'),
        ("1/0 in", "divides by zero"),
        ("10001 m", "above 10 km"),
        ("9" * 50 + " m", "above 10 km"),
        ("9" * 5000 + " m", "too long"),
        ("1,400 m", "two ways; write 1400 or 1.400"),
        ("1..2 m", "cannot read the number"),
        ("1.4.4 m", "cannot read the number"),
        ("1 2 m", "cannot read the number"),
        ("1 1/2/3 m", "cannot read the number"),
        ("5 ft 3 in", "cannot read"),
        ("\N{ARABIC-INDIC DIGIT THREE} m", "digits 0 to 9"),
        ("5\N{SUPERSCRIPT TWO} m", "unknown unit"),
        (45, "is not text"),
        (None, "is not text"),
    ],
)
def test_what_is_no_length_is_refused(text: str, sentence: str) -> None:
    """Nothing is guessed: a refusal says what is wrong and how to write it."""
    with pytest.raises(LengthError, match=sentence):
        parse_length_mm(text)


def test_zero_is_a_length_where_it_is_allowed() -> None:
    """A selvage may be nothing at all, but still has a unit."""
    assert parse_length_mm("0 in", allow_zero=True) == 0.0
    with pytest.raises(LengthError, match="no unit"):
        parse_length_mm("0", allow_zero=True)


@given(st.text(max_size=30))
def test_any_text_is_read_or_refused(text: str) -> None:
    """Whatever is typed, there is a sensible length or a refusal, and no other error."""
    try:
        length_mm = parse_length_mm(text)
    except LengthError:
        return
    assert 0 < length_mm <= 1e7


@pytest.mark.parametrize(
    ("length_mm", "yards", "metric"),
    [
        (2171.7, "2 3/8 yd", "2.17 m"),
        (914.4, "1 yd", "91.4 cm"),
        (457.2, "1/2 yd", "45.7 cm"),
        (1400.0, "55.12 in", "1.40 m"),  # 1400 / 25.4 = 55.118
        (850.0, "33.46 in", "85 cm"),
        (85.0, "3.35 in", "8.5 cm"),
        (12.0, "0.47 in", "12 mm"),
        (999.96, "39.37 in", "1.00 m"),
        (0.0, "0 yd", "0 mm"),
        (25.4, "1 in", "2.5 cm"),
        (1005.0, "39.57 in", "1.01 m"),  # half a centimetre is rounded up, as by hand
    ],
)
def test_lengths_are_printed_in_both_systems(length_mm: float, yards: str, metric: str) -> None:
    """Yards come in eighths when that is exact and else as inches; metres have two decimals."""
    assert format_yards(length_mm) == yards
    assert format_metric(length_mm) == metric
    assert format_length(length_mm, UnitSystem.IMPERIAL) == yards
    assert format_both(length_mm, UnitSystem.IMPERIAL) == f"{yards} ({metric})"
    assert format_both(length_mm, UnitSystem.METRIC) == f"{metric} ({yards})"


@given(st.integers(1, 8000))
def test_printed_yards_read_back(eighths: int) -> None:
    """A multiple of 1/8 yd survives being printed and read."""
    length_mm = eighths * 114.3

    assert parse_length_mm(format_yards(length_mm)) == pytest.approx(length_mm, rel=1e-12)


@pytest.mark.parametrize("length_mm", [-1.0, math.nan, math.inf])
def test_what_has_no_length_is_not_printed(length_mm: float) -> None:
    """A negative or endless length is refused before it reaches a shopping list."""
    for call in (format_yards, format_metric, parse_price("1/m").cost):
        with pytest.raises(LengthError, match="finite and at least zero"):
            call(length_mm)


@pytest.mark.parametrize(
    ("length_mm", "step_mm", "bought_mm"),
    [
        (1401.0, 100.0, 1500.0),
        (1400.0, 100.0, 1400.0),
        (1400.0 + 5e-7, 100.0, 1400.0),  # dust of adding decimals
        (1400.00001, 100.0, 1500.0),
        (0.1 + 0.2, 0.1, 3 * 0.1),  # 0.30000000000000004 is three steps, not four
        (2100.0, 114.3, 2171.7),  # 18.37 eighths of a yard: 19
        (0.0, 100.0, 0.0),
        (1.0, 100.0, 100.0),
    ],
)
def test_the_shop_rounds_up(length_mm: float, step_mm: float, bought_mm: float) -> None:
    """A length goes up to the next step, and one that lies on a step stays."""
    assert round_up_to_step_mm(length_mm, step_mm) == pytest.approx(bought_mm, abs=1e-9)


@given(st.floats(0.0, 1e5), st.floats(1.0, 1000.0))
def test_rounding_up_is_never_short_and_never_a_step_too_long(
    length_mm: float, step_mm: float
) -> None:
    """What is bought holds the length, and one step less would not."""
    bought_mm = round_up_to_step_mm(length_mm, step_mm)

    assert length_mm - 1e-6 <= bought_mm < length_mm + step_mm


@given(st.integers(0, 1000), st.sampled_from([100.0, 114.3, 228.6, 50.0, 914.4]))
def test_exact_multiples_of_the_step_stay(count: int, step_mm: float) -> None:
    """A length that is a whole number of steps is bought as it is."""
    assert round_up_to_step_mm(count * step_mm, step_mm) == count * step_mm


@pytest.mark.parametrize("step_mm", [0.0, -1.0, math.nan, math.inf])
def test_a_step_that_is_none_is_refused(step_mm: float) -> None:
    """The cutting step is above zero."""
    with pytest.raises(LengthError, match="must be above zero"):
        round_up_to_step_mm(1000.0, step_mm)


def test_a_step_far_below_the_length_is_refused() -> None:
    """A step of a billionth of the length is a slip of units."""
    with pytest.raises(LengthError, match="too small"):
        round_up_to_step_mm(1e7, 1e-9)


@pytest.mark.parametrize(
    ("text", "price", "written"),
    [
        ("12.50/yd", Price("", Decimal("12.50"), "yd"), "12.50/yd"),
        ("9/m", Price("", Decimal("9"), "m"), "9.00/m"),
        ("€ 9.90/m", Price("€", Decimal("9.90"), "m"), "€ 9.90/m"),
        ("9,90 €/m", Price("€", Decimal("9.90"), "m"), "€ 9.90/m"),
        ("£12/yd", Price("£", Decimal("12"), "yd"), "£ 12.00/yd"),
        ("EUR 12 per metre", Price("EUR", Decimal("12"), "m"), "EUR 12.00/m"),
        ("0.0125/mm", Price("", Decimal("0.0125"), "mm"), "0.0125/mm"),
    ],
)
def test_prices_are_read_with_their_unit(text: str, price: Price, written: str) -> None:
    """A price keeps its currency and its unit of length."""
    assert parse_price(text) == price
    assert str(price) == written


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("12.50", "money for a length"),
        ("12/", "money for a length"),
        ("-3/m", "money for a length"),
        ("", "money for a length"),
        ("nan/m", "money for a length"),
        ("1,200/m", "money for a length"),
        ("12/parsec", 'unknown unit "parsec"'),
        ("€9€/m", "currency twice"),
        (12, "is not text"),
    ],
)
def test_what_is_no_price_is_refused(text: str, sentence: str) -> None:
    """A price without a unit of length, or below zero, is refused."""
    with pytest.raises(LengthError, match=sentence):
        parse_price(text)


def test_a_price_checks_itself() -> None:
    """A price made in code is held to the same rules."""
    with pytest.raises(LengthError, match="at least zero"):
        Price("", Decimal("-1"), "m")
    with pytest.raises(LengthError, match="at least zero"):
        Price("", Decimal("NaN"), "m")
    with pytest.raises(LengthError, match="is not known"):
        Price("", Decimal("1"), "furlong")


@pytest.mark.parametrize(
    ("text", "length_mm", "cost"),
    [
        ("12.50/yd", 2171.7, "29.69"),  # 2.375 x 12.50 = 29.6875
        ("9.90/m", 1400.0, "13.86"),
        ("0.01/m", 500.0, "0.01"),  # half a cent counts as one
        ("1/in", 25.4, "1.00"),
        ("7/m", 0.0, "0.00"),
    ],
)
def test_costs_are_rounded_half_up_to_cents(text: str, length_mm: float, cost: str) -> None:
    """The cost is worked out exactly and rounded once."""
    assert str(parse_price(text).cost(length_mm)) == cost
