"""Faults to plant between pattern and marker, and small jobs on which each should show.

Each mutation is a function with one sentence. It plants its fault in the maker, in every module
that holds the thing; the judge holds none of them, which is the reason for its rules of its own.
"""

# ruff: noqa: D401, ARG005 - a mutation says what it makes true, and may forget what it is given

import dataclasses
import sys
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import Any

import numpy as np
import pytest

from nesting.answers.fits import allocation
from nesting.answers.fits.allocation import share_out
from nesting.answers.fits.sharer import Sharer
from nesting.answers.order import order as order_module
from nesting.answers.order.order import OrderLine, OrderRequest, lay_order
from nesting.checks import check_marker
from nesting.checks.asked_pieces import wanted_pieces
from nesting.cloth import bolt as bolt_module
from nesting.cloth import lay_rules, spread
from nesting.cloth.bolt import Bolt
from nesting.cloth.flaw import Flaw
from nesting.cloth.lay_rules import LayRules
from nesting.cloth.repeat import Repeat
from nesting.cloth.shrinkage import washed_mm
from nesting.cloth.spread import Spread
from nesting.lay import (
    LayRequest,
    any_spread,
    best_spread,
    lay_pieces,
    one_spread,
    strips,
    unfolding,
)
from nesting.marker import cut_list
from nesting.marker.cut_list import CutItem, Selection
from nesting.marker.marker_file import format_marker
from nesting.plan import flaw_places, lay_plan, matching
from nesting.plan.lay_plan import LaidAs
from nesting.plan.matching import MatchPlan
from pieces.finding import Severity
from pieces.grainline import Grain
from pieces.marks import MatchWay
from pieces.pattern import Pattern
from pieces.piece import Cut
from pieces.shaping import unfold
from tests.matched_patterns import boxed, matched_pattern
from tests.nesting.small_charts import two_by_two
from tests.second_judge import faults
from tests.small_patterns import ONE, QUICK, TRIANGLE, box, pattern, piece, shape

WEDGE = shape([(0, 0), (90, 0), (20, 140), (0, 140)])
PAIR = piece("front", TRIANGLE, count=2, pair=True)
HALF = piece("back", shape([(0, 0), (40, 0), (30, 100), (0, 100)], fold_edge_mm=((0, 0), (0, 100))))
LONG = piece("band", box(20, 130))


def job(sheet: Pattern, bolt: Bolt, way: Spread = Spread.OPEN, **rules: float) -> LayRequest:
    """Return a quick request for one garment."""
    return LayRequest(
        pattern=sheet,
        selections=ONE,
        cloth="shell",
        bolt=bolt,
        rules=LayRules(way, **rules),
        search=QUICK,
    )


