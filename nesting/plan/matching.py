"""Which pieces have to agree on the repeat of the cloth, and what that asks of each placement.

Within one garment, points of one name lie at the same phase of the repeat: along the cloth,
across it, or both, as the pattern sheet says. Seen right side up, a piece whose top points the
other way shows an even design mirrored, so its phase counts backwards from an axis of the repeat.

Left and right. Along the cloth they never differ. Across, points of one name agree on both sides
of the garment where they can, which is what a centre seam needs; where they cannot, left agrees
with left and right with right. On a lengthwise fold both sides agree only if the point lies a
whole number of half repeats from the fold.

What comes of it is for an engine to read without knowing any of this: see :class:`Hold`.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import groupby
from types import MappingProxyType

from nesting.cloth.bolt import Bolt, repeat_on
from nesting.cloth.lay_rules import LayRules
from nesting.cloth.repeat import Axis, GivenUp
from nesting.cloth.spread import Spread
from nesting.errors import LayError, SpreadRefusedError
from nesting.plan.lay_plan import LaidAs, PlannedItem, PlannedStretch
from nesting.plan.match_ties import Tie, dropped_ties, main_grains, shared_points, sign_of, ties_of
from nesting.plan.repeat_phases import Phases
from pieces.marks import MatchWay

Pose = tuple[float, bool]
"""How a piece lies: its turn in degrees, and whether it is flipped."""


@dataclass(frozen=True)
class Hold:
    """What the repeat asks of one placement in one pose, on one axis.

    With ``x`` the placement's ``x_mm`` from the cut end of the whole lay (on the axis across, its
    ``y_mm`` from the lower edge of the stretch), and ``r`` the group's repeat, the placement is
    held to ``(x + offset_mm - sign * phase) % r == 0``, where ``phase`` is the same for all
    placements of the group.

    Parameters
    ----------
    group
        Number of the :class:`MatchGroup` in the plan.
    axis
        Along or across.
    offset_mm
        Added to the placement's place, mm.
    sign
        1, or -1 where the phase counts backwards: the top points the other way.
    """

    group: int
    axis: Axis
    offset_mm: float
    sign: int


@dataclass(frozen=True)
class MatchGroup:
    """Placements of one garment that share a phase on one axis.

    Parameters
    ----------
    number
        Its place in the plan, from 0.
    axis, repeat_mm
        The direction, and the repeat in the coordinates of the marker, mm.
    garment
        Number of the garment, from 1.
    points
        Names of the match points that agree, in order of first mention.
    phases_mm
        The phases it may take, from 0 to below the repeat, mm; None if any will do.
    """

    number: int
    axis: Axis
    repeat_mm: float
    garment: int
    points: tuple[str, ...]
    phases_mm: tuple[float, ...] | None


@dataclass(frozen=True)
class MatchPlan:
    """Everything a repeat asks of a lay.

    Parameters
    ----------
    groups
        The groups, numbered from 0; a piece that nothing has to agree with is in none.
    holds
        For each planned item by its name, for each pose, what holds it: at most one for an axis.
    given_up
        Matches that cannot hold beside the others, with the reason. The check of the marker
        turns each into a warning.
    """

    groups: tuple[MatchGroup, ...] = ()
    holds: Mapping[str, Mapping[Pose, tuple[Hold, ...]]] = field(
        default_factory=lambda: MappingProxyType({})
    )
    given_up: tuple[GivenUp, ...] = ()


def match_plan(
    plan: tuple[PlannedStretch, ...],
    bolt: Bolt,
    rules: LayRules,
    matching: Mapping[str, MatchWay],
) -> MatchPlan:
    """Return what the repeat of the bolt asks of each placement of a lay; nothing without one.

    Parameters
    ----------
    plan
        The lay of :func:`nesting.plan.lay_plan.lay_plan`, its items in the order of the view.
    bolt, rules
        The cloth and how it is spread.
    matching
        How the points of each name are matched; those left out along the cloth.

    Raises
    ------
    LayError
        If an uneven repeat across is to be laid on a fold, or grainlines may lean.
    """
    if bolt.repeat is None:
        return MatchPlan()
    _refuse(bolt, rules)
    groups: list[MatchGroup] = []
    holds: dict[str, dict[Pose, list[Hold]]] = {}
    dropped: list[GivenUp] = []
    for axis in Axis:
        repeat_mm = repeat_on(bolt, axis)
        if repeat_mm is None:
            continue
        for laid in _by_garment(plan):
            met = shared_points(laid, axis, matching)
            grains = main_grains(laid, axis, matching)
            ties = tuple(
                tie
                for one in laid
                for tie in ties_of(one, axis, matching)
                if tie.point in met and grains[tie.point] is one.item.grain
            )
            phases, kept = _solved(ties, repeat_mm, axis)
            lost = dropped_ties(laid, axis, matching) + [tie for tie in ties if tie not in kept]
            dropped += [tie.given_up(axis) for tie in lost]
            for group, members in _groups(kept, phases, axis, first=len(groups)):
                groups.append(group)
                for planned, beyond_mm in members:
                    for pose, hold in _poses(planned, group, beyond_mm, bolt):
                        holds.setdefault(planned.name, {}).setdefault(pose, []).append(hold)
    frozen = {
        name: {pose: tuple(found) for pose, found in poses.items()} for name, poses in holds.items()
    }
    return MatchPlan(tuple(groups), frozen, tuple(dict.fromkeys(dropped)))


def _refuse(bolt: Bolt, rules: LayRules) -> None:
    if rules.tilt_deg:
        raise LayError(
            f"grainlines that lean up to {rules.tilt_deg:g} degrees would break stripes and "
            "plaid; leave the tilt out on cloth with a repeat"
        )
    repeat = bolt.repeat
    folded = rules.spread is not Spread.OPEN
    if folded and repeat is not None and repeat.across_mm is not None and not repeat.even:
        raise SpreadRefusedError(
            "an uneven repeat across runs the other way in the under layer of a fold, so left and "
            "right would not match; lay the cloth open"
        )


def _by_garment(plan: tuple[PlannedStretch, ...]) -> Iterator[tuple[PlannedItem, ...]]:
    """Yield what is laid for each garment, the pieces in the order of the view."""
    items = [one for stretch in plan for one in stretch.items]
    order = {key: place for place, key in enumerate(dict.fromkeys(one.item.key for one in items))}
    items.sort(key=lambda one: (one.garment, order[one.item.key]))
    for _, laid in groupby(items, key=lambda one: one.garment):
        yield tuple(laid)


def _solved(ties: tuple[Tie, ...], repeat_mm: float, axis: Axis) -> tuple[Phases, tuple[Tie, ...]]:
    """Take the ties one by one and keep those that hold beside the ones before.

    Where left and right of one name contradict each other across, they are set apart, and all
    ties are taken anew. A name that one piece has alone has only its left and right to match: it
    is given up.
    """
    ordered, carriers = _most_telling_first(ties, axis), _carriers(ties)
    apart: set[str] = set()
    while True:
        phases, kept = Phases(repeat_mm), []
        for tie in ordered:
            trial = phases.copy()
            if tie.demand(trial, axis, apart=tie.point in apart):
                phases = trial
                kept.append(tie)
            elif (
                axis is Axis.ACROSS
                and tie.has_sides
                and tie.point not in apart
                and len(carriers[tie.point]) > 1
            ):
                apart.add(tie.point)
                break
        else:
            return phases, tuple(kept)


def _most_telling_first(ties: tuple[Tie, ...], axis: Axis) -> tuple[Tie, ...]:
    """Take first, across, the names that one piece has alone: its left and right copy meet there.

    Otherwise the order of the pieces in the view stands.
    """
    if axis is Axis.ALONG:
        return ties
    carriers = _carriers(ties)
    return tuple(sorted(ties, key=lambda tie: len(carriers[tie.point]) > 1))


def _carriers(ties: tuple[Tie, ...]) -> dict[str, set[str]]:
    """Return the cut items that carry each name."""
    carriers: dict[str, set[str]] = {}
    for tie in ties:
        carriers.setdefault(tie.point, set()).add(tie.planned.item.key)
    return carriers


def _groups(
    ties: tuple[Tie, ...], phases: Phases, axis: Axis, *, first: int
) -> Iterator[tuple[MatchGroup, list[tuple[PlannedItem, float]]]]:
    """Yield the groups that hold something, with their items and how far beyond each lies."""
    together: dict[int, list[Tie]] = {}
    for tie in ties:
        together.setdefault(phases.place(tie.piece)[0], []).append(tie)
    for members in together.values():
        start = members[0].piece
        allowed_mm = phases.allowed_mm(start)
        planned = {tie.planned.name: tie for tie in members}
        held = [tie for tie in planned.values() if not tie.is_fixed(axis)]
        copies = sum(tie.planned.copies for tie in planned.values())
        if not held or (copies < 2 and allowed_mm is None):
            continue
        start_mm = phases.place(start)[1]
        yield (
            MatchGroup(
                number=first,
                axis=axis,
                repeat_mm=phases.repeat_mm,
                garment=members[0].planned.garment,
                points=tuple(dict.fromkeys(tie.point for tie in members)),
                phases_mm=allowed_mm,
            ),
            [(tie.planned, phases.place(tie.piece)[1] - start_mm) for tie in held],
        )
        first += 1


def _poses(
    planned: PlannedItem, group: MatchGroup, beyond_mm: float, bolt: Bolt
) -> Iterator[tuple[Pose, Hold]]:
    """Yield what holds a planned item in each pose in which it may lie."""
    on_open_cloth = planned.laid_as in (LaidAs.AS_DRAWN, LaidAs.TURNED_OVER)
    middle_mm = bolt.usable_width_mm / 2.0
    from_axis_mm = middle_mm if group.axis is Axis.ACROSS and on_open_cloth else 0.0
    for pose in planned.poses:
        sign = sign_of(planned, pose, group.axis)
        offset_mm = 0.0 - sign * beyond_mm - from_axis_mm
        yield pose, Hold(group.number, group.axis, offset_mm, sign)
