"""A small marker: to scale, within its box, each piece named or numbered."""

from dataclasses import replace

import numpy as np
import pytest
import shapely

from nesting.draw.scene import Area, Arrow, Group, Lines, Pen, Text, line, scaled, walk
from nesting.draw.style import SELVAGE
from nesting.draw.thumbnail import Thumbnail, thumbnail, thumbnail_size_mm
from nesting.errors import EmptyMarkerError
from nesting.marker.marker import Marker
from tests.nesting.draw.small_markers import (
    BACK_MM2,
    FRONT_MM2,
    POCKET_MM2,
    folded_marker,
    open_marker,
    sixty_pieces,
)
from tests.nesting.drawn import words


def pieces(small: Thumbnail) -> list[Group]:
    """Return the groups of the pieces."""
    return [act for act in small.acts if isinstance(act, Group) and act.name == "piece"]


def area_of(group: Group) -> float:
    """Return the area that the first fill of a piece covers on paper, mm2."""
    fill = next(act for act in group.acts if isinstance(act, Area))
    return float(shapely.Polygon(fill.outline_mm).area)


def test_pieces_are_to_scale() -> None:
    """700 mm of cloth on 70 mm of paper is 1 : 10, so areas are a hundredth."""
    small = thumbnail(open_marker(), 70.0, 500.0, type_mm=1.7)

    assert (small.width_mm, small.height_mm) == pytest.approx((70.0, 100.0))
    assert [area_of(group) for group in pieces(small)] == pytest.approx(
        [FRONT_MM2 / 100, FRONT_MM2 / 100, BACK_MM2 / 100, POCKET_MM2 / 100]
    )


def test_the_lower_side_of_the_box_decides() -> None:
    """Cloth of 700 x 1,000 in a box of 300 x 50 is 35 x 50."""
    assert thumbnail_size_mm(open_marker(), 300.0, 50.0) == pytest.approx((35.0, 50.0))


def test_cloth_that_shrinks_is_shown_washed() -> None:
    """The cloth fills the picture to its right side, and selvages shrink as the cloth does."""
    plain = open_marker()
    bolt = replace(plain.bolt, selvage_mm=20.0, shrink_along=0.1, shrink_across=0.05)
    small = thumbnail(replace(plain, bolt=bolt), 70.0, 500.0, type_mm=1.7)
    areas = [act for _, act in walk(small.acts) if isinstance(act, Area)]
    across = [np.ptp(act.outline_mm[:, 1]) for act in areas if act.fill == SELVAGE]
    usable_mm = bolt.usable_width_mm

    assert max(act.outline_mm[:, 0].max() for act in areas) == pytest.approx(small.width_mm)
    assert across == pytest.approx([small.height_mm * 19.0 / (usable_mm + 38.0)] * 2)


@pytest.mark.parametrize("marker", [open_marker(), folded_marker(), sixty_pieces()])
def test_everything_lies_in_the_box(marker: Marker) -> None:
    """No piece and no edge of the cloth is drawn beyond the size that is told."""
    small = thumbnail(marker, 70.0, 40.0, type_mm=1.7)

    for _, act in walk(small.acts):
        points = act.outline_mm if isinstance(act, Area) else np.zeros((1, 2))
        assert points.min() >= -1e-6
        assert points[:, 0].max() <= small.width_mm + 1e-6
        assert points[:, 1].max() <= small.height_mm + 1e-6


@pytest.mark.parametrize("marker", [open_marker(), folded_marker(), sixty_pieces()])
def test_words_stay_on_their_piece(marker: Marker) -> None:
    """A name or number lies inside its outline; only a sliver under 1.5 mm has neither."""
    for group in pieces(thumbnail(marker, 90.0, 60.0, type_mm=1.7)):
        fill = next(act for act in group.acts if isinstance(act, Area))
        outline = shapely.Polygon(fill.outline_mm).buffer(1e-6)
        texts = [act for act in group.acts if isinstance(act, Text)]
        assert texts or outline.minimum_rotated_rectangle.area < 1.5 * outline.length / 2
        assert all(outline.covers(shapely.Polygon(text.box_mm)) for text in texts)


def test_large_pieces_have_names_and_small_ones_numbers() -> None:
    """On 90 mm all are named; on 14 mm the pocket is 1.6 mm wide and gets a number."""
    large, small = (thumbnail(open_marker(), wide, 500.0, type_mm=1.7) for wide in (90.0, 14.0))

    assert large.numbers == {}
    assert words(large.acts) == ["Front", "Front", "Back", "Pocket"]
    assert "Pocket" in small.numbers
    assert small.numbers["Pocket"] in words(small.acts)


def test_copies_of_a_piece_share_a_number_and_numbers_count_from_one() -> None:
    """Sixty odd pieces, those without room: 1, 2, 3 and so on, each name once."""
    numbers = list(thumbnail(sixty_pieces(), 90.0, 60.0, type_mm=1.7).numbers.values())

    assert numbers == [str(number + 1) for number in range(len(numbers))]
    assert len(numbers) > 5


def test_mixed_sizes_are_told_apart() -> None:
    """With two sizes on one cloth the size stands behind the name."""
    marker = open_marker()
    large = tuple(
        replace(item, size="L") if item.title == "Pocket" else item for item in marker.items
    )

    small = thumbnail(replace(marker, items=large), 120.0, 500.0, type_mm=1.7)

    assert [group.title for group in pieces(small)] == ["Front M", "Front M", "Back M", "Pocket L"]


def test_a_piece_turned_over_is_hatched() -> None:
    """One of the two fronts lies printed side down."""
    hatched = [
        any(isinstance(act, Lines) for act in group.acts)
        for group in pieces(thumbnail(open_marker(), 70.0, 100.0, type_mm=1.7))
    ]

    assert hatched == [False, True, False, False]


def test_an_empty_marker_has_no_picture() -> None:
    """There is nothing to draw."""
    with pytest.raises(EmptyMarkerError):
        thumbnail(replace(open_marker(), placements=()), 70.0, 40.0, type_mm=1.7)


def test_scaling_takes_every_length_of_every_act() -> None:
    """At a half: places, sizes of type, heads of arrows, pens and dashes."""
    pen = Pen("#000000", 2.0, (4.0, 2.0))
    square = np.array([(0.0, 0.0), (2.0, 0.0), (2.0, 2.0)])
    acts = (
        Area(square, "#FFFFFF", pen),
        Lines((line((0.0, 0.0), (4.0, 6.0)),), pen),
        Arrow((0.0, 0.0), (8.0, 0.0), pen, 2.0),
        Text("a", (2.0, 4.0), 6.0, "#000000"),
    )

    (half,) = [scaled(Group("all", acts), 0.5)]

    assert isinstance(half, Group)
    area, lines, arrow, text = half.acts
    assert isinstance(area, Area)
    assert isinstance(lines, Lines)
    thin = Pen("#000000", 1.0, (2.0, 1.0))
    assert area.outline_mm.tolist() == [[0, 0], [1, 0], [1, 1]]
    assert (area.pen, lines.pen) == (thin, thin)
    assert lines.lines_mm[0].tolist() == [[0, 0], [2, 3]]
    assert arrow == Arrow((0.0, 0.0), (4.0, 0.0), thin, 1.0)
    assert text == Text("a", (1.0, 2.0), 3.0, "#000000")
    assert scaled(Area(square), 0.5).pen is None  # type: ignore[union-attr]