NARROW, WIDE = Bolt(width_mm=150.0), Bolt(width_mm=300.0)
WASHED = Bolt(
    width_mm=330.0, selvage_mm=10.0, shrink_along=0.08, shrink_across=0.05, end_allowance_mm=20.0
)
SHIRT = pattern(PAIR, HALF, LONG, piece("wedge", WEDGE))
STRIPED = matched_pattern(
    boxed("front", side=(0.0, 30.0)),
    boxed("back", side=(0.0, 55.0)),
    boxed("sleeve", pair=True, side=(0.0, 90.0)),
    matching={"side": MatchWay.ALONG},
)
PLAID = matched_pattern(
    boxed("front", side=(0.0, 30.0)), boxed("back", side=(20.0, 55.0)),
    matching={"side": MatchWay.BOTH},
)  # fmt: skip
STRIPES = Bolt(width_mm=200.0, repeat=Repeat(along_mm=70.0), shrink_along=0.1)
SQUARES = Bolt(width_mm=260.0, repeat=Repeat(along_mm=70.0, across_mm=50.0), shrink_across=0.05)
STAINED = Bolt(
    width_mm=330.0,
    selvage_mm=20.0,
    flaws=(
        Flaw(at_mm=30.0, across_mm=40.0, long_mm=30.0, wide_mm=20.0),
        Flaw(at_mm=60.0, across_mm=240.0, long_mm=20.0, wide_mm=25.0),
    ),
)
BIAS = piece("strap", TRIANGLE, count=2, pair=True, grain=Grain.BIAS)
SIZES = replace(job(two_by_two(), NARROW), selections=(Selection("A", "L"), Selection("B", "M", 2)))
JOBS: dict[str, LayRequest] = {
    "plain": job(SHIRT, NARROW),
    "napped": job(SHIRT, replace(NARROW, nap=True)),
    "one-way": job(pattern(*(replace(one, one_way=True) for one in SHIRT.pieces)), NARROW),
    "washed": job(SHIRT, WASHED, Spread.LENGTHWISE, gap_mm=4.0),
    "left": job(SHIRT, replace(WASHED, length_left_mm=700.0)),
    "folded": job(SHIRT, WIDE, Spread.LENGTHWISE),
    "double": job(SHIRT, WIDE, Spread.DOUBLE),
    "crosswise": job(SHIRT, NARROW, Spread.CROSSWISE),
    "turned": job(SHIRT, replace(NARROW, nap=True), Spread.TURNED),
    "bias": job(pattern(BIAS, PAIR), replace(WIDE, nap=True)),
    "striped": replace(job(STRIPED, STRIPES), selections=(Selection("A", "M", 2),)),
    "plaid": job(PLAID, SQUARES),
    "stained": job(SHIRT, STAINED),
    "stained fold": job(SHIRT, STAINED, Spread.LENGTHWISE),
    "sizes": SIZES,
    "spaced": job(SHIRT, WIDE, Spread.LENGTHWISE, gap_mm=6.0),
    "folds": job(pattern(replace(HALF, cuts=(Cut("shell", 3),))), WIDE, Spread.LENGTHWISE),
    "best": job(SHIRT, WIDE, Spread.BEST),
}


def said_of(request: LayRequest) -> set[str]:
    """Lay a job, and return the codes of the judge's errors and what the second judge says."""
    result = lay_pieces(request)
    told = {one.code for one in result.findings if one.severity is Severity.ERROR}
    if faults(format_marker(result.marker)):
        told.add("second judge")
    if result.tried:
        asked = [one.shop_length_mm for one in result.tried if one.shop_length_mm is not None]
        if result.shop_length_mm > min(asked) + 1e-6:
            told.add("law: the best way is the shortest")
    return told


def said_of_an_order() -> set[str]:
    """Lay an order of three people, one of whom takes two garments."""
    lines = (OrderLine("A", "M", 1, "Ida"), OrderLine("B", "L", 2, "Jo"), OrderLine("A", "M", 1))
    made = lay_order(
        OrderRequest(
            pattern=two_by_two(),
            lines=lines,
            cloth="shell",
            bolt=Bolt(width_mm=200.0),
            rules=LayRules(Spread.LENGTHWISE),
            search=QUICK,
        )
    )
    told = {one.code for one in made.together.findings if one.severity is Severity.ERROR}
    for line, pieces in zip(lines, made.received, strict=True):
        mine = (Selection(line.view, line.size, line.count),)
        wanted = wanted_pieces(made.request.pattern, mine, "shell").values()
        due = sorted((one.piece.title, one.as_drawn + one.turned_over) for one in wanted)
        if sorted((one.item.title, one.count) for one in pieces) != due:
            told.add("law: everybody gets a garment")
    return told


def said_of_a_sharing() -> set[str]:
    """Share a garment out over two lengths; together they cut what the garment takes."""
    request = job(SHIRT, NARROW)
    owned = tuple(
        replace(NARROW, length_left_mm=left, shop_step_mm=None) for left in (260.0, 280.0)
    )
    sharing = share_out(Sharer(request, owned))
    results = [one.result for one in sharing.shares if one.result is not None]
    told = {
        one.code for result in results for one in result.findings if one.severity is Severity.ERROR
    }
    items = [item for result in results for item in result.marker.items] + list(sharing.left_over)
    for one in wanted_pieces(request.pattern, ONE, "shell").values():
        mine = [item for item in items if item.title == one.piece.title]
        if (one.as_drawn, one.turned_over) != (
            sum(item.as_drawn for item in mine),
            sum(item.turned_over for item in mine),
        ):
            told.add("law: nothing is lost in sharing out")
    return told


