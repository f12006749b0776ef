"""Marks on a piece."""

import numpy as np
import pytest

from pieces.errors import PieceError
from pieces.marks import InternalLine


def test_an_internal_line_keeps_its_own_points() -> None:
    """The points are copied and cannot be changed afterwards."""
    points = np.array([(0.0, 0.0), (5.0, 5.0)])
    line = InternalLine("dart", points)
    points[0] = 9.0

    assert line.points_mm.tolist() == [[0.0, 0.0], [5.0, 5.0]]
    with pytest.raises(ValueError, match="read-only"):
        line.points_mm[0, 0] = 1.0


def test_internal_lines_are_equal_by_name_and_points() -> None:
    """Equal lines hash alike; another name or point makes another line."""
    line = InternalLine("dart", np.array([(0.0, 0.0), (5.0, 5.0)]))
    same = InternalLine("dart", np.array([(0.0, 0.0), (5.0, 5.0)]))

    assert line == same
    assert hash(line) == hash(same)
    assert line != InternalLine("pleat", line.points_mm)
    assert line != InternalLine("dart", np.array([(0.0, 0.0), (5.0, 6.0)]))
    assert line != "dart"


@pytest.mark.parametrize(
    ("points", "sentence"),
    [
        ([(0.0, 0.0)], "at least two"),
        ([(0.0, 0.0, 0.0), (1.0, 1.0, 1.0)], "at least two"),
        ([(0.0, 0.0), (1.0, float("nan"))], "not a finite number"),
    ],
)
def test_what_is_no_line_is_refused(points: list[tuple[float, ...]], sentence: str) -> None:
    """A line has at least two finite points."""
    with pytest.raises(PieceError, match=sentence):
        InternalLine("dart", np.array(points))
