"""What the cloth brings along: the grid of its repeat, points that meet or miss, and flaws."""

from dataclasses import replace

import numpy as np
import pytest

from nesting.cloth.bolt import Bolt
from nesting.cloth.flaw import Flaw
from nesting.cloth.repeat import Repeat
from nesting.cloth.spread import Spread
from nesting.draw.marker_scene import marker_scene
from nesting.draw.scene import Area, Group, Lines, Scene
from nesting.marker.marker import Marker
from pieces.marks import MatchWay
from tests.matched_patterns import boxed
from tests.nesting.checks.test_match_checks import (
    front_and_back,
    laid,
    mirrored,
    pair_with_centre,
    plain,
)
from tests.nesting.drawn import cut_end_mm, cut_line_mm, groups, words


def striped(*, back_x: float = 80.0, shrink_along: float = 0.0) -> Marker:
    """Return front and back on stripes 100 mm apart; they meet if the back lies at 80 mm."""
    bolt = Bolt(width_mm=200.0, repeat=Repeat(along_mm=100.0), shrink_along=shrink_along)
    return laid(front_and_back(), bolt, plain("front", 0, 0), plain("back", back_x, 100))


def grid(scene: Scene) -> list[np.ndarray]:
    """Return the lines of the grid."""
    [group] = groups(scene.acts, "repeat grid")
    [lines] = [act for act in group.acts if isinstance(act, Lines)]
    return list(lines.lines_mm)


def test_plain_cloth_has_no_grid_and_no_diamonds() -> None:
    """Nor does the key speak of a repeat."""
    scene = marker_scene(replace(striped(), bolt=Bolt(width_mm=200.0)))

    for name in ("repeat grid", "meeting points", "points that miss", "flaws"):
        assert groups(scene.acts, name) == []
    assert "repeat of the cloth" not in words(scene.acts)


def test_the_grid_runs_through_the_matched_points() -> None:
    """The side of the front is at 30 mm, so lines stand at 30, 130, 230 and so on to the cut."""
    scene = marker_scene(striped())

    xs = [float(drawn[0, 0]) - cut_end_mm(scene) for drawn in grid(scene)]

    shop_mm = cut_line_mm(scene) - cut_end_mm(scene)
    assert xs == pytest.approx(np.arange(30.0, shop_mm, 100.0))
    assert "repeat of the cloth" in words(scene.acts)


def test_washed_stripes_stand_nearer_together_and_the_cut_is_told_before_washing() -> None:
    """100 mm in the shop are 90 mm on the table."""
    scene = marker_scene(striped(shrink_along=0.1))

    xs = [float(drawn[0, 0]) for drawn in grid(scene)]

    assert np.diff(xs) == pytest.approx(90.0)
    told = words(scene.acts)
    assert any(line.startswith("cut here") and "before washing" in line for line in told)
    assert "open: single layer, right side up; washed first" in told


def test_the_picture_of_washed_cloth_ends_where_washing_leaves_it() -> None:
    """The 1/2 yd asked for, with a repeat to begin on, is 457.2 mm: nine tenths on the table."""
    scene = marker_scene(striped(shrink_along=0.1))

    assert cut_line_mm(scene) - cut_end_mm(scene) == pytest.approx(457.2 * 0.9)


@pytest.mark.parametrize(
    ("back_x", "layer", "other"),
    [(80.0, "meeting points", "points that miss"), (92.0, "points that miss", "meeting points")],
)
def test_a_diamond_tells_whether_a_point_meets(back_x: float, layer: str, other: str) -> None:
    """Full on both pieces where they agree, open on both where they miss."""
    scene = marker_scene(striped(back_x=back_x))

    diamonds = [act for group in groups(scene.acts, layer) for act in group.acts]

    assert len(diamonds) == 2
    assert all(isinstance(act, Area) and act.pen is not None for act in diamonds)
    assert groups(scene.acts, other) == []


def test_the_diamond_stands_on_its_point() -> None:
    """The side of the front: 30 mm along, 60 mm across, from the corner of the cloth."""
    scene = marker_scene(striped())
    [front, *_] = groups(scene.acts, "piece")
    [group] = groups((front,), "meeting points")
    [diamond] = group.acts
    assert isinstance(diamond, Area)
    outline = front.acts[0]
    assert isinstance(outline, Area)

    assert diamond.outline_mm.mean(axis=0) - outline.outline_mm.min(axis=0) == pytest.approx(
        (30.0, 60.0)
    )


