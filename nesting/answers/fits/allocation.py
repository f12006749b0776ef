"""The pieces of a garment shared out over one or several lengths of cloth that are owned.

First fit by decreasing area (Johnson 1973, for packing into bins; recalled from memory), with a
real lay wherever that rule asks whether a piece still fits, and a few exchanges afterwards. A lay
that is proven too long by its lower bound is not searched.
"""

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import permutations

from nesting.answers.fits.sharer import Sharer, Unit, fits_on, items_of, units_of
from nesting.cloth.bolt import Bolt
from nesting.lay import LayResult
from nesting.marker.cut_list import CutItem

MOST_EXCHANGES = 40
"""Lays that exchanging pieces between lengths may take."""


@dataclass(frozen=True)
class Share:
    """What lies on one length of cloth: a lay, or nothing."""

    bolt: Bolt
    result: LayResult | None

    @property
    def spare_mm(self) -> float:
        """Length left over, unwashed, mm."""
        taken_mm = 0.0 if self.result is None else self.result.cut_length_mm
        return (self.bolt.length_left_mm or 0.0) - taken_mm


@dataclass(frozen=True)
class Sharing:
    """Pieces shared out.

    Parameters
    ----------
    shares
        One for each length of cloth, in the order given.
    left_over
        What fits on none of them.
    lacking
        What would take what is left over: for each width owned on which it goes, the unwashed
        length that is missing. Of one cloth, how much longer it should be; of several, the length
        of one more of that width. Empty if nothing is left over, or a piece is too wide for all.
    """

    shares: tuple[Share, ...]
    left_over: tuple[CutItem, ...]
    lacking: tuple["Lacking", ...] = ()

    @property
    def lacking_mm(self) -> float | None:
        """The least that is missing, mm: 0 if nothing is; None if a piece is too wide for all."""
        if self.fits:
            return 0.0
        return min((one.length_mm for one in self.lacking), default=None)

    @property
    def fits(self) -> bool:
        """Whether nothing is left over."""
        return not self.left_over


@dataclass(frozen=True)
class Lacking:
    """A length of one width that would take what is left over, mm."""

    width_mm: float
    length_mm: float


def share_out(sharer: Sharer, *, only_whole: bool = False, tells_lacking: bool = True) -> Sharing:
    """Share the pieces out over the cloths.

    Parameters
    ----------
    sharer
        What is shared out over what.
    only_whole
        True to learn only whether all of it fits on a single cloth owned: then what fits of it is
        not asked. With several cloths this changes nothing.
    tells_lacking
        False to leave out how much is missing, which takes a lay or two for each width.

    Raises
    ------
    LayStoppedError
        If the sharer's ``progress`` asked to stop.
    NestingError, PiecesError
        Whatever :func:`nesting.lay.lay_items` raises, except a piece too wide.
    """
    units = units_of(sharer.all_items, sharer.bolts[0], sharer.request.rules)
    by_area = sorted(range(len(sharer.bolts)), key=lambda number: _area(sharer.bolts[number]))
    for number in by_area:
        bolt = sharer.bolts[number]
        best = sharer.fitting(bolt, units, fully=True)
        if best is not None:
            return _sharing(sharer, {number: units}, ())
    if only_whole and len(sharer.bolts) == 1:
        return _sharing(sharer, {}, units, fully=False, tells_lacking=tells_lacking)
    tries = [_first_fit(sharer, units, order) for order in (by_area, by_area[::-1])]
    loads, left = min(tries, key=lambda one: sum(unit.area_mm2 for unit in one[1]))
    if left:
        left = _exchanged(sharer, loads, left)
    taken = {number: tuple(load) for number, load in loads.items()}
    return _sharing(sharer, taken, tuple(left), tells_lacking=tells_lacking)


def _area(bolt: Bolt) -> float:
    return bolt.usable_width_mm * (bolt.length_left_mm or 0.0)


def _first_fit(
    sharer: Sharer, units: Sequence[Unit], order: Sequence[int]
) -> tuple[dict[int, list[Unit]], list[Unit]]:
    """Return what lies on which cloth, and what on none: each on the first with room."""
    loads: dict[int, list[Unit]] = {number: [] for number in order}
    left: list[Unit] = []
    for unit, count in Counter(units).items():
        rest = count
        for number in order:
            rest -= _most(sharer, sharer.bolts[number], loads[number], [unit] * rest)
        left += [unit] * rest
    return loads, left


