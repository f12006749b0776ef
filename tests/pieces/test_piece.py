"""A piece checks its counts against its shapes."""

import dataclasses
from typing import Any

import numpy as np
import pytest
from hypothesis import given

from pieces.errors import OutlineError, PieceError, UnknownNameError
from pieces.piece import Cut, Piece, PieceShape
from tests.gallery import half_back
from tests.strategies import shapes


def piece_with(**fields: Any) -> Piece:
    """Return a half back in size M, with something changed."""
    given: dict[str, Any] = {
        "name": "back",
        "title": "Back",
        "cuts": (Cut("shell", 1), Cut("lining", 1)),
        "shapes": {"M": half_back()},
    }
    return Piece(**{**given, **fields})


def test_a_piece_is_asked_for_shapes_and_counts() -> None:
    """Shapes come by size and counts by cloth; a cloth it is not cut from gives None."""
    piece = piece_with()

    assert piece.shape("M") == half_back()
    assert piece.cut_for("lining") == Cut("lining", 1)
    assert piece.cut_for("interfacing") is None
    with pytest.raises(UnknownNameError, match='piece "back" has no size "XL"; it has M'):
        piece.shape("XL")


def test_the_table_of_shapes_is_frozen() -> None:
    """Neither the table nor the one it was made from changes the piece."""
    table = {"M": half_back()}
    piece = piece_with(shapes=table)
    table.clear()

    assert list(piece.shapes) == ["M"]
    with pytest.raises(TypeError):
        piece.shapes["L"] = half_back()  # type: ignore[index]


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        ({"shapes": {}}, "no shape in any size"),
        ({"cuts": ()}, "cut from no cloth"),
        ({"cuts": (Cut("shell", 1), Cut("shell", 2))}, "one cloth twice"),
        ({"cuts": (Cut("shell", 2, pair=True),)}, "half piece on a fold"),
    ],
)
def test_a_piece_that_contradicts_itself_is_refused(fields: dict[str, Any], sentence: str) -> None:
    """The refusal names the piece and the contradiction."""
    with pytest.raises(PieceError, match=f'piece "back" .*{sentence}'):
        piece_with(**fields)


@pytest.mark.parametrize(
    ("count", "pair", "sentence"), [(0, False, "cut at least 1"), (3, True, "even count")]
)
def test_counts_that_cannot_be_cut_are_refused(count: int, pair: bool, sentence: str) -> None:
    """At least one is cut, and pairs need an even count."""
    with pytest.raises(PieceError, match=sentence):
        Cut("shell", count, pair)


def test_a_shape_refuses_a_bad_outline() -> None:
    """The outline of a shape is held to the rules of outlines."""
    with pytest.raises(OutlineError, match="crosses itself"):
        dataclasses.replace(half_back(), outline_mm=np.array([(0, 0), (2, 2), (2, 0), (0, 2)]))


@given(shapes())
def test_shapes_are_equal_by_value(shape: PieceShape) -> None:
    """A copy is equal and hashes alike; a hair's breadth of difference makes it unequal."""
    copy = dataclasses.replace(shape)
    moved = dataclasses.replace(shape, outline_mm=shape.outline_mm + 0.001)

    assert copy == shape
    assert hash(copy) == hash(shape)
    assert moved != shape
    assert shape != "shape"
