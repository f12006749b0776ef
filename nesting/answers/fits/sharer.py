"""Lays of some of the pieces on cloth that is owned, each tried only once and within the time."""

import math
import time
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace

from nesting.cloth.bolt import Bolt
from nesting.cloth.lay_rules import LayRules
from nesting.cloth.spread import LAYERS, Spread
from nesting.errors import DoesNotFitError, LayError, LayStoppedError
from nesting.lay import LayRequest, LayResult, SearchOptions, lay_items
from nesting.marker.cut_list import CutItem, cut_list
from nesting.marker.placement import lies_on_fold
from nesting.plan.bounds import spread_bound
from pieces.finding import Severity
from pieces.outline.polygon import area_mm2

TriedCallback = Callable[[int], bool | None]
"""Told how many lays were tried; a true answer stops the work."""

ROUNDING_MM = 1e-6
LEAST_S = 0.1


@dataclass(frozen=True)
class Unit:
    """What is never parted: one piece, the pair that a fold gives, or on a repeat a garment's.

    Parameters
    ----------
    key
        Of the cut item.
    as_drawn, turned_over
        Finished pieces.
    garment
        Its garment on cloth with a repeat, else 0.
    area_mm2
        Of all its pieces.
    """

    key: str
    as_drawn: int
    turned_over: int
    garment: int
    area_mm2: float


