"""A gap is kept between the stretches of a lay as it is between pieces."""

from dataclasses import replace

import pytest

from nesting.checks import check_marker
from nesting.cloth.lay_rules import LayRules
from nesting.cloth.spread import Spread
from nesting.lay import LayRequest, lay_pieces
from tests.small_patterns import box, piece, request


def folded_and_open(spread: Spread) -> LayRequest:
    """Return a pair of boxes that goes on the fold and a single one that is too wide for it."""
    return request(
        piece("side", box(50, 100), count=2, pair=True),
        piece("patch", box(200, 80)),
        width_mm=220.0,
        spread=spread,
    )


@pytest.mark.parametrize("spread", [Spread.LENGTHWISE, Spread.DOUBLE])
def test_folded_cloth_and_the_open_stretch_behind_it(spread: Spread) -> None:
    """A pair of boxes 100 long on the fold, a single one 80 long behind it: 100 + 6 + 80 mm."""
    result = lay_pieces(replace(folded_and_open(spread), rules=LayRules(spread, gap_mm=6.0)))

    assert result.findings == ()
    assert result.marker_length_mm == pytest.approx(186.0, abs=0.01)


def test_the_check_finds_stretches_too_near() -> None:
    """The same marker moved together by the gap is refused."""
    marker = lay_pieces(folded_and_open(Spread.LENGTHWISE)).marker

    wanted = replace(marker, rules=LayRules(Spread.LENGTHWISE, gap_mm=6.0))

    assert {finding.code for finding in check_marker(wanted)} == {"too-near", "wrong-length"}