def said_of_an_unfolding() -> set[str]:
    """Write folded markers open; what comes of it can be cut."""
    told = set()
    for name in ("folded", "double", "crosswise", "turned"):
        opened = unfolding.unfolded(lay_pieces(JOBS[name]).marker)
        errors = [one for one in check_marker(opened) if one.severity is Severity.ERROR]
        told |= {f"law: unfolded, {one.code}" for one in errors}
    return told


ASKED: dict[str, Callable[[], set[str]]] = {
    **{name: partial(said_of, request) for name, request in JOBS.items()},
    "order": said_of_an_order,
    "sharing": said_of_a_sharing,
    "unfolding": said_of_an_unfolding,
}

Patch = pytest.MonkeyPatch
Mutation = Callable[[Patch], None]


def everywhere(patch: Patch, original: Any, mutated: Any) -> None:
    """Put a mutated function in the place of one in every module that holds it."""
    for name, module in list(sys.modules.items()):
        if name.partition(".")[0] in ("nesting", "pieces"):
            for held, value in list(vars(module).items()):
                if value is original:
                    patch.setattr(module, held, mutated)


def changing(patch: Patch, original: Callable[..., Any], change: Callable[[Any], Any]) -> None:
    """Change what a function returns, wherever it is held."""
    everywhere(patch, original, lambda *given, **named: change(original(*given, **named)))


# --- the cloth -------------------------------------------------------------------------------


def nap_allows_a_half_turn(patch: Patch) -> None:
    """On napped cloth a lengthwise piece may point either way."""
    patch.setitem(lay_rules._ONE_DIRECTION, Grain.LENGTHWISE, (180.0, 0.0))


def lengthwise_grain_allows_a_quarter_turn(patch: Patch) -> None:
    """A lengthwise arrow may run across the cloth."""
    patch.setitem(lay_rules._ANY_DIRECTION, Grain.LENGTHWISE, (90.0, 0.0, 180.0, 270.0))


def selvage_is_forgotten_in_the_width(patch: Patch) -> None:
    """The usable width is the whole width."""
    wide = property(lambda bolt: washed_mm(bolt.width_mm, bolt.shrink_across))
    patch.setattr(Bolt, "usable_width_mm", wide)


def shrinkage_is_forgotten_in_the_length(patch: Patch) -> None:
    """The cut length is that of washed cloth."""
    patch.setattr(
        Bolt,
        "cut_length_mm",
        lambda bolt, marker_mm: marker_mm + bolt.end_allowance_mm + bolt.extra_repeat_mm,
    )


def shrinkage_is_forgotten_in_the_width(patch: Patch) -> None:
    """The usable width is that of unwashed cloth."""
    wide = property(lambda bolt: bolt.width_mm - 2 * bolt.selvage_mm)
    patch.setattr(Bolt, "usable_width_mm", wide)


def repeat_does_not_shrink(patch: Patch) -> None:
    """The repeat of washed cloth is taken to be that in the shop."""
    patch.setattr(Bolt, "laid_repeat", property(lambda bolt: bolt.repeat))


def one_way_is_forgotten(patch: Patch) -> None:
    """A piece that is one-way may be turned as any other."""
    original = lay_rules.arrow_directions_deg
    everywhere(
        patch,
        original,
        lambda grain, bolt, *, one_way, turned_over=False: original(
            grain, bolt, one_way=False, turned_over=turned_over
        ),
    )


def a_piece_turned_over_keeps_its_diagonal(patch: Patch) -> None:
    """The mirrored copy of a pair is given the direction of the other."""
    original = lay_rules.arrow_directions_deg
    everywhere(
        patch,
        original,
        lambda grain, bolt, *, one_way, turned_over=False: original(grain, bolt, one_way=one_way),
    )


