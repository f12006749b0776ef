"""Lay pieces on cloth that is spread one way: from a cut list to a checked marker."""

from collections.abc import Callable
from dataclasses import replace

from nesting.cloth.bolt import Bolt
from nesting.cloth.spread import HALVED_ALONG, Spread, Stretch
from nesting.engine import Packing, Progress, StoppedBy, Strip, StripPlacement, pack
from nesting.errors import LayError
from nesting.lay.judging import judged
from nesting.lay.progress import LayCallback, part_of, stretch_of
from nesting.lay.request import LayRequest, LayResult, SearchOptions
from nesting.lay.strips import placements_from, reach_mm, settled_phases, start_for, strip_for
from nesting.marker.cut_list import CutItem
from nesting.marker.marker import MadeBy, Marker
from nesting.marker.placement import Placement
from nesting.plan.bounds import LowerBound, lower_bound, spread_bound
from nesting.plan.lay_plan import PlannedStretch, lay_plans
from nesting.plan.matching import MatchPlan, match_plan
from nesting.version import __version__
from pieces.finding import Severity


def lay_spread(
    request: LayRequest,
    items: tuple[CutItem, ...],
    *,
    progress: LayCallback | None = None,
    start: Marker | None = None,
) -> LayResult:
    """Lay a cut list on cloth that is spread one way, as short as the search finds, and check it.

    Parameters
    ----------
    request
        On what to lay, and how long to search.
    items
        What to lay, at least one item.
    progress
        Called as the search goes; a true answer stops it and keeps the best so far.
    start
        A marker of the same items that is lawful here. The search begins from it where the
        stretches agree, and the result is never longer.

    Raises
    ------
    DoesNotFitError
        If a piece is wider than the cloth in every way it may lie.
    SpreadRefusedError
        If the cloth does not permit this way of spreading.
    LayError, StripError
        If there is nothing to lay, or an option is out of range.
    """
    if not items:
        raise LayError("there is no piece to lay; give at least one")
    bolt, rules = request.bolt, request.rules
    plans = [order for plan in lay_plans(items, bolt, rules) for order in _orders(plan, bolt)]
    bounds = (
        spread_bound(items, bolt, rules),
        spread_bound(items, bolt, replace(rules, spread=Spread.OPEN)),
    )
    found: list[LayResult] = []
    for number, plan in enumerate(plans):
        if found and lower_bound(plan, bolt).length_mm >= min(map(_length_mm, found)):
            continue
        told = part_of(progress, number, len(plans))
        found.append(
            _lay_planned(request, items, plan, told, start, bounds=bounds, of_plans=len(plans))
        )
    best = min(found, key=lambda result: (result.shop_length_mm, result.marker_length_mm))
    seconds = sum(result.seconds for result in found)
    return kept_shorter(request, replace(best, seconds=seconds), start)


def _length_mm(result: LayResult) -> float:
    return result.marker_length_mm


def _orders(plan: tuple[PlannedStretch, ...], bolt: Bolt) -> tuple[tuple[PlannedStretch, ...], ...]:
    """Return the orders of the stretches that may differ in length.

    Stretches add up, whichever comes first, but for flaws, which lie where they lie, and for a
    repeat, whose phases the first stretch settles.
    """
    if len(plan) < 2 or (bolt.repeat is None and not bolt.flaws):
        return (plan,)
    return plan, plan[::-1]


def kept_shorter(request: LayRequest, result: LayResult, offered: Marker | None) -> LayResult:
    """Return a result with the marker offered if that is shorter, lawful, and matches as much."""
    if offered is None or offered.length_mm >= result.marker_length_mm:
        return result
    marker = replace(offered, made_by=result.marker.made_by)
    findings = judged(marker, request.asked(is_part=True))
    gives_up_more = not set(marker.given_up) <= set(result.marker.given_up)
    if gives_up_more or any(finding.severity is Severity.ERROR for finding in findings):
        return result
    return replace(result, marker=marker, findings=findings)


def _lay_planned(
    request: LayRequest,
    items: tuple[CutItem, ...],
    plan: tuple[PlannedStretch, ...],
    progress: LayCallback | None,
    start: Marker | None,
    *,
    bounds: tuple[LowerBound, LowerBound],
    of_plans: int,
) -> LayResult:
    matches = match_plan(plan, request.bolt, request.rules, request.pattern.matching)
    search = request.search
    share = None if search.seconds is None else search.seconds / of_plans
    laid = _laid_out(
        replace(request, search=replace(search, seconds=share)), plan, matches, progress, start
    )
    stretches, placements, packings = laid
    marker = Marker(
        pattern=request.pattern.name,
        cloth=request.cloth,
        selections=request.selections,
        bolt=request.bolt,
        rules=request.rules,
        items=items,
        stretches=stretches,
        placements=placements,
        length_mm=stretches[-1].end_mm,
        made_by=MadeBy(
            __version__, search.effort or "", search.seconds, search.seed, search.workers
        ),
        matching=request.pattern.matching,
        given_up=matches.given_up,
    )
    return LayResult(
        marker=marker,
        lower_bound=bounds[0],
        open_bound=bounds[1],
        findings=judged(marker, request.asked(is_part=True)),
        seconds=sum(packing.seconds for packing in packings),
        stopped_by=_worst_stop(packings),
    )


def _laid_out(
    request: LayRequest,
    plan: tuple[PlannedStretch, ...],
    matches: MatchPlan,
    progress: LayCallback | None,
    start: Marker | None,
) -> tuple[tuple[Stretch, ...], tuple[Placement, ...], tuple[Packing, ...]]:
    """Lay one stretch after another, a gap apart if pieces are to be; phases settled stay so."""
    stretches: list[Stretch] = []
    placements: list[Placement] = []
    packings: list[Packing] = []
    settled: dict[int, float] = {}
    for number, planned in enumerate(plan):
        start_mm = stretches[-1].end_mm + request.rules.gap_mm if stretches else 0.0
        told = stretch_of(part_of(progress, number, len(plan)), start_mm)
        strip = strip_for(
            planned,
            request.bolt,
            request.rules,
            matches=matches,
            settled=settled,
            start_mm=start_mm,
        )
        known = None if start is None else start_for(plan, number, start)
        packings.append(_packed(strip, request.search, len(plan), told, known))
        settled |= settled_phases(planned, matches, packings[-1].phases)
        laid = placements_from(planned, packings[-1].placements, number=number, start_mm=start_mm)
        placements += laid
        layers = 2.0 if planned.spread in HALVED_ALONG else 1.0
        cloth_mm = layers * (reach_mm(planned, laid) - start_mm)
        stretches.append(Stretch(planned.spread, start_mm, cloth_mm))
    return tuple(stretches), tuple(placements), tuple(packings)


def _packed(
    strip: Strip,
    search: SearchOptions,
    of_stretches: int,
    told: Callable[[Progress], bool | None] | None,
    start: tuple[StripPlacement, ...] | None,
) -> Packing:
    return pack(
        strip,
        effort=search.effort,
        seconds=None if search.seconds is None else search.seconds / of_stretches,
        seed=search.seed,
        workers=search.workers,
        progress=told,
        start=start,
    )


def _worst_stop(packings: tuple[Packing, ...]) -> StoppedBy:
    """Return the reason that says most about the result: a request, then time, then effort."""
    order = (StoppedBy.REQUEST, StoppedBy.SECONDS, StoppedBy.EFFORT, StoppedBy.PROVEN_BEST)
    return min((packing.stopped_by for packing in packings), key=order.index)
