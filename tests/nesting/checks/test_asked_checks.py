"""The check against what was asked: pattern sheet, garments, cloth and rules."""

from collections.abc import Callable
from dataclasses import replace
from functools import cache
from types import MappingProxyType
from typing import Any

import numpy as np
import pytest

from nesting.checks import Asked, check_marker
from nesting.cloth.bolt import Bolt
from nesting.cloth.lay_rules import LayRules
from nesting.cloth.spread import Spread
from nesting.lay import LayRequest, LayResult, lay_pieces
from nesting.marker.cut_list import CutItem, Selection
from nesting.marker.marker import Marker
from pieces.grainline import Grain, Grainline
from pieces.marks import DrillHole, InternalLine, MatchPoint, MatchWay, Notch
from pieces.pattern import ClothNeed, Pattern, View
from pieces.piece import Cut, Piece, PieceShape
from tests.small_patterns import QUICK

BOLT = Bolt(width_mm=400.0)


def graded(points: list[tuple[float, float]], times: float, *, on_fold: bool = False) -> PieceShape:
    """Return a shape with every kind of mark, larger or smaller, its arrow leaning 30 degrees."""
    outline = np.array(points, dtype=np.float64) * times
    top = float(outline[:, 1].max())
    return PieceShape(
        outline_mm=outline,
        grainline=Grainline((5.0, 5.0), (5.0, 45.0) if on_fold else (25.0, 39.64)),
        fold_edge_mm=((0.0, 0.0), (0.0, top)) if on_fold else None,
        notches=(Notch((10.0 * times, 0.0)),),
        match_points=(MatchPoint("side", (20.0 * times, 10.0)),),
        drill_holes=(DrillHole((12.0, 12.0 * times)),),
        internal_lines=(InternalLine("dart", np.array([(8.0, 8.0), (16.0, 20.0)])),),
    )


def sized(points: list[tuple[float, float]], *, on_fold: bool = False) -> dict[str, PieceShape]:
    """Return a shape in XS and M."""
    return {
        size: graded(points, times, on_fold=on_fold) for size, times in (("XS", 0.9), ("M", 1.0))
    }


@cache
def sheet() -> Pattern:
    """Return a pattern of two sizes, two views and two cloths, with a pair and a half."""
    front = Piece(
        name="front",
        title="Front",
        cuts=(Cut("shell", 2, True), Cut("lining", 1)),
        shapes=sized([(0, 0), (70, 0), (40, 120), (0, 110)]),
    )
    back = Piece(
        name="back",
        title="Back",
        cuts=(Cut("shell", 1),),
        shapes=sized([(0, 0), (60, 0), (50, 120), (0, 125)], on_fold=True),
    )
    hood = replace(front, name="hood", title="Hood", cuts=(Cut("shell", 1),), grain=Grain.BIAS)
    return Pattern(
        name="Coat",
        sizes=("XS", "M"),
        pieces=(front, back, hood),
        views=(View("A", ("front", "back")), View("B", ("front", "back", "hood"))),
        cloths=(ClothNeed("shell"), ClothNeed("lining")),
        matching=MappingProxyType({"side": MatchWay.BOTH}),
    )


@cache
def laid(spread: Spread = Spread.LENGTHWISE) -> LayResult:
    """Return one garment of view B in M and two of A in XS, laid."""
    return lay_pieces(request(spread))


def request(spread: Spread = Spread.LENGTHWISE) -> LayRequest:
    """Return the lay of :func:`laid`."""
    return LayRequest(
        pattern=sheet(),
        selections=(Selection("B", "M"), Selection("A", "XS", 2)),
        cloth="shell",
        bolt=BOLT,
        rules=LayRules(spread),
        search=QUICK,
    )


def codes(marker: Marker, asked: Asked | None = None) -> set[str]:
    """Return the codes of all findings against what was asked."""
    return {one.code for one in check_marker(marker, asked or request().asked())}


@pytest.mark.parametrize("spread", [Spread.OPEN, Spread.LENGTHWISE, Spread.DOUBLE])
def test_what_was_laid_is_what_was_asked(spread: Spread) -> None:
    """Halves, pairs, marks and sizes: nothing differs."""
    marker = laid(spread).marker

    assert check_marker(marker, request(spread).asked()) == ()
    assert check_marker(marker, Asked(pattern=sheet())) == ()


