"""Jobs at the ends of what may be asked for: each marker passes the independent check."""

import numpy as np
import pytest

from nesting.errors import DoesNotFitError
from nesting.lay import LayRequest, lay_pieces
from tests.extremes import CHEAP
from tests.small_patterns import box, piece, request


@pytest.mark.parametrize("job", CHEAP.values(), ids=CHEAP)
def test_it_is_laid_and_can_be_cut(job: LayRequest) -> None:
    """Nothing is found, the bound holds, and every copy lies somewhere."""
    result = lay_pieces(job)

    wanted = sum(cut.count for one in job.pattern.pieces for cut in one.cuts)
    assert {one.code for one in result.findings} <= {"same-hand"}
    assert len(result.marker.placements) == wanted
    assert result.marker_length_mm >= result.lower_bound.length_mm * (1 - 1e-9)
    assert np.isfinite(result.marker_length_mm)


def test_sixteen_tiles_leave_nothing_over() -> None:
    """Four rows of four on cloth four wide: 200 mm, and not a hair more than rounding."""
    result = lay_pieces(CHEAP["pieces that fill the cloth to the last thread"])

    assert result.marker_length_mm == pytest.approx(200.0, abs=1e-3)


def test_the_drape_decides() -> None:
    """Ten metres, the dots beside it."""
    result = lay_pieces(CHEAP["a millimetre beside ten metres"])

    assert result.marker_length_mm == pytest.approx(10_000.0, abs=0.01)


def test_wider_by_a_tenth_of_a_millimetre_is_refused() -> None:
    """One sentence with the piece and both widths; a thousandth less than the cloth is laid."""
    with pytest.raises(DoesNotFitError, match=r'piece "Panel".*usable width'):
        lay_pieces(request(piece("panel", box(1500.1, 100)), width_mm=1500.0))

    assert lay_pieces(request(piece("panel", box(1499.999, 100)), width_mm=1500.0)).findings == ()
