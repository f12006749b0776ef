"""Drafting tools: the cut line lies at the allowance outside the seam line."""

import doctest
import itertools
import math

import numpy as np
import pytest

from demo import drafting
from demo.drafting import Drafted, Edge, SeamLine, curve, fold, line, rectangle, solved, split
from pieces.outline.polygon import area_mm2, bounds_mm


def test_examples_in_docstrings_hold():
    """What the docstrings print is what the functions return."""
    result = doctest.testmod(drafting)

    assert result.attempted == 4
    assert result.failed == 0


def test_rectangle_grows_by_its_allowances():
    """100 x 40 mm with 15 mm all round and a 30 mm hem is 130 x 85 mm."""
    seam = rectangle(100.0, 40.0, bottom=30.0)

    assert bounds_mm(seam.outline_mm()) == (-15.0, -30.0, 115.0, 55.0)
    assert len(seam.outline_mm()) == 4  # corners meet, so no vertex is spare


def test_fold_edge_has_no_allowance():
    """A half piece 50 mm wide grows to 65 mm, and its fold edge runs from hem to top cut line."""
    seam = SeamLine(
        (
            Edge("hem", line((0, 0), (50, 0))),
            Edge("side", line((50, 0), (50, 80))),
            Edge("top", line((50, 80), (0, 80))),
            fold((0, 80), (0, 0)),
        )
    )

    assert bounds_mm(seam.outline_mm()) == (0.0, -15.0, 65.0, 95.0)
    assert seam.fold_edge_mm() == ((0.0, 95.0), (0.0, -15.0))


def test_concave_corner_is_trimmed():
    """In an L of three 100 mm squares the inner corner of the cut line is 15 mm inside the notch.

    Grown by 15 mm all round, the L is 230 x 230 mm less a notch of 100 x 100 mm: 42,900 mm².
    """
    corners = [(0, 0), (200, 0), (200, 100), (100, 100), (100, 200), (0, 200), (0, 0)]
    edges = [
        Edge(str(i), line(start, end)) for i, (start, end) in enumerate(itertools.pairwise(corners))
    ]
    outline = SeamLine(tuple(edges)).outline_mm()

    assert len(outline) == 6
    assert area_mm2(outline) == pytest.approx(230 * 230 - 100 * 100)


def test_curve_keeps_its_distance_from_the_seam():
    """Around a quarter circle of 200 mm the cut line lies 215 mm from the centre."""
    kappa = 4 / 3 * math.tan(math.pi / 8)  # handles of a cubic that stands for a quarter circle
    share = kappa / math.sqrt(2)  # of the chord
    quarter = curve((200, 0), (0, 200), leave_deg=90, arrive_deg=180, pull=(share, share))
    seam = SeamLine(
        (Edge("round", quarter), Edge("left", line((0, 200), (0, 0)), 0.0),
         Edge("foot", line((0, 0), (200, 0)), 0.0))
    )  # fmt: skip
    cut = seam.cut_edges()[0]

    assert np.hypot(*cut.T) == pytest.approx(215.0, abs=0.15)


def test_notch_lies_on_the_cut_line_beside_its_place():
    """A notch 30 mm up the right side of a rectangle sits 15 mm outside the seam."""
    drafted = Drafted(
        seam=rectangle(100.0, 60.0), grain=((50, 10), (50, 50)), notches=(("right", 30.0),)
    )

    assert [notch.at_mm for notch in drafted.shape().notches] == [(115.0, 30.0)]


def test_distances_below_zero_count_from_the_end():
    """On a 60 mm edge, -20 is the same place as 40."""
    seam = rectangle(100.0, 60.0)

    assert seam.point("right", -20.0) == seam.point("right", 40.0) == (100.0, 40.0)


def test_split_parts_a_chain_without_losing_length():
    """An angle of 30 mm and 40 mm, parted at 50 mm, gives 50 mm and 20 mm."""
    first, second = split(line((0, 0), (30, 0), (30, 40)), 50.0)

    assert drafting.length_mm(first) == pytest.approx(50.0)
    assert drafting.length_mm(second) == pytest.approx(20.0)
    assert first[-1].tolist() == second[0].tolist() == [30.0, 20.0]


def test_edges_that_do_not_meet_are_refused():
    """A gap in the seam line names both edges and its width."""
    with pytest.raises(ValueError, match=r'"foot" ends 5 mm from the start of "right"'):
        SeamLine((Edge("foot", line((0, 0), (95, 0))), Edge("right", line((100, 0), (0, 0)))))


def test_place_beyond_an_edge_is_refused():
    """A notch at 70 mm of a 60 mm edge is a slip of the draft."""
    with pytest.raises(ValueError, match="70 mm is beyond the edge, which is 60 mm long"):
        rectangle(100.0, 60.0).point("right", 70.0)


def test_value_out_of_reach_is_refused():
    """No square of a number between 0 and 2 is 9."""
    with pytest.raises(ValueError, match="9 is not reached"):
        solved(lambda x: x * x, 9.0, low=0.0, high=2.0)
