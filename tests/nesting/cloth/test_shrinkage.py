"""Shrinkage: by per cent or by swatch, and never by adding the per cent to the length."""

import pytest

from nesting.cloth.shrinkage import parse_shrinkage, unwashed_mm, washed_mm
from pieces.errors import LengthError


@pytest.mark.parametrize(
    ("text", "share"),
    [
        ("3%", 0.03),
        (" 2,5 % ", 0.025),
        ("0%", 0.0),
        ("-3%", -0.03),
        ("20cm to 19.4cm", 0.03),
        ("4in:3 3/4in", 0.0625),
    ],
)
def test_per_cent_or_a_swatch_before_and_after(text: str, share: float) -> None:
    """(20 - 19.4) / 20 is 3 per cent, (4 - 3.75) / 4 is 6.25 per cent: AATCC TM135."""
    assert parse_shrinkage(text) == pytest.approx(share)


@pytest.mark.parametrize("text", ["3", "three", "", "%", "20cm to 21cm", "20 to 19", "20cm"])
def test_what_is_no_shrinkage_is_refused(text: str) -> None:
    """A number without its sign of per cent, and a swatch that grew."""
    with pytest.raises(LengthError):
        parse_shrinkage(text)


def test_what_is_bought_leaves_what_is_needed() -> None:
    """3 yd after a loss of 5 per cent: 3.158 yd, and adding 5 per cent would be too little."""
    bought = unwashed_mm(3.0, 0.05)

    assert bought == pytest.approx(3.158, abs=5e-4)
    assert washed_mm(bought, 0.05) == pytest.approx(3.0)
    assert washed_mm(3.0 * 1.05, 0.05) < 3.0
