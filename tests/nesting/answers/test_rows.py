"""Rows of plain values: everything that was asked and answered, and what was refused."""

import json

import numpy as np

from nesting.answers.compare import CompareRow, compare_bolts
from nesting.answers.rows import bounds_of, compare_row, finding_row, finished_pieces, lay_row
from nesting.cloth.bolt import Bolt
from nesting.cloth.lay_rules import LayRules
from nesting.cloth.spread import Spread
from nesting.lay import LayRequest, SearchOptions, lay_pieces
from nesting.marker.cut_list import Selection
from pieces.finding import Finding, Severity
from pieces.grainline import Grainline
from pieces.measures.price import parse_price
from pieces.measures.units import UnitSystem
from pieces.pattern import ClothNeed, Pattern, View
from pieces.piece import Cut, Piece, PieceShape


def _request(width_mm: float = 400.0, spread: Spread = Spread.OPEN) -> LayRequest:
    """Two pairs of squares of 100 mm, on cloth at 10 for a metre, sold in steps of 10 cm."""
    square = PieceShape(
        outline_mm=np.array([(0, 0), (100, 0), (100, 100), (0, 100)], float),
        grainline=Grainline((50.0, 10.0), (50.0, 90.0)),
    )
    piece = Piece(
        name="square", title="Square", cuts=(Cut("shell", 4, pair=True),), shapes={"M": square}
    )
    pattern = Pattern(
        name="Quilt",
        sizes=("M",),
        pieces=(piece,),
        views=(View("A", ("square",)),),
        cloths=(ClothNeed("shell"),),
    )
    return LayRequest(
        pattern=pattern,
        selections=(Selection("A", "M"),),
        cloth="shell",
        bolt=Bolt(
            width_mm=width_mm,
            price=parse_price("10/m"),
            shop_step_mm=100.0,
            units=UnitSystem.METRIC,
        ),
        rules=LayRules(spread),
        search=SearchOptions("quick", None, 1, 1),
    )


def test_a_row_can_be_written_as_json() -> None:
    """Four squares fill 100 mm of a cloth of 400 mm: 10 cm, which cost 1."""
    row = lay_row(_request(), lay_pieces(_request()))

    assert json.loads(json.dumps(row)) == row
    assert (row["pattern"], row["nap"], row["placed"]) == ("Quilt", "without", 4)
    assert (row["shop_length"], row["cost"]) == ("10 cm", 1.0)


def test_both_layers_of_a_fold_are_counted() -> None:
    """Two placements through two layers are four pieces."""
    marker = lay_pieces(_request(spread=Spread.LENGTHWISE)).marker

    assert len(marker.placements) == 2
    assert finished_pieces(marker) == 4


def test_the_bound_of_a_marker_is_the_bound_of_its_lay() -> None:
    """A marker from a file gives the same bound as the lay it came from."""
    result = lay_pieces(_request())

    assert bounds_of(result.marker) == (result.lower_bound, result.open_bound)


def test_a_refused_row_has_the_same_keys() -> None:
    """Where nothing was laid the answers are empty and the refusal is told."""
    narrow, wide = (compare_row(row) for row in compare_bolts((_request(90.0), _request())))

    assert narrow.keys() == wide.keys()
    assert "needs 10 cm" in narrow["refusal"]
    assert narrow["cost"] is None
    assert wide["refusal"] is None


def test_a_row_without_a_lay_has_no_cost() -> None:
    """Nothing laid, nothing to pay."""
    assert CompareRow(_request(), None, "too narrow").cost is None


def test_a_finding_keeps_its_pieces_in_order() -> None:
    """Code, severity as a word, sentence and pieces."""
    finding = Finding("overlap", Severity.ERROR, "A and B overlap", ("B", "A"))

    assert finding_row(finding) == {
        "code": "overlap",
        "severity": "error",
        "sentence": "A and B overlap",
        "pieces": ["B", "A"],
    }