def with_item(marker: Marker, name: str, **changes: Any) -> Marker:
    """Return the marker with one item of its cut list changed."""
    items = tuple(replace(one, **changes) if one.key == name else one for one in marker.items)
    return replace(marker, items=items)


def item(marker: Marker, key: str) -> CutItem:
    """Return an item of the cut list."""
    return next(one for one in marker.items if one.key == key)


def without(marker: Marker, key: str) -> Marker:
    """Return the marker without an item, its placements gone as well."""
    return replace(
        marker,
        items=tuple(one for one in marker.items if one.key != key),
        placements=tuple(one for one in marker.placements if one.item != key),
    )


def shape_changed(
    key: str, change: Callable[[PieceShape], PieceShape]
) -> Callable[[Marker], Marker]:
    """Return a change of the whole shape of an item."""
    return lambda marker: with_item(marker, key, shape=change(item(marker, key).shape))


def half_changed(change: Callable[[PieceShape], PieceShape]) -> Callable[[Marker], Marker]:
    """Return a change of the half of the back in M."""

    def changed(marker: Marker) -> Marker:
        half = item(marker, "back M").half
        assert half is not None
        return with_item(marker, "back M", half=change(half))

    return changed


def squeezed(shape: PieceShape) -> PieceShape:
    """Return a shape a fiftieth narrower."""
    return replace(shape, outline_mm=shape.outline_mm * (1.0, 0.98))


def mark_moved(shape: PieceShape) -> PieceShape:
    """Return a shape with its match point 5 mm away."""
    (first, *rest) = shape.match_points
    moved = replace(first, at_mm=(first.at_mm[0] + 5.0, first.at_mm[1]))
    return replace(shape, match_points=(moved, *rest))


SPOILT: dict[str, tuple[str, Callable[[Marker], Marker]]] = {
    "an XS outline labelled M": (
        "other-outline",
        lambda marker: with_item(marker, "front M", shape=item(marker, "front XS").shape),
    ),
    "a piece deleted with its item": ("other-cut-list", lambda marker: without(marker, "hood M")),
    "a pair turned into one": (
        "other-cut-list",
        lambda marker: with_item(marker, "front M", turned_over=0),
    ),
    "a pair of two alike": (
        "other-cut-list",
        lambda marker: with_item(marker, "front M", as_drawn=2, turned_over=0),
    ),
    "one more": ("other-cut-list", lambda marker: with_item(marker, "hood M", as_drawn=2)),
    "a piece of nobody's": (
        "other-cut-list",
        lambda marker: with_item(marker, "hood M", key="sleeve M"),
    ),
    "another title": ("other-cut-list", lambda marker: with_item(marker, "hood M", title="Cape")),
    "for other garments": (
        "other-cut-list",
        lambda marker: with_item(marker, "front XS", garments=(1, 2)),
    ),
    "free grain": ("other-grain", lambda marker: with_item(marker, "front M", grain=Grain.FREE)),
    "one-way": ("other-grain", lambda marker: with_item(marker, "front M", one_way=True)),
    "a half that is narrower": ("other-outline", half_changed(squeezed)),
    "a half left out": ("other-outline", lambda marker: with_item(marker, "back M", half=None)),
    "half of a whole piece": (
        "other-outline",
        lambda marker: with_item(marker, "front M", half=item(marker, "back M").half),
    ),
    "a whole that is narrower": ("other-outline", shape_changed("hood M", squeezed)),
    "a match point moved": ("other-marks", shape_changed("hood M", mark_moved)),
    "a match point of the half moved": ("other-marks", half_changed(mark_moved)),
    "no notches": (
        "other-marks",
        shape_changed("front M", lambda shape: replace(shape, notches=())),
    ),
    "no lines": (
        "other-marks",
        shape_changed("front M", lambda shape: replace(shape, internal_lines=())),
    ),
    "a drill hole more": (
        "other-marks",
        shape_changed(
            "front M", lambda shape: replace(shape, drill_holes=(DrillHole((1.0, 2.0)),))
        ),
    ),
    "an arrow the other way": (
        "other-marks",
        shape_changed(
            "front M",
            lambda shape: replace(
                shape, grainline=Grainline(shape.grainline.head_mm, shape.grainline.tail_mm)
            ),
        ),
    ),
    "matched in no way": (
        "other-matching",
        lambda marker: replace(marker, matching={"side": MatchWay.NONE}),
    ),
    "matching left out": ("other-matching", lambda marker: replace(marker, matching={})),
    "another pattern": ("other-garments", lambda marker: replace(marker, pattern="Cape")),
    "another cloth": ("other-garments", lambda marker: replace(marker, cloth="lining")),
    "another view": (
        "other-garments",
        lambda marker: replace(marker, selections=(Selection("A", "M"),)),
    ),
    "a wider bolt": ("other-bolt", lambda marker: on(marker, width_mm=450.0)),
    "no nap asked": ("other-bolt", lambda marker: on(marker, nap=True)),
    "coarser steps": ("other-bolt", lambda marker: on(marker, shop_step_mm=500.0)),
    "another spread": (
        "other-rules",
        lambda marker: replace(marker, rules=LayRules(Spread.DOUBLE)),
    ),
    "a tilt": (
        "other-rules",
        lambda marker: replace(marker, rules=replace(marker.rules, tilt_deg=3.0)),
    ),
}


