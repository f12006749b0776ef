"""Every way of spreading is drawn so that a person can do it: folds, cuts, and what lies under."""

import numpy as np
import pytest

from nesting.cloth.spread import Spread
from nesting.draw.cloth_frame import ClothFrame
from nesting.draw.marker_scene import marker_scene
from nesting.draw.scene import Area, Group, Lines, walk
from nesting.draw.style import UNDER_LAYER
from nesting.draw.thumbnail import thumbnail
from nesting.draw.words import HALVE_HERE, OPEN_HERE, spread_words
from nesting.lay import lay_pieces
from nesting.marker.marker import Marker
from nesting.marker.tape_table import tape_rows
from tests.nesting.drawn import groups, words
from tests.small_patterns import TRIANGLE, box, piece, request

FOLDED = (Spread.LENGTHWISE, Spread.CROSSWISE, Spread.TURNED, Spread.DOUBLE)


def marker(spread: Spread) -> Marker:
    """Return a pair 60 x 100, a half 40 x 100 and a single piece on cloth 400 wide, selvages 10."""
    return lay_pieces(
        request(
            piece("front", TRIANGLE, count=2, pair=True),
            piece("back", box(40, 100, on_fold=True)),
            piece("pocket", TRIANGLE),
            width_mm=420.0,
            spread=spread,
            selvage_mm=10.0,
        )
    ).marker


def first_line(group: Group) -> np.ndarray:
    """Return the first line of a group, shape (2, 2)."""
    return next(act for act in group.acts if isinstance(act, Lines)).lines_mm[0]


@pytest.mark.parametrize("spread", FOLDED)
def test_the_words_say_how_it_lies_and_where_it_is_opened(spread: Spread) -> None:
    """The pocket is single, so every folded lay ends open."""
    scene = marker_scene(marker(spread))

    told = words(scene.acts)
    assert OPEN_HERE[spread] in told
    assert spread_words(marker(spread)).endswith(", then open")
    assert any("two layers" in sentence for sentence in told)
    assert (HALVE_HERE.get(spread) in told) is (spread in HALVE_HERE)


@pytest.mark.parametrize("spread", [Spread.CROSSWISE, Spread.TURNED])
def test_both_halves_of_halved_cloth_are_drawn(spread: Spread) -> None:
    """The pair is 100 long: the line at 100, the other half to 200, its outline in that half."""
    laid = marker(spread)
    frame = ClothFrame(laid)
    scene = marker_scene(laid)
    pieces = [area.outline_mm for group in groups(scene.acts, "piece") for area in group.acts
              if isinstance(area, Area)]  # fmt: skip
    left = min(float(outline[:, 0].min()) for outline in pieces)

    name = "fold" if spread is Spread.CROSSWISE else "cut across"
    [halving] = groups(scene.acts, name)
    assert first_line(halving)[:, 0] - left == pytest.approx([100.0, 100.0], abs=0.01)
    assert frame.halved_mm(laid.stretches[0]) == pytest.approx(100.0, abs=0.01)
    [under] = groups(scene.acts, "under layer")
    [outline] = [act.outline_mm for act in under.acts if isinstance(act, Area)]
    assert outline[:, 0].min() - left == pytest.approx(100.0, abs=0.01)
    assert outline[:, 0].max() - left == pytest.approx(200.0, abs=0.01)
    assert "comes of cutting through both layers" in words(scene.acts)


def test_a_double_fold_has_two_folds_and_a_line_where_the_selvages_meet() -> None:
    """On 400 mm of usable cloth the folds are 200 mm apart, and the line is in their middle."""
    scene = marker_scene(marker(Spread.DOUBLE))

    low, high = sorted(float(first_line(fold)[0, 1]) for fold in groups(scene.acts, "fold"))
    [meet] = groups(scene.acts, "selvages meet")
    assert high - low == pytest.approx(200.0)
    assert float(first_line(meet)[0, 1]) - low == pytest.approx(100.0)
    assert "selvages meet: no piece crosses" in words(scene.acts)


def test_cloth_folded_double_opens_out_on_both_sides() -> None:
    """A quarter of 400 mm is turned back below, and a quarter above; selvages of 10 beyond."""
    laid = marker(Spread.DOUBLE)
    frame = ClothFrame(laid)

    assert (frame.low_mm(laid.stretches[0]), frame.high_mm(laid.stretches[0])) == (0.0, 200.0)
    assert (frame.low_mm(laid.stretches[1]), frame.high_mm(laid.stretches[1])) == (-110.0, 310.0)


@pytest.mark.parametrize("spread", FOLDED)
def test_thumbnails_show_what_lies_under(spread: Spread) -> None:
    """The colour of the under layer is in each, within the size that was allowed."""
    small = thumbnail(marker(spread), wide_mm=80.0, high_mm=50.0, type_mm=2.0)

    under = [
        act for _, act in walk(small.acts) if isinstance(act, Area) and act.fill == UNDER_LAYER
    ]
    assert len(under) == (2 if spread is Spread.DOUBLE else 1)
    assert small.width_mm <= 80.0 + 1e-6
    assert small.height_mm <= 50.0 + 1e-6


def test_a_tape_is_laid_from_the_lower_of_two_folds() -> None:
    """So that nobody measures from the other one."""
    edges = {row.edge for row in tape_rows(marker(Spread.DOUBLE))}

    assert edges == {"lower fold", "lower selvage"}
