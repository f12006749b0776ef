"""Shapes by measure have the sizes of school geometry."""

import math

import numpy as np
import pytest

from pieces.errors import PatternFileError, ShapeError
from pieces.outline.polygon import area_mm2, bounds_mm
from pieces.piece import PieceShape
from pieces.shaping.shapes import (
    KINDS,
    band,
    circle,
    circle_skirt,
    make_figure,
    rectangle,
    ring,
    trapezoid,
)
from pieces.sheet.pattern_file import parse_pattern


def test_straight_shapes_have_their_areas() -> None:
    """600 mm², and (30 + 10) / 2 times 20 = 400 mm²."""
    assert area_mm2(rectangle(30.0, 20.0).outline_mm) == 600.0
    assert area_mm2(trapezoid(30.0, 10.0, 20.0).outline_mm) == 400.0
    assert area_mm2(trapezoid(10.0, 30.0, 20.0).outline_mm) == 400.0


def test_round_shapes_are_within_a_tenth_of_their_curves() -> None:
    """A circle of 800 mm, and a half ring of radii 100 and 300: pi (300² - 100²) / 2."""
    assert area_mm2(circle(800.0).outline_mm) == pytest.approx(math.pi * 400**2, rel=1e-3)
    half = ring(100.0, 300.0, 180.0)
    assert area_mm2(half.outline_mm) == pytest.approx(math.pi * 40_000, rel=1e-3)
    radii = np.hypot(*half.outline_mm.T)
    assert np.allclose(np.minimum(abs(radii - 100), abs(radii - 300)), 0.0)


def test_a_ring_hangs_from_its_centre() -> None:
    """The half ring reaches from 300 left to 300 right, and down to -300."""
    assert bounds_mm(ring(100.0, 300.0, 180.0).outline_mm) == pytest.approx(
        (-300, -300, 300, 0), abs=0.11
    )


def test_a_whole_ring_is_a_disc_with_a_line() -> None:
    """Outlines have no holes, so the waist is drawn on it."""
    skirt = circle_skirt(650.0, 500.0)

    (line,) = skirt.internal_lines
    assert line.name == "waist"
    around = np.linalg.norm(np.diff(line.points_mm, axis=0), axis=1).sum()
    assert around == pytest.approx(650.0, rel=2e-3)


def test_edges_have_names_and_ends() -> None:
    """The waist of a quarter ring goes from the right to the left."""
    quarter = ring(100.0, 300.0, 90.0)
    start, end = quarter.ends_mm("waist")

    assert start == pytest.approx([100 * math.sqrt(0.5), -100 * math.sqrt(0.5)])
    assert end == pytest.approx([-100 * math.sqrt(0.5), -100 * math.sqrt(0.5)])
    with pytest.raises(ShapeError, match="edges are hem, right, waist, left"):
        quarter.ends_mm("sleeve")
    with pytest.raises(ShapeError):
        circle(10.0).ends_mm("edge")


def test_a_folded_band_is_cut_twice_as_wide() -> None:
    """4 cm finished is 8 cm cut, with a line at 4 cm."""
    folded = band(700.0, 40.0, folded=True)

    assert bounds_mm(folded.outline_mm) == (0, 0, 80, 700)
    assert folded.internal_lines[0].points_mm.tolist() == [[40, 0], [40, 700]]


@pytest.mark.parametrize(
    ("kind", "lengths", "words"),
    [
        ("hexagon", {}, {}),
        ("rectangle", {"width": 10.0}, {}),
        ("rectangle", {"width": 10.0, "height": 10.0, "top": 3.0}, {}),
        ("rectangle", {"width": 0.0, "height": 10.0}, {}),
        ("circle", {"diameter": math.inf}, {}),
        ("ring", {"inner": 300.0, "outer": 200.0}, {"angle": 90.0}),
        ("ring", {"inner": 100.0, "outer": 200.0}, {"angle": 361.0}),
        ("ring", {"inner": 100.0, "outer": 200.0}, {"angle": math.nan}),
        ("circle-skirt", {"waist": 600.0, "length": 500.0}, {"part": "most"}),
        ("circle-skirt", {"waist": 600.0, "length": 500.0, "waist_seam": 200.0}, {}),
    ],
)
def test_wrong_measures_are_refused(
    kind: str, lengths: dict[str, float], words: dict[str, float | str]
) -> None:
    """With one sentence."""
    with pytest.raises(ShapeError):
        make_figure(kind, lengths, words)