def test_an_uneven_repeat_tells_which_way_the_tops_point() -> None:
    """As nap does."""
    bolt = Bolt(width_mm=200.0, repeat=Repeat(along_mm=100.0, even=False))
    scene = marker_scene(replace(striped(), bolt=bolt))

    assert "uneven repeat: all tops this way" in words(scene.acts)
    assert "6 in along" not in words(scene.acts)
    assert "3.94 in along, uneven" in words(scene.acts)


def test_a_plaid_is_folded_on_a_stripe() -> None:
    """Else the layers would not agree; the grid across starts from the fold."""
    bolt = Bolt(width_mm=400.0, repeat=Repeat(across_mm=100.0))
    marker = laid(pair_with_centre(), bolt, plain("front", 0, 0), spread=Spread.LENGTHWISE,
                  matching={"centre": MatchWay.BOTH})  # fmt: skip
    scene = marker_scene(marker)
    [cloth] = groups(scene.acts, "cloth")
    sheets = [act for act in cloth.acts if isinstance(act, Area)]
    fold = float(sheets[1].outline_mm[:, 1].min())

    ys = [float(drawn[0, 1]) - fold for drawn in grid(scene)]

    assert ys == pytest.approx([50.0, 150.0])
    assert any("the fold along the middle of a stripe" in line for line in words(scene.acts))


def test_the_grid_across_runs_through_the_centre_on_open_cloth() -> None:
    """The left centre lies 50 mm from the lower edge of 300 mm."""
    bolt = Bolt(width_mm=300.0, repeat=Repeat(across_mm=100.0))
    marker = laid(pair_with_centre(), bolt, plain("front", 0, 0), mirrored("front", 0, 140),
                  matching={"centre": MatchWay.BOTH})  # fmt: skip
    scene = marker_scene(marker)
    [cloth] = groups(scene.acts, "cloth")
    sheet = next(act for act in cloth.acts if isinstance(act, Area))
    edge = float(sheet.outline_mm[:, 1].min())

    ys = [float(drawn[0, 1]) - edge for drawn in grid(scene)]

    assert ys == pytest.approx([50.0, 150.0, 250.0])


def test_a_very_fine_repeat_is_no_grey_sheet() -> None:
    """A pinstripe of 2 mm is not drawn line by line."""
    bolt = Bolt(width_mm=200.0, repeat=Repeat(along_mm=2.0))

    assert groups(marker_scene(replace(striped(), bolt=bolt)).acts, "repeat grid") == []


@pytest.mark.parametrize("spread", [Spread.OPEN, Spread.LENGTHWISE])
def test_flaws_are_hatched_and_named(spread: Spread) -> None:
    """Where they lie on the table: 150 to 160 mm from the edge, 40 to 50 mm from the fold."""
    flaws = (
        Flaw(at_mm=250.0, across_mm=150.0, long_mm=20.0, wide_mm=10.0),
        Flaw(at_mm=2000.0, across_mm=150.0, long_mm=20.0, wide_mm=10.0),
    )
    bolt = Bolt(width_mm=220.0, flaws=flaws)
    marker = laid((boxed("front", pair=True),), bolt, plain("front", 100, 0), spread=spread)
    scene = marker_scene(marker)
    [group] = groups(scene.acts, "flaws")
    [box, hatch, *_] = group.acts
    assert isinstance(box, Area)
    assert isinstance(hatch, Lines)
    pieces = next(act for act in scene.acts if isinstance(act, Group) and act.name == "pieces")
    [outline] = [piece.acts[0] for piece in groups((pieces,), "piece")]
    assert isinstance(outline, Area)

    x, y = box.outline_mm.min(axis=0) - outline.outline_mm.min(axis=0)

    assert (x, y) == pytest.approx((150.0, 150.0 if spread is Spread.OPEN else 40.0))
    told = words(scene.acts)
    assert "flaw 1" in told
    assert "flaw 2" not in told  # beyond the cut
    assert "flaw: keep off" in told
