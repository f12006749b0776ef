"""Photographs that cannot be cut by are refused in one sentence that says what to do."""

from dataclasses import replace

import numpy as np
import pytest

from pieces.errors import PhotoError
from pieces.photo.photo_file import drawing_of_photos, read_photos
from pieces.photo.sheets import sheet_named
from tests.pieces.photo.rendering import FLOORS, Laid, Shot, laid
from tests.pieces.photo.shots import small_shot, small_shot_on_sheet
from tests.pieces.photo.test_accuracy import photo_of

POCKET = laid("knapsack", "pocket", at=(0.0, 0.0))
BOX = np.array([(-60.0, -60.0), (60.0, -60.0), (60.0, 60.0), (-60.0, 60.0)])
A4 = (210.0, 297.0)
REFUSED: dict[str, tuple[Shot, str | None, str]] = {
    "no marks": (small_shot(pages=()), None, "no printed marks"),
    "no sheet": (small_shot(pages=()), "a4", "no a4 sheet was found"),
    "a cropped sheet": (
        small_shot_on_sheet(*A4, aim_mm=(180.0, 0.0)),
        "a4",
        "photograph's edge may be it",
    ),
    "a Letter sheet for A4": (small_shot_on_sheet(215.9, 279.4), "a4", "of letter"),
    "an A4 sheet for Letter": (small_shot_on_sheet(*A4), "letter", "of a4"),
    "two sheets alike": (
        replace(
            small_shot_on_sheet(*A4),
            pieces=(),
            sheets=((*A4, -270.0, 0.0, 3.0), (*A4, 60.0, 0.0, 8.0)),
        ),
        "a4",
        "2 shapes that could be",
    ),
    "a blurred one": (small_shot(blur_px=3.0), None, "blurred"),
    "a piece at the edge": (
        small_shot(pieces=(POCKET, Laid(BOX + np.array([0.0, 330.0])))),
        None,
        "touches the photograph's edge",
    ),
    "a piece on a page": (
        small_shot(pieces=(Laid(BOX * 2.2 + np.array([-110.0, 0.0])),)),
        None,
        "touches the sheet",
    ),
    "nothing but marks": (small_shot(pieces=()), None, "nothing but the sheet"),
    "few pixels": (
        small_shot(size_px=(1000, 750), view_mm=1400.0, blur_px=0.2),
        None,
        "0.8 are needed",
    ),
    "a light floor": (small_shot(floor="pale"), None, "hardly darker"),
}


@pytest.mark.slow
@pytest.mark.parametrize("what", REFUSED)
def test_it_is_refused(what: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """One sentence."""
    monkeypatch.setitem(FLOORS, "pale", (226, 224, 220))
    shot, sheet, told = REFUSED[what]

    with pytest.raises(PhotoError, match=told) as refusal:
        drawing_of_photos([photo_of(shot)], sheet=None if sheet is None else sheet_named(sheet))

    assert "\n" not in str(refusal.value)


def test_names_must_be_as_many_as_pieces() -> None:
    """And the sentence counts both."""
    with pytest.raises(PhotoError, match="1 pieces were found and 2 names"):
        drawing_of_photos([photo_of(small_shot())], names=["front", "back"])


def test_photographs_that_share_nothing_cannot_be_joined() -> None:
    """Pages A and B in one, C and D in the other."""
    first, second = small_shot(), small_shot(page_numbers=(2, 3))

    with pytest.raises(PhotoError, match="share no page"):
        drawing_of_photos([photo_of(first), photo_of(second)])
    with pytest.raises(PhotoError, match="leave out --sheet"):
        drawing_of_photos([photo_of(first)] * 2, sheet=sheet_named("a4"))


def test_no_photograph_and_too_many_are_refused() -> None:
    """One to six."""
    for count in (0, 7):
        with pytest.raises(PhotoError, match="give 1 to 6"):
            read_photos(["a.jpg"] * count)


@pytest.mark.parametrize("text", ["", "a", "a9", "20cm", "1cm x 2cm", "3m x 1m", "1cm x 1cm x 1cm"])
def test_a_sheet_nobody_knows_is_refused(text: str) -> None:
    """With the names that are known."""
    with pytest.raises(PhotoError, match="sheet"):
        sheet_named(text)