def _most(sharer: Sharer, bolt: Bolt, load: list[Unit], more: list[Unit]) -> int:
    """Put as many of equal units on a cloth as fit beside its load, and return their number."""
    low, high = 0, len(more)
    while low < high:
        some = (low + high + 1) // 2 if high < len(more) else high
        if sharer.fitting(bolt, [*load, *more[:some]]) is not None:
            low = some
        else:
            high = some - 1
    load += more[:low]
    return low


def _exchanged(sharer: Sharer, loads: dict[int, list[Unit]], left: list[Unit]) -> list[Unit]:
    """Make room for what is left over by exchanging units between cloths; return the rest.

    Where that fails, the search asked for tries once more, since a quick one found no room.
    """
    last = sharer.tried + MOST_EXCHANGES
    rest: list[Unit] = []
    for unit in left:
        is_hopeless = unit in rest  # one like it found no room
        if is_hopeless or not (
            _swap(sharer, loads, unit, last=last) or _squeeze(sharer, loads, unit)
        ):
            rest.append(unit)
    return rest


def _swap(sharer: Sharer, loads: dict[int, list[Unit]], unit: Unit, *, last: int) -> bool:
    """Make room for a unit: move another to a different cloth, or exchange it for a smaller."""
    for here, there in permutations(loads, 2):
        for out in dict.fromkeys(loads[here]):
            smaller = [one for one in loads[there] if one.area_mm2 < out.area_mm2]
            for back in (None, *dict.fromkeys(smaller)):
                here_then = [*_without(loads[here], out), unit, *([back] if back else [])]
                there_then = [*_without(loads[there], back), out]
                if sharer.tried >= last:
                    return False
                if sharer.fitting(sharer.bolts[there], there_then) is None:
                    continue
                if sharer.fitting(sharer.bolts[here], here_then) is not None:
                    loads[here], loads[there] = here_then, there_then
                    return True
    return False


def _without(load: list[Unit], unit: Unit | None) -> list[Unit]:
    """Return a load less one unit."""
    rest = list(load)
    if unit is not None:
        rest.remove(unit)
    return rest


def _squeeze(sharer: Sharer, loads: dict[int, list[Unit]], unit: Unit) -> bool:
    """Put a unit beside a load if the search asked for finds room."""
    if len(loads) == 1:
        return False
    for here, load in loads.items():
        if sharer.fitting(sharer.bolts[here], [*load, unit], fully=True) is not None:
            load.append(unit)
            return True
    return False


def _sharing(
    sharer: Sharer,
    loads: dict[int, tuple[Unit, ...]],
    left: Sequence[Unit],
    *,
    fully: bool = True,
    tells_lacking: bool = True,
) -> Sharing:
    shares = tuple(
        Share(bolt, _best(sharer, bolt, loads[number]) if loads.get(number) else None)
        for number, bolt in enumerate(sharer.bolts)
    )
    lacking = _lacking(sharer, left, fully=fully) if left and tells_lacking else ()
    return Sharing(shares, items_of(left, sharer.all_items), lacking)


def _best(sharer: Sharer, bolt: Bolt, units: Sequence[Unit]) -> LayResult | None:
    """Return the shortest of the lays, quick and full, of units that are known to fit."""
    tries = [sharer.laid(bolt, units, quick=True)]
    if not sharer.is_late:
        tries.append(sharer.laid(bolt, units, quick=False))
    tries += sharer.known(bolt, units)
    fitting = [one for one in tries if one is not None and fits_on(bolt, one)]
    return min(fitting, key=lambda one: one.cut_length_mm, default=None)


def _lacking(sharer: Sharer, left: Sequence[Unit], *, fully: bool) -> tuple[Lacking, ...]:
    """Return how much cloth of each width is missing, the least first: see :class:`Sharing`."""
    units, owned_mm = left, 0.0
    if len(sharer.bolts) == 1:
        units = units_of(sharer.all_items, sharer.bolts[0], sharer.request.rules)
        owned_mm = sharer.bolts[0].length_left_mm or 0.0
    least: dict[float, float] = {}
    for bolt in sharer.bolts:
        searched = (True, False) if fully and not sharer.is_late else (True,)
        for result in [sharer.laid(bolt, units, quick=quick) for quick in searched]:
            if result is not None:
                missing_mm = result.cut_length_mm - owned_mm
                width_mm = bolt.width_mm
                least[width_mm] = min(missing_mm, least.get(width_mm, math.inf))
    found = [Lacking(width_mm, missing_mm) for width_mm, missing_mm in least.items()]
    return tuple(sorted(found, key=lambda one: (one.length_mm, one.width_mm)))
