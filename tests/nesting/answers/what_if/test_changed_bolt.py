"""What an inch less of width, or nap, comes to: told in length and money."""

from dataclasses import replace

import pytest

from nesting import Change, what_if
from nesting.answers.what_if.changed_bolt import what_if_words
from nesting.cloth.bolt import TEN_CM_MM, Bolt
from nesting.errors import BoltError
from nesting.lay import LayRequest, SearchOptions
from nesting.marker.cut_list import Selection
from pieces.measures.price import parse_price
from pieces.measures.units import UnitSystem
from pieces.sheet.pattern_file import parse_pattern
from tests.nesting.cli.sheets import GOOD


@pytest.fixture(scope="module")
def tote() -> LayRequest:
    """Two bodies of 40 x 50 cm and two straps of 10 x 60: on 1 m they lie in 60 cm."""
    bolt = Bolt(
        width_mm=1000.0,
        shop_step_mm=TEN_CM_MM,
        units=UnitSystem.METRIC,
        price=parse_price("10/m"),
    )
    return LayRequest(
        pattern=parse_pattern(GOOD),
        selections=(Selection("A", "one"),),
        cloth="shell",
        bolt=bolt,
        search=SearchOptions("quick", workers=1),
    )


def test_a_narrower_bolt_is_told_with_length_and_money(tote: LayRequest) -> None:
    """97.5 cm hold no longer two bodies and two straps side by side, so it takes more."""
    (found,) = what_if((tote,), Change.NARROWER)

    assert found.more_mm is not None
    assert found.more_mm > 0.0
    assert found.more_cost == parse_price("10/m").cost(found.more_mm)
    words = what_if_words(found)
    assert words.startswith("If the bolt is 2.5 cm narrower, 97.5 cm (38.39 in),")
    assert "and pay" in words


def test_nap_of_pieces_that_all_lie_upright_costs_nothing(tote: LayRequest) -> None:
    """Rectangles lie as well with nap as without."""
    (found,) = what_if((tote,), Change.NAP)

    assert found.more_mm == 0.0
    assert what_if_words(found) == (
        "With nap, on a bolt 100 cm (39.37 in) wide, ask for 60 cm (23.63 in) as well."
    )


def test_a_bolt_too_narrow_then_says_why(tote: LayRequest) -> None:
    """The piece, and what it needs, are named."""
    narrow = replace(tote, bolt=replace(tote.bolt, width_mm=401.0))

    (found,) = what_if((narrow,), Change.NARROWER)

    assert found.more_mm is None
    assert found.more_cost is None
    assert "it does not go" in what_if_words(found)


def test_no_cloth_left_is_refused(tote: LayRequest) -> None:
    """A bolt cannot be narrower than nothing."""
    with pytest.raises(BoltError):
        what_if((replace(tote, bolt=replace(tote.bolt, width_mm=20.0)),), Change.NARROWER)
