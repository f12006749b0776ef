"""The best way to spread the cloth: every way that cloth and pieces permit, each really laid.

The most constrained ways come first. What each of them finds is lawful on open cloth
(:mod:`nesting.lay.unfolding`), so the open search begins from the shortest of them and never ends
longer than any fold.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from nesting.cloth.spread import Spread
from nesting.errors import DoesNotFitError, LayError, SpreadRefusedError
from nesting.lay.one_spread import lay_spread
from nesting.lay.progress import LayCallback, part_of
from nesting.lay.request import LayRequest, LayResult, TriedSpread
from nesting.lay.unfolding import unfolded
from nesting.marker.cut_list import CutItem
from nesting.marker.marker import Marker
from nesting.plan.lay_plan import lay_plan

_TRIED = (Spread.DOUBLE, Spread.LENGTHWISE, Spread.CROSSWISE, Spread.TURNED, Spread.OPEN)
_PREFERRED = (Spread.LENGTHWISE, Spread.CROSSWISE, Spread.DOUBLE, Spread.TURNED, Spread.OPEN)
"""Of ways that take the same: fewer pieces to cut first, then less to fold."""
_NOTHING_FOLDED = (
    "no piece would be cut through both layers: none fits there as a pair or on a fold, so it "
    "would be an open lay"
)


@dataclass(frozen=True)
class SpreadLay:
    """One way of spreading: its lay, or why the cloth or the pieces do not permit it."""

    spread: Spread
    result: LayResult | None
    refusal: str = ""

    @property
    def summary(self) -> TriedSpread:
        """What it takes, or why not."""
        result = self.result
        if result is None:
            return TriedSpread(self.spread, refusal=self.refusal)
        lengths = (result.marker_length_mm, result.cut_length_mm, result.shop_length_mm)
        return TriedSpread(self.spread, *lengths)


def lay_best(
    request: LayRequest, items: tuple[CutItem, ...], *, progress: LayCallback | None = None
) -> LayResult:
    """Lay a cut list every way the cloth permits; return the one with the least to buy.

    That is the shortest shop length, and of those the shortest length of cloth taken; but on a
    repeat a way that gives up fewer matches comes first. All that was tried, and why the rest was
    not, is in its ``tried``, in the order of :class:`Spread`.

    Parameters
    ----------
    request
        On what to lay, and how long to search; seconds are shared out over the ways.
    items
        What to lay, at least one item.
    progress
        Called as the search goes; a true answer stops the search at work.

    Raises
    ------
    DoesNotFitError
        If a piece is wider than the cloth in every way it may lie.
    LayError, StripError
        If there is nothing to lay, or an option is out of range.
    """
    tried = lay_each(request, items, progress=progress)
    laid = [one.result for one in tried if one.result is not None]
    if not laid:
        raise DoesNotFitError(tried[0].refusal)
    return replace(
        min(laid, key=_rank),
        lower_bound=laid[0].open_bound,
        seconds=sum(result.seconds for result in laid),
        tried=tuple(one.summary for one in tried),
    )


def lay_each(
    request: LayRequest, items: tuple[CutItem, ...], *, progress: LayCallback | None = None
) -> tuple[SpreadLay, ...]:
    """Lay a cut list every way, and return the ways in the order of :class:`Spread`, open first.

    Parameters and errors are those of :func:`lay_best`; a piece too wide is a refusal here. The
    open lay is never longer than another.
    """
    seconds = request.search.seconds
    search = replace(request.search, seconds=None if seconds is None else seconds / len(_TRIED))
    tried: list[SpreadLay] = []
    for number, spread in enumerate(_TRIED):
        rules = replace(request.rules, spread=spread)
        one = replace(request, rules=rules, search=search)
        tried.append(_tried(one, items, tried, progress=part_of(progress, number, len(_TRIED))))
    return tuple(sorted(tried, key=lambda one: list(Spread).index(one.spread)))


def _rank(result: LayResult) -> tuple[float, ...]:
    """Return what is least for the best: matches given up come before any length."""
    marker = result.marker
    lengths = result.shop_length_mm, result.cut_length_mm
    return len(marker.given_up), *lengths, _PREFERRED.index(marker.rules.spread)


def _tried(
    request: LayRequest,
    items: tuple[CutItem, ...],
    before: Sequence[SpreadLay],
    *,
    progress: LayCallback | None,
) -> SpreadLay:
    """Lay one way, from what the ways before it found, or say why not."""
    spread = request.rules.spread
    try:
        if spread is not Spread.OPEN and not _folds_anything(request, items):
            return SpreadLay(spread, None, _NOTHING_FOLDED)
        start = _start(request, items, before)
        return SpreadLay(spread, lay_spread(request, items, progress=progress, start=start))
    except (SpreadRefusedError, DoesNotFitError) as refusal:
        return SpreadLay(spread, None, str(refusal))


def _folds_anything(request: LayRequest, items: tuple[CutItem, ...]) -> bool:
    if not items:
        raise LayError("there is no piece to lay; give at least one")
    plan = lay_plan(items, request.bolt, request.rules)
    return any(stretch.spread is not Spread.OPEN for stretch in plan)


def _start(
    request: LayRequest, items: tuple[CutItem, ...], before: Sequence[SpreadLay]
) -> Marker | None:
    """Return the shortest marker that is known and lawful for this way of spreading, or None."""
    markers = {one.spread: one.result.marker for one in before if one.result is not None}
    if request.rules.spread is Spread.OPEN:
        shortest = min(markers.values(), key=lambda marker: marker.length_mm, default=None)
        return None if shortest is None else unfolded(shortest)
    folded = markers.get(Spread.CROSSWISE)
    if request.rules.spread is Spread.TURNED and folded is not None:
        return _turned(folded, request, items)
    return None


def _turned(folded: Marker, request: LayRequest, items: tuple[CutItem, ...]) -> Marker | None:
    """Return a marker on a crosswise fold as one on cloth cut there and turned, if it is one."""
    crosswise = replace(request.rules, spread=Spread.CROSSWISE)
    plans = [lay_plan(items, request.bolt, rules) for rules in (crosswise, request.rules)]
    if [stretch.items for stretch in plans[0]] != [stretch.items for stretch in plans[1]]:
        return None
    stretches = tuple(
        replace(one, spread=Spread.TURNED) if one.spread is Spread.CROSSWISE else one
        for one in folded.stretches
    )
    return replace(folded, rules=request.rules, stretches=stretches)
