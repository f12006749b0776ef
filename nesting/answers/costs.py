"""What each rule of the cloth costs: the same pieces laid again without it.

Every figure is a real lay. Rules are taken away one after another until bare cloth is left, so the
lengths they add make up what is asked for; and each is taken away alone, which tells what the lay
would take if this cloth had every other rule but that one.

A marker that obeys a rule is lawful without it. So every freer lay begins from the shortest of the
stricter ones and is never longer: to take a rule away never costs.
"""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from decimal import Decimal
from enum import StrEnum
from itertools import accumulate

from nesting.answers.compare import widened
from nesting.checks import check_marker
from nesting.cloth.bolt import Bolt
from nesting.cloth.flaw import Flaw
from nesting.cloth.lay_rules import LayRules
from nesting.cloth.shrinkage import washed_mm
from nesting.cloth.spread import HALVED_ACROSS, Spread
from nesting.lay import LayRequest, LayResult, RowCallback, lay_spread, row_of
from nesting.lay.unfolding import unfolded
from nesting.marker.marker import Marker
from pieces.finding import Severity


class Rule(StrEnum):
    """What a lay obeys beyond the outlines, the first to be taken away first."""

    ROUNDING = "shop rounding"
    ENDS = "end allowance"
    SHRINKAGE = "shrinkage"
    GAP = "gap"
    FLAWS = "flaws"
    REPEAT = "repeat"
    NAP = "nap"
    SPREAD = "spread"
    SELVAGE = "selvage"


_ONLY_SUMS = frozenset((Rule.ROUNDING, Rule.ENDS))
"""Rules that change no marker."""

Rules = frozenset[Rule]


@dataclass(frozen=True, kw_only=True)
class RulePrice:
    """What one rule costs.

    Parameters
    ----------
    rule
        Which one.
    adds_mm
        Length it adds to a lay that has been freed of all rules before it, mm.
    alone_mm
        Length of cloth saved if this rule alone were away, mm, before the shop rounds.
    shop_without_mm
        What to ask for if this rule alone were away, mm.
    adds_cost, cost_without
        The same in money, or None without a price.
    """

    rule: Rule
    adds_mm: float
    alone_mm: float
    shop_without_mm: float
    adds_cost: Decimal | None = None
    cost_without: Decimal | None = None


@dataclass(frozen=True, kw_only=True)
class Explanation:
    """What makes up the length to ask for.

    Parameters
    ----------
    request, result
        What was asked, and its lay.
    prices
        The rules it obeys, in the order of :class:`Rule`. What they add and ``bare_mm`` are what
        is asked for.
    bare_mm
        Length of the lay on bare cloth, without any of them, mm.
    bare_cost
        Its price, or None.
    """

    request: LayRequest
    result: LayResult
    prices: tuple[RulePrice, ...]
    bare_mm: float
    bare_cost: Decimal | None

    @property
    def asked_mm(self) -> float:
        """What is asked for, mm."""
        return self.result.shop_length_mm


def rules_of(request: LayRequest) -> tuple[Rule, ...]:
    """Return the rules that a request obeys, in the order of :class:`Rule`."""
    bolt, rules = request.bolt, request.rules
    obeyed = {
        Rule.ROUNDING: bolt.shop_step_mm is not None,
        Rule.ENDS: bolt.end_allowance_mm > 0.0,
        Rule.SHRINKAGE: bolt.shrink_along > 0.0 or bolt.shrink_across > 0.0,
        Rule.GAP: rules.gap_mm > 0.0,
        Rule.FLAWS: bool(bolt.flaws),
        Rule.REPEAT: bolt.repeat is not None,
        Rule.NAP: bolt.nap,
        Rule.SPREAD: rules.spread is not Spread.OPEN,
        Rule.SELVAGE: bolt.selvage_mm > 0.0,
    }
    return tuple(rule for rule in Rule if obeyed[rule])


def lays_to_explain(request: LayRequest) -> int:
    """Return how many lays explaining takes: each rule alone, and all of them by and by."""
    laying = [rule for rule in rules_of(request) if rule not in _ONLY_SUMS]
    return max(0, 2 * len(laying) - 1)


