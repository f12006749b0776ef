"""What a narrower bolt asks for: widths where one more step is needed, found by laying."""

from dataclasses import replace

import pytest

from nesting.answers.what_if.sensitivity import sensitivity_row, sensitivity_words, what_if_narrower
from nesting.cloth.flaw import Flaw
from nesting.cloth.lay_rules import LayRules
from nesting.lay import LayRequest, lay_pieces
from pieces.measures.units import UnitSystem
from tests.small_patterns import TRIANGLE, box, piece, request

# Two strips of 40 x 100 lie side by side on 80 mm and wider, and one after another below.
STRIPS = (piece("strip", box(40, 100), count=2),)


def metric(width_mm: float, step_mm: float | None = 50.0) -> LayRequest:
    """Return the strips on a bolt told in metric units."""
    lay = request(*STRIPS, width_mm=width_mm)
    bolt = replace(lay.bolt, units=UnitSystem.METRIC, shop_step_mm=step_mm)
    return replace(lay, bolt=bolt)


def test_the_width_where_more_is_needed() -> None:
    """From 105 mm in centimetres down to 55: 105, 95 and 85 hold both, 75 and less do not.

    There 200 mm are needed instead of 100: two steps of 50 more.
    """
    found = what_if_narrower(metric(105.0))

    assert [one.bolt.width_mm for one in found.rows] == [105.0, 95.0, 85.0, 75.0, 65.0, 55.0]
    assert [one.steps_more for one in found.rows] == [0, 0, 0, 2, 2, 2]
    assert [one.bolt.width_mm for one in found.thresholds] == [75.0]
    assert sensitivity_words(found)[0] == (
        "If the bolt is 3 cm narrower, 7.5 cm (2.95 in), ask for 10 cm (3.94 in) more."
    )


def test_inches_go_down_by_halves_to_two() -> None:
    """Four widths below the label."""
    lay = request(*STRIPS, width_mm=20 * 25.4)

    found = what_if_narrower(lay)

    inches = [one.bolt.width_mm / 25.4 for one in found.rows]
    assert inches == pytest.approx([20.0, 19.5, 19.0, 18.5, 18.0])
    assert found.thresholds == ()
    assert sensitivity_words(found)[0] == (
        "Down to 18 in (45.7 cm) a narrower bolt asks for no more."
    )


def test_a_width_on_which_a_piece_does_not_go() -> None:
    """Strips of 40 mm go on 45 and not on 35."""
    found = what_if_narrower(metric(45.0))

    assert [one.shop_mm for one in found.rows[:2]] == [200.0, None]
    assert "At 3.5 cm (1.38 in) it does not go on the cloth: piece" in sensitivity_words(found)[0]
    assert len(found.thresholds) == 1


def test_nothing_is_said_where_the_label_is_too_narrow_already() -> None:
    """On 35 mm no strip goes."""
    found = what_if_narrower(metric(35.0))

    assert found.rows[0].shop_mm is None
    assert "does not go on this one" in sensitivity_words(found)[0]


def test_narrower_never_asks_for_less() -> None:
    """Whatever luck each search has."""
    lay = request(
        piece("front", TRIANGLE, count=4, pair=True), piece("tab", box(13, 22), count=5),
        width_mm=150.0,
    )  # fmt: skip
    bolt = replace(lay.bolt, units=UnitSystem.METRIC, shop_step_mm=5.0)

    steps = [one.steps_more for one in what_if_narrower(replace(lay, bolt=bolt)).rows]

    assert None not in steps
    assert steps == sorted(steps, key=lambda more: more or 0)


def test_a_shop_that_cuts_any_length_is_compared_in_usual_steps() -> None:
    """10 cm where the width is told in centimetres: 100 mm more is one step."""
    found = what_if_narrower(metric(105.0, None))

    assert found.step_mm == 100.0
    assert [one.steps_more for one in found.rows] == [0, 0, 0, 1, 1, 1]


def test_widths_end_where_the_bolt_cannot_be() -> None:
    """A flaw from 70 to 80 mm lies outside a cloth of 75."""
    lay = metric(105.0)
    flaw = Flaw(at_mm=900.0, across_mm=70.0, long_mm=10.0, wide_mm=10.0)

    found = what_if_narrower(replace(lay, bolt=replace(lay.bolt, flaws=(flaw,))))

    assert [one.bolt.width_mm for one in found.rows] == [105.0, 95.0, 85.0]
    assert "lies outside the cloth" in found.ended
    assert any(
        told.startswith("Narrower bolts were not tried") for told in sensitivity_words(found)
    )


def test_no_width_is_told_less_than_its_own_lay_asks_for() -> None:
    """Each width is laid with the effort of the request, as it would be by itself."""
    lay = request(
        piece("front", TRIANGLE, count=4, pair=True), piece("tab", box(13, 22), count=5),
        width_mm=150.0,
    )  # fmt: skip
    bolt = replace(lay.bolt, units=UnitSystem.METRIC, shop_step_mm=5.0)

    found = what_if_narrower(replace(lay, bolt=bolt))

    for one in found.rows[1:]:
        by_itself = lay_pieces(replace(lay, bolt=one.bolt))
        assert one.shop_mm is not None
        assert one.shop_mm >= by_itself.shop_length_mm


def test_the_layout_found_is_said_to_lie_on_a_narrower_bolt() -> None:
    """Two strips of 40 side by side take 80 mm, whatever the label says."""
    found = what_if_narrower(metric(105.0))

    assert found.keeps_to_mm == pytest.approx(80.0, abs=0.01)
    assert "The layout found lies as it is on a bolt down to 8 cm" in sensitivity_words(found)[-1]


def test_the_first_row_is_the_lay_on_the_label() -> None:
    """So that like is compared with like; fold and nap are kept."""
    lay = replace(metric(105.0), rules=LayRules(tilt_deg=1.0))

    first = what_if_narrower(lay).rows[0]

    assert first.row.result is not None
    assert first.row.result.marker.length_mm == lay_pieces(lay).marker.length_mm
    assert first.row.request.rules == lay.rules


def test_plain_values() -> None:
    """A row for each width."""
    row = sensitivity_row(what_if_narrower(metric(105.0)))

    assert (row["step_mm"], row["ended"]) == (50.0, "")
    assert row["keeps_to_width_mm"] == pytest.approx(80.0, abs=0.01)
    assert row["rows"][3] == {
        "width_mm": 75.0,
        "shop_length_mm": 200.0,
        "shop_length": "20 cm",
        "steps_more": 2,
        "refusal": None,
    }
