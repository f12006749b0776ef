"""Elastic, drawstrings and piping cord."""

import pytest

from nesting.errors import ReckoningError
from nesting.reckoning.elastic import (
    WaistElastic,
    casing_turn_mm,
    drawstring_mm,
    piping_cord_mm,
    waist_elastic_mm,
)


def test_the_rules_for_a_waist_differ_and_one_must_be_chosen() -> None:
    """30 in is 762 mm: 31 in is 787.4, 28 1/2 in is 723.9, 27 in is 685.8; a join comes on top."""
    lengths = [waist_elastic_mm(762, rule) for rule in WaistElastic]

    assert lengths == pytest.approx([787.4, 723.9, 685.8])
    assert waist_elastic_mm(762, WaistElastic.SNUG, join_mm=20) == pytest.approx(705.8)


def test_a_casing_holds_the_elastic_its_ease_and_the_first_turn() -> None:
    """Elastic of 1 1/2 in: 1 3/4 in and a first turn of 1/4 in are 2 in."""
    assert casing_turn_mm(38.1) == pytest.approx(50.8)
    assert casing_turn_mm(20, ease_mm=5, first_turn_mm=0) == 25


def test_a_drawstring_has_ends_to_tie() -> None:
    """1 m round the hip and 12 in, which is 304.8 mm."""
    assert drawstring_mm(1000) == pytest.approx(1304.8)


def test_piping_takes_its_edges_and_a_little() -> None:
    """2 m and a twentieth."""
    assert piping_cord_mm(2000) == pytest.approx(2100)


@pytest.mark.parametrize(
    ("ask", "sentence"),
    [
        (lambda: waist_elastic_mm(70, WaistElastic.SNUG), "70 mm is too small .* 76.2 mm off"),
        (lambda: waist_elastic_mm(0, WaistElastic.SNUG), "waist is 0 mm"),
        (lambda: casing_turn_mm(-1), "elastic width is -1 mm"),
        (lambda: drawstring_mm(1000, ends_mm=-1), "ends of the drawstring is -1 mm"),
        (lambda: piping_cord_mm(1000, more=2), "share added is 2; it must be from 0 to 1"),
    ],
)
def test_measures_that_cannot_be_are_refused(ask, sentence: str) -> None:
    """The refusal names the measure and its value."""
    with pytest.raises(ReckoningError, match=sentence):
        ask()
