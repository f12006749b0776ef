"""Matching: what the repeat asks of each placement, and what cannot be asked of all."""

import numpy as np
import pytest

from nesting.checks import check_marker
from nesting.cloth.bolt import Bolt
from nesting.cloth.lay_rules import LayRules
from nesting.cloth.repeat import Axis, Repeat
from nesting.cloth.spread import Spread, Stretch
from nesting.errors import LayError
from nesting.marker.cut_list import Selection, cut_list
from nesting.marker.marker import Marker
from nesting.marker.placement import Placement
from nesting.plan.lay_plan import PlannedItem, lay_plan
from nesting.plan.matching import Hold, MatchPlan, match_plan
from pieces.marks import MatchWay
from pieces.pattern import Pattern
from pieces.piece import Piece
from pieces.sheet.pattern_file import read_pattern
from tests.matched_patterns import ALONG_AND_ACROSS, boxed, drawn_box, matched_pattern
from tests.places import DEMO

SHEETS = ("waistcoat", "smock_shirt", "cloak", "knapsack")


def planned(
    pieces: Pattern,
    repeat: Repeat,
    *,
    spread: Spread = Spread.OPEN,
    garments: int = 1,
) -> tuple[MatchPlan, dict[str, PlannedItem]]:
    """Return the matches of one view on a bolt of 1000 mm, and what is laid by its name."""
    bolt, rules = Bolt(width_mm=1000.0, repeat=repeat), LayRules(spread)
    view, size = pieces.views[0].name, pieces.sizes[0]
    items = cut_list(pieces, (Selection(view, size, garments),), pieces.cloths[0].name)
    plan = lay_plan(items, bolt, rules)
    named = {one.name: one for stretch in plan for one in stretch.items}
    return match_plan(plan, bolt, rules, pieces.matching), named


def holds(
    matches: MatchPlan, one: PlannedItem, axis: Axis, *, turn: float = 0.0, over: bool = False
) -> Hold:
    """Return what holds an item in one pose on one axis."""
    [hold] = [hold for hold in matches.holds[one.name][turn, over] if hold.axis is axis]
    return hold


def test_cloth_without_a_repeat_asks_nothing() -> None:
    """No groups, no holds."""
    pieces = matched_pattern(boxed("front", side=(0.0, 30.0)), boxed("back", side=(0.0, 50.0)))
    bolt, rules = Bolt(width_mm=1000.0), LayRules()
    plan = lay_plan(cut_list(pieces, (Selection("A", "M"),), "shell"), bolt, rules)

    assert match_plan(plan, bolt, rules, {}) == MatchPlan()


def test_a_shared_point_ties_two_pieces_along_the_cloth() -> None:
    """The side is 30 mm from the foot of the front and 50 mm from that of the back.

    The back then lies 20 mm before the front, give or take repeats; turned head to foot it counts
    backwards.
    """
    pieces = matched_pattern(boxed("front", side=(0.0, 30.0)), boxed("back", side=(0.0, 50.0)))

    matches, named = planned(pieces, Repeat(along_mm=100.0))

    [group] = matches.groups
    assert (group.axis, group.repeat_mm, group.phases_mm) == (Axis.ALONG, 100.0, None)
    assert group.points == ("side",)
    front = holds(matches, named["front M, as drawn, garment 1"], Axis.ALONG)
    back = holds(matches, named["back M, as drawn, garment 1"], Axis.ALONG)
    turned = holds(matches, named["back M, as drawn, garment 1"], Axis.ALONG, turn=180.0)
    assert back.offset_mm - front.offset_mm == pytest.approx(20.0)
    assert (back.sign, turned.sign) == (1, -1)
    assert turned.offset_mm == pytest.approx(-back.offset_mm)


def test_points_nobody_shares_hold_nothing() -> None:
    """A single piece with a point of its own lies where it will."""
    pieces = matched_pattern(boxed("front", side=(0.0, 30.0)))

    matches, _ = planned(pieces, Repeat(along_mm=100.0))

    assert matches == MatchPlan()


def test_matches_join_through_a_piece_that_carries_two_points() -> None:
    """Front and back share the side, front and welt the pocket: one group of three pieces."""
    pieces = matched_pattern(
        boxed("front", side=(0.0, 30.0), pocket=(40.0, 45.0)),
        boxed("back", side=(0.0, 50.0)),
        boxed("welt", pocket=(0.0, 5.0)),
    )

    matches, named = planned(pieces, Repeat(along_mm=100.0))

    assert len(matches.groups) == 1
    offsets = {name: holds(matches, one, Axis.ALONG).offset_mm for name, one in named.items()}
    front = offsets["front M, as drawn, garment 1"]
    # The pocket is 40 mm further up the front than up the welt.
    assert offsets["welt M, as drawn, garment 1"] - front == pytest.approx(-40.0)


