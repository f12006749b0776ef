"""Checks of a pattern name what a person about to cut would want to know."""

import dataclasses
from collections.abc import Mapping
from typing import Any

import numpy as np
import pytest

from pieces.finding import Finding, Severity
from pieces.grainline import Grain, Grainline
from pieces.marks import DrillHole, MatchPoint, Notch
from pieces.pattern import ClothNeed, Pattern, View
from pieces.piece import Cut, Piece, PieceShape
from pieces.sheet.piece_checks import check_pattern
from tests.gallery import half_back


def pattern_of(
    shapes: Mapping[str, PieceShape], *, grain: Grain = Grain.LENGTHWISE, **other: Any
) -> Pattern:
    """Return a pattern with one piece, ``back``, in the shapes given."""
    piece = Piece(name="back", title="Back", cuts=(Cut("shell", 1),), shapes=shapes, grain=grain)
    fields: dict[str, Any] = {
        "name": "Waistcoat",
        "sizes": tuple(shapes),
        "pieces": (piece,),
        "views": (View("A", ("back",)),),
        "cloths": (ClothNeed("shell"),),
    }
    return Pattern(**{**fields, **other})


def findings_for(**changes: Any) -> tuple[Finding, ...]:
    """Check a half back of 150 x 300 mm with something changed."""
    return check_pattern(pattern_of({"M": dataclasses.replace(half_back(), **changes)}))


def test_a_sound_pattern_has_no_findings() -> None:
    """Marks where they belong, in growing sizes, give nothing to say."""
    small = dataclasses.replace(
        half_back(),
        notches=(Notch((150.0, 100.0)), Notch((151.5, 200.0))),
        match_points=(MatchPoint("side", (150.0, 100.0)),),
        drill_holes=(DrillHole((75.0, 150.0)),),
    )
    large = dataclasses.replace(half_back(), outline_mm=half_back().outline_mm * (1.1, 1.0))

    assert check_pattern(pattern_of({"S": small, "M": large})) == ()


@pytest.mark.parametrize(
    ("changes", "code", "severity", "sentence"),
    [
        (
            {"notches": (Notch((160.0, 100.0)),)},
            "notch-off-edge",
            Severity.WARNING,
            "notch at (160, 100) mm is 10.0 mm off the outline",
        ),
        (
            {"notches": (Notch((75.0, 150.0)),)},
            "notch-off-edge",
            Severity.WARNING,
            "is 75.0 mm off the outline",
        ),
        (
            {"match_points": (MatchPoint("side", (153.0, 100.0)),)},
            "mark-outside",
            Severity.WARNING,
            'match point "side" at (153, 100) mm is 3.0 mm outside',
        ),
        (
            {"drill_holes": (DrillHole((75.0, 305.0)),)},
            "mark-outside",
            Severity.WARNING,
            "drill hole at (75, 305) mm is 5.0 mm outside",
        ),
        (
            {"fold_edge_mm": ((0.0, 0.0), (0.0, 200.0))},
            "fold-not-an-edge",
            Severity.ERROR,
            "no straight edge of the outline",
        ),
        (
            # 200 mm along and 2 mm aside: atan(0.01) = 0.573 degrees
            {"grainline": Grainline((70.0, 40.0), (72.0, 240.0))},
            "fold-off-grain",
            Severity.ERROR,
            "fold edge is 0.6 degrees off the grainline",
        ),
        (
            {"outline_mm": half_back().outline_mm * 20.0, "fold_edge_mm": None},
            "strange-size",
            Severity.WARNING,
            "3000 x 6000 mm; pieces are between 5 mm and 5000 mm",
        ),
        (
            {"outline_mm": half_back().outline_mm / 100.0, "fold_edge_mm": None},
            "strange-size",
            Severity.WARNING,
            "check the units",
        ),
    ],
)
def test_one_fault_gives_one_finding(
    changes: dict[str, Any], code: str, severity: Severity, sentence: str
) -> None:
    """Each fault is named with its piece, size and numbers, and nothing else is said."""
    (finding,) = findings_for(**changes)

    assert (finding.code, finding.severity, finding.pieces) == (code, severity, ("back",))
    assert finding.sentence.startswith('piece "back", size M: ')
    assert sentence in finding.sentence


def test_a_fold_edge_across_the_grain_is_in_order() -> None:
    """A fold edge at right angles to the grainline can lie on a crosswise fold."""
    assert findings_for(grainline=Grainline((20.0, 50.0), (120.0, 50.0))) == ()


def test_a_bias_piece_may_lie_on_a_fold_at_any_angle() -> None:
    """The rule about fold and grain is for lengthwise and crosswise grain."""
    leaning = dataclasses.replace(half_back(), grainline=Grainline((0.0, 0.0), (90.0, 100.0)))

    assert check_pattern(pattern_of({"M": leaning}, grain=Grain.BIAS)) == ()
    assert len(check_pattern(pattern_of({"M": leaning}, grain=Grain.CROSSWISE))) == 1


def test_a_size_smaller_than_the_one_before_is_noticed() -> None:
    """The S back, made 10 % wider than the M back, is named with both areas.

    Half back: 150 x 300 = 45,000 mm², less the neck triangle 60 x 20 / 2 = 600: 444 cm², and
    1.1 times that is 488.4 cm².
    """
    wide = dataclasses.replace(half_back(), outline_mm=half_back().outline_mm * (1.1, 1.0))
    (finding,) = check_pattern(pattern_of({"S": wide, "M": half_back()}))

    assert finding.code == "size-not-growing"
    assert "444 cm² in size M and 488 cm² in the smaller size S" in finding.sentence


def test_a_fold_edge_in_some_sizes_only_is_an_error() -> None:
    """A half piece in one size and a full piece in the other cannot both be right."""
    full = dataclasses.replace(
        half_back(), fold_edge_mm=None, outline_mm=np.array([(0, 0), (300, 0), (300, 300)], float)
    )
    (finding,) = check_pattern(pattern_of({"S": full, "M": half_back()}))[-1:]

    assert (finding.code, finding.severity) == ("fold-in-some-sizes", Severity.ERROR)
    assert "no fold edge in size S" in finding.sentence


def test_what_is_never_used_is_noticed() -> None:
    """A piece in no view and a cloth no piece is cut from are named."""
    base = pattern_of({"M": half_back()})
    spare = dataclasses.replace(base.piece("back"), name="spare")
    pattern = dataclasses.replace(
        base,
        pieces=(*base.pieces, spare),
        cloths=(*base.cloths, ClothNeed("lining")),
    )

    assert [finding.code for finding in check_pattern(pattern)] == ["unused-piece", "unused-cloth"]


@pytest.mark.parametrize("wide_mm", [1e-12, 0.19])
def test_an_outline_too_thin_to_be_laid_is_an_error(wide_mm: float) -> None:
    """Rounded to whole units nothing would be left of it."""
    sliver = np.array([(0.0, 0.0), (150.0, 0.0), (150.0, wide_mm)])

    found = findings_for(outline_mm=sliver, fold_edge_mm=None)

    assert ("too-thin", Severity.ERROR) in [(one.code, one.severity) for one in found]
    assert "it needs at least 0.1 mm to be cut" in " ".join(one.sentence for one in found)
