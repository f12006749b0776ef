"""Rendered photographs of known outlines: nearly all of the edge within 2 mm, area within 1 %."""

import contextlib
import io
from dataclasses import replace

import cv2
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from pieces.errors import PhotoError
from pieces.outline.transform import turn
from pieces.photo.photo_file import PhotoReading, drawing_of_photos
from pieces.photo.reading import Photo, parse_photo
from pieces.photo.sheets import PaperSheet, sheet_named
from tests.pieces.photo.measuring import match, upright_turn
from tests.pieces.photo.rendering import Laid, Shot, jpeg, laid, render
from tests.pieces.photo.shots import cases, small_shot, small_shot_on_sheet

CASES = [cases()[number] for number in (2, 7, 13, 19, 26, 32, 41, 44)]


def photo_of(shot: Shot) -> Photo:
    """Return a rendered photograph as it comes from a file."""
    return parse_photo(jpeg(render(shot)))


def read(shot: Shot, sheet: PaperSheet | None = None, **more: object) -> PhotoReading:
    """Return what is found in a rendered photograph."""
    return drawing_of_photos([photo_of(shot)], sheet=sheet, **more)  # type: ignore[arg-type]


@pytest.mark.slow
@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_a_large_piece_is_traced_within_two_millimetres(case) -> None:  # type: ignore[no-untyped-def]
    """95 % of the edge, and 1 % of the area, at fewer pixels than phones have; as told."""
    shot = replace(case.shot, size_px=(1600, 1200), blur_px=0.6 * case.shot.blur_px)
    sheet = None if case.sheet is None else sheet_named(case.sheet)

    reading = read(shot, sheet)
    got = match(reading.drawing.shapes[0].shape.outline_mm, shot.pieces[0])

    assert got.within_2mm >= 0.95
    assert abs(got.area_error) <= 0.01
    assert got.most_mm <= reading.accuracy.error_mm


@pytest.mark.slow
def test_a_drawn_grainline_is_found_with_its_head() -> None:
    """Its direction within a degree against the piece, upside down too; and it is set upright."""
    for turn_deg in (0.0, 180.0, 65.0):
        piece = laid("knapsack", "pocket", at=(0.0, 0.0), turn=turn_deg, grain=True)
        (drawn,) = read(small_shot(pieces=(piece,))).drawing.shapes
        got = match(drawn.shape.outline_mm, piece)
        assert got.within_2mm >= 0.95
        assert drawn.shape.grainline.angle_deg == pytest.approx(90.0)
        assert got.turn_deg == pytest.approx(upright_turn(piece), abs=1.0)
        assert drawn.assumed == ()


def test_without_a_line_the_grain_is_assumed_or_told() -> None:
    """Up the photograph, and the answer says so; or as asked."""
    plain = small_shot(pieces=(laid("knapsack", "pocket", at=(0.0, 0.0)),))

    (assumed,) = read(plain).drawing.shapes
    (told,) = read(plain, grain_deg=30.0).drawing.shapes

    assert assumed.shape.grainline.angle_deg == 90.0
    assert any("no grainline" in one for one in assumed.assumed)
    assert told.shape.grainline.angle_deg == pytest.approx(90.0)
    turned = turn(assumed.shape.outline_mm, 60.0)
    assert np.ptp(turned, axis=0) == pytest.approx(np.ptp(told.shape.outline_mm, axis=0), abs=0.5)
    assert told.assumed == ()


def test_pieces_have_their_names_from_left_to_right() -> None:
    """Two pieces between the pages."""
    two = (
        laid("knapsack", "tab", at=(60.0, 0.0)),
        laid("knapsack", "tab", at=(-75.0, 20.0), turn=90.0),
    )

    reading = read(small_shot(pieces=two), names=["left", "right"])

    wide = {one.name: float(np.ptp(one.shape.outline_mm[:, 0])) for one in reading.drawing.shapes}
    assert wide["left"] == pytest.approx(140.0, abs=6.0)  # turned, and the camera is rolled by 3
    assert wide["right"] == pytest.approx(117.0, abs=6.0)


def test_a_blank_sheet_will_do_for_a_small_piece() -> None:
    """Beside an A4 sheet, and the reader is told that a lens cannot be measured so."""
    shot = small_shot_on_sheet(210.0, 297.0)

    reading = read(shot, sheet_named("a4"))

    got = match(reading.drawing.shapes[0].shape.outline_mm, shot.pieces[0])
    assert got.within_2mm >= 0.95
    assert abs(got.area_error) <= 0.01
    assert reading.accuracy.misfit_mm is None
    assert any("lens" in note for note in reading.drawing.notes)


@pytest.mark.slow
def test_two_photographs_of_one_long_piece_are_joined() -> None:
    """Each shows one end and a half; pages of marks between hold them together."""
    outline = laid("cloak", "side", at=(0.0, 0.0)).outline_mm
    pages = tuple(
        (x, y, turn)
        for y, turn in ((-480.0, 4.0), (0.0, -7.0), (480.0, 5.0))
        for x in (-430.0, 430.0)
    )
    shot = Shot(
        pieces=(Laid(outline),), pages=pages, size_px=(2000, 1500), view_mm=1350.0, bend=0.004
    )
    ends = [replace(shot, aim_mm=(0.0, y), seed=n) for n, y in ((3, -270.0), (4, 270.0))]

    reading = drawing_of_photos([photo_of(one) for one in ends])

    (drawn,) = reading.drawing.shapes
    got = match(drawn.shape.outline_mm, Laid(outline))
    assert got.within_2mm >= 0.95
    assert abs(got.area_error) <= 0.01


def test_pages_of_marks_may_touch_each_other() -> None:
    """They are one patch of paper then, and still no piece."""
    shot = small_shot(pages=((-290.0, 170.0, 0.0), (-290.0, -128.0, 0.0), (290.0, 0.0, 5.0)))

    (drawn,) = read(shot).drawing.shapes

    assert match(drawn.shape.outline_mm, shot.pieces[0]).within_2mm >= 0.95


def test_the_preview_is_a_picture_of_the_photograph() -> None:
    """With words below it, and the colour of outlines in it."""
    picture = np.asarray(Image.open(io.BytesIO(read(small_shot()).preview_png())).convert("RGB"))

    assert picture.shape == (900 + 44, 1200, 3)
    near = np.abs(picture.astype(int) - (0xD5, 0x5E, 0x00)).sum(axis=2) < 60
    assert near.sum() > 1000


@settings(max_examples=12, deadline=None)
@given(seed=st.integers(0, 2**32 - 1))
def test_any_picture_is_read_or_refused(seed: int) -> None:
    """Patches of any shade anywhere, noise or none: pieces or one sentence come of it."""
    rng = np.random.default_rng(seed)
    pixels = np.full((600, 640, 3), rng.integers(0, 256, 3), dtype=np.uint8)
    for _ in range(rng.integers(0, 6)):
        box = cv2.boxPoints((rng.uniform(0, 600, 2), rng.uniform(5, 500, 2), rng.uniform(0, 90)))
        cv2.fillPoly(pixels, [box.astype(np.int32)], rng.integers(0, 256, 3).tolist())
    noise = rng.normal(0, rng.choice([0, 3, 40]), pixels.shape)
    photo = parse_photo(jpeg(np.clip(pixels + noise, 0, 255).astype(np.uint8)))

    with contextlib.suppress(PhotoError):
        reading = drawing_of_photos([photo], sheet=sheet_named("a4"))
        assert reading.drawing.shapes