def explain(
    request: LayRequest, result: LayResult, *, progress: RowCallback | None = None
) -> Explanation:
    """Lay the same pieces without each rule, and return what each costs.

    Parameters
    ----------
    request
        What was asked. Every lay is searched as it was.
    result
        What came of it.
    progress
        Called with the number of the lay, from 0, as its search goes; a true answer stops that
        search and keeps its best so far.

    Raises
    ------
    NestingError, PiecesError
        Whatever :func:`nesting.lay.lay_items` raises.
    """
    asked = replace(request, rules=result.marker.rules)
    lays = _Lays(asked, result, progress)
    obeyed = rules_of(asked)
    for rule in obeyed:
        lays.marker(frozenset((rule,)))
    gone = [frozenset(some) for some in accumulate(((rule,) for rule in obeyed), initial=())]
    lengths = [lays.asked_mm(some) for some in gone]
    costs = [lays.cost(length) for length in lengths]
    without = [lays.shop_mm(frozenset((rule,))) for rule in obeyed]
    return Explanation(
        request=asked,
        result=result,
        prices=tuple(
            RulePrice(
                rule=rule,
                adds_mm=lengths[number] - lengths[number + 1],
                alone_mm=lays.alone_mm(rule),
                shop_without_mm=without[number],
                adds_cost=_less(costs[number], costs[number + 1]),
                cost_without=lays.cost(without[number]),
            )
            for number, rule in enumerate(obeyed)
        ),
        bare_mm=lengths[-1],
        bare_cost=costs[-1],
    )


def _less(cost: Decimal | None, other: Decimal | None) -> Decimal | None:
    return None if cost is None or other is None else cost - other


@dataclass
class _Lays:
    """The lays made so far, each known by the rules it was freed of."""

    request: LayRequest
    result: LayResult
    progress: RowCallback | None
    known: dict[Rules, Marker] = field(default_factory=dict)
    made: int = 0

    def __post_init__(self) -> None:
        """Begin with the lay that obeys them all."""
        self.known[frozenset()] = self.result.marker

    def marker(self, gone: Rules) -> Marker:
        """Return the marker without some rules, laid now if it is not known."""
        laying = gone - _ONLY_SUMS
        if laying not in self.known:
            freed = freed_of(self.request, laying)
            start = self._start(laying, freed)
            told = row_of(self.progress, self.made)
            items = self.result.marker.items
            found = lay_spread(freed, items, progress=told, start=start).marker
            if start is not None and start.length_mm < found.length_mm:
                found = start  # it may match less than the search has to, as the stricter lay did
            self.known[laying] = found
            self.made += 1
        return self.known[laying]

    def _start(self, laying: Rules, freed: LayRequest) -> Marker | None:
        """Return the shortest of the stricter markers that the check lets pass on freer cloth."""
        offers = [_offered(self.known[less], freed) for less in self.known if less < laying]
        for offer in sorted(offers, key=lambda marker: marker.length_mm):
            if all(one.severity is not Severity.ERROR for one in check_marker(offer)):
                return offer
        return None

    def cut_mm(self, gone: Rules) -> float:
        """Return the length of cloth it takes, not rounded, mm."""
        return freed_of(self.request, gone).bolt.cut_length_mm(self.marker(gone).length_mm)

    def shop_mm(self, gone: Rules) -> float:
        """Return what to ask for, mm."""
        if not gone:
            return self.result.shop_length_mm
        return freed_of(self.request, gone).bolt.shop_length_mm(self.cut_mm(gone))

    def asked_mm(self, gone: Rules) -> float:
        """Return what to ask for while the shop rounds, else the length of cloth it takes, mm."""
        return self.cut_mm(gone) if gone else self.result.shop_length_mm

    def alone_mm(self, rule: Rule) -> float:
        """Return the length of cloth saved without one rule, mm."""
        if rule is Rule.ROUNDING:
            return self.result.shop_length_mm - self.result.cut_length_mm
        return self.result.cut_length_mm - self.cut_mm(frozenset((rule,)))

    def cost(self, length_mm: float) -> Decimal | None:
        """Return the price of a length, or None."""
        price = self.request.bolt.price
        return None if price is None else price.cost(length_mm)


