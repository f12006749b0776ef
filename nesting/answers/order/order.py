"""A class list on one bolt: one marker for all, and who gets which pieces of it."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from nesting.cloth.bolt import Bolt
from nesting.cloth.lay_rules import LayRules
from nesting.cloth.spread import Spread, Stretch
from nesting.errors import OrderError
from nesting.lay import (
    LayRequest,
    LayResult,
    RowCallback,
    SearchOptions,
    judged,
    lay_pieces,
    row_of,
)
from nesting.marker.cut_list import CutItem, Selection
from nesting.marker.marker import Marker
from nesting.marker.placement import Placement, pieces_cut
from pieces.finding import Severity
from pieces.pattern import Pattern

LONGEST_LABEL = 14
"""Letters of a name that still go on a piece; longer ones are called by their number."""

Garment = tuple[str, str]
"""A view and a size."""


@dataclass(frozen=True)
class OrderLine:
    """What one participant gets.

    Parameters
    ----------
    view, size, count
        Garments of one view and size, at least one.
    name
        Of the participant, or empty.

    Raises
    ------
    OrderError
        If the count is below 1.
    """

    view: str
    size: str
    count: int = 1
    name: str = ""

    def __post_init__(self) -> None:
        """Refuse an order for nothing."""
        if self.count < 1:
            raise OrderError(f"{self.count} garments of size {self.size}: ask for at least one")


@dataclass(frozen=True, kw_only=True)
class OrderRequest:
    """Everything that decides an order.

    Parameters
    ----------
    pattern, cloth
        What is cut.
    lines
        For whom, at least one.
    bolt, rules
        The one cloth that all is cut from.
    search
        Of each lay.
    """

    pattern: Pattern
    lines: tuple[OrderLine, ...]
    cloth: str
    bolt: Bolt
    rules: LayRules = field(default_factory=LayRules)
    search: SearchOptions = field(default_factory=SearchOptions)

    @property
    def garments(self) -> Mapping[Garment, int]:
        """How many of each view and size, in order of first mention."""
        counts: dict[Garment, int] = {}
        for one in self.lines:
            counts[one.view, one.size] = counts.get((one.view, one.size), 0) + one.count
        return counts

    @property
    def labels(self) -> tuple[str, ...]:
        """What stands on the pieces of each line: a short name that nobody shares, or a number."""
        names = [one.name.casefold() for one in self.lines]
        return tuple(
            one.name if _may_stand_on_pieces(one.name, names) else f"no. {number}"
            for number, one in enumerate(self.lines, 1)
        )

    def lay(self, *selections: Selection) -> LayRequest:
        """Return the lay of some garments on this bolt."""
        return LayRequest(
            pattern=self.pattern,
            selections=selections,
            cloth=self.cloth,
            bolt=self.bolt,
            rules=self.rules,
            search=self.search,
        )

    @property
    def together(self) -> LayRequest:
        """The lay of all garments."""
        chosen = (Selection(view, size, n) for (view, size), n in self.garments.items())
        return self.lay(*chosen)

    def line_of_garments(self) -> dict[int, int]:
        """Return for each garment of the whole lay, from 1, the number of its line, from 0."""
        first, start = 1, {}
        for garment, count in self.garments.items():
            start[garment] = first
            first += count
        lines = {}
        for number, one in enumerate(self.lines):
            for _ in range(one.count):
                lines[start[one.view, one.size]] = number
                start[one.view, one.size] += 1
        return lines


def _may_stand_on_pieces(name: str, names: Sequence[str]) -> bool:
    """Tell whether a name is short, is nobody else's, and cannot be taken for anything else."""
    folded = name.casefold()
    is_plain = "+" not in name and not folded.startswith("no. ")
    return 0 < len(name) <= LONGEST_LABEL and names.count(folded) == 1 and is_plain


@dataclass(frozen=True)
class Received:
    """What one participant gets of a cut item: some of its pieces, or all of them."""

    item: CutItem
    count: int


@dataclass(frozen=True)
class OrderResult:
    """An order laid.

    Parameters
    ----------
    request
        What was asked.
    together
        One marker for all. Its cut items are told apart by participant: the size of each says for
        whom it is.
    alone
        The lay of one garment of each view and size that cuts from this cloth.
    received
        What each line gets.
    """

    request: OrderRequest
    together: LayResult
    alone: Mapping[Garment, LayResult]
    received: tuple[tuple[Received, ...], ...]

    @property
    def alone_shop_mm(self) -> float:
        """What all would ask for if each garment were bought by itself, mm."""
        return sum(
            count * self.alone[garment].shop_length_mm
            for garment, count in self.request.garments.items()
            if garment in self.alone
        )

    @property
    def saved_mm(self) -> float:
        """How much less is asked for together, mm."""
        return self.alone_shop_mm - self.together.shop_length_mm


def lay_order(request: OrderRequest, *, progress: RowCallback | None = None) -> OrderResult:
    """Lay all garments of an order on one bolt, and each view and size alone to compare.

    The garments alone, one after another, are a lay of all as well: it is kept if no search finds
    a shorter one, on open cloth without repeat and flaws.

    Parameters
    ----------
    request
        What is cut for whom.
    progress
        Called with 0 for the lay of all, then with 1, 2 and so on for those alone; a true answer
        stops that search and keeps its best so far.

    Raises
    ------
    OrderError
        If nobody is on the list.
    DoesNotFitError
        If a piece is wider than the cloth.
    NestingError, PiecesError
        Whatever :func:`nesting.lay.lay_pieces` raises.
    """
    if not request.lines:
        raise OrderError("nobody is on the list; give at least one line")
    result = lay_pieces(request.together, progress=row_of(progress, 0))
    alone = {
        (view, size): lay_pieces(
            request.lay(Selection(view, size)), progress=row_of(progress, number)
        )
        for number, (view, size) in enumerate(_cut_alone(request), 1)
    }
    result = _best(request, result, alone)
    marker, received = _for_whom(result.marker, request)
    findings = judged(marker, request.together.asked())
    together = replace(result, marker=marker, findings=findings)
    return OrderResult(request, together, alone, received)