def shop_rounds_down(patch: Patch) -> None:
    """The shop length is the step below the cut length."""
    changing(patch, bolt_module.round_up_to_step_mm, lambda shop_mm: shop_mm - 114.3)


def end_allowance_is_forgotten(patch: Patch) -> None:
    """Nothing is bought for the crooked end."""
    patch.setattr(
        Bolt,
        "cut_length_mm",
        lambda bolt, marker_mm: marker_mm / (1 - bolt.shrink_along) + bolt.extra_repeat_mm,
    )


def the_bolt_is_taken_to_be_wider(patch: Patch) -> None:
    """The lay is made, and written down, on cloth 2 cm wider than the bolt asked about."""
    original = any_spread.lay_items
    everywhere(
        patch,
        original,
        lambda request, items, **more: original(
            replace(request, bolt=replace(request.bolt, width_mm=request.bolt.width_mm + 20)),
            items,
            **more,
        ),
    )


# --- the cut list ----------------------------------------------------------------------------


def the_last_piece_of_a_view_is_left_out(patch: Patch) -> None:
    """The cut list ends one piece early, and so does the marker."""
    changing(patch, cut_list.cut_list, lambda items: items[:-1])


def a_pair_is_two_alike(patch: Patch) -> None:
    """No copy of a pair is mirrored."""
    changing(
        patch,
        cut_list._cut_item,
        lambda item: replace(item, as_drawn=item.as_drawn + item.turned_over, turned_over=0),
    )


def every_size_has_the_outline_of_the_smallest(patch: Patch) -> None:
    """What is labelled L has the outline of M."""
    original = cut_list._cut_item

    def mutated(one: Any, selection: Selection, cloth: str, garments: Any) -> Any:
        first = replace(selection, size=next(iter(one.shapes)))
        item = original(one, selection, cloth, garments)
        smallest = original(one, first, cloth, garments)
        return replace(item, shape=smallest.shape, half=smallest.half)

    everywhere(patch, original, mutated)


def halves_are_narrower(patch: Patch) -> None:
    """The half that is laid on a fold is a twentieth too narrow."""
    changing(patch, cut_list._half_on_fold, lambda half: half and _squeezed(half))


def _squeezed(half: Any) -> Any:
    return replace(half, outline_mm=half.outline_mm * (1.0, 0.95))


def a_half_is_opened_out_to_itself(patch: Patch) -> None:
    """Opened out, a half piece is still half a piece."""
    everywhere(patch, unfold.unfold, lambda drawn: replace(drawn, fold_edge_mm=None))


def grain_is_free(patch: Patch) -> None:
    """The cut list says that every piece may lie in any quarter turn."""
    changing(patch, cut_list._cut_item, lambda item: replace(item, grain=Grain.FREE))


def nothing_is_matched(patch: Patch) -> None:
    """The pattern's match points are taken to meet in no way."""
    original = any_spread.lay_items

    def mutated(request: LayRequest, items: Any, **more: Any) -> Any:
        names = {one.name for item in items for one in item.shape.match_points}
        none = dict.fromkeys(names, MatchWay.NONE)
        return original(
            replace(request, pattern=replace(request.pattern, matching=none)), items, **more
        )

    everywhere(patch, original, mutated)


def outlines_are_mirrored(patch: Patch) -> None:
    """Each piece of the cut list is the mirror image of that on the sheet."""
    original = cut_list._along_grain

    def mutated(drawn: Any) -> Any:
        over = cut_list.placed_shape(drawn, turn_deg=0.0, flipped=True, x=0.0, y=0.0)
        return original(over)

    everywhere(patch, original, mutated)


# --- the plan --------------------------------------------------------------------------------


def what_the_fold_leaves_is_forgotten(patch: Patch) -> None:
    """Pieces for a single layer are not laid beside a fold."""
    original = lay_plan._singles
    everywhere(
        patch,
        original,
        lambda items, taken, bolt, rules: () if taken else original(items, taken, bolt, rules),
    )