def freed_of(request: LayRequest, gone: Rules) -> LayRequest:
    """Return a request freed of some rules, on a bolt without end."""
    bolt, rules = replace(request.bolt, length_left_mm=None), request.rules
    for rule in Rule:
        if rule in gone:
            bolt, rules = _FREED[rule](bolt, rules)
    return replace(request, bolt=bolt, rules=rules)


_FREED: dict[Rule, Callable[[Bolt, LayRules], tuple[Bolt, LayRules]]] = {
    Rule.ROUNDING: lambda bolt, rules: (replace(bolt, shop_step_mm=None), rules),
    Rule.ENDS: lambda bolt, rules: (replace(bolt, end_allowance_mm=0.0), rules),
    Rule.SHRINKAGE: lambda bolt, rules: (unshrinking(bolt), rules),
    Rule.GAP: lambda bolt, rules: (bolt, replace(rules, gap_mm=0.0)),
    Rule.FLAWS: lambda bolt, rules: (replace(bolt, flaws=()), rules),
    Rule.REPEAT: lambda bolt, rules: (replace(bolt, repeat=None), rules),
    Rule.NAP: lambda bolt, rules: (replace(bolt, nap=False), rules),
    Rule.SPREAD: lambda bolt, rules: (bolt, replace(rules, spread=Spread.OPEN)),
    Rule.SELVAGE: lambda bolt, rules: (replace(bolt, selvage_mm=0.0), rules),
}


def unshrinking(bolt: Bolt) -> Bolt:
    """Return the cloth as if washing took nothing of it.

    Its design and its flaws are those of the washed cloth, in the same places from the cut end and
    from the middle; there is more cloth at both edges.

    Examples
    --------
    A tenth is lost across 1000 mm; a flaw from 500 to 510 lies in the middle and 9 mm wide:

    >>> flaw = Flaw(at_mm=100.0, across_mm=500.0, long_mm=10.0, wide_mm=10.0)
    >>> kept = unshrinking(Bolt(width_mm=1000.0, shrink_across=0.1, flaws=(flaw,)))
    >>> kept.usable_width_mm, kept.flaws[0].across_mm, kept.flaws[0].wide_mm
    (1000.0, 500.0, 9.0)
    """
    along, across = bolt.shrink_along, bolt.shrink_across
    middle_mm = bolt.width_mm / 2.0

    def as_washed(flaw: Flaw) -> Flaw:
        return replace(
            flaw,
            at_mm=washed_mm(flaw.at_mm, along),
            long_mm=washed_mm(flaw.long_mm, along),
            across_mm=middle_mm + washed_mm(flaw.across_mm - middle_mm, across),
            wide_mm=washed_mm(flaw.wide_mm, across),
        )

    return replace(
        bolt,
        shrink_along=0.0,
        shrink_across=0.0,
        repeat=bolt.laid_repeat,
        flaws=tuple(as_washed(flaw) for flaw in bolt.flaws),
    )


def _offered(marker: Marker, freed: LayRequest) -> Marker:
    """Return a marker that obeys more rules as it lies on freer cloth.

    What lies on a fold keeps its distance from it; everything else from the middle of the cloth.
    """
    if marker.rules.spread is not freed.rules.spread:
        marker = unfolded(marker)
    more_mm = freed.bolt.usable_width_mm - marker.bolt.usable_width_mm
    centred = tuple(
        at
        if marker.stretches[at.stretch].spread in HALVED_ACROSS
        else replace(at, y_mm=at.y_mm + more_mm / 2.0)
        for at in widened(marker, freed.bolt).placements
    )
    return replace(
        marker,
        bolt=freed.bolt,
        rules=freed.rules,
        placements=centred,
        given_up=() if freed.bolt.repeat is None else marker.given_up,
    )