def _cut_alone(request: OrderRequest) -> list[Garment]:
    """Return each view and size that cuts something from this cloth."""
    pattern, cloth = request.pattern, request.cloth
    return [garment for garment in request.garments if pattern.pieces_for(garment[0], cloth)]


def _best(
    request: OrderRequest, result: LayResult, alone: Mapping[Garment, LayResult]
) -> LayResult:
    """Return the lay of all, or the lays alone one after another if that is shorter."""
    bolt, marker = request.bolt, result.marker
    spreads = {marker.rules.spread, *(one.marker.rules.spread for one in alone.values())}
    if spreads != {Spread.OPEN} or bolt.repeat is not None or bolt.flaws:
        return result
    placements: list[Placement] = []
    start_mm = end_mm = 0.0
    for garment, count in request.garments.items():
        for _ in range(count if garment in alone else 0):
            laid = alone[garment].marker
            placements += [replace(one, x_mm=one.x_mm + start_mm) for one in laid.placements]
            end_mm = start_mm + laid.length_mm
            start_mm = end_mm + request.rules.gap_mm
    if end_mm >= marker.length_mm:
        return result
    offered = replace(
        marker,
        placements=_numbered(placements),
        stretches=(Stretch(Spread.OPEN, 0.0, end_mm),),
        length_mm=end_mm,
    )
    findings = judged(offered, request.together.asked())
    if any(finding.severity is Severity.ERROR for finding in findings):
        return result
    return replace(result, marker=offered, findings=findings)


def _for_whom(
    marker: Marker, request: OrderRequest
) -> tuple[Marker, tuple[tuple[Received, ...], ...]]:
    """Return the marker with its items told apart by participant, and what each line gets."""
    line_of, labels = request.line_of_garments(), request.labels
    items: dict[tuple[str, tuple[int, ...]], CutItem] = {}
    counts: Counter[tuple[tuple[str, tuple[int, ...]], int]] = Counter()
    placements = []
    for placement, garments in zip(marker.placements, owners(marker), strict=True):
        item = marker.item_by_key[placement.item]
        lines = [line_of[garment] for garment in garments]
        key = item.key, tuple(sorted(set(lines)))
        counts.update((key, line) for line in lines)
        told = f"for {' + '.join(labels[line] for line in key[1])}"
        cut = pieces_cut(item, placement, marker.stretches[placement.stretch].spread)
        drawn, over = (sum(cut), 0) if item.turned_over == 0 else cut
        before = items.get(key)
        items[key] = replace(
            item,
            key=f"{item.key} {told}",
            size=f"{item.size} {told}",
            as_drawn=drawn + (before.as_drawn if before else 0),
            turned_over=over + (before.turned_over if before else 0),
            garments=tuple(sorted({*garments, *(before.garments if before else ())})),
        )
        placements.append(replace(placement, item=items[key].key))
    order = [item.key for item in marker.items]
    ranked = sorted(items, key=lambda key: (order.index(key[0]), key[1]))
    received = tuple(
        tuple(Received(items[key], counts[key, line]) for key in ranked if line in key[1])
        for line in range(len(request.lines))
    )
    told_items = tuple(items[key] for key in ranked)
    return replace(marker, items=told_items, placements=_numbered(placements)), received


def _numbered(placements: Sequence[Placement]) -> tuple[Placement, ...]:
    """Return placements counted from 1 within each item."""
    counts: dict[str, int] = {}
    numbered = []
    for one in placements:
        counts[one.item] = counts.get(one.item, 0) + 1
        numbered.append(replace(one, number=counts[one.item]))
    return tuple(numbered)


def owners(marker: Marker) -> tuple[tuple[int, ...], ...]:
    """Return for each placement, and in it for each piece cut, the number of its garment.

    Where the marker does not tell, pieces are handed out from the cut end on, so that those of one
    garment lie near each other. Cut through two layers, one placement may serve two garments.
    """
    needs = {
        (item.key, garment): [item.share().as_drawn, item.share().turned_over]
        for item in marker.items
        for garment in item.garments
    }
    found: dict[int, tuple[int, ...]] = {}
    for place in sorted(range(len(marker.placements)), key=lambda n: marker.placements[n].x_mm):
        placement = marker.placements[place]
        item = marker.item_by_key[placement.item]
        cut = pieces_cut(item, placement, marker.stretches[placement.stretch].spread)
        if placement.garment:
            found[place] = (placement.garment,) * sum(cut)
        else:
            found[place] = _handed_out(item, cut, needs)
    return tuple(found[place] for place in range(len(marker.placements)))


def _handed_out(
    item: CutItem, cut: tuple[int, int], needs: dict[tuple[str, int], list[int]]
) -> tuple[int, ...]:
    """Hand pieces to the first garment that needs them all, else to the first that need one."""
    if item.turned_over == 0:
        cut = (sum(cut), 0)
    for garment in item.garments:
        need = needs[item.key, garment]
        if need[0] >= cut[0] and need[1] >= cut[1]:
            need[0], need[1] = need[0] - cut[0], need[1] - cut[1]
            return (garment,) * sum(cut)
    got = []
    for side, pieces in enumerate(cut):
        for _ in range(pieces):
            garment = next(one for one in item.garments if needs[item.key, one][side])
            needs[item.key, garment][side] -= 1
            got.append(garment)
    return tuple(got)