def test_each_garment_matches_by_itself() -> None:
    """Two garments are two groups, each with a phase of its own."""
    pieces = matched_pattern(boxed("front", side=(0.0, 30.0)), boxed("back", side=(0.0, 50.0)))

    matches, _ = planned(pieces, Repeat(along_mm=100.0), garments=2)

    assert [group.garment for group in matches.groups] == [1, 2]


def test_a_mirrored_pair_meets_across_at_the_point_it_has_alone() -> None:
    """Left and right centre front lie at one phase; the mirrored copy by its mirrored point.

    The centre is 10 mm from the origin across, so the right front lies 20 mm further up.
    """
    pieces = matched_pattern(
        boxed("front", pair=True, centre=(-10.0, 0.0)), matching={"centre": MatchWay.BOTH}
    )

    matches, named = planned(pieces, Repeat(across_mm=100.0))

    left = holds(matches, named["front M, as drawn, garment 1"], Axis.ACROSS)
    right = holds(matches, named["front M, turned over, garment 1"], Axis.ACROSS, turn=180.0,
                  over=True)  # fmt: skip
    assert left.sign == right.sign == 1
    lies = drawn_box(pieces, "front", "centre")[1]
    assert (right.offset_mm - left.offset_mm) == pytest.approx(-2.0 * lies)


def test_on_a_fold_a_centre_seam_lies_whole_half_repeats_from_the_fold() -> None:
    """The phase of the group puts the point at 0 or at 50 mm from the fold."""
    pieces = matched_pattern(
        boxed("front", pair=True, centre=(-10.0, 0.0)), matching={"centre": MatchWay.BOTH}
    )

    matches, named = planned(pieces, Repeat(across_mm=100.0), spread=Spread.LENGTHWISE)

    [group] = matches.groups
    hold = holds(matches, named["front M, both layers, garment 1"], Axis.ACROSS)
    lies = drawn_box(pieces, "front", "centre")[1]
    from_fold = {
        round((phase - hold.offset_mm + lies) % 100.0, 6) for phase in group.phases_mm or ()
    }
    assert from_fold == {0.0, 50.0}


def test_an_over_determined_match_is_given_up_and_told() -> None:
    """Two sides at different distances cannot both meet: 100 mm apart on one, 110 on the other.

    The first in the order of the piece is kept.
    """
    pieces = matched_pattern(
        boxed("front", waist=(0.0, 30.0), hip=(0.0, 130.0)),
        boxed("back", waist=(0.0, 40.0), hip=(0.0, 150.0)),
    )

    matches, _ = planned(pieces, Repeat(along_mm=70.0))

    [one] = matches.given_up
    assert (one.item, one.point, one.axis) == ("back M", "hip", Axis.ALONG)
    assert "contradicts" in one.why
    assert matches.groups[0].points == ("waist", "hip")


def test_half_a_millimetre_of_contradiction_is_none() -> None:
    """100 mm apart on one piece and 100.4 on the other still match."""
    pieces = matched_pattern(
        boxed("front", waist=(0.0, 30.0), hip=(0.0, 130.0)),
        boxed("back", waist=(0.0, 40.0), hip=(0.0, 140.4)),
    )

    matches, _ = planned(pieces, Repeat(along_mm=70.0))

    assert matches.given_up == ()


def test_a_side_seam_of_a_whole_piece_is_not_matched_across_and_that_is_told() -> None:
    """A back opened out has the side left and right, at different places across."""
    pieces = matched_pattern(
        boxed("front", pair=True, side=(40.0, 30.0)),
        boxed("back", on_fold=True, side=(40.0, 30.0)),
        matching={"side": MatchWay.BOTH},
    )

    matches, _ = planned(pieces, ALONG_AND_ACROSS)

    assert [(one.item, one.point, one.axis) for one in matches.given_up] == [
        ("back M", "side", Axis.ACROSS)
    ]


def test_left_and_right_pockets_match_side_by_side_where_they_cannot_match_each_other() -> None:
    """The centre ties left and right; the pocket, 33 mm beside it, then differs by 66 mm.

    So the left welt meets the left front and the right welt the right front, and nothing is
    given up.
    """
    pieces = matched_pattern(
        boxed("front", pair=True, centre=(0.0, 0.0), pocket=(33.0, 40.0)),
        boxed("welt", pair=True, pocket=(0.0, 0.0)),
        matching={"centre": MatchWay.BOTH, "pocket": MatchWay.BOTH},
    )

    matches, _ = planned(pieces, Repeat(across_mm=100.0))

    assert matches.given_up == ()
    assert [group.points for group in matches.groups] == [("centre", "pocket")]


def test_a_bias_piece_is_left_out_and_told() -> None:
    """The stripes run slanting on it."""
    pieces = matched_pattern(
        boxed("front", side=(0.0, 30.0)),
        boxed("yoke", grain="bias", side=(0.0, 50.0)),
    )

    matches, _ = planned(pieces, Repeat(along_mm=100.0))

    assert [(one.item, one.why) for one in matches.given_up] == [
        ("yoke M", "the stripes run another way on a piece of bias grain")
    ]