def test_every_kind_can_be_made() -> None:
    """From the measures it says it needs."""
    sizes = {"inner": 100.0, "waist": 200.0}
    for kind, (_, needed, _) in KINDS.items():
        lengths = {name: sizes.get(name, 300.0) for name in needed if name != "angle"}
        words = {"angle": 90.0} if "angle" in needed else {}
        assert area_mm2(make_figure(kind, lengths, words).outline_mm) > 0.0


HEAD = """
format = 1
name = "Small"
units = "cm"
sizes = ["M"]
[cloths.shell]
[views.A]
pieces = ["one"]
[pieces.one]
cut.shell = 1
[pieces.one.sizes.M]
"""


def shape(keys: str) -> PieceShape:
    """Return the shape of a sheet with these keys."""
    return parse_pattern(HEAD + keys).piece("one").shape("M")


def test_a_sheet_may_say_measures_instead_of_points() -> None:
    """40 by 50 cm; the arrow stands in the middle."""
    found = shape('shape = { kind = "rectangle", width = "40 cm", height = "50 cm" }')

    assert bounds_mm(found.outline_mm) == (0, 0, 400, 500)
    assert (found.grainline.tail_mm, found.grainline.head_mm) == ((200, 125), (200, 375))


def test_a_shape_may_lie_on_the_fold_by_the_name_of_an_edge() -> None:
    """And keeps it there when seams are added at the other edges."""
    found = shape(
        'shape = { kind = "rectangle", width = "20 cm", height = "50 cm" }\n'
        'fold = "left"\nseam = { bottom = "3 cm", rest = "1 cm" }'
    )

    # 200 + 10 wide, 500 + 10 + 30 tall; the fold runs from -30 to 510
    assert bounds_mm(found.outline_mm) == pytest.approx((0, -30, 210, 510))
    assert found.fold_edge_mm is not None
    assert sorted(found.fold_edge_mm) == [(0, -30), (0, 510)]
    assert found.internal_lines[0].points_mm.tolist() == [[0, 0], [200, 0], [200, 500], [0, 500]]


def test_edges_of_a_drawn_outline_are_named_by_two_points() -> None:
    """The same hem, written either way round."""
    for outline, hem in (
        ("[[0, 0], [20, 0], [20, 30], [0, 30]]", "[[0, 0], [20, 0]]"),
        ("[[0, 0], [0, 30], [20, 30], [20, 0]]", "[[20, 0], [0, 0]]"),
    ):
        found = shape(
            f"outline = {outline}\ngrainline = [[5, 5], [5, 20]]\nedges.hem = {hem}\n"
            'seam = { hem = "4 cm" }'
        )
        assert bounds_mm(found.outline_mm) == pytest.approx((0, -40, 200, 300))


def test_a_sheet_may_lengthen_a_piece() -> None:
    """3 cm longer above a line 20 cm up."""
    found = shape(
        'shape = { kind = "rectangle", width = "40 cm", height = "50 cm" }\n'
        'lengthen = { at = [0, 20], by = "3 cm" }'
    )

    assert bounds_mm(found.outline_mm) == (0, 0, 400, 530)


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ('shape = { kind = "star" }', 'shape "star" is not known'),
        ('shape = { kind = "circle" }', "needs its diameter"),
        ('shape = { kind = "circle", diameter = "9" }', "has no unit"),
        ('shape = { kind = "circle", diametre = "9 cm" }', 'did you mean "diameter"'),
        ('shape = { kind = "circle", diameter = "9 cm" }\nfold = "edge"', "no edge"),
        ('shape = { kind = "circle", diameter = "9 cm" }\noutline = [[0, 0]]', "both"),
        ('shape = { kind = "circle", diameter = "9 cm" }\nseam = { hem = "1 cm" }', 'edge "hem"'),
        ("outline = [[0, 0], [9, 0], [9, 9]]", '"grainline" is missing'),
        ("grainline = [[0, 0], [9, 0]]", '"outline" is missing'),
    ],
)
def test_a_wrong_sheet_is_refused(keys: str, words: str) -> None:
    """The sentence names the piece."""
    with pytest.raises(PatternFileError, match=words) as refusal:
        shape(keys)
    assert 'piece "one", size M' in str(refusal.value)
