"""Sizes of paper against the standards, and a sheet told from another by its proportions."""

import pytest

from nesting.draw.papers import PAPERS
from pieces.errors import PhotoError
from pieces.measures.parse import parse_length_mm
from pieces.photo.blank_sheet import find_blank_sheet
from pieces.photo.sheets import SHEETS_MM, mark_corners_mm, sheet_named
from tests.pieces.photo.shots import small_shot_on_sheet
from tests.pieces.photo.test_accuracy import photo_of

A4, LETTER = (210.0, 297.0), (215.9, 279.4)


def test_a_sizes_are_those_of_iso_216() -> None:
    """A5 is 148 x 210 mm, A4 210 x 297 and A3 297 x 420.

    Source: ISO 216:2007, trimmed sizes, main series A. They come of halving a sheet of 1 m² with
    sides as 1 to the root of 2 (A0, 841 x 1189 mm), each side rounded down to whole mm.
    """
    assert SHEETS_MM["a5"] == (148.0, 210.0)
    assert SHEETS_MM["a4"] == A4
    assert SHEETS_MM["a3"] == (297.0, 420.0)
    for number, name in ((3, "a3"), (4, "a4"), (5, "a5")):
        long_mm = 1000.0 * 2 ** (0.25 - number / 2)
        assert SHEETS_MM[name] == (int(long_mm / 2**0.5 + 0.2), int(long_mm + 0.2))
    assert (PAPERS["a4"].wide_mm, PAPERS["a4"].long_mm) == A4


def test_letter_is_size_a_of_asme_y14_1() -> None:
    """8.5 x 11 in, which is 215.9 x 279.4 mm.

    Source: ASME Y14.1, drawing sheet size and format, size A; the same as ANSI/ASME Y14.1.
    """
    inches = parse_length_mm("8.5 in"), parse_length_mm("11 in")
    assert SHEETS_MM["letter"] == pytest.approx(inches)
    assert SHEETS_MM["letter"] == pytest.approx(LETTER)
    assert (PAPERS["letter"].wide_mm, PAPERS["letter"].long_mm) == pytest.approx(LETTER)


def test_marks_fit_on_both() -> None:
    """With 15 mm of white to every edge, so that one layout serves both papers."""
    for place in range(4):
        for x, y in mark_corners_mm(place).tolist():
            assert abs(x) <= A4[0] / 2 - 15.0
            assert abs(y) <= LETTER[1] / 2 - 15.0


@pytest.mark.slow
@pytest.mark.parametrize("lean_deg", [0.0, 8.0, 16.0])
@pytest.mark.parametrize("around_deg", [0.0, 90.0, 215.0])
def test_letter_is_never_taken_for_a4_nor_a4_for_letter(lean_deg: float, around_deg: float) -> None:
    """Seen from above or aslant, each is found by its own name and refused by the other's."""
    for size, name, other in ((A4, "a4", "letter"), (LETTER, "letter", "a4")):
        photo = photo_of(
            small_shot_on_sheet(*size, lean_deg=lean_deg, around_deg=around_deg, view_mm=960.0)
        )

        assert len(find_blank_sheet(photo, sheet_named(name)).at_px) == 4
        with pytest.raises(PhotoError, match=f"proportions of {name}"):
            find_blank_sheet(photo, sheet_named(other))
