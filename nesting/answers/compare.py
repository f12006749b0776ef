"""Compare bolts: the same garment on several widths, with and without nap."""

from dataclasses import dataclass, replace
from decimal import Decimal

from nesting.cloth.bolt import Bolt
from nesting.cloth.spread import Spread, laid_width_mm
from nesting.errors import DoesNotFitError, LayError, SpreadRefusedError
from nesting.lay import LayRequest, LayResult, RowCallback, judged, lay_pieces, row_of
from nesting.marker.cut_list import cut_list
from nesting.marker.marker import Marker
from nesting.marker.placement import Placement, lying_shape
from pieces.finding import Severity


@dataclass(frozen=True)
class CompareRow:
    """One bolt compared: its lay, or why the garment does not go on it.

    Parameters
    ----------
    request
        What was asked.
    result
        The lay, or None if it does not fit, or may not be spread so.
    refusal
        The reason if there is no lay, else empty.
    """

    request: LayRequest
    result: LayResult | None
    refusal: str = ""

    @property
    def cost(self) -> Decimal | None:
        """Price of the shop length, or None without a price or a lay."""
        price = self.request.bolt.price
        if price is None or self.result is None:
            return None
        return price.cost(self.result.shop_length_mm)


def compare_bolts(
    requests: tuple[LayRequest, ...], *, progress: RowCallback | None = None
) -> tuple[CompareRow, ...]:
    """Lay the same garment on each bolt and return the rows in the order asked.

    The most constrained bolts are laid first (with nap before without, narrow before wide). A
    marker lawful on one is then offered to the freer ones and kept if it is shorter than theirs,
    so a wider bolt or plain cloth never seems to need more.

    Raises
    ------
    LayError
        If there is nothing to compare.
    NestingError, PiecesError
        Whatever :func:`nesting.lay.lay_pieces` raises, except that a piece is too wide or the
        spread is refused: that is a row.
    """
    if not requests:
        raise LayError("nothing to compare; name at least one bolt width")
    return laws_kept(lay_each(requests, progress=progress))


def lay_each(
    requests: tuple[LayRequest, ...], *, progress: RowCallback | None = None
) -> tuple[CompareRow, ...]:
    """Lay each request by itself, the most constrained first, and return rows in the order asked.

    Each row has the marker that :func:`nesting.lay.lay_pieces` gives of its request alone.

    Raises
    ------
    NestingError, PiecesError
        As for :func:`compare_bolts`.
    """
    rows = {
        index: _row(requests[index], index, progress)
        for index in sorted(range(len(requests)), key=lambda index: _freedom(requests[index]))
    }
    return tuple(rows[index] for index in range(len(requests)))


def laws_kept(rows: tuple[CompareRow, ...]) -> tuple[CompareRow, ...]:
    """Return rows of one garment, each with the best of all markers lawful on its bolt.

    Nap never needs less than plain cloth then, nor a wider bolt more than a narrower one, however
    lucky each search was. The order of the rows is kept.
    """
    kept: dict[int, CompareRow] = {}
    for index in sorted(range(len(rows)), key=lambda index: _freedom(rows[index].request)):
        row = rows[index]
        for earlier in kept.values():
            row = _with_better(row, earlier)
        kept[index] = row
    return tuple(kept[index] for index in range(len(rows)))


def _freedom(request: LayRequest) -> tuple[bool, float]:
    return not request.bolt.nap, request.bolt.usable_width_mm


def _row(request: LayRequest, index: int, progress: RowCallback | None) -> CompareRow:
    try:
        return CompareRow(request, lay_pieces(request, progress=row_of(progress, index)))
    except (DoesNotFitError, SpreadRefusedError) as refusal:
        return CompareRow(request, None, str(refusal))


def _with_better(row: CompareRow, earlier: CompareRow) -> CompareRow:
    """Return ``row`` with the earlier row's marker if that is lawful here, and shorter."""
    if row.result is None or earlier.result is None:
        return row
    offered = widened(earlier.result.marker, row.request.bolt)
    if offered.length_mm >= row.result.marker.length_mm:
        return row
    if not _lawful_on(earlier.result.marker, row.request):
        return row
    marker = replace(offered, made_by=row.result.marker.made_by)
    findings = judged(marker, row.request.asked())
    if any(finding.severity is Severity.ERROR for finding in findings):
        return row
    return replace(row, result=replace(row.result, marker=marker, findings=findings))


def widened(marker: Marker, bolt: Bolt) -> Marker:
    """Return a marker as it lies on another bolt, at least as wide.

    Everything keeps its distance from the lower edge, but for what lies at the upper fold of a
    double fold, or in the upper band: that keeps its distance from there.
    """
    more_mm = laid_width_mm(bolt, Spread.DOUBLE) - laid_width_mm(marker.bolt, Spread.DOUBLE)
    middle_mm = laid_width_mm(marker.bolt, Spread.DOUBLE) / 2.0

    def moved(at: Placement) -> Placement:
        spread = marker.stretches[at.stretch].spread
        if spread is not Spread.DOUBLE:
            return at
        heights = lying_shape(marker.item_by_key[at.item], at, spread).outline_mm[:, 1]
        is_upper = float(heights.min() + heights.max()) / 2.0 > middle_mm
        return replace(at, y_mm=at.y_mm + more_mm) if is_upper else at

    return replace(marker, bolt=bolt, placements=tuple(moved(at) for at in marker.placements))


def _lawful_on(marker: Marker, request: LayRequest) -> bool:
    """Tell whether a marker may serve a request: same pieces and rules, no tighter cloth."""
    items = cut_list(request.pattern, request.selections, request.cloth)
    return (
        request.rules in (marker.rules, replace(marker.rules, spread=Spread.BEST))
        and (marker.bolt.nap or not request.bolt.nap)
        and marker.bolt.usable_width_mm <= request.bolt.usable_width_mm
        and items == marker.items
    )
