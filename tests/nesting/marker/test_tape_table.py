"""The table for laying a marker with a tape measure."""

import csv
import io

import numpy as np
import pytest

from nesting.cloth.spread import Spread
from nesting.marker.placement import lying_shape
from nesting.marker.tape_table import HEADER, tape_csv, tape_rows
from tests.nesting.draw.markers import waistcoat_marker


def test_every_placement_has_a_row_and_a_straight_grainline_one_distance() -> None:
    """Lengthwise grain: tail and head are equally far from the edge, to rounding."""
    marker = waistcoat_marker()

    rows = tape_rows(marker)

    assert len(rows) == len(marker.placements)
    assert all(row.tail_mm[1] == pytest.approx(row.head_mm[1]) for row in rows)
    assert all(row.edge == "lower selvage" for row in rows)
    starts = [min(row.tail_mm[0], row.head_mm[0]) for row in rows]
    assert starts == sorted(starts)


def test_distances_begin_at_the_edge_of_the_cloth_and_not_of_what_is_used() -> None:
    """A selvage of 12.7 mm is counted: each distance is the placement's plus that."""
    marker = waistcoat_marker(selvage_mm=12.7)

    rows = tape_rows(marker)

    arrows = [
        lying_shape(marker.item_by_key[at.item], at, Spread.OPEN).grainline
        for at in marker.placements
    ]
    tails_mm = sorted((arrow.tail_mm[0], arrow.tail_mm[1] + 12.7) for arrow in arrows)
    assert np.array(sorted(row.tail_mm for row in rows)) == pytest.approx(np.array(tails_mm))


def test_the_table_is_csv_in_inches() -> None:
    """One line for each piece under the header, lengths as on a tape."""
    read = list(csv.reader(io.StringIO(tape_csv(waistcoat_marker()))))

    assert tuple(read[0]) == HEADER
    assert all(line[5].endswith(" in") for line in read[1:])