def mirrored_copies_are_laid_as_drawn(patch: Patch) -> None:
    """What should be turned over is planned in the poses of what is not."""
    original = lay_plan.planned_item

    def mutated(item: CutItem, laid_as: LaidAs, copies: int, bolt: Bolt, rules: LayRules) -> Any:
        planned = original(item, laid_as, copies, bolt, rules)
        if laid_as is not LaidAs.TURNED_OVER:
            return planned
        drawn = original(item, LaidAs.AS_DRAWN, copies, bolt, rules)
        return replace(planned, turns_deg=drawn.turns_deg, flipped_turns_deg=())

    everywhere(patch, original, mutated)


def the_middle_of_a_double_fold_may_be_crossed(patch: Patch) -> None:
    """A double fold is one band."""
    everywhere(patch, spread.bands_mm, lambda bolt, way: ((0.0, spread.laid_width_mm(bolt, way)),))


def a_crosswise_fold_takes_half_the_cloth(patch: Patch) -> None:
    """The second layer of cloth that is halved along is not counted."""
    patch.setattr(one_spread, "HALVED_ALONG", frozenset())


def matching_asks_for_nothing(patch: Patch) -> None:
    """No placement is held to a phase of the repeat."""
    everywhere(patch, matching.match_plan, lambda *_: MatchPlan())


def matching_is_off_by_a_tenth_of_a_repeat(patch: Patch) -> None:
    """The place of a match point on the piece is told wrongly by 7 mm, on every other piece."""
    changing(patch, matching.match_plan, _off)


def _off(plan: MatchPlan) -> MatchPlan:
    holds = {
        name: {
            pose: tuple(
                replace(hold, offset_mm=hold.offset_mm + 7.0 * (number % 2)) for hold in all_
            )
            for pose, all_ in poses.items()
        }
        for number, (name, poses) in enumerate(plan.holds.items())
    }
    return replace(plan, holds=holds)


def flaws_are_told_from_the_selvage(patch: Patch) -> None:
    """A flaw is taken to be measured from the inner edge of the selvage."""
    original = flaw_places.flaw_places

    def mutated(bolt: Bolt, way: Spread) -> Any:
        moved = tuple(replace(one, across_mm=one.across_mm + bolt.selvage_mm) for one in bolt.flaws)
        return original(replace(bolt, flaws=moved), way)

    everywhere(patch, original, mutated)


def flaws_of_the_under_layer_are_forgotten(patch: Patch) -> None:
    """On a lengthwise fold only the flaws of the upper half are kept off."""
    original = flaw_places.flaw_places

    def mutated(bolt: Bolt, way: Spread) -> Any:
        upper = tuple(one for one in bolt.flaws if one.across_mm > bolt.width_mm / 2)
        return original(replace(bolt, flaws=upper), way)

    everywhere(patch, original, mutated)


# --- there and back, and what is kept --------------------------------------------------------


def the_start_of_a_stretch_is_forgotten(patch: Patch) -> None:
    """Places come back counted from the start of their own stretch."""
    original = strips.placements_from
    everywhere(
        patch,
        original,
        lambda *given, number, start_mm: original(*given, number=number, start_mm=0.0),
    )


def a_flip_is_lost_on_the_way_back(patch: Patch) -> None:
    """A flipped place comes back turned and not flipped."""
    changing(
        patch,
        strips.placements_from,
        lambda found: tuple(replace(one, flipped=False) for one in found),
    )


def the_gap_is_forgotten(patch: Patch) -> None:
    """The engine is asked to leave nothing between pieces."""
    changing(patch, strips.strip_for, lambda strip: dataclasses.replace(strip, gap=0.0))


def fold_edges_lie_anywhere(patch: Patch) -> None:
    """Halves are held to no fold."""
    patch.setattr(strips, "_FOLDS", {})


def garments_are_mixed_up(patch: Patch) -> None:
    """Every piece is told to be of the first garment."""
    changing(
        patch,
        strips.placements_from,
        lambda found: tuple(replace(one, garment=min(one.garment, 1)) for one in found),
    )


