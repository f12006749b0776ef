"""Demo garments on 45 and 60 inch cloth, held against a printed conversion chart.

Source: "Fabric Conversion Chart", S. J. Doyle, sewwithsarah.com, agreeing cell by cell with a
second copy. It is area scaling rounded to eighths, so it is a band of plausibility and no oracle:
three eighths of a yard either way, or the reason told.
"""

import csv

import numpy as np
import pytest

from nesting.answers.compare import compare_bolts
from nesting.cloth.bolt import Bolt
from nesting.lay import LayRequest, SearchOptions
from nesting.marker.cut_list import Selection
from pieces.measures.units import MM_PER_INCH, MM_PER_YARD
from pieces.sheet.pattern_file import read_pattern
from tests import datasets
from tests.places import DEMO

BAND_YD = 0.375
GARMENTS = [
    ("knapsack", "A"),
    *(
        pytest.param(*garment, marks=pytest.mark.slow)
        for garment in [
            ("waistcoat", "A"),
            ("smock_shirt", "A"),
            ("smock_shirt", "B"),
            ("cloak", "A"),
            ("cloak", "B"),
        ]
    ),
]


def chart() -> tuple[np.ndarray, np.ndarray]:
    """Return the chart's columns for 44-45 and 58-60 inches, yards."""
    with datasets.path("width_conversion.csv").open() as file:
        rows = list(csv.DictReader(file))
    return (
        np.array([float(row["yd_at_44_45_in"]) for row in rows]),
        np.array([float(row["yd_at_58_60_in"]) for row in rows]),
    )


def test_the_chart_is_monotone_and_close_to_area_scaling() -> None:
    """More at 45 is more at 60, and 45/60 of it to a tenth of a yard."""
    at_45, at_60 = chart()

    assert (np.diff(at_45) > 0).all()
    assert (np.diff(at_60) > 0).all()
    assert np.abs(at_60 - at_45 * 45 / 60).max() <= 0.10


@pytest.mark.parametrize(("garment", "view"), GARMENTS)
def test_demo_garments_stay_within_the_band_or_say_why(garment: str, view: str) -> None:
    """Size M, plain cloth, open: within 3/8 yd of the chart, or bound by a piece, not by area."""
    at_45, at_60 = chart()
    pattern = read_pattern(DEMO / f"{garment}.toml")
    narrow, wide = compare_bolts(
        tuple(
            LayRequest(
                pattern=pattern,
                selections=(Selection(view, "M"),),
                cloth="shell",
                bolt=Bolt(width_mm=inches * MM_PER_INCH),
                search=SearchOptions(effort="quick"),
            )
            for inches in (45.0, 60.0)
        )
    )
    assert narrow.result is not None
    assert wide.result is not None
    laid_45, laid_60 = (
        row.result.marker_length_mm / MM_PER_YARD for row in (narrow, wide) if row.result
    )
    expected_60 = (
        float(np.interp(laid_45, at_45, at_60)) if laid_45 >= at_45[0] else laid_45 * 45 / 60
    )

    assert laid_60 <= laid_45
    if abs(laid_60 - expected_60) > BAND_YD:
        assert "area" not in wide.result.lower_bound.reason


def test_common_practice_for_garments_and_small_things() -> None:
    """From 45 to 60 inch a garment takes roughly 0.65 to 0.9 of the length (common practice says
    0.75 to 0.85, without a source); pieces that fit side by side on both take the same.
    """
    search = SearchOptions(effort="quick")
    smock, waistcoat = (
        read_pattern(DEMO / f"{name}.toml") for name in ("smock_shirt", "waistcoat")
    )

    def length(pattern: object, cloth: str, inches: float) -> float:
        request = LayRequest(
            pattern=pattern,  # type: ignore[arg-type]
            selections=(Selection("A", "M"),),
            cloth=cloth,
            bolt=Bolt(width_mm=inches * MM_PER_INCH),
            search=search,
        )
        (row,) = compare_bolts((request,))
        assert row.result is not None
        return row.result.marker_length_mm

    ratio = length(smock, "shell", 60) / length(smock, "shell", 45)
    assert 0.65 <= ratio <= 0.9
    same = length(waistcoat, "interfacing", 60) / length(waistcoat, "interfacing", 45)
    assert same == pytest.approx(1.0, abs=1e-6)
