r"""Lengths that no marker of a lay can beat, each with a proof.

Cut the cloth across at some x. The pieces there occupy lengths :math:`c_1, c_2, \dots` of the cut,
together at most the width :math:`w`. Let :math:`f` be a function with :math:`\sum f(t_i) \le 1`
whenever :math:`\sum t_i \le 1` (a dual feasible function). Then at every x the pieces there have
:math:`\sum f(c_i / w) \le 1`, and by integrating along the marker

.. math:: L \ge \sum_i \int f(c_i(x) / w) \, dx .

With :math:`f(t) = t` this is area over width. The families used besides are those of Fekete &
Schepers 2001, "New classes of fast lower bounds for bin packing problems" (recalled from memory;
the property itself is tested): they see that two pieces each taking more than half the width
cannot lie beside each other, three that take more than a third, and so on.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial

import numpy as np

from nesting.cloth.bolt import Bolt
from nesting.cloth.lay_rules import LayRules
from nesting.cloth.spread import HALVED_ALONG, Spread, laid_width_mm
from nesting.languages import Words, marked
from nesting.marker.cut_list import CutItem
from nesting.plan.lay_plan import LaidAs, PlannedItem, PlannedStretch, lay_plans
from pieces.outline.polygon import FloatArray, area_mm2
from pieces.outline.transform import turn

_SHARES = range(2, 9)
_MOST_AT_ONCE = 500_000  # pairs of an edge and an x: a few tens of megabytes
_SHAVED = 1e-9
_THEN = marked(", then ")
_BY_AREA = marked("area of the pieces over the width")
_PIECES_OF_SLAB = 16

Profile = tuple[FloatArray, FloatArray]


@dataclass(frozen=True)
class LowerBound:
    """A length in mm that cannot be beaten, and the reason in words."""

    length_mm: float
    reason: str

    def said(self, words: Words) -> str:
        """Return the reason in a language."""
        return words.say(_THEN).join(words.say(one) for one in self.reason.split(_THEN))


def lower_bound(plan: tuple[PlannedStretch, ...], bolt: Bolt) -> LowerBound:
    """Return the best bound for a planned lay; its stretches follow one another and add up.

    Where the cloth is halved along, a stretch takes twice the length that its pieces take.
    """
    parts = [_stretch_bound(stretch, bolt) for stretch in plan]
    if not parts:
        return LowerBound(0.0, _BY_AREA)
    return LowerBound(
        sum(part.length_mm for part in parts), _THEN.join(part.reason for part in parts)
    )


def spread_bound(items: tuple[CutItem, ...], bolt: Bolt, rules: LayRules) -> LowerBound:
    """Return the best bound that holds for every marker of these pieces spread this way.

    On folded cloth copies that are alike may come of both layers or of single cloth. What every
    plan has in common bounds each of them, and so does the area of it all. The bound of the best
    way of spreading is that of open cloth: a folded lay, opened out, is an open one.

    Parameters
    ----------
    items
        What is cut, at least one item.
    bolt, rules
        The cloth and how it is spread.

    Raises
    ------
    SpreadRefusedError
        If the cloth does not permit this way of spreading.
    """
    if rules.spread is Spread.BEST:
        rules = replace(rules, spread=Spread.OPEN)
    plans = lay_plans(items, bolt, rules)
    common = lower_bound(_common(plans), bolt)
    area = LowerBound(
        min(_area_length_mm(plan, bolt) for plan in plans) * (1.0 - _SHAVED), _BY_AREA
    )
    return max(common, area, key=lambda bound: bound.length_mm)


def _common(plans: tuple[tuple[PlannedStretch, ...], ...]) -> tuple[PlannedStretch, ...]:
    """Return the stretches with what all plans lay there, as often as the plan that does least."""
    first, *others = plans
    copies = [
        {(stretch.spread, one.name): one.copies for stretch in plan for one in stretch.items}
        for plan in others
    ]
    common = []
    for stretch in first:
        kept = []
        for one in stretch.items:
            fewest = min(
                [one.copies, *(plan.get((stretch.spread, one.name), 0) for plan in copies)]
            )
            if fewest:
                kept.append(replace(one, copies=fewest))
        if kept:
            common.append(PlannedStretch(stretch.spread, tuple(kept)))
    return tuple(common)


def _area_length_mm(plan: tuple[PlannedStretch, ...], bolt: Bolt) -> float:
    """Return the length of cloth that the pieces would take without any waste, mm."""
    return sum(
        area_mm2(one.outline_mm)
        * one.copies
        / laid_width_mm(bolt, stretch.spread)
        * (2.0 if stretch.spread in HALVED_ALONG else 1.0)
        for stretch in plan
        for one in stretch.items
    )


def _stretch_bound(stretch: PlannedStretch, bolt: Bolt) -> LowerBound:
    width_mm = laid_width_mm(bolt, stretch.spread)
    area = sum(area_mm2(planned.outline_mm) * planned.copies for planned in stretch.items)
    on_fold = [planned for planned in stretch.items if planned.laid_as is LaidAs.ON_FOLD]
    bounds = [
        LowerBound(area / width_mm, _BY_AREA),
        LowerBound(_longest_mm(stretch), marked("longest piece")),
        LowerBound(
            sum(map(_fold_run_mm, on_fold)) / (2 if stretch.spread is Spread.DOUBLE else 1),
            marked("pieces on the fold one after another"),
        ),
        LowerBound(
            _beside_mm(stretch, width_mm),
            marked("pieces that cannot lie beside each other"),
        ),
    ]
    best = max(bounds, key=lambda bound: bound.length_mm)
    layers = 2.0 if stretch.spread in HALVED_ALONG else 1.0
    return LowerBound(layers * best.length_mm * (1.0 - _SHAVED), best.reason)


def _longest_mm(stretch: PlannedStretch) -> float:
    """Return the length of the piece that is longest even in its shortest turn, mm."""
    return max(
        min(float(np.ptp(outline[:, 0])) for outline in _turned(planned))
        for planned in stretch.items
    )


def _fold_run_mm(planned: PlannedItem) -> float:
    """Return the length of fold that all copies of a half piece take, mm."""
    (x0, _), (x1, _) = (
        planned.item.half.fold_edge_mm
        if planned.item.half is not None and planned.item.half.fold_edge_mm is not None
        else ((0.0, 0.0), (0.0, 0.0))
    )
    return abs(x1 - x0) * planned.copies


def _beside_mm(stretch: PlannedStretch, width_mm: float) -> float:
    """Return the best bound from cross-sections, over several dual feasible functions, mm."""
    profiles = [
        ([chords(outline) for outline in _turned(planned)], planned.copies)
        for planned in stretch.items
    ]
    functions = [partial(counted_shares, parts=parts) for parts in _SHARES]
    functions += [partial(only_wide, least=1.0 / parts) for parts in _SHARES]
    return max(
        sum(
            copies * min(_integral(function, profile, width_mm) for profile in turned)
            for turned, copies in profiles
        )
        for function in functions
    )


def _turned(planned: PlannedItem) -> list[FloatArray]:
    """Return the outline in each turn that changes its extents; half turns and flips do not."""
    turns = {(-deg if flipped else deg) % 180.0 for deg, flipped in planned.poses}
    return [turn(planned.outline_mm, deg) for deg in sorted(turns)]


def chords(outline: FloatArray) -> Profile:
    """Return how much of a cut across the cloth an outline takes, at chosen x.

    Between neighbouring vertices the total chord is a straight line in x, so two samples in each
    such slab describe it. Returns x of shape (k, 2) and chord of shape (k, 2): both ends of each
    slab, approached from inside it.
    """
    xs = np.unique(outline[:, 0])
    edges = np.hstack([outline, np.roll(outline, -1, axis=0)])
    slabs = np.stack([xs[:-1], xs[1:]], axis=1)
    inner = slabs @ np.array([[0.75, 0.25], [0.25, 0.75]])
    crossings = _chord_at(edges, inner)
    slope = (crossings[:, 1] - crossings[:, 0]) * 2.0
    middle = crossings.mean(axis=1)
    ends = np.stack([middle - slope / 2.0, middle + slope / 2.0], axis=1)
    return slabs, np.maximum(ends, 0.0)


def _chord_at(edges: FloatArray, xs: FloatArray) -> FloatArray:
    """Return the total chord of the outline at each x, same shape as ``xs``, some at a time."""
    at_once = max(1, _MOST_AT_ONCE // len(edges))
    starts = range(0, len(xs), at_once)
    return np.concatenate([_crossed(edges, xs[start : start + at_once]) for start in starts])


def _crossed(edges: FloatArray, xs: FloatArray) -> FloatArray:
    """Return the total chord at each x, with every edge looked at for every x."""
    x0, y0, x1, y1 = (edges[:, column, None, None] for column in range(4))
    spans = (x0 < xs) != (x1 < xs)
    run = np.where(x1 == x0, 1.0, x1 - x0)
    heights = y0 + (y1 - y0) * (xs - x0) / run
    total: FloatArray = np.abs(np.where(spans, np.sign(x1 - x0) * heights, 0.0).sum(axis=0))
    return total


def counted_shares(share: FloatArray, *, parts: int) -> FloatArray:
    """Count how often 1 / ``parts`` goes into a share, out of ``parts - 1`` in all.

    Shares that sum to at most 1 and are each above j / parts have counts that sum to less than
    parts, so to at most parts - 1: a dual feasible function. A share that is a whole number of
    parts keeps its own value.
    """
    steps = share * parts
    whole = np.abs(steps - np.rint(steps)) < _SHAVED
    return np.where(whole, share, np.floor(steps) / (parts - 1))


def only_wide(share: FloatArray, *, least: float) -> FloatArray:
    """Count shares above 1 - least as 1, those below least as 0, and the rest as they are."""
    return np.where(share > 1.0 - least, 1.0, np.where(share < least, 0.0, share))


def _integral(
    function: Callable[[FloatArray], FloatArray], profile: Profile, width_mm: float
) -> float:
    """Return a lower estimate of the integral of ``function`` over the piece's length, mm.

    Each slab is cut into pieces; the function rises with the share, so its value at the smaller
    end of each never counts too much.
    """
    slabs, ends = profile
    steps = np.linspace(0.0, 1.0, _PIECES_OF_SLAB + 1)
    shares = (ends[:, :1] + (ends[:, 1:] - ends[:, :1]) * steps) / width_mm
    values = function(np.minimum(shares, 1.0))
    least = np.minimum(values[:, :-1], values[:, 1:])
    return float((least.sum(axis=1) * (slabs[:, 1] - slabs[:, 0])).sum() / _PIECES_OF_SLAB)