def test_an_uneven_repeat_across_is_refused_on_a_fold() -> None:
    """With the reason and the way out; along it may be uneven."""
    pieces = matched_pattern(boxed("front", pair=True, side=(0.0, 30.0)))

    with pytest.raises(LayError, match=r"under layer of a fold.*lay the cloth open"):
        planned(pieces, Repeat(across_mm=100.0, even=False), spread=Spread.LENGTHWISE)
    planned(pieces, Repeat(along_mm=100.0, even=False), spread=Spread.LENGTHWISE)


def test_leaning_grainlines_are_refused_on_stripes() -> None:
    """A tilt breaks every stripe."""
    pieces = matched_pattern(boxed("front", side=(0.0, 30.0)))
    bolt, rules = Bolt(width_mm=500.0, repeat=Repeat(along_mm=100.0)), LayRules(tilt_deg=1.0)
    plan = lay_plan(cut_list(pieces, (Selection("A", "M"),), "shell"), bolt, rules)

    with pytest.raises(LayError, match="leave the tilt out"):
        match_plan(plan, bolt, rules, {})


@pytest.mark.slow
@pytest.mark.parametrize("even", [True, False])
@pytest.mark.parametrize("spread", [Spread.OPEN, Spread.LENGTHWISE])
@pytest.mark.parametrize("sheet", SHEETS)
def test_whatever_obeys_the_holds_passes_the_independent_check(
    sheet: str, spread: Spread, even: bool
) -> None:
    """Any pose, any allowed phase, any number of repeats further on: every match holds.

    Whether pieces overlap or leave the cloth does not matter here.
    """
    pattern = read_pattern(DEMO / f"{sheet}.toml")
    across_mm = None if spread is Spread.LENGTHWISE and not even else 63.0
    repeat = Repeat(along_mm=101.6, across_mm=across_mm, even=even)
    rng = np.random.default_rng(5)
    for view in pattern.views:
        marker = laid_by_the_holds(pattern, view.name, repeat, spread=spread, rng=rng)

        found = check_marker(marker)

        told = [one.sentence for one in found if one.code in ("repeat-not-matched", "wrong-garment",
                "unmirrored-pair", "missing-copies", "wrong-direction")]  # fmt: skip
        assert told == []
        assert marker.given_up == ()


def laid_by_the_holds(
    pattern: Pattern, view: str, repeat: Repeat, *, spread: Spread, rng: np.random.Generator
) -> Marker:
    """Return two garments laid at random but for what the repeat asks."""
    bolt, rules = Bolt(width_mm=1143.0, selvage_mm=10.0, repeat=repeat), LayRules(spread)
    selections = (Selection(view, pattern.sizes[1], 2),)
    items = cut_list(pattern, selections, pattern.cloths[0].name)
    plan = lay_plan(items, bolt, rules)
    matches = match_plan(plan, bolt, rules, pattern.matching)
    phases = [
        rng.choice(group.phases_mm) if group.phases_mm else rng.uniform(0.0, group.repeat_mm)
        for group in matches.groups
    ]
    placements: list[Placement] = []
    for number, stretch in enumerate(plan):
        for one in stretch.items:
            for _ in range(one.copies):
                poses = [(turn, False) for turn in one.turns_deg]
                poses += [(turn, True) for turn in one.flipped_turns_deg]
                turn, flipped = poses[rng.integers(len(poses))]
                place = {Axis.ALONG: rng.uniform(0.0, 3000.0), Axis.ACROSS: rng.uniform(0.0, 900.0)}
                if one.laid_as.value == "on fold":
                    place[Axis.ACROSS] = 0.0
                for hold in matches.holds.get(one.name, {}).get((turn, flipped), ()):
                    group = matches.groups[hold.group]
                    steps = rng.integers(0, 9) * group.repeat_mm
                    place[hold.axis] = hold.sign * phases[hold.group] - hold.offset_mm + steps
                placements.append(
                    Placement(one.item.key, len(placements) + 1, number, turn, flipped,
                              place[Axis.ALONG], place[Axis.ACROSS], one.garment)
                )  # fmt: skip
    return Marker(
        pattern=pattern.name,
        cloth=pattern.cloths[0].name,
        selections=selections,
        bolt=bolt,
        rules=rules,
        items=items,
        stretches=tuple(Stretch(one.spread, 0.0, 9000.0) for one in plan),
        placements=tuple(placements),
        length_mm=9000.0,
        matching=pattern.matching,
        given_up=matches.given_up,
    )


def test_a_piece_name_is_told_once_in_a_lay() -> None:
    """Names of planned items differ, whatever the garments and stretches."""
    pieces = (
        boxed("front", pair=True, side=(0.0, 30.0)),
        Piece(
            name="pocket",
            title="Pocket",
            cuts=boxed("pocket").cuts,
            shapes=boxed("pocket", side=(20.0, 10.0)).shapes,
        ),
    )

    _, named = planned(
        matched_pattern(*pieces), Repeat(along_mm=100.0), spread=Spread.LENGTHWISE, garments=3
    )

    assert len(named) == 6