def units_of(items: Sequence[CutItem], bolt: Bolt, rules: LayRules) -> tuple[Unit, ...]:
    """Return the units of a cut list, largest first, equal ones together."""
    units: list[Unit] = []
    for item in items:
        area = area_mm2(item.shape.outline_mm)
        if bolt.repeat is not None:
            one = item.share()
            units += [
                Unit(item.key, one.as_drawn, one.turned_over, garment, area * one.count)
                for garment in item.garments
            ]
            continue
        drawn, over = item.as_drawn, item.turned_over
        if LAYERS.get(rules.spread) == 2 and not lies_on_fold(item, rules.spread):
            pairs = min(drawn, over)
            units += [Unit(item.key, 1, 1, 0, 2 * area)] * pairs
            drawn, over = drawn - pairs, over - pairs
            if item.is_symmetric:
                units += [Unit(item.key, 2, 0, 0, 2 * area)] * (drawn // 2)
                drawn %= 2
        units += [Unit(item.key, 1, 0, 0, area)] * drawn
        units += [Unit(item.key, 0, 1, 0, area)] * over
    return tuple(sorted(units, key=lambda unit: -unit.area_mm2))


def items_of(units: Sequence[Unit], items: Sequence[CutItem]) -> tuple[CutItem, ...]:
    """Return the cut list that these units make, in the order of the whole one."""
    found = []
    for item in items:
        mine = [unit for unit in units if unit.key == item.key]
        if mine:
            garments = tuple(sorted({unit.garment for unit in mine} - {0})) or item.garments
            found.append(
                replace(
                    item,
                    as_drawn=sum(unit.as_drawn for unit in mine),
                    turned_over=sum(unit.turned_over for unit in mine),
                    garments=garments,
                )
            )
    return tuple(found)


@dataclass
class Sharer:
    """Tries lays of some of the pieces, each only once.

    Parameters
    ----------
    request
        What is cut and how it is searched; its bolt is not used.
    bolts
        The cloths, each with its length.
    items
        What is shared out; all that the request cuts if None.
    progress
        Told of each lay.
    tried
        Lays tried so far, told to ``progress``.
    deadline_s
        Moment of the monotonic clock after which nothing new is searched for: what is not known
        to fit by then counts as not fitting.

    Raises
    ------
    LayError
        If there is no cloth, or one without its length.
    """

    request: LayRequest
    bolts: tuple[Bolt, ...]
    items: tuple[CutItem, ...] | None = None
    progress: TriedCallback | None = None
    tried: int = 0
    deadline_s: float | None = None
    _known: dict[tuple[Bolt, bool, frozenset[tuple[Unit, int]]], LayResult | None] = field(
        default_factory=dict
    )

    def __post_init__(self) -> None:
        """Settle what is cut, and refuse cloth without end."""
        if not self.bolts or any(bolt.length_left_mm is None for bolt in self.bolts):
            raise LayError("what is owned is told by its length and width; give at least one")
        if self.items is None:
            request = self.request
            self.items = cut_list(request.pattern, request.selections, request.cloth)

    @property
    def all_items(self) -> tuple[CutItem, ...]:
        """What is shared out."""
        return self.items or ()

    def fitting(
        self, bolt: Bolt, units: Sequence[Unit], *, fully: bool = False
    ) -> LayResult | None:
        """Return a lay of these units that fits on a cloth, or None if none was found.

        A quick search comes first; with ``fully`` the search asked for comes after it.
        """
        if self._is_proven_too_long(bolt, units) or self.is_late:
            return None
        result = self.laid(bolt, units, quick=True)
        may_search = self.request.search.effort != "quick" and not self.is_late
        if fully and may_search and not fits_on(bolt, result):
            result = self.laid(bolt, units, quick=False)
        return result if fits_on(bolt, result) else None

    @property
    def is_late(self) -> bool:
        """Whether the time for searching is over."""
        return self.left_s <= 0.0

    @property
    def left_s(self) -> float:
        """Seconds left for searching."""
        return math.inf if self.deadline_s is None else self.deadline_s - time.monotonic()

    def laid(self, bolt: Bolt, units: Sequence[Unit], *, quick: bool) -> LayResult | None:
        """Return a lay of these units, however long, or None if one is too wide."""
        quick = quick or self.request.search.effort == "quick"
        key = (bolt, quick, frozenset(Counter(units).items()))
        if key not in self._known:
            self._known[key] = self._lay(bolt, items_of(units, self.all_items), quick=quick)
        return self._known[key]

    def known(self, bolt: Bolt, units: Sequence[Unit]) -> list[LayResult | None]:
        """Return the lays of these units that were made already."""
        found = frozenset(Counter(units).items())
        return [
            result for (on, _, which), result in self._known.items() if (on, which) == (bolt, found)
        ]

    def _is_proven_too_long(self, bolt: Bolt, units: Sequence[Unit]) -> bool:
        rules = self.request.rules
        if rules.spread is Spread.BEST:  # no way of spreading needs less than open cloth
            rules = replace(rules, spread=Spread.OPEN)
        area_length_mm = sum(unit.area_mm2 for unit in units) / bolt.usable_width_mm
        if bolt.cut_length_mm(area_length_mm * 0.999) > (bolt.length_left_mm or 0.0):
            return True  # the same as below in most cases, and known at once
        items = items_of(units, self.all_items)
        least_mm = bolt.cut_length_mm(spread_bound(items, bolt, rules).length_mm)
        return least_mm > (bolt.length_left_mm or 0.0) + ROUNDING_MM

    def _lay(self, bolt: Bolt, items: tuple[CutItem, ...], *, quick: bool) -> LayResult | None:
        search = self.request.search
        if quick:
            search = SearchOptions("quick", None, search.seed, 1)
        elif self.deadline_s is not None:
            most_s = max(LEAST_S, self.left_s / 2.0)
            search = replace(search, seconds=min(search.seconds or math.inf, most_s))
        stopped = False

        def told(_report: object) -> bool:
            nonlocal stopped
            stopped = stopped or bool(self.progress is not None and self.progress(self.tried))
            return stopped

        request = replace(self.request, bolt=bolt, search=search)
        try:
            result = lay_items(request, items, progress=told)
        except DoesNotFitError:
            return None
        finally:
            self.tried += 1
        if stopped:
            raise LayStoppedError("stopped at your request before there was an answer")
        return result


def fits_on(bolt: Bolt, result: LayResult | None) -> bool:
    """Tell whether a lay is clean and no longer than what is owned."""
    if result is None or result.cut_length_mm > (bolt.length_left_mm or 0.0) + ROUNDING_MM:
        return False
    return all(finding.severity is not Severity.ERROR for finding in result.findings)
