"""Lay pieces on cloth that is spread one way: from a cut list to a checked marker."""

from collections.abc import Callable
from dataclasses import dataclass, field, replace

from nesting import __version__
from nesting.checks import check_marker
from nesting.cloth.bolt import Bolt
from nesting.cloth.lay_rules import LayRules
from nesting.cloth.spread import HALVED_ALONG, Spread, Stretch
from nesting.engine import Packing, Progress, StoppedBy, Strip, StripPlacement, pack
from nesting.errors import LayError
from nesting.marker.cut_list import CutItem, Selection
from nesting.marker.marker import MadeBy, Marker
from nesting.marker.measure import cut_length_mm, shop_length_mm, utilisation
from nesting.marker.placement import Placement
from nesting.plan.bounds import LowerBound, lower_bound
from nesting.plan.lay_plan import PlannedStretch, lay_plan
from nesting.plan.matching import MatchPlan, match_plan
from nesting.strips import placements_from, reach_mm, settled_phases, start_for, strip_for
from pieces.finding import Finding, Severity
from pieces.pattern import Pattern


@dataclass(frozen=True)
class SearchOptions:
    """How long to search for a shorter marker: see :func:`nesting.engine.pack`."""

    effort: str | None = "standard"
    seconds: float | None = None
    seed: int = 1
    workers: int = 2


@dataclass(frozen=True)
class LayProgress:
    """How far laying has come.

    Parameters
    ----------
    length_mm
        Length so far: the stretches laid, and the best of the one being laid, mm.
    share
        How much of the search is over, from 0 to 1.
    """

    length_mm: float
    share: float


LayCallback = Callable[[LayProgress], bool | None]


@dataclass(frozen=True)
class LayResult:
    """A marker, what the independent check says of it, and how good it can be.

    Parameters
    ----------
    marker
        The cutting layout.
    lower_bound
        A length no marker of this lay can beat.
    findings
        What the check found; empty for a marker that can be cut.
    seconds
        Wall-clock time of the search.
    stopped_by
        Why the search ended.
    tried
        Each way of spreading that was tried, if the best was asked for; else empty.
    """

    marker: Marker
    lower_bound: LowerBound
    findings: tuple[Finding, ...]
    seconds: float
    stopped_by: StoppedBy
    tried: tuple["TriedSpread", ...] = ()

    @property
    def marker_length_mm(self) -> float:
        """Length the pieces take, mm."""
        return self.marker.length_mm

    @property
    def cut_length_mm(self) -> float:
        """Length of cloth the lay takes, mm."""
        return cut_length_mm(self.marker)

    @property
    def shop_length_mm(self) -> float:
        """Length to ask for at the counter, mm."""
        return shop_length_mm(self.marker)

    @property
    def utilisation(self) -> float:
        """Piece area over usable width times marker length."""
        return utilisation(self.marker)


@dataclass(frozen=True)
class TriedSpread:
    """One way of spreading: what it takes, or why the cloth or the pieces do not permit it.

    Parameters
    ----------
    spread
        The way.
    marker_length_mm, cut_length_mm, shop_length_mm
        As :class:`LayResult` has them, or None.
    refusal
        The reason if there is no lay, else empty.
    """

    spread: Spread
    marker_length_mm: float | None = None
    cut_length_mm: float | None = None
    shop_length_mm: float | None = None
    refusal: str = ""


@dataclass(frozen=True, kw_only=True)
class LayRequest:
    """Everything that decides a lay.

    Parameters
    ----------
    pattern, selections, cloth
        What to cut.
    bolt, rules
        The cloth and how it is spread.
    search
        Effort, time limit, seed and workers.
    """

    pattern: Pattern
    selections: tuple[Selection, ...]
    cloth: str
    bolt: Bolt
    rules: LayRules = field(default_factory=LayRules)
    search: SearchOptions = field(default_factory=SearchOptions)


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
    plans = _orders(lay_plan(items, request.bolt, request.rules), request.bolt)
    found = []
    for number, plan in enumerate(plans):
        told = _part(progress, number, len(plans))
        found.append(_lay_planned(request, items, plan, told, start, of_plans=len(plans)))
    best = min(found, key=lambda result: (result.shop_length_mm, result.marker_length_mm))
    seconds = sum(result.seconds for result in found)
    return kept_shorter(replace(best, seconds=seconds), start)


def _orders(plan: tuple[PlannedStretch, ...], bolt: Bolt) -> tuple[tuple[PlannedStretch, ...], ...]:
    """Return the orders of the stretches that may differ in length.

    Stretches add up, whichever comes first, but for flaws, which lie where they lie, and for a
    repeat, whose phases the first stretch settles.
    """
    if len(plan) < 2 or (bolt.repeat is None and not bolt.flaws):
        return (plan,)
    return plan, plan[::-1]


def kept_shorter(result: LayResult, offered: Marker | None) -> LayResult:
    """Return a result with the marker offered if that is shorter, lawful, and matches as much."""
    if offered is None or offered.length_mm >= result.marker_length_mm:
        return result
    marker = replace(offered, made_by=result.marker.made_by)
    findings = check_marker(marker)
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
        lower_bound=lower_bound(plan, request.bolt, request.rules),
        findings=check_marker(marker),
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
        told = _told(progress, start_mm, number, len(plan))
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


def _part(progress: LayCallback | None, number: int, of: int) -> LayCallback | None:
    """Turn the progress of one of several lays into that of them all."""
    if progress is None:
        return None
    return lambda report: progress(LayProgress(report.length_mm, (number + report.share) / of))


def _told(
    progress: LayCallback | None, done_mm: float, number: int, of_stretches: int
) -> Callable[[Progress], bool | None] | None:
    """Turn the engine's progress on one stretch into progress on the whole lay."""
    if progress is None:
        return None

    def tell(report: Progress) -> bool | None:
        share = (number + report.share) / of_stretches
        return progress(LayProgress(done_mm + report.length, share))

    return tell


def _worst_stop(packings: tuple[Packing, ...]) -> StoppedBy:
    """Return the reason that says most about the result: a request, then time, then effort."""
    order = (StoppedBy.REQUEST, StoppedBy.SECONDS, StoppedBy.EFFORT, StoppedBy.PROVEN_BEST)
    return min((packing.stopped_by for packing in packings), key=order.index)