def outlines_are_packed_too_small(patch: Patch) -> None:
    """What the engine packs is a hundredth smaller than the piece."""
    changing(patch, strips._grown_outline, _shrunk)


def _shrunk(outline: Any) -> Any:
    middle = (outline.min(axis=0) + outline.max(axis=0)) / 2
    return np.asarray(middle + (outline - middle) * 0.99)


def the_marker_ends_early(patch: Patch) -> None:
    """The reach of the last piece is told 5 mm short."""
    changing(patch, strips.reach_mm, lambda reach: reach - 5.0)


def the_best_way_is_the_longest(patch: Patch) -> None:
    """Of all ways of spreading the worst is kept."""
    original = best_spread._rank
    everywhere(patch, original, lambda result: tuple(-one for one in original(result)))


def unfolding_forgets_to_flip(patch: Patch) -> None:
    """The under layer of a fold is written open without being flipped."""
    original = unfolding._side_to_side
    everywhere(
        patch, original, lambda at, sum_mm: replace(original(at, sum_mm), flipped=at.flipped)
    )


def unfolding_moves_the_fold(patch: Patch) -> None:
    """A half on the fold is written open 3 mm off the middle of the cloth."""
    changing(patch, unfolding._whole, lambda at: replace(at, y_mm=at.y_mm + 3.0))


# --- orders and sharing out ------------------------------------------------------------------


def an_order_gives_all_to_the_first(patch: Patch) -> None:
    """Every piece of an order is handed to the first garment that takes one like it."""
    original = order_module._handed_out
    everywhere(
        patch,
        original,
        lambda item, cut, needs: (item.garments[0],) * len(original(item, cut, needs)),
    )


def an_order_is_labelled_by_the_next_line(patch: Patch) -> None:
    """Garments are told apart by the wrong line of the order."""
    original = OrderRequest.line_of_garments
    patch.setattr(
        OrderRequest,
        "line_of_garments",
        lambda order: {
            garment: (line + 1) % len(order.lines) for garment, line in original(order).items()
        },
    )


def sharing_out_loses_the_smallest(patch: Patch) -> None:
    """The smallest unit is shared out to nobody."""
    changing(patch, allocation.units_of, lambda units: units[:-1])


NAMED: tuple[Mutation, ...] = (
    nap_allows_a_half_turn,
    lengthwise_grain_allows_a_quarter_turn,
    selvage_is_forgotten_in_the_width,
    shrinkage_is_forgotten_in_the_length,
)
OTHERS: tuple[Mutation, ...] = (
    shrinkage_is_forgotten_in_the_width,
    repeat_does_not_shrink,
    one_way_is_forgotten,
    a_piece_turned_over_keeps_its_diagonal,
    shop_rounds_down,
    end_allowance_is_forgotten,
    the_bolt_is_taken_to_be_wider,
    the_last_piece_of_a_view_is_left_out,
    a_pair_is_two_alike,
    every_size_has_the_outline_of_the_smallest,
    halves_are_narrower,
    a_half_is_opened_out_to_itself,
    grain_is_free,
    nothing_is_matched,
    outlines_are_mirrored,
    what_the_fold_leaves_is_forgotten,
    mirrored_copies_are_laid_as_drawn,
    the_middle_of_a_double_fold_may_be_crossed,
    a_crosswise_fold_takes_half_the_cloth,
    matching_asks_for_nothing,
    matching_is_off_by_a_tenth_of_a_repeat,
    flaws_are_told_from_the_selvage,
    flaws_of_the_under_layer_are_forgotten,
    the_start_of_a_stretch_is_forgotten,
    a_flip_is_lost_on_the_way_back,
    the_gap_is_forgotten,
    fold_edges_lie_anywhere,
    garments_are_mixed_up,
    outlines_are_packed_too_small,
    the_marker_ends_early,
    the_best_way_is_the_longest,
    unfolding_forgets_to_flip,
    unfolding_moves_the_fold,
    an_order_gives_all_to_the_first,
    an_order_is_labelled_by_the_next_line,
    sharing_out_loses_the_smallest,
)
MUTATIONS = NAMED + OTHERS