def on(marker: Marker, **facts: Any) -> Marker:
    """Return the marker on another bolt."""
    return replace(marker, bolt=replace(marker.bolt, **facts))


@pytest.mark.parametrize("name", SPOILT)
def test_what_was_not_asked_is_told(name: str) -> None:
    """Each way of being something else has its code; the marker by itself may be sound."""
    code, spoil = SPOILT[name]

    assert code in codes(spoil(laid().marker))


def test_a_piece_of_another_size_is_told_with_the_size_it_is() -> None:
    """So that a person knows what is wrong."""
    _, spoil = SPOILT["an XS outline labelled M"]

    [told] = [
        one.sentence
        for one in check_marker(spoil(laid().marker), request().asked())
        if one.code == "other-outline"
    ]

    assert told == "the outline of Front M is not that of the sheet: it is that of size XS"


def test_what_is_not_asked_is_believed() -> None:
    """With the sheet alone the bolt is the marker's own; with nothing, so is the cut list."""
    wider = on(laid(Spread.OPEN).marker, width_mm=450.0)

    assert codes(wider, Asked(pattern=sheet())) == set()
    assert codes(wider, Asked(bolt_facts={"nap": False})) == set()
    assert codes(wider, Asked(bolt_facts={"width_mm": 400.0})) == {"other-bolt"}
    assert "other-grain" not in codes(SPOILT["free grain"][1](laid().marker), Asked())


def test_a_part_of_what_was_asked_misses_nothing() -> None:
    """A lay of some of the pieces is held to the sheet, and not to the whole cut list."""
    part = without(laid(Spread.OPEN).marker, "hood M")
    lay = request(Spread.OPEN)

    assert codes(part, lay.asked(is_part=True)) <= {"wrong-length"}
    assert "other-cut-list" in codes(part, lay.asked())
    twice = with_item(part, "front M", as_drawn=2)
    assert "other-cut-list" in codes(twice, lay.asked(is_part=True))


@pytest.mark.parametrize(
    ("selections", "cloth", "words"),
    [
        ((Selection("C", "M"),), "shell", 'has no view "C"'),
        ((Selection("A", "L"),), "shell", 'has no size "L"'),
        ((Selection("A", "M"),), "felt", 'has no cloth "felt"'),
        ((Selection("A", "M", 10**9),), "shell", "more than 10,000 times"),
    ],
)
def test_garments_that_the_sheet_does_not_have(
    selections: tuple[Selection, ...], cloth: str, words: str
) -> None:
    """Told in one finding, whatever the marker names."""
    marker = replace(laid().marker, selections=selections, cloth=cloth)

    [told] = [
        one.sentence for one in check_marker(marker, Asked(pattern=sheet())) if "other" in one.code
    ]

    assert words in told


def test_an_arrow_that_leans_from_the_fold_by_less_than_a_tenth_of_a_degree() -> None:
    """The half is laid by its fold edge and the whole by its arrow; both are the sheet's."""
    back = sheet().pieces[1]
    for across in (0.06, -0.06):
        leaning = {
            size: replace(shape, grainline=Grainline((5.0, 5.0), (5.0 + across, 105.0)))
            for size, shape in back.shapes.items()
        }
        pattern = replace(sheet(), pieces=(sheet().pieces[0], replace(back, shapes=leaning),
                                           sheet().pieces[2]))  # fmt: skip
        lay = replace(request(), pattern=pattern)

        result = lay_pieces(lay)

        assert any(one.half is not None for one in result.marker.items)
        assert check_marker(result.marker, lay.asked()) == ()
