"""Laying a whole garment: refusals, progress, repeatability and small outlines grown outward."""

import numpy as np
import pytest

from nesting.cloth.spread import Spread
from nesting.engine import StoppedBy
from nesting.errors import DoesNotFitError
from nesting.lay import LayProgress, lay_pieces
from nesting.marker.measure import utilisation
from tests.gallery import circle
from tests.small_patterns import TRIANGLE, box, piece, request, shape


def test_a_piece_too_wide_is_named_with_its_width_the_limit_and_the_ways_out() -> None:
    """125 mm across on 120 mm, which is 130 less two selvages of 5."""
    wide = request(
        piece("back", box(125, 100), count=2, pair=True),
        width_mm=130.0,
        selvage_mm=5.0,
        spread=Spread.LENGTHWISE,
    )

    with pytest.raises(DoesNotFitError) as caught:
        lay_pieces(wide)

    sentence = str(caught.value)
    for words in ('piece "Back", size M', "usable width", "selvages", "a wider bolt", "a seam"):
        assert words in sentence


def test_a_piece_just_as_wide_as_the_cloth_fits() -> None:
    """A disc 200 mm across on 200 mm of cloth: growing its outline must not refuse it."""
    disc = shape([tuple(point) for point in circle(100.0, 100)], arrow=((0, -50), (0, 50)))

    result = lay_pieces(request(piece("disc", disc), width_mm=200.0))

    assert {one.code for one in result.findings} <= {"same-hand"}
    assert result.marker_length_mm == pytest.approx(200.0, abs=0.01)


def test_curved_pieces_are_laid_by_grown_outlines_and_measured_by_true_ones() -> None:
    """Four discs on a strip of their own width: four diameters, with at most 0.2 mm lost each."""
    disc = shape([tuple(point) for point in circle(100.0, 300)], arrow=((0, -50), (0, 50)))

    result = lay_pieces(request(piece("disc", disc, count=4), width_mm=201.0))

    assert {one.code for one in result.findings} <= {"same-hand"}
    assert 800.0 - 8.0 <= result.marker_length_mm <= 800.0 + 4 * 0.5


def test_utilisation_is_the_share_of_cloth_in_pieces() -> None:
    """A triangle 60 x 100 on 60 mm fills half: 3000 of 6000 mm2."""
    marker = lay_pieces(request(piece("front", TRIANGLE), width_mm=60.0)).marker

    assert utilisation(marker) == pytest.approx(0.5, abs=1e-4)


def test_progress_covers_both_stretches_and_may_stop() -> None:
    """The share of the work rises to 1, and a true answer ends the search with a sound marker."""
    both = request(
        piece("front", TRIANGLE, count=4, pair=True),
        piece("pocket", TRIANGLE, count=3),
        width_mm=200.0,
        spread=Spread.LENGTHWISE,
    )
    shares: list[float] = []

    def listen(report: LayProgress) -> None:
        shares.append(report.share)

    lay_pieces(both, progress=listen)
    stopped = lay_pieces(both, progress=lambda _: True)

    assert shares == sorted(shares)
    assert shares[-1] == pytest.approx(1.0)
    assert stopped.stopped_by is StoppedBy.REQUEST
    assert {one.code for one in stopped.findings} <= {"same-hand"}


def test_the_same_request_gives_the_same_marker() -> None:
    """Seed, effort and workers settle it."""
    rng = np.random.default_rng(3)
    parts = [piece(f"p{n}", box(*rng.uniform(10, 60, 2)), count=2, pair=True) for n in range(4)]
    once, again = (lay_pieces(request(*parts, width_mm=130.0)).marker for _ in range(2))

    assert once == again
